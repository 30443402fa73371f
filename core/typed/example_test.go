package typed_test

import (
	"fmt"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// A field reads what people write: a number with the unit that they mean, and a side
// as a word or a letter.
func ExampleReader_Parse() {
	r := typed.Reader{System: units.Imperial, Hand: frame.Right}
	for _, text := range []string{"245", "224 m", "dozen"} {
		v, err := r.Parse(shot.Carry, text)
		fmt.Printf("%q: %.0f m, %v\n", text, v, err)
	}
	side, err := r.Parse(shot.Offline, "12 L")
	fmt.Printf("%.1f m, %v\n", side, err)
	// Output:
	// "245": 224 m, <nil>
	// "224 m": 224 m, <nil>
	// "dozen": 0 m, read "dozen", expected a number of yd such as 208
	// -11.0 m, <nil>
}
