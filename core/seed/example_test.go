package seed_test

import (
	"fmt"

	"ferrule/core/seed"
)

// Each use of chance has a stream of its own name: what is drawn in one moves nothing
// in another.
func ExampleSeed_Stream() {
	s := seed.Seed(7)
	first := s.Stream("noise").IntN(1000)
	s.Stream("another").IntN(1000)
	fmt.Println(first == s.Stream("noise").IntN(1000), first == s.Stream("another").IntN(1000))
	// Output:
	// true false
}
