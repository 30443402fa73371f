//go:build js && wasm

package idb

import (
	"context"
	"net/url"
	"strings"
	"syscall/js"
)

// inbox is the cache where the service worker (pwa/sw.js) puts what another
// app shared with us.
const inbox = "inbox-ferrule"

// Incoming returns the files that came from outside since it was last asked:
// shared from another app, or opened from the file manager. A shared file is
// forgotten only when all of them could be read. refused says that a page which
// hid where it comes from had sent some: only the system may share without a
// name, and it does so with an app that is installed.
func Incoming(ctx context.Context) (files []File, refused bool, err error) {
	if take := js.Global().Get("ferruleTakeLaunchFiles"); take.Type() == js.TypeFunction {
		list := take.Invoke()
		for i := range list.Length() {
			f := list.Index(i)
			files = append(files, File{Name: f.Get("name").String(), Bytes: bytesOf(f.Get("bytes"))})
		}
	}
	caches := js.Global().Get("caches")
	if !caches.Truthy() {
		return files, refused, nil
	}
	has, err := await(ctx, caches.Call("has", inbox))
	if err != nil || !has.Truthy() {
		return files, refused, nil // denied storage: nothing can have come that way
	}
	cache, err := await(ctx, caches.Call("open", inbox))
	if err != nil {
		return files, refused, err
	}
	keys, err := await(ctx, cache.Call("keys"))
	if err != nil {
		return files, refused, err
	}
	for i := range keys.Length() {
		request := keys.Index(i)
		response, err := await(ctx, cache.Call("match", request))
		if err != nil {
			return files, refused, err
		}
		if response.Get("headers").Call("get", "X-Sender").String() == "unknown" && !installed() {
			refused = true
			continue
		}
		buffer, err := await(ctx, response.Call("arrayBuffer"))
		if err != nil {
			return files, refused, err
		}
		name := request.Get("url").String()
		name = name[strings.LastIndex(name, "/")+1:]
		if plain, err := url.PathUnescape(name); err == nil {
			name = plain
		}
		files = append(files, File{Name: name, Bytes: bytesOf(js.Global().Get("Uint8Array").New(buffer))})
	}
	for i := range keys.Length() {
		if _, err := await(ctx, cache.Call("delete", keys.Index(i))); err != nil {
			return files, refused, err
		}
	}
	return files, refused, nil
}

// installed reports whether the page is the app that the system shares with.
func installed() bool {
	is := js.Global().Get("goappIsAppInstalled")
	return is.Type() == js.TypeFunction && is.Invoke().Truthy()
}

// OnIncoming has f called, on its own goroutine, when a file is opened while
// the page is already there.
func OnIncoming(f func()) {
	js.Global().Set("ferruleOnIncoming", js.FuncOf(func(js.Value, []js.Value) any {
		go f()
		return nil
	}))
}
