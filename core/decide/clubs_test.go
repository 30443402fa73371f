package decide

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/seed"
	"ferrule/core/shot"
)

// What a setting of another club is believed to do to strokes is kept in part; that
// it is better is as likely as of a setting of the same club with the same balls,
// and so is what is seen of it. Aimed, half aimed and not aimed.
func TestAnotherClubPromisesLess(t *testing.T) {
	for _, share := range []float64{0, .5, 1} {
		settings, changes := head80(4, 1)
		specs := []spec{{carry: 190, doubt: 2}, {carry: 205, offline: 8, doubt: 4}, {carry: 191, offline: -9, doubt: 4}, {carry: 185, doubt: 2}}
		aim := shot.Aim{Reaim: &share}
		shots := hits(seed.Seed(1).Stream("x"), 6, 0, 1, 2)
		one := decide(t, config(t, settings, changes, aim, shots), outcomes(settings, specs, 150, 16, 1))
		bag := append([]club.Setting(nil), settings...)
		for i := range bag {
			bag[i].Club = map[bool]string{true: "own", false: "new"}[i == 0 || i == 3]
		}
		two := decide(t, config(t, bag, changes, aim, shots), outcomes(bag, specs, 150, 16, 1))
		for i := range one.Settings {
			a, b, kept := one.Settings[i], two.Settings[i], ofAnother
			if i == 3 {
				kept = 1
			}
			if math.Abs(b.Difference.Mean-kept*a.Difference.Mean) > 1e-12 || math.Abs(b.Difference.Hi80-kept*a.Difference.Hi80) > 1e-12 {
				t.Errorf("share %.1f, setting %d: %.4f of one club, %.4f of another", share, i, a.Difference.Mean, b.Difference.Mean)
			}
			if math.Abs(a.PBetter-b.PBetter) > 1e-9 || a.R50 != b.R50 {
				t.Errorf("share %.1f, setting %d: better with %.3f of one club, %.3f of another", share, i, a.PBetter, b.PBetter)
			}
		}
	}
}
