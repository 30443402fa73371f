package units_test

import (
	"fmt"

	"ferrule/core/units"
)

// A number enters as SI and leaves in the units of a person.
func ExampleSystem_Unit() {
	carry := units.UnitYd.SI(240) // [m]
	for _, s := range []units.System{units.Imperial, units.Metric} {
		u := s.Unit(units.Length)
		fmt.Println(units.Format(u.From(carry), 1, '.'), u.Symbol)
	}
	// Output:
	// 240.0 yd
	// 219.5 m
}
