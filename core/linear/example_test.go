package linear_test

import (
	"fmt"

	"ferrule/core/linear"
)

// Two equations, 4x + 2y = 10 and 2x + 3y = 9.
func ExampleFactor() {
	c, ok := linear.Factor(2, []float64{4, 2, 2, 3})
	x := []float64{10, 9}
	fmt.Println(ok && c.Solve(x))
	fmt.Printf("x = %.2f, y = %.2f\n", x[0], x[1])
	// Output:
	// true
	// x = 1.50, y = 2.00
}
