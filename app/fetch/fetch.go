//go:build js && wasm

// Package fetch asks the site for its own files.
package fetch

import "syscall/js"

// Get waits for the file at path of our own site, read by the response's method as ("json",
// "text"): call it in a goroutine of its own, never in a function that the
// browser calls. ok is false when it does not come.
func Get(path, as string) (file js.Value, ok bool) {
	// The analysis runs in a worker made of a blob, which has no path to begin from.
	response, ok := wait(js.Global().Call("fetch", js.Global().Get("location").Get("origin").String()+path))
	if !ok || !response.Get("ok").Bool() {
		return js.Value{}, false
	}
	return wait(response.Call(as))
}

// Example is the file of an example and its answer, which pwa/first.js may have
// asked for already; nil = it does not come.
func Example(name string) []byte {
	file, ok := wait(js.Global().Get("ferruleFirst").Call("example", name))
	if !ok || !file.Truthy() {
		return nil
	}
	array := js.Global().Get("Uint8Array").New(file)
	b := make([]byte, array.Length())
	js.CopyBytesToGo(b, array)
	return b
}

// wait waits for what a promise brings.
func wait(promise js.Value) (v js.Value, ok bool) {
	done := make(chan struct{})
	end := func(kept bool) js.Func {
		return js.FuncOf(func(_ js.Value, args []js.Value) any {
			v, ok = args[0], kept
			close(done)
			return nil
		})
	}
	kept, broken := end(true), end(false)
	defer func() { kept.Release(); broken.Release() }()
	promise.Call("then", kept, broken)
	<-done
	return v, ok
}
