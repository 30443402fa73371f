package robust_test

import (
	"fmt"

	"ferrule/core/robust"
)

// Five carries in metres, of which one slipped a digit: middle and spread hardly move.
func ExampleSpread() {
	carries := []float64{212, 215, 209, 2140, 213}
	fmt.Printf("middle %.0f m, spread %.1f m\n", robust.Median(carries), robust.Spread(carries))
	// Output:
	// middle 213 m, spread 3.0 m
}
