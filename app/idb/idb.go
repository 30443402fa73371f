// Package idb keeps sessions in the browser's IndexedDB: the store.Table that
// survives a reload, a dead battery and an update.
//
// A row is safe when the transaction says complete with strict durability,
// never before. Other tabs are told of every change. Where the browser lets
// nothing be kept, Open gives a table in memory whose Health says so.
package idb

import (
	"context"

	"ferrule/core/store"
)

// Opened is the place that was found to keep sessions.
type Opened struct {
	Table store.Table
	// Watch has f called with the keys that another tab changed. f is called
	// on its own goroutine; nil ends it.
	Watch func(f func(keys []string))
	// Persist asks the browser, once, not to clear the origin by itself; call
	// it after the first save. It returns what was promised.
	Persist func() bool
	// Retry tries to open again what could not be opened.
	Retry func(ctx context.Context)
	// Trouble has f called, on its own goroutine, when the place went away or
	// came back by itself.
	Trouble func(f func())
}

// File is something that came from outside: shared from another app or opened
// from the file manager.
type File struct {
	Name  string // empty = a paste
	Bytes []byte
	From  int // lines that were there before its folder was watched; -1 = it was written anew
}
