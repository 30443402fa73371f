// Package robust is the middle and the spread of a few numbers of which some
// may be far off. (gonum/stat has quantiles too and links gonum/mat.)
//
// Begin with Spread and its example.
package robust

import (
	"math"
	"slices"
)

// Median of v in v's unit, the mean of the middle two where their number is
// even; NaN of none. v is left as it is.
func Median(v []float64) float64 {
	if len(v) == 0 {
		return math.NaN()
	}
	s := slices.Clone(v)
	slices.Sort(s)
	return (s[(len(s)-1)/2] + s[len(s)/2]) / 2
}

// ToSigma makes the median distance from the middle of a normal sample
// estimate its standard deviation: 1/Phi^-1(3/4).
const ToSigma = 1.4826

// Spread of v in v's unit, ToSigma times the median distance from the median:
// the standard deviation of most of them. NaN of none.
func Spread(v []float64) float64 {
	m := Median(v)
	away := make([]float64, len(v))
	for i, x := range v {
		away[i] = math.Abs(x - m)
	}
	return ToSigma * Median(away)
}
