package seed

import "testing"

// The numbers are of math/rand/v2's PCG, promised not to change; they hold on
// every machine, so a report can be made again anywhere.
func TestStreamsAreFixedAndApart(t *testing.T) {
	a, b := Seed(7).Stream("noise"), Seed(7).Stream("noise")
	c, d := Seed(7).Stream("draws"), Seed(8).Stream("noise")
	x := a.Uint64()
	if y := b.Uint64(); x != y {
		t.Errorf("same seed and name differ: %d, %d", x, y)
	}
	if y := c.Uint64(); x == y {
		t.Error("another name gives the same numbers")
	}
	if y := d.Uint64(); x == y {
		t.Error("another seed gives the same numbers")
	}
}
