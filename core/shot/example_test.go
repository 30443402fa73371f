package shot_test

import (
	"fmt"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What was measured is a map: what is missing is absent and never zero. A ball that
// starts right of the target and comes back is a push that draws, for a right-hander.
func ExampleWayOf() {
	v := shot.Values{shot.LaunchDirection: 3 * units.Degree, shot.Carry: 210, shot.Offline: 1}
	_, measured := v.Get(shot.Spin)
	way, ok := shot.WayOf(v, frame.Right)
	fmt.Printf("spin measured: %t; %s: starts %.0f degrees right, curves %.0f m (%t)\n", measured, way.Shape, way.Start/units.Degree, way.Curve, ok)
	// Output:
	// spin measured: false; draw: starts 3 degrees right, curves -10 m (true)
}
