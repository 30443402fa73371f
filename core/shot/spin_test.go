package shot

import (
	"math"
	"testing"
)

// The parts of a spin vector, by trigonometry.
func TestTotalSpinFromItsParts(t *testing.T) {
	const total, tilt = 300.0, 0.2
	b, s := total*math.Cos(tilt), total*math.Sin(tilt)
	for _, c := range []struct {
		what string
		v    Values
		want float64
	}{
		{"given", Values{Spin: total, Backspin: 1, Sidespin: 1}, total},
		{"backspin and sidespin", Values{Backspin: b, Sidespin: s, SpinAxis: 1}, total},
		{"backspin and sidespin to the left", Values{Backspin: b, Sidespin: -s}, total},
		{"backspin under a tilted axis", Values{Backspin: b, SpinAxis: -tilt}, total},
		{"backspin alone", Values{Backspin: b}, b},
		{"an axis that is no driver's", Values{Backspin: b, SpinAxis: 1.5}, b},
	} {
		if got, ok := c.v.TotalSpin(); !ok || math.Abs(got-c.want) > 1e-9 {
			t.Errorf("%s: %g (%t), want %g", c.what, got, ok, c.want)
		}
	}
	if got, ok := (Values{Sidespin: s, SpinAxis: tilt}).TotalSpin(); ok {
		t.Errorf("a total of %g without a backspin", got)
	}
}
