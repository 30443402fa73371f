package wire_test

import (
	"fmt"

	"ferrule/core/wire"
)

// A result crosses the border as bytes and comes back the same.
func ExampleUnpack() {
	message, err := wire.Result{Version: wire.Version, ID: 7, Flights: []wire.Flight{{Carry: 214.5}}}.Pack()
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := wire.Unpack(message, func() {})
	fmt.Println(r.ID, r.Flights[0].Carry, err)
	// Output:
	// 7 214.5 <nil>
}
