//go:build js && wasm

package intl

import (
	"fmt"
	"syscall/js"
)

// Charset decodes data from a character set that the browser knows by name
// (WHATWG Encoding Standard). Bytes that are none of its become U+FFFD.
func Charset(name string, data []byte) (text string, err error) {
	defer func() {
		if r := recover(); r != nil {
			text, err = "", fmt.Errorf("the browser cannot read %s: %v", name, r)
		}
	}()
	array := js.Global().Get("Uint8Array").New(len(data))
	js.CopyBytesToJS(array, data)
	return js.Global().Get("TextDecoder").New(name).Call("decode", array).String(), nil
}
