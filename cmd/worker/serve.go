//go:build js && wasm

package main

import (
	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/wire"
)

// serve answers one request. Placeholder until package pipeline stands: it
// says that it cannot analyse yet.
func serve(in []byte, _ func([]byte)) []byte {
	var req wire.Request
	res := wire.Result{Version: wire.Version, Error: "the analysis is not built in yet"}
	if err := msgpack.Unmarshal(in, &req); err == nil {
		res.ID = req.ID
	}
	out, err := msgpack.Marshal(res)
	if err != nil {
		return nil
	}
	return out
}
