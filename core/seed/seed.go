// Package seed makes randomness explicit: a seed is a value that stands in
// the report, and each use of chance names its own stream, so that a draw
// added in one place moves no draw in another.
//
// Begin with Seed.Stream and its example.
package seed

import (
	"hash/fnv"
	"math/rand/v2"
)

// Seed fixes every random number of one analysis.
type Seed uint64

// Stream returns the generator named name under seed s. The same seed and
// name give the same numbers on every machine (PCG, integer arithmetic only).
func (s Seed) Stream(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(uint64(s), h.Sum64()))
}
