package pipeline

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// A golfer who never described the club has balls with names of settings, and
// the settings all do the same. The 80 % intervals of the differences must hold
// nothing, and no setting may be said to be clearly better more often than that
// word allows. Balls scatter as a mid-handicap player's (common practice, no
// source); their flights are computed.
func TestAlikeSettingsThatNobodyDescribed(t *testing.T) {
	if testing.Short() {
		t.Skip("fits many sessions")
	}
	rng := rand.New(rand.NewPCG(11, 3))
	type tally struct{ in, n int }
	carry, side := tally{}, tally{}
	surest := 0
	for _, plan := range []struct{ settings, balls int }{{12, 1}, {4, 4}, {3, 8}} {
		for range 25 {
			s := shot.Session{ID: "alike"}
			for b := range plan.balls * plan.settings {
				turn, at := b/plan.settings, b%plan.settings
				if turn%2 == 1 {
					at = plan.settings - 1 - at
				}
				l := flight.Launch{
					Speed:     (133 + 4*rng.NormFloat64()) * units.MPH,
					Angle:     (13 + 2*rng.NormFloat64()) * units.Degree,
					Direction: 2.5 * rng.NormFloat64() * units.Degree,
					Spin:      math.Max(1200, 3000+500*rng.NormFloat64()) * units.RPM,
					Axis:      (4 + 7*rng.NormFloat64()) * units.Degree,
				}
				f, err := flight.Fly(l, flight.Env{})
				if err != nil {
					t.Fatal(err)
				}
				s.Shots = append(s.Shots, shot.Shot{ID: fmt.Sprint(b), Setting: club.Setting{Sleeve: fmt.Sprint("S", at+1)}, Values: shot.Values{
					shot.BallSpeed: l.Speed, shot.Launch: l.Angle, shot.LaunchDirection: l.Direction, shot.Spin: l.Spin, shot.SpinAxis: l.Axis,
					shot.Carry: f.Carry * math.Exp(.015*rng.NormFloat64()), shot.Offline: f.Offline + 1.5*rng.NormFloat64()}})
			}
			r, err := Analyse(s, 1, nil)
			if err != nil {
				t.Fatal(err)
			}
			for i, x := range r.Settings {
				if i == r.Reference {
					continue
				}
				for q, n := range map[shot.Quantity]*tally{shot.Carry: &carry, shot.Offline: &side} {
					d, _ := x.Of(q)
					n.n++
					if d.Difference.Lo80 <= 0 && 0 <= d.Difference.Hi80 {
						n.in++
					}
				}
				if x.PBetter < .02 || x.PBetter > .98 {
					surest++
				}
			}
		}
	}
	share := func(n tally) float64 { return float64(n.in) / float64(n.n) }
	t.Logf("80 %% intervals hold: carry %.3f, side %.3f of %d; %d chances beyond 98 %%", share(carry), share(side), carry.n, surest)
	if share(carry) < .78 || share(side) < .78 {
		t.Errorf("80 %% intervals hold carry %.3f and side %.3f of the time", share(carry), share(side))
	}
	if float64(surest) > .04*float64(carry.n) {
		t.Errorf("%d of %d chances beyond 98 %% where nothing is better", surest, carry.n)
	}
}
