//go:build !(js && wasm)

// Package breath gives the screen's one thread back to the browser for a turn:
// a goroutine that only computes never does.
package breath

import "time"

// Take lets others run, as it does in a browser.
func Take() { time.Sleep(time.Millisecond) }
