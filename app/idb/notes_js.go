//go:build js && wasm

package idb

import (
	"context"
	"maps"
	"sort"
	"strings"
	"sync"
	"syscall/js"
)

// Notes is the journal of what is no session: a key and a text each, in a
// database of its own, so that no version of the sessions' needs to change for
// it. It implements act.Journal.
type Notes struct {
	c *conn

	mu      sync.Mutex
	known   map[string]string // as it is or will be on the disk
	waiting map[string]string // not on the disk yet; empty = to be forgotten
	begun   bool
	writing bool
	waiters []chan error
	watch   func([]string)
}

// OpenNotes returns the journal. Nothing is read before Begin.
func OpenNotes() *Notes { return openNotes("ferrule-journal") }

func openNotes(name string) *Notes {
	return &Notes{c: newConn(name, "notes", nil), known: map[string]string{}, waiting: map[string]string{}}
}

// Begin reads everything. What was saved meanwhile is later, and stays.
func (n *Notes) Begin(ctx context.Context) error {
	err := n.read(ctx)
	n.c.setWatch(func(keys []string) {
		if n.read(context.Background()) != nil {
			return
		}
		n.mu.Lock()
		watch := n.watch
		n.mu.Unlock()
		if watch != nil {
			watch(keys)
		}
	})
	n.mu.Lock()
	n.begun = true
	n.mu.Unlock()
	n.kick()
	return err
}

func (n *Notes) read(ctx context.Context) error {
	found := map[string]string{}
	err := n.c.step(ctx, "readonly", func(objects js.Value, h *handlers, _ func(error)) {
		keys, values := objects.Call("getAllKeys"), objects.Call("getAll")
		h.on(values, "success", func(js.Value) {
			ks, vs := keys.Get("result"), values.Get("result")
			for i := range ks.Length() {
				found[ks.Index(i).String()] = string(binary(vs.Index(i)))
			}
		})
	})
	if err != nil {
		return err
	}
	n.mu.Lock()
	defer n.mu.Unlock()
	for k, v := range n.waiting {
		if found[k] = v; v == "" {
			delete(found, k)
		}
	}
	n.known = found
	return nil
}

// Load implements act.Pocket.
func (n *Notes) Load(key string) string { n.mu.Lock(); defer n.mu.Unlock(); return n.known[key] }

// Has reports whether the journal says anything of a key, were it that it is forgotten.
func (n *Notes) Has(key string) bool {
	n.mu.Lock()
	defer n.mu.Unlock()
	_, known := n.known[key]
	_, waits := n.waiting[key]
	return known || waits
}

// Keys implements act.Pocket.
func (n *Notes) Keys(prefix string) []string {
	n.mu.Lock()
	defer n.mu.Unlock()
	var keys []string
	for k := range n.known {
		if strings.HasPrefix(k, prefix) {
			keys = append(keys, k)
		}
	}
	sort.Strings(keys)
	return keys
}

// Save implements act.Pocket.
func (n *Notes) Save(key, text string) {
	n.mu.Lock()
	if n.known[key] = text; text == "" {
		delete(n.known, key)
	}
	n.waiting[key] = text
	n.mu.Unlock()
	n.kick()
}

// Wait implements act.Journal. One that waits after a failure has it tried again.
func (n *Notes) Wait(ctx context.Context) error {
	n.mu.Lock()
	if len(n.waiting) == 0 && !n.writing {
		n.mu.Unlock()
		return nil
	}
	done := make(chan error, 1)
	n.waiters = append(n.waiters, done)
	n.mu.Unlock()
	n.kick()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// Watch implements act.Journal.
func (n *Notes) Watch(f func([]string)) { n.mu.Lock(); n.watch = f; n.mu.Unlock() }

// kick begins to write unless that goes on already.
func (n *Notes) kick() {
	n.mu.Lock()
	defer n.mu.Unlock()
	if n.writing || !n.begun || len(n.waiting) == 0 {
		return
	}
	n.writing = true
	go n.write()
}

// write puts all that waits on the disk, all at once, until nothing waits.
func (n *Notes) write() {
	for {
		n.mu.Lock()
		batch := maps.Clone(n.waiting)
		waiters := n.waiters
		if n.waiters = nil; len(batch) == 0 {
			n.writing = false
			n.mu.Unlock()
			answer(waiters, nil)
			return
		}
		n.mu.Unlock()
		err := n.put(batch)
		n.mu.Lock()
		if err == nil {
			for k, v := range batch {
				if now, waits := n.waiting[k]; waits && now == v {
					delete(n.waiting, k)
				}
			}
		} else {
			n.writing = false
			waiters = append(waiters, n.waiters...)
			n.waiters = nil
		}
		n.mu.Unlock()
		answer(waiters, err)
		if err != nil {
			return // tried again with the next Save or Wait
		}
	}
}

func answer(waiters []chan error, err error) {
	for _, w := range waiters {
		w <- err
	}
}

func (n *Notes) put(batch map[string]string) error {
	var changed []any
	err := n.c.step(context.Background(), "readwrite", func(objects js.Value, _ *handlers, stop func(error)) {
		changed = nil
		for k, v := range batch {
			if v == "" {
				objects.Call("delete", k)
			} else {
				objects.Call("put", arrayOf([]byte(v)), k)
			}
			changed = append(changed, k)
		}
	})
	if err == nil {
		n.c.tell(changed)
	}
	return err
}
