package decide

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What has moved is the difference of two means of different balls, whose doubts
// add as squares; the numbers below are worked out by hand: 11 yd, sqrt(3^2+4^2) = 5
// yd of standard error, so 4.6 to 17.4 yd 8 times in 10 (1.2816) and 1.2 to 20.8 yd 19
// times in 20 (1.96).
func TestWhatMovedSinceASettingWasTakenUp(t *testing.T) {
	set := club.Setting{Sleeve: "up"}
	yd := units.Yard
	is := func(mean, se float64) report.Interval {
		return around(mean*yd, se*yd, [3]float64{.6745, 1.2816, 1.9600})
	}
	now := func(side, carry float64, balls int) report.Report {
		return report.Report{Settings: []report.Setting{{Setting: set, Balls: balls, Raw: []report.Amount{
			{Quantity: shot.Offline, Value: is(side, 4)}, {Quantity: shot.Carry, Value: is(carry, 4)}}}}}
	}
	was := func(mean, se float64) shot.Expected {
		return shot.Expected{Mean: mean * yd, Lo: (mean - 1.2816*se) * yd, Hi: (mean + 1.2816*se) * yd}
	}
	d := shot.Decision{Setting: set, Side: was(2, 3), Carry: was(250, 3)}
	s := Since(d, now(13, 250, 6))
	if s == nil || !s.Test || len(s.Said) != 1 || s.Said[0].Key != "since.side" {
		t.Fatalf("11 yd to the right: %+v", s)
	}
	for i, want := range []float64{11, 11 - 1.2816*5, 11 + 1.2816*5} {
		if got := s.Said[0].Args[i+1].Value / yd; math.Abs(got-want) > 1e-3 {
			t.Errorf("number %d: %.3f yd, want %.3f", i, got, want)
		}
	}
	if s = Since(d, now(5, 238, 6)); s == nil || len(s.Said) != 1 || s.Said[0].Key != "since.carry" {
		t.Errorf("12 yd shorter: %+v", s)
	}
	if s = Since(d, now(10, 252, 6)); s == nil || s.Test || s.Said[0].Key != "since.same" { // 8 yd, of 9.8 that chance does
		t.Errorf("8 yd: %+v", s)
	}
	for name, x := range map[string]*report.Since{
		"two balls":       Since(d, now(13, 250, 2)),
		"another setting": Since(shot.Decision{Setting: club.Setting{Sleeve: "flat"}, Side: d.Side}, now(13, 250, 6)),
		"nothing known":   Since(shot.Decision{Setting: set}, now(13, 250, 6)),
	} {
		if x != nil {
			t.Errorf("%s: %+v", name, x)
		}
	}
}
