package club_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/units"
)

// What a sleeve does to loft and lie, by geometry: against today's setting of the
// example, two places on.
func ExampleHead_Change() {
	head := club.Example()
	today, err := head.Change(head.Current)
	if err != nil {
		fmt.Println(err)
		return
	}
	other, err := head.Change(club.Setting{Sleeve: "up", Weights: []string{"toe 10"}})
	if err != nil {
		fmt.Println(err)
		return
	}
	c := other.Against(today)
	fmt.Printf("loft %+.1f, lie %+.1f degrees, centre of mass %+.2f mm to the toe\n", c.LoftSquare/units.Degree, c.Upright/units.Degree, c.CGToe/units.Millimetre)
	// Output:
	// loft +1.9, lie +1.5 degrees, centre of mass +0.61 mm to the toe
}
