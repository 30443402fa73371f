package air_test

import (
	"fmt"

	"ferrule/core/air"
)

// The air of a summer morning 1600 m up: a seventh thinner than the standard's.
func ExampleFrom() {
	temperature, altitude := 293.15, 1600. // [K], [m]
	a, err := air.From(&temperature, nil, nil, &altitude, 0, 0)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.3f kg/m^3, %.0f %% of the standard's\n", a.Density(), 100*a.Density()/air.Standard().Density())
	// Output:
	// 0.988 kg/m^3, 82 % of the standard's
}
