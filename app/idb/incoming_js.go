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

// handed are the files that were given out and may not be forgotten yet: every
// page looks for them.
var handed = map[string]bool{}

// Incoming returns the files that came from outside since it was last asked:
// shared from another app, or opened from the file manager. A shared file stays
// in the inbox until taken is called: once it is kept elsewhere. refused says that a page which
// hid where it comes from had sent some: only the system may share without a
// name, and it does so with an app that is installed.
func Incoming(ctx context.Context) (files []File, taken func(), refused bool, err error) {
	taken = func() {}
	if take := js.Global().Get("ferruleTakeLaunchFiles"); take.Type() == js.TypeFunction {
		list := take.Invoke()
		for i := range list.Length() {
			f := list.Index(i)
			files = append(files, File{Name: f.Get("name").String(), Bytes: bytesOf(f.Get("bytes")), From: f.Get("from").Int()})
		}
	}
	caches := js.Global().Get("caches")
	if !caches.Truthy() {
		return files, taken, refused, nil
	}
	has, err := await(ctx, caches.Call("has", inbox))
	if err != nil || !has.Truthy() {
		return files, taken, refused, nil // denied storage: nothing can have come that way
	}
	cache, err := await(ctx, caches.Call("open", inbox))
	if err != nil {
		return files, taken, refused, err
	}
	keys, err := await(ctx, cache.Call("keys"))
	if err != nil {
		return files, taken, refused, err
	}
	for i := range keys.Length() {
		request := keys.Index(i)
		if at := request.Get("url").String(); handed[at] {
			continue
		} else {
			handed[at] = true
		}
		response, err := await(ctx, cache.Call("match", request))
		if err != nil {
			return files, taken, refused, err
		}
		if response.Get("headers").Call("get", "X-Sender").String() == "unknown" && !installed() {
			refused = true
			continue
		}
		buffer, err := await(ctx, response.Call("arrayBuffer"))
		if err != nil {
			return files, taken, refused, err
		}
		name := request.Get("url").String()
		name = name[strings.LastIndex(name, "/")+1:]
		if plain, err := url.PathUnescape(name); err == nil {
			name = plain
		}
		files = append(files, File{Name: name, Bytes: bytesOf(js.Global().Get("Uint8Array").New(buffer))})
	}
	taken = func() {
		for i := range keys.Length() {
			_, _ = await(context.Background(), cache.Call("delete", keys.Index(i))) // one that stays is shown again
		}
	}
	if refused && len(files) == 0 {
		taken()
	}
	return files, taken, refused, nil
}

// installed reports whether the page is the app that the system shares with.
func installed() bool {
	is := js.Global().Get("goappIsAppInstalled")
	return is.Type() == js.TypeFunction && is.Invoke().Truthy()
}

// OnHealed has f called, on its own goroutine, when the service worker has looked
// after the files of the app: Health then says which are missing.
func OnHealed(f func()) { on("ferruleOnHealed", f) }

// OnIncoming has f called, on its own goroutine, when a file is opened while
// the page is already there.
func OnIncoming(f func()) { on("ferruleOnIncoming", f) }

func on(name string, f func()) {
	js.Global().Set(name, js.FuncOf(func(js.Value, []js.Value) any {
		go f()
		return nil
	}))
}
