//go:build js && wasm

package idb

import (
	"context"
	"errors"
	"fmt"
	"syscall/js"

	"ferrule/core/store"
)

// guard turns what JavaScript throws inside f into an error. A browser that
// keeps nothing throws already at the mention of indexedDB.
func guard(f func()) (err error) {
	defer func() {
		if r := recover(); r != nil {
			if e, ok := r.(js.Error); ok {
				err = errorOf(e.Value)
				return
			}
			panic(r)
		}
	}()
	f()
	return nil
}

// errorOf gives a browser's error its meaning here.
func errorOf(v js.Value) error {
	if !v.Truthy() {
		return errors.New("the browser gave no reason")
	}
	text := v.Get("name").String() + ": " + v.Get("message").String()
	switch v.Get("name").String() {
	case "QuotaExceededError":
		return fmt.Errorf("%w (%s)", store.ErrFull, text)
	case "SecurityError", "NotAllowedError":
		return fmt.Errorf("%w (%s)", store.ErrDenied, text)
	case "InvalidStateError":
		return fmt.Errorf("%w (%s)", errClosed, text)
	case "VersionError", "NotFoundError":
		return fmt.Errorf("%w (%s)", store.ErrReplaced, text)
	case "AbortError":
		return fmt.Errorf("%w (%s)", errClosed, text) // the database went away under it
	}
	return fmt.Errorf("%w (%s)", store.ErrBroken, text)
}

// errClosed says that the connection was closed under a step.
var errClosed = fmt.Errorf("%w: the connection was closed", store.ErrBroken)

// handlers are callbacks that are released together.
type handlers []js.Func

// on sets an event handler. It must not block.
func (h *handlers) on(target js.Value, event string, f func(event js.Value)) {
	fn := js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	})
	*h = append(*h, fn)
	target.Set("on"+event, fn)
}

func (h *handlers) release() {
	for _, fn := range *h {
		fn.Release()
	}
	*h = nil
}

// await waits for a promise.
func await(ctx context.Context, promise js.Value) (js.Value, error) {
	type settled struct {
		v   js.Value
		err error
	}
	done := make(chan settled, 1)
	ok := js.FuncOf(func(_ js.Value, args []js.Value) any {
		v := js.Undefined()
		if len(args) > 0 {
			v = args[0]
		}
		done <- settled{v: v}
		return nil
	})
	bad := js.FuncOf(func(_ js.Value, args []js.Value) any {
		done <- settled{err: errorOf(args[0])}
		return nil
	})
	promise.Call("then", ok, bad)
	release := func() { ok.Release(); bad.Release() }
	select {
	case s := <-done:
		release()
		return s.v, s.err
	case <-ctx.Done():
		go func() { <-done; release() }() // it settles some time
		return js.Undefined(), ctx.Err()
	}
}

func bytesOf(array js.Value) []byte {
	if !array.Truthy() {
		return nil
	}
	b := make([]byte, array.Get("length").Int())
	js.CopyBytesToGo(b, array)
	return b
}

func arrayOf(b []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(array, b)
	return array
}
