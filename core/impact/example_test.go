package impact_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/impact"
	"ferrule/core/units"
)

// A club that comes from inside with the face square to the target starts the ball
// near the face and curves it away from the path.
func ExampleStrike() {
	d := impact.Delivery{ClubSpeed: 100 * units.MPH, Attack: 2 * units.Degree, Path: 3 * units.Degree, DynamicLoft: 14 * units.Degree}
	l, err := impact.Strike(d, impact.DefaultParams(club.Example()))
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mph, %.1f degrees up, %.1f right, %.0f rpm, axis %.0f degrees\n",
		l.Speed/units.MPH, l.Angle/units.Degree, l.Direction/units.Degree, l.Spin/units.RPM, l.Axis/units.Degree)
	// Output:
	// 146 mph, 12.2 degrees up, 0.5 right, 2315 rpm, axis -14 degrees
}
