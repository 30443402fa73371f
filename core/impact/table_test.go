package impact

import (
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/units"
)

// player95 is the robot's and the table's player: 95 mph of club, 10.5 degrees
// stated, dynamic loft 14, level attack.
func player95(t *testing.T, mph float64) Baseline {
	t.Helper()
	l := must(t, Delivery{ClubSpeed: mph * units.MPH, DynamicLoft: 14 * deg}, DefaultParams(club.Head{Mass: .2}))
	v, a := mph*units.MPH, 0.0
	return Baseline{Launch: l, ClubSpeed: &v, Attack: &a}
}

// Each published or practised figure lies in the central 90 % of the prior
// predictive at 95 mph, the speed for which they are given.
func TestPriorTableHoldsEveryFigure(t *testing.T) {
	rows, err := PriorTable(player95(t, 95), club.Head{Lie: 58 * deg, Mass: .2}, flight.Env{}, 1)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows {
		for _, f := range r.Figures {
			t.Logf("%-20s %8.2f ± %6.2f %-4s  %s %g..%g %s: %.2f sd", r.Key, r.Mean, r.SD, r.Unit, f.Status, f.Lo, f.Hi, f.Source, r.Away(f))
			if !r.Holds(f) {
				t.Errorf("%s: prior %.2f ± %.2f %s does not hold %g to %g (%s %s)", r.Key, r.Mean, r.SD, r.Unit, f.Lo, f.Hi, f.Status, f.Source)
			}
		}
	}
}
