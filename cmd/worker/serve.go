//go:build js && wasm

package main

import (
	"github.com/vmihailenco/msgpack/v5"

	"ferrule/app/intl"
	"ferrule/core/pipeline"
	"ferrule/core/text"
	"ferrule/core/wire"
)

// tick is the share of a request after which the page is told anew: its bar
// shows no finer step, and each word costs both sides time.
const tick = .04

// serve answers one request and tells on the way how far it is.
func serve(in []byte, tell func([]byte)) []byte {
	var id struct {
		ID    uint64
		Sheet *struct{ Language text.Language }
		Hear  *struct{ Language text.Language }
	}
	_ = msgpack.Unmarshal(in, &id) // a message that can't be read is answered by Serve
	if id.Sheet != nil {
		intl.Load(id.Sheet.Language)
	}
	if id.Hear != nil {
		intl.Load(id.Hear.Language)
	}
	var last wire.Progress
	return pipeline.Serve(in, func(step string, done float64) {
		if step == last.Step && done < last.Done+tick {
			return
		}
		last = wire.Progress{ID: id.ID, Step: step, Done: done}
		if p, err := msgpack.Marshal(&last); err == nil {
			tell(p)
		}
	})
}
