//go:build js && wasm

package idb

import (
	"context"
	"errors"
	"fmt"
	"hash/crc32"
	"sync"
	"syscall/js"
	"time"

	"ferrule/core/store"
)

const (
	database = "ferrule"
	rows     = "rows"
)

// table is a store.Table over one object store. As long as a browser has never
// let it be opened it keeps its rows in memory, and takes them along once it
// does.
type table struct {
	*conn

	lock   sync.Mutex
	memory *store.Memory // nil = the database is used
	asked  bool          // whether to keep the origin
}

// keepRemoved is how long a removed session can be brought back, at least.
const keepRemoved = 30 * 24 * time.Hour

// Open opens the database, or gives a table in memory where that is not let.
// Sessions that were removed long ago are forgotten on the way.
func Open(ctx context.Context) Opened {
	t, err := open(ctx, database)
	if err != nil {
		js.Global().Get("console").Call("info", "storage: "+err.Error())
		t.memory = store.NewMemory(err)
	}
	go func() {
		now := func() int64 { return time.Now().Unix() }
		if err := store.New(t, now).Purge(ctx, now()-int64(keepRemoved.Seconds())); err != nil {
			js.Global().Get("console").Call("info", "storage: "+err.Error())
		}
	}()
	return Opened{Table: t, Watch: t.setWatch, Persist: t.persist, Retry: t.retry, Trouble: t.setTrouble}
}

func open(ctx context.Context, name string) (*table, error) {
	t := &table{conn: newConn(name, rows, "key")}
	return t, t.conn.open(ctx)
}

// retry opens the database where that failed before, and brings in what was kept
// in memory meanwhile.
func (t *table) retry(ctx context.Context) {
	if t.conn.open(ctx) == nil {
		t.moveIn(ctx)
	}
}

// held is the table in memory, nil once the database is there.
func (t *table) held(ctx context.Context) *store.Memory {
	t.lock.Lock()
	m := t.memory
	t.lock.Unlock()
	if m == nil || t.conn.state() != nil {
		return m
	}
	t.moveIn(ctx) // it opened late, as when the tab that was in the way is closed
	return nil
}

func (t *table) moveIn(ctx context.Context) {
	t.lock.Lock()
	m := t.memory
	t.memory = nil
	t.lock.Unlock()
	if m == nil {
		return
	}
	all, _ := m.All(ctx) // of memory: it cannot fail
	for _, r := range all {
		beside := fmt.Sprintf("%s-%08x", r.Key, crc32.ChecksumIEEE(r.Blob))
		err := t.Update(ctx, []string{r.Key, beside}, func(old []*store.Row) ([]*store.Row, error) {
			at := 0
			if old[0] != nil { // nothing that is there is overwritten
				at = 1
			}
			old[at] = &r
			return old, nil
		})
		if err != nil {
			js.Global().Get("console").Call("info", "storage: "+err.Error())
		}
	}
}

// All implements store.Table.
func (t *table) All(ctx context.Context) ([]store.Row, error) {
	if m := t.held(ctx); m != nil {
		return m.All(ctx)
	}
	var out []store.Row
	err := t.step(ctx, "readonly", func(objects js.Value, h *handlers, _ func(error)) {
		req := objects.Call("getAll")
		h.on(req, "success", func(js.Value) {
			all := req.Get("result")
			out = make([]store.Row, all.Length())
			for i := range out {
				out[i] = rowOf(all.Index(i))
			}
		})
	})
	return out, err
}

// Update implements store.Table.
func (t *table) Update(ctx context.Context, keys []string, f func(old []*store.Row) ([]*store.Row, error)) error {
	if m := t.held(ctx); m != nil {
		return m.Update(ctx, keys, f)
	}
	var changed []any
	err := t.step(ctx, "readwrite", func(objects js.Value, h *handlers, stop func(error)) {
		changed = nil
		old := make([]*store.Row, len(keys))
		missing := len(keys)
		for i, key := range keys {
			req := objects.Call("get", key)
			h.on(req, "success", func(js.Value) {
				if v := req.Get("result"); v.Truthy() {
					r := rowOf(v)
					old[i] = &r
				}
				if missing--; missing > 0 {
					return
				}
				rows, err := f(old)
				if err != nil {
					stop(err)
					return
				}
				if err := guard(func() {
					for i, k := range keys {
						if rows[i] == nil {
							objects.Call("delete", k)
						} else {
							objects.Call("put", valueOf(k, rows[i]))
						}
						changed = append(changed, k)
					}
				}); err != nil {
					stop(err)
				}
			})
		}
	})
	if err == nil {
		t.tell(changed)
	}
	return err
}

// rowOf tolerates whatever may be found: what is no row has no bytes, and is
// then damaged to the reader.
func rowOf(v js.Value) store.Row {
	r := store.Row{Key: v.Get("key").String(), Head: binary(v.Get("head")), Blob: binary(v.Get("blob"))}
	if n := v.Get("revision"); n.Type() == js.TypeNumber {
		r.Revision = int(n.Float())
	}
	if n := v.Get("removed"); n.Type() == js.TypeNumber {
		r.Removed = int64(n.Float())
	}
	return r
}

func binary(v js.Value) []byte {
	if v.Type() != js.TypeObject || !v.InstanceOf(js.Global().Get("Uint8Array")) {
		return nil
	}
	return bytesOf(v)
}

func valueOf(key string, r *store.Row) map[string]any {
	return map[string]any{
		"key": key, "revision": r.Revision, "removed": float64(r.Removed),
		"head": arrayOf(r.Head), "blob": arrayOf(r.Blob),
	}
}

// persist asks once that the origin is not cleared by the browser itself.
func (t *table) persist() bool {
	if t.wasAsked() {
		return t.isKept(context.Background())
	}
	manager := js.Global().Get("navigator").Get("storage")
	if !manager.Truthy() || manager.Get("persist").Type() != js.TypeFunction {
		return false
	}
	t.lock.Lock()
	t.asked = true
	t.lock.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second) // a browser may ask the user
	defer cancel()
	v, err := await(ctx, manager.Call("persist"))
	return err == nil && v.Truthy()
}

func (t *table) wasAsked() bool { t.lock.Lock(); defer t.lock.Unlock(); return t.asked }

func (t *table) isKept(ctx context.Context) bool {
	manager := js.Global().Get("navigator").Get("storage")
	if !manager.Truthy() || manager.Get("persisted").Type() != js.TypeFunction {
		return false
	}
	v, err := await(ctx, manager.Call("persisted"))
	return err == nil && v.Truthy()
}

// Health implements store.Table. It tries to open what is closed: what it says
// is true at the moment.
func (t *table) Health(ctx context.Context) store.Health {
	if m := t.held(ctx); m != nil {
		return m.Health(ctx)
	}
	err := t.conn.open(ctx)
	if errors.Is(err, context.Canceled) {
		err = nil
	}
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	h := store.Health{Kind: "indexeddb", Lasting: err == nil, Trouble: err, Asked: t.wasAsked()}
	h.Kept = t.isKept(ctx)
	manager := js.Global().Get("navigator").Get("storage")
	if manager.Truthy() && manager.Get("estimate").Type() == js.TypeFunction {
		if v, err := await(ctx, manager.Call("estimate")); err == nil && v.Truthy() {
			h.Used, h.Quota = number(v.Get("usage")), number(v.Get("quota"))
		}
	}
	if missing := js.Global().Get("ferruleMissing"); missing.Truthy() {
		for i := range missing.Length() {
			h.Missing = append(h.Missing, missing.Index(i).String())
		}
	}
	return h
}

func number(v js.Value) int64 {
	if v.Type() != js.TypeNumber {
		return 0
	}
	return int64(v.Float())
}
