//go:build js && wasm

package idb

import (
	"context"
	"errors"
	"sync"
	"syscall/js"
	"time"

	"ferrule/core/store"
)

const (
	database = "ferrule"
	rows     = "rows"
	// schema is raised only when an object store is added; the shape of what
	// is in a row is the envelope's concern.
	schema = 1
	// patience is how long opening may take. Some browsers answer never when
	// storage is off.
	patience = 8 * time.Second
)

// table is a store.Table over one object store.
type table struct {
	db      js.Value
	channel js.Value // tells other tabs, null where there is none

	mu     sync.Mutex
	closed error // why it cannot be used any more
	watch  func([]string)
	asked  bool // whether to keep the origin

	turn chan struct{} // holds one: steps go one after the other, in the order of asking
}

// keepRemoved is how long a removed session can be brought back, at least.
const keepRemoved = 30 * 24 * time.Hour

// Open opens the database, or gives a table in memory where that is not let.
// Sessions that were removed long ago are forgotten on the way.
func Open(ctx context.Context) Opened {
	t, err := open(ctx, database)
	if err != nil {
		js.Global().Get("console").Call("info", "storage: "+err.Error())
		return inMemory(err)
	}
	go func() {
		now := func() int64 { return time.Now().Unix() }
		if err := store.New(t, now).Purge(ctx, now()-int64(keepRemoved.Seconds())); err != nil {
			js.Global().Get("console").Call("info", "storage: "+err.Error())
		}
	}()
	return Opened{Table: t, Watch: t.setWatch, Persist: t.persist}
}

func open(ctx context.Context, name string) (*table, error) {
	t := &table{turn: make(chan struct{}, 1), channel: js.Null()}
	done := make(chan error, 4)
	var h handlers
	err := guard(func() {
		factory := js.Global().Get("indexedDB")
		if !factory.Truthy() {
			done <- store.ErrDenied
			return
		}
		req := factory.Call("open", name, schema)
		h.on(req, "upgradeneeded", func(js.Value) {
			db := req.Get("result")
			if !db.Get("objectStoreNames").Call("contains", rows).Bool() {
				db.Call("createObjectStore", rows, map[string]any{"keyPath": "key"})
			}
		})
		h.on(req, "success", func(js.Value) { t.db = req.Get("result"); done <- nil })
		h.on(req, "error", func(js.Value) { done <- errorOf(req.Get("error")) })
		h.on(req, "blocked", func(js.Value) {
			done <- errors.New("another tab holds the storage with an older version of Ferrule: close it and load this page again")
		})
	})
	if err != nil {
		return nil, err
	}
	select {
	case err = <-done:
	case <-ctx.Done():
		err = ctx.Err()
	case <-time.After(patience):
		err = store.ErrDenied
	}
	if err != nil {
		return nil, err // the handlers stay: the request may still come back
	}
	h.release()
	t.listen(name)
	return t, nil
}

// listen hears what other tabs and the browser do to the database. These
// handlers live as long as the page.
func (t *table) listen(name string) {
	var h handlers
	h.on(t.db, "versionchange", func(js.Value) { // a newer version wants to change it
		t.db.Call("close")
		t.shut(store.ErrReplaced)
	})
	h.on(t.db, "close", func(js.Value) { t.shut(store.ErrDenied) }) // cleared by the user or the browser
	if c := js.Global().Get("BroadcastChannel"); c.Truthy() {
		if guard(func() { t.channel = c.New(name) }) != nil {
			t.channel = js.Null()
			return
		}
		h.on(t.channel, "message", func(event js.Value) {
			data := event.Get("data")
			keys := make([]string, data.Length())
			for i := range keys {
				keys[i] = data.Index(i).String()
			}
			t.mu.Lock()
			watch := t.watch
			t.mu.Unlock()
			if watch != nil {
				go watch(keys)
			}
		})
	}
}

func (t *table) setWatch(f func([]string)) {
	t.mu.Lock()
	t.watch = f
	t.mu.Unlock()
}

func (t *table) shut(why error) {
	t.mu.Lock()
	if t.closed == nil {
		t.closed = why
	}
	t.mu.Unlock()
}

// step runs work inside one transaction and waits for its end. work starts
// requests; whatever they start in their callbacks belongs to the same
// transaction. stop ends it with nothing written.
func (t *table) step(ctx context.Context, mode string, work func(objects js.Value, h *handlers, stop func(error))) error {
	select {
	case t.turn <- struct{}{}:
		defer func() { <-t.turn }()
	case <-ctx.Done():
		return ctx.Err()
	}
	if err := ctx.Err(); err != nil {
		return err
	}
	t.mu.Lock()
	closed := t.closed
	t.mu.Unlock()
	if closed != nil {
		return closed
	}
	var h handlers
	done := make(chan error, 4)
	err := guard(func() {
		tx := t.db.Call("transaction", []any{rows}, mode, map[string]any{"durability": "strict"})
		var why error
		stop := func(err error) {
			if why == nil {
				why = err
				// It may be over already; then there is nothing to stop.
				_ = guard(func() { tx.Call("abort") })
			}
		}
		h.on(tx, "complete", func(js.Value) { done <- why })
		h.on(tx, "abort", func(js.Value) {
			if why == nil {
				why = errorOf(tx.Get("error"))
			}
			done <- why
		})
		work(tx.Call("objectStore", rows), &h, stop)
	})
	if err != nil {
		return err
	}
	// The context is not looked at here: once begun, a step ends by itself,
	// and its outcome must be told as it is.
	err = <-done
	h.release()
	return err
}

// All implements store.Table.
func (t *table) All(ctx context.Context) ([]store.Row, error) {
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
	var changed []any
	err := t.step(ctx, "readwrite", func(objects js.Value, h *handlers, stop func(error)) {
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
	if err == nil && t.channel.Truthy() {
		_ = guard(func() { t.channel.Call("postMessage", changed) }) // other tabs learn it at their next look
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
	t.mu.Lock()
	t.asked = true
	t.mu.Unlock()
	ctx, cancel := context.WithTimeout(context.Background(), 30*time.Second) // a browser may ask the user
	defer cancel()
	v, err := await(ctx, manager.Call("persist"))
	return err == nil && v.Truthy()
}

func (t *table) wasAsked() bool { t.mu.Lock(); defer t.mu.Unlock(); return t.asked }

func (t *table) isKept(ctx context.Context) bool {
	manager := js.Global().Get("navigator").Get("storage")
	if !manager.Truthy() || manager.Get("persisted").Type() != js.TypeFunction {
		return false
	}
	v, err := await(ctx, manager.Call("persisted"))
	return err == nil && v.Truthy()
}

// Health implements store.Table.
func (t *table) Health(ctx context.Context) store.Health {
	ctx, cancel := context.WithTimeout(ctx, 2*time.Second)
	defer cancel()
	t.mu.Lock()
	h := store.Health{Kind: "indexeddb", Lasting: t.closed == nil, Trouble: t.closed, Asked: t.asked}
	t.mu.Unlock()
	h.Kept = t.isKept(ctx)
	manager := js.Global().Get("navigator").Get("storage")
	if manager.Truthy() && manager.Get("estimate").Type() == js.TypeFunction {
		if v, err := await(ctx, manager.Call("estimate")); err == nil && v.Truthy() {
			h.Used, h.Quota = number(v.Get("usage")), number(v.Get("quota"))
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
