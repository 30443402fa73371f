package impact

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/units"
)

// The best launch within reach: loft falls as ball speed rises and with an
// attack further up (the direction that Penner 2001 reports, from memory); the
// line of reachable launches stays off the free optimum's edge; a player who
// stands there is told so; the top is flat.
func TestAdvise(t *testing.T) {
	p := DefaultParams(club.Head{})
	last := math.Inf(1)
	for _, mph := range []float64{110, 130, 150, 170} {
		var down, up Reach
		var err error
		if down, err = Advise(mph*units.MPH, -3*units.Degree, p, flight.Env{}); err != nil {
			t.Fatal(err)
		}
		if up, err = Advise(mph*units.MPH, 4*units.Degree, p, flight.Env{}); err != nil {
			t.Fatal(err)
		}
		for _, r := range []Reach{down, up} {
			t.Logf("%.0f mph: spin loft %.1f deg, launch %.1f deg, %.0f rpm, carry %.1f yd, flat from %.1f to %.1f deg", mph, r.SpinLoft/units.Degree, r.Best.Angle/units.Degree,
				r.Best.Spin/units.RPM, r.Carry/units.Yard, r.Low.Angle/units.Degree, r.High.Angle/units.Degree)
			if !(r.Low.Angle < r.Best.Angle && r.Best.Angle < r.High.Angle) {
				t.Errorf("the best launch is at an end: %+v", r)
			}
		}
		if !(up.SpinLoft < down.SpinLoft && up.Carry > down.Carry && up.SpinLoft < last) {
			t.Errorf("%.0f mph: attack up gives spin loft %.1f and carry %.0f, down %.1f and %.0f", mph, up.SpinLoft/units.Degree, up.Carry, down.SpinLoft/units.Degree, down.Carry)
		}
		last = up.SpinLoft
		attack := 4 * units.Degree
		there, err := AdviseFor(up.Best, Known{Attack: &attack}, p, flight.Env{})
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(there.Short) > .3 {
			t.Errorf("the best ball is %.2f m short of itself", there.Short)
		}
		spinny := up.Best
		spinny.Spin *= 1.5
		if off, err := AdviseFor(spinny, Known{Attack: &attack}, p, flight.Env{}); err != nil || !(off.Carry-off.Short < up.Carry) {
			t.Errorf("half as much spin again: %+v, %v", off, err)
		}
	}
	if _, err := Advise(math.NaN(), 0, p, flight.Env{}); err == nil {
		t.Error("no ball speed gave advice")
	}
}
