//go:build js && wasm

package main

import (
	"runtime"
	"sync/atomic"
	"time"

	"ferrule/core/pipeline"
)

// asked is whether the page has asked anything.
var asked atomic.Bool

// warm analyses the example before anybody asks, because a browser first
// compiles each function quickly and badly and improves those that run often:
// the first analysis takes three times what the later ones do. The first
// question ends it.
func warm() {
	pause := func(string, float64) {
		time.Sleep(time.Millisecond) // lets the browser deliver a question
		if asked.Load() {
			runtime.Goexit()
		}
	}
	pause("", 0)
	s, err := pipeline.Example("demo")
	if err != nil {
		return
	}
	pause("", 0)
	_, _ = pipeline.Analyse(s, 1, pause)
}
