//go:build js && wasm

// Package yield gives the screen's one thread back to the browser for a turn:
// a goroutine that only computes never does.
package yield

import (
	"syscall/js"
	"time"
)

// A program's start is a piece of its own, before the other packages begin.
func init() { Turn() }

// Turn lets the browser draw and take touches. It waits for the browser and
// not for Go's clock, for while Go collects garbage a sleep that is over is
// taken up without the browser having had its turn.
// Where nobody sees the page there is nothing to wait for, and a browser gives
// such a page a turn a second.
func Turn() {
	if js.Global().Get("document").Get("hidden").Truthy() {
		return
	}
	turn := make(chan struct{})
	f := js.FuncOf(func(js.Value, []js.Value) any {
		close(turn)
		return nil
	})
	js.Global().Call("setTimeout", f)
	<-turn
	f.Release()
	last = time.Now()
}

// last is when the browser had its turn, and spell how long it may wait for another.
var last time.Time

const spell = 5 * time.Millisecond

// Due is Turn for what asks often: it does nothing just after a turn.
func Due() {
	if time.Since(last) > spell {
		Turn()
	}
}
