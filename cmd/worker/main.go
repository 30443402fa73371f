//go:build js && wasm

// Command worker is the analysis program: it runs in a dedicated worker of
// the page, takes requests of package wire as bytes and posts results back.
//
// Messages to the page: bytes are a result, {progress: bytes} tells how far a
// request is, "ready" is posted once. One request is worked on at a time; the
// page cancels by ending the worker.
package main

import (
	"syscall/js"

	"ferrule/app/intl"
	"ferrule/core/shotfile"
)

func main() {
	intl.Use()
	shotfile.UseCharset(intl.Charset)
	global := js.Global()
	post := func(v any) { global.Call("postMessage", v) }
	// The handler must not block the browser's callback: the work runs in a
	// goroutine of its own.
	global.Set("onmessage", js.FuncOf(func(_ js.Value, args []js.Value) any {
		asked.Store(true)
		data := args[0].Get("data")
		in := make([]byte, data.Get("length").Int())
		js.CopyBytesToGo(in, data)
		go func() { post(bytesOf(serve(in, func(p []byte) { post(map[string]any{"progress": bytesOf(p)}) }))) }()
		return nil
	}))
	post("ready")
	go warm()
	select {}
}

// bytesOf copies b into a fresh Uint8Array.
func bytesOf(b []byte) js.Value {
	array := js.Global().Get("Uint8Array").New(len(b))
	js.CopyBytesToJS(array, b)
	return array
}
