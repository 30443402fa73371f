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

// patience is how long opening may take. Some browsers answer never when
// storage is off.
const patience = 8 * time.Second

// conn is one object store of one database. It opens by itself when it is used,
// and again after it was closed: because a newer version wanted to change the
// database, because the browser closed it, or because it was deleted.
type conn struct {
	name, objects string
	keyPath       any // of the object store when it is made, js.Null() = keys are given

	mu      sync.Mutex
	db      js.Value // undefined = not open
	why     error    // it cannot be opened or used now, nil = it can
	opening chan struct{}
	watch   func([]string)
	trouble func()
	channel js.Value // tells other tabs, null where there is none

	turn chan struct{} // holds one: steps go one after the other, in the order of asking
}

func newConn(name, objects string, keyPath any) *conn {
	c := &conn{name: name, objects: objects, keyPath: keyPath, turn: make(chan struct{}, 1), channel: js.Null()}
	c.listen()
	return c
}

// open opens the database whatever its version is: a newer program may have
// raised it, and as long as our object store is there it is ours to use.
// Errors: those of package store.
func (c *conn) open(ctx context.Context) error {
	c.mu.Lock()
	if c.db.Truthy() {
		c.mu.Unlock()
		return nil
	}
	if c.opening == nil {
		c.opening = make(chan struct{})
		go c.begin(js.Undefined())
	}
	opening := c.opening
	c.mu.Unlock()
	select {
	case <-opening:
	case <-ctx.Done():
		return ctx.Err()
	case <-time.After(patience):
		c.settle(js.Undefined(), store.ErrDenied)
	}
	c.mu.Lock()
	defer c.mu.Unlock()
	if !c.db.Truthy() && c.why == nil {
		return store.ErrBroken
	}
	if c.db.Truthy() {
		return nil
	}
	return c.why
}

// begin asks for the database. Its handlers stay: a request that was blocked may
// come back once the other tab is closed, and is taken then.
func (c *conn) begin(version js.Value) {
	var h handlers
	err := guard(func() {
		factory := js.Global().Get("indexedDB")
		if !factory.Truthy() {
			c.settle(js.Undefined(), store.ErrDenied)
			return
		}
		args := []any{c.name}
		if version.Type() == js.TypeNumber {
			args = append(args, version)
		}
		req := factory.Call("open", args...)
		h.on(req, "upgradeneeded", func(js.Value) {
			db := req.Get("result")
			if db.Get("objectStoreNames").Call("contains", c.objects).Bool() {
				return
			}
			options := map[string]any{}
			if c.keyPath != nil {
				options["keyPath"] = c.keyPath
			}
			db.Call("createObjectStore", c.objects, options)
		})
		h.on(req, "success", func(js.Value) { c.opened(req.Get("result")) })
		h.on(req, "error", func(js.Value) { c.settle(js.Undefined(), errorOf(req.Get("error"))) })
		h.on(req, "blocked", func(js.Value) { c.settle(js.Undefined(), store.ErrBlocked) })
	})
	if err != nil {
		c.settle(js.Undefined(), err)
	}
}

// opened takes a database that was opened, makes our object store in one that a
// stranger left empty, and leaves one that it does not know alone.
func (c *conn) opened(db js.Value) {
	if !db.Get("objectStoreNames").Call("contains", c.objects).Bool() {
		version := db.Get("version").Int()
		db.Call("close")
		if version > 1 {
			c.settle(js.Undefined(), store.ErrReplaced)
			return
		}
		go c.begin(js.ValueOf(version + 1))
		return
	}
	var h handlers
	h.on(db, "versionchange", func(event js.Value) {
		db.Call("close")
		if event.Get("newVersion").IsNull() {
			c.closed(db, store.ErrDeleted)
			return
		}
		c.closed(db, nil) // a newer program changes it: it is opened again afterwards
	})
	h.on(db, "close", func(js.Value) { c.closed(db, store.ErrDeleted) }) // cleared by the user or the browser
	c.settle(db, nil)
}

// settle ends an opening, or takes one that comes late.
func (c *conn) settle(db js.Value, why error) {
	c.mu.Lock()
	late := c.opening == nil
	c.db, c.why = db, why
	if !late {
		close(c.opening)
		c.opening = nil
	}
	trouble := c.trouble
	c.mu.Unlock()
	if late && db.Truthy() && trouble != nil {
		go trouble()
	}
}

func (c *conn) closed(db js.Value, why error) {
	c.mu.Lock()
	if !c.db.Equal(db) {
		c.mu.Unlock()
		return
	}
	c.db, c.why = js.Undefined(), why
	trouble := c.trouble
	c.mu.Unlock()
	if trouble != nil {
		go trouble()
	}
}

// state is why it cannot be used now, nil if it can or has not been tried.
func (c *conn) state() error { c.mu.Lock(); defer c.mu.Unlock(); return c.why }

// listen hears of other tabs' changes as long as the page lives.
func (c *conn) listen() {
	b := js.Global().Get("BroadcastChannel")
	if !b.Truthy() {
		return
	}
	if guard(func() { c.channel = b.New(c.name) }) != nil {
		c.channel = js.Null()
		return
	}
	var h handlers
	h.on(c.channel, "message", func(event js.Value) {
		data := event.Get("data")
		if !data.InstanceOf(js.Global().Get("Array")) {
			return
		}
		keys := make([]string, min(data.Length(), 1000))
		for i := range keys {
			keys[i] = data.Index(i).String()
		}
		c.mu.Lock()
		watch := c.watch
		c.mu.Unlock()
		if watch != nil {
			go watch(keys)
		}
	})
}

func (c *conn) tell(keys []any) {
	if c.channel.Truthy() {
		_ = guard(func() { c.channel.Call("postMessage", keys) }) // other tabs learn it at their next look
	}
}

func (c *conn) setWatch(f func([]string)) { c.mu.Lock(); c.watch = f; c.mu.Unlock() }
func (c *conn) setTrouble(f func())       { c.mu.Lock(); c.trouble = f; c.mu.Unlock() }

// step runs work inside one transaction and waits for its end. work starts
// requests; whatever they start in their callbacks belongs to the same
// transaction. stop ends it with nothing written. A connection that turns out to
// be closed is opened again, once.
func (c *conn) step(ctx context.Context, mode string, work func(objects js.Value, h *handlers, stop func(error))) error {
	select {
	case c.turn <- struct{}{}:
		defer func() { <-c.turn }()
	case <-ctx.Done():
		return ctx.Err()
	}
	for try := 0; ; try++ {
		if err := ctx.Err(); err != nil {
			return err
		}
		if err := c.open(ctx); err != nil {
			return err
		}
		err := c.transact(mode, work)
		if try > 0 || !errors.Is(err, errClosed) {
			return err
		}
		c.mu.Lock()
		c.db = js.Undefined()
		c.mu.Unlock()
	}
}

func (c *conn) transact(mode string, work func(objects js.Value, h *handlers, stop func(error))) error {
	c.mu.Lock()
	db := c.db
	c.mu.Unlock()
	if !db.Truthy() {
		return errClosed
	}
	var h handlers
	done := make(chan error, 4)
	err := guard(func() {
		tx := db.Call("transaction", []any{c.objects}, mode, map[string]any{"durability": "strict"})
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
		work(tx.Call("objectStore", c.objects), &h, stop)
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
