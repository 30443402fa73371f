package pipeline

import (
	"math"
	"math/rand/v2"
	"strconv"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// Balls overrule what is believed of a club: a setting that does far more than its
// angles can is given what its own balls did, the more the more there are.
func TestManyBallsOverruleTheBelief(t *testing.T) {
	for _, c := range []struct {
		balls int
		least float64 // share of the balls' own difference that the answer takes over
	}{{30, .5}, {60, .8}} {
		r := rand.New(rand.NewPCG(77, 3))
		demo, _ := example(t, "demo")
		s := shot.Session{ID: "many", Head: demo.Head}
		settings := s.Head.Settings()[:2]
		odd := straightHitter
		odd.direction, odd.axis, odd.speed = 2.4*units.Degree, 2.5*units.Degree, odd.speed+1.9
		var mean [2][2]float64
		for block := range 2 * c.balls / 5 { // in turns of five, so that form is not the setting's
			j := block % 2
			h := []hitter{straightHitter, odd}[j]
			for _, v := range h.hits(r, 5, 0, 0, 0) {
				s.Shots = append(s.Shots, shot.Shot{ID: strconv.Itoa(len(s.Shots)), Setting: settings[j], Values: v})
				for i, q := range []shot.Quantity{shot.Offline, shot.Carry} {
					mean[j][i] += v[q] / float64(c.balls)
				}
			}
		}
		for _, row := range analysed(t, s).Settings {
			if row.Setting.Key() != settings[1].Key() {
				continue
			}
			for i, q := range []shot.Quantity{shot.Offline, shot.Carry} {
				seen := mean[1][i] - mean[0][i]
				said, _ := row.Of(q)
				d := said.Difference
				if share := d.Mean / seen; share < c.least || share > 1.2 || math.Abs(d.Mean-seen) > d.Hi95-d.Mean {
					t.Errorf("%d balls of each: %v differs by %.1f yd, said %.1f (%.1f to %.1f)", c.balls, q, seen/units.Yard, d.Mean/units.Yard, d.Lo95/units.Yard, d.Hi95/units.Yard)
				}
			}
		}
	}
}
