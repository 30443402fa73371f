//go:build js && wasm

package main

import (
	"github.com/vmihailenco/msgpack/v5"

	"ferrule/app/intl"
	"ferrule/core/pipeline"
	"ferrule/core/text"
	"ferrule/core/wire"
)

// serve answers one request and tells on the way how far it is.
func serve(in []byte, tell func([]byte)) []byte {
	var id struct {
		ID    uint64
		Sheet *struct{ Language text.Language }
	}
	_ = msgpack.Unmarshal(in, &id) // a message that can't be read is answered by Serve
	if id.Sheet != nil {
		intl.Load(id.Sheet.Language)
	}
	return pipeline.Serve(in, func(step string, done float64) {
		if p, err := msgpack.Marshal(&wire.Progress{ID: id.ID, Step: step, Done: done}); err == nil {
			tell(p)
		}
	})
}
