//go:build js && wasm

// Package fetch asks the site for its own files.
package fetch

import "syscall/js"

// Get waits for the file at path of our own site, read by the response's method as ("json",
// "text"): call it in a goroutine of its own, never in a function that the
// browser calls. ok is false when it does not come.
func Get(path, as string) (file js.Value, ok bool) {
	done := make(chan struct{})
	got := func(f func(js.Value) any) js.Func {
		return js.FuncOf(func(_ js.Value, args []js.Value) any { return f(args[0]) })
	}
	failed := got(func(js.Value) any { close(done); return nil })
	read := got(func(v js.Value) any {
		file, ok = v, true
		close(done)
		return nil
	})
	answered := got(func(response js.Value) any {
		if !response.Get("ok").Bool() {
			return js.Global().Get("Promise").Call("reject")
		}
		return response.Call(as)
	})
	defer func() { failed.Release(); read.Release(); answered.Release() }()
	// The analysis runs in a worker made of a blob, which has no path to begin from.
	js.Global().Call("fetch", js.Global().Get("location").Get("origin").String()+path).Call("then", answered).Call("then", read, failed)
	<-done
	return file, ok
}
