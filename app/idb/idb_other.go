//go:build !(js && wasm)

package idb

import (
	"context"

	"ferrule/core/store"
)

// Open has no browser to keep things in: tests and the site's writer get a
// table in memory.
func Open(context.Context) Opened { return inMemory(store.ErrDenied) }

// Incoming has no browser to take files from.
func Incoming(context.Context) ([]File, func(), bool, error) { return nil, func() {}, false, nil }

// OnHealed has no service worker to hear of.
func OnHealed(func()) {}

// OnIncoming has no browser to take files from.
func OnIncoming(func()) {}

func inMemory(why error) Opened {
	return Opened{
		Table:   store.NewMemory(why),
		Watch:   func(func([]string)) {},
		Persist: func() bool { return false },
		Retry:   func(context.Context) {},
		Trouble: func(func()) {},
	}
}
