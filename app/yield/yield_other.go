//go:build !(js && wasm)

// Package yield gives the screen's one thread back to the browser for a turn:
// a goroutine that only computes never does.
package yield

import "time"

// Turn lets others run, as it does in a browser.
func Turn() { time.Sleep(time.Millisecond) }

// Due is Turn for what asks often.
func Due() { Turn() }
