// Package idb keeps sessions in the browser's IndexedDB: the store.Table that
// survives a reload, a dead battery and an update.
//
// A row is safe when the transaction says complete with strict durability,
// never before. Other tabs are told of every change. Where the browser lets
// nothing be kept, Open gives a table in memory whose Health says so.
package idb

import "ferrule/core/store"

// Opened is the place that was found to keep sessions.
type Opened struct {
	Table store.Table
	// Watch has f called with the keys that another tab changed. f is called
	// on its own goroutine; nil ends it.
	Watch func(f func(keys []string))
	// Persist asks the browser, once, not to clear the origin by itself; call
	// it after the first save. It returns what was promised.
	Persist func() bool
}

func inMemory(why error) Opened {
	return Opened{
		Table:   store.NewMemory(why),
		Watch:   func(func([]string)) {},
		Persist: func() bool { return false },
	}
}

// File is something that came from outside: shared from another app or opened
// from the file manager.
type File struct {
	Name  string
	Bytes []byte
}
