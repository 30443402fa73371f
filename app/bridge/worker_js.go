//go:build js && wasm

package bridge

import (
	"fmt"
	"syscall/js"
)

// module is the analysis program as the browser compiled it, kept so that a
// restart needs neither network nor compilation, and cannot pick up another
// version.
var module = js.Null()

type jsWorker struct {
	worker js.Value
	funcs  []js.Func
}

// startWorker starts the dedicated worker; see pwa/worker.js for its messages.
func startWorker(cb callbacks) (l link, err error) {
	defer func() { // a browser that refuses workers throws
		if r := recover(); r != nil {
			err = fmt.Errorf("worker: %v", r)
		}
	}()
	w := &jsWorker{worker: js.Global().Call("ferruleWorker")}
	w.on("message", func(event js.Value) {
		data := event.Get("data")
		switch {
		case data.Type() == js.TypeString:
			cb.ready()
		case data.Get("progress").Truthy():
			cb.progress(bytesOf(data.Get("progress")))
		case data.Get("life").Truthy():
			cb.life()
		case data.Get("module").Truthy():
			module = data.Get("module")
		case data.Get("another").Truthy():
			w.end()
			cb.another()
		case data.Get("stopped").Truthy():
			js.Global().Get("console").Call("error", "analysis worker: "+data.Get("stopped").String())
			w.end()
			cb.stopped(data.Get("stopped").String())
		default:
			cb.result(bytesOf(data))
		}
	})
	w.on("error", func(event js.Value) {
		event.Call("preventDefault")
		js.Global().Get("console").Call("error", "analysis worker: "+event.Get("message").String())
		w.end()
		cb.stopped(event.Get("message").String())
	})
	w.worker.Call("postMessage", map[string]any{"module": module, "version": js.Global().Call("goappGetenv", "GOAPP_VERSION")})
	return w, nil
}

// on has f called by the browser. f must not wait for anything that only
// another browser event brings: that event would never come.
func (w *jsWorker) on(event string, f func(js.Value)) {
	fn := js.FuncOf(func(_ js.Value, args []js.Value) any {
		f(args[0])
		return nil
	})
	w.funcs = append(w.funcs, fn)
	w.worker.Call("addEventListener", event, fn)
}

func (w *jsWorker) send(message []byte) {
	array := js.Global().Get("Uint8Array").New(len(message))
	js.CopyBytesToJS(array, message)
	w.worker.Call("postMessage", array, []any{array.Get("buffer")})
}

func (w *jsWorker) end() {
	w.worker.Call("terminate")
	// Released later: this may run inside one of these very functions.
	go func(funcs []js.Func) {
		for _, f := range funcs {
			f.Release()
		}
	}(w.funcs)
	w.funcs = nil
}

func bytesOf(array js.Value) []byte {
	b := make([]byte, array.Get("length").Int())
	js.CopyBytesToGo(b, array)
	return b
}
