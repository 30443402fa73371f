package page

import (
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What is shown as nothing goes no way: no "0 yd farther", no "0 yd R".
func TestNothingGoesNoWay(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	c := pages()["/compare"].(*Compare)
	for q, want := range map[shot.Quantity]string{
		shot.Carry:   "Carries as far; anywhere from 2\u00a0yd shorter to 3\u00a0yd farther is believable.",
		shot.Offline: "Lands on the same line; anywhere from 2\u00a0yd left to 3\u00a0yd right is believable.",
	} {
		a := report.Amount{Quantity: q, Difference: report.Interval{Mean: .3 * units.Yard, Lo80: -2 * units.Yard, Hi80: 3 * units.Yard, Lo95: -4, Hi95: 5}}
		if got := c.difference(a); !strings.HasPrefix(got, want) {
			t.Errorf("%s: %q, want %q", q, got, want)
		}
	}
	for v, want := range map[float64]string{.3: "0\u00a0yd", -.3: "0\u00a0yd", .6: "1\u00a0yd\u00a0R", -1: "1\u00a0yd\u00a0L"} {
		if got := c.wording().value(shot.Offline, v*units.Yard); got != want {
			t.Errorf("%g yd: %q, want %q", v, got, want)
		}
	}
	for v, want := range map[float64]string{.04: "0.0", .06: "+0.1", -.06: "−0.1", 4.51: "+4.5"} {
		if got := c.wording().strokes(v); got != want {
			t.Errorf("%g strokes: %q, want %q", v, got, want)
		}
	}
}
