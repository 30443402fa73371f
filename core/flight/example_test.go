package flight_test

import (
	"fmt"

	"ferrule/core/flight"
	"ferrule/core/units"
)

// A drive of 150 mph that starts 13 degrees up with 2500 rpm, in standard air.
func ExampleFly() {
	ball := flight.Launch{Speed: 150 * units.MPH, Angle: 13 * units.Degree, Spin: 2500 * units.RPM, Axis: 5 * units.Degree}
	l, err := flight.Fly(ball, flight.Env{})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("carry %.0f m, %.0f m to the right, %.0f m high, %.1f s\n", l.Carry, l.Offline, l.Apex, l.Time)
	// Output:
	// carry 225 m, 7 m to the right, 26 m high, 6.1 s
}
