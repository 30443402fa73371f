// Package near holds a number of a test against its reference and, under -v,
// logs both in the line that cmd/proof reads:
//
//	proof<tab>abs|rel<tab>what<tab>got<tab>want<tab>tolerance
package near

import (
	"math"
	"testing"
)

// Abs wants got within tolerance of want, in their unit.
func Abs(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if testing.Verbose() {
		t.Logf("proof\tabs\t%s\t%.9g\t%.9g\t%g", what, got, want, tolerance)
	}
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}

// Rel wants got within tolerance of want, as a share of want.
func Rel(t testing.TB, what string, got, want, tolerance float64) {
	t.Helper()
	if testing.Verbose() {
		t.Logf("proof\trel\t%s\t%.15g\t%.15g\t%g", what, got, want, tolerance)
	}
	if !(math.Abs(got-want) <= tolerance*math.Max(math.Abs(want), 1e-300)) {
		t.Errorf("%s = %.15g, want %.15g within %g (off by %.2g)", what, got, want, tolerance, math.Abs(got/want-1))
	}
}
