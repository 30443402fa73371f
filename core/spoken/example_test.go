package spoken_test

import (
	"fmt"

	"ferrule/core/spoken"
	"ferrule/core/text"
)

// A ball that was said, in two languages. Half of it is nothing.
func ExampleRead() {
	for _, said := range []struct {
		language text.Language
		words    string
	}{{"en", "two forty five right twelve"}, {"de", "245 links 12"}, {"en", "two hundred and something"}} {
		b, ok := spoken.Read(said.words, text.Said(said.language))
		fmt.Println(ok, b.Carry, b.Side, b.Left, b.Right)
	}
	// Output:
	// true 245 12 false true
	// true 245 12 true false
	// false   false false
}
