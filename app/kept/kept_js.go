//go:build js && wasm

package kept

import (
	"bytes"
	"fmt"
	"math"
	"syscall/js"

	"github.com/vmihailenco/msgpack/v5"
)

// Read fills what into points to; fields that the text does not name stay as they are. The
// error says why the text cannot be read; into may then be half filled.
//
// The browser takes the JSON apart, and msgpack, which the page has anyway,
// brings the pieces into their fields.
func Read(text string, into any) (err error) {
	defer func() { // JSON.parse throws
		if r := recover(); r != nil {
			err = fmt.Errorf("kept: %v", r)
		}
	}()
	raw, err := msgpack.Marshal(tree(js.Global().Get("JSON").Call("parse", text)))
	if err != nil {
		return err
	}
	d := msgpack.NewDecoder(bytes.NewReader(raw))
	d.SetCustomStructTag("json")
	return d.Decode(into)
}

// tree is a value of the browser's as Go has it.
func tree(v js.Value) any {
	switch v.Type() {
	case js.TypeBoolean:
		return v.Bool()
	case js.TypeNumber:
		x := v.Float()
		if x == math.Trunc(x) && math.Abs(x) <= 1<<53 {
			return int64(x) // msgpack brings it into whole numbers and others alike
		}
		return x
	case js.TypeString:
		return v.String()
	case js.TypeObject:
		if js.Global().Get("Array").Call("isArray", v).Bool() {
			all := make([]any, v.Length())
			for i := range all {
				all[i] = tree(v.Index(i))
			}
			return all
		}
		all, keys := map[string]any{}, js.Global().Get("Object").Call("keys", v)
		for i := range keys.Length() {
			key := keys.Index(i).String()
			all[key] = tree(v.Get(key))
		}
		return all
	}
	return nil
}
