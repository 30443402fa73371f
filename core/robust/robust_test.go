package robust

import (
	"math"
	"slices"
	"testing"
)

// By the definitions, computed by hand.
func TestMedianAndSpread(t *testing.T) {
	for _, c := range []struct {
		v              []float64
		median, spread float64
	}{
		{[]float64{4}, 4, 0},
		{[]float64{3, -1}, 1, 2 * ToSigma},
		{[]float64{9, 1, 2}, 2, 1 * ToSigma},                  // distances 7, 1, 0
		{[]float64{1000, 3, 1, 2}, 2.5, 1 * ToSigma},          // distances 997.5, .5, 1.5, .5
		{[]float64{5, 5, 5, 5, 1e9}, 5, 0},                    // most agree
		{[]float64{math.Inf(-1), 1, 2, 3, 4}, 2, 1 * ToSigma}, // distances Inf, 1, 0, 1, 2
	} {
		before := slices.Clone(c.v)
		if m, s := Median(c.v), Spread(c.v); m != c.median || s != c.spread {
			t.Errorf("%v: median %g, spread %g, want %g and %g", c.v, m, s, c.median, c.spread)
		}
		if !slices.Equal(c.v, before) {
			t.Errorf("%v was reordered to %v", before, c.v)
		}
	}
	if m, s := Median(nil), Spread(nil); !math.IsNaN(m) || !math.IsNaN(s) {
		t.Errorf("of none: median %g, spread %g, want NaN", m, s)
	}
}

// ToSigma is one over the upper quartile of the standard normal distribution:
// a quarter lies above, erfc(1/(ToSigma sqrt 2)) = 1/2.
func TestToSigma(t *testing.T) {
	if p := math.Erfc(1 / ToSigma / math.Sqrt2); math.Abs(p-.5) > 1e-5 {
		t.Errorf("a share of %.6f lies farther off than the middle distance, want .5", p)
	}
}
