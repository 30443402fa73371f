package decide

import (
	"math"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
)

// TestBallsToSeeIsThePowerTable: the number of balls by the exact noncentral t
// (testdata/score/power.csv) is met to a ball or two in a hundred.
func TestBallsToSeeIsThePowerTable(t *testing.T) {
	worst := 0.0
	for _, r := range table(t, "power.csv") {
		got := ballsToSee(r[0], r[1], r[2])
		off := math.Abs(float64(got) - r[3])
		worst = math.Max(worst, off/r[3])
		if r[3] >= 3 && off > 1+.01*r[3] {
			t.Errorf("sd %g, difference %g, power %g: %d balls, the table %g", r[0], r[1], r[2], got, r[3])
		}
	}
	t.Logf("largest difference to the exact table %.1f %%", 100*worst)
}

// TestBallsToHalve by simulation: that many balls in each do show that a miss
// was halved, four times in five.
func TestBallsToHalve(t *testing.T) {
	rng := seed.Seed(3).Stream("miss")
	for _, p := range []float64{.1, .25, .4} {
		n := ballsToHalve(p, .8)
		seen, runs := 0, 3000
		for range runs {
			a, b := 0, 0
			for range n {
				if rng.Float64() < p {
					a++
				}
				if rng.Float64() < p/2 {
					b++
				}
			}
			x, y := float64(a)/float64(n), float64(b)/float64(n)
			se := math.Sqrt((x*(1-x) + y*(1-y)) / float64(n))
			if x-y > 1.96*se {
				seen++
			}
		}
		share := float64(seen) / float64(runs)
		t.Logf("%.0f %% halved: %d balls in each see it in %.3f of sessions", 100*p, n, share)
		if math.Abs(share-.8) > .03 {
			t.Errorf("a miss of %g: %d balls in each see it halved in %g of sessions, want .8", p, n, share)
		}
	}
}

// TestNeeds: the questions of the page, and that the check goes to and fro.
func TestNeeds(t *testing.T) {
	settings, changes := head80(4, 1)
	cfg := config(t, settings, changes, shot.Aim{Trouble: frame.SideRight}, hits(seed.Seed(1).Stream("x"), 5, 0, 1, 2, 3, 0))
	specs := make([]spec, len(settings))
	for i := range specs {
		specs[i] = spec{carry: 200, offline: 12, doubt: 2}
	}
	specs[2].offline = 0
	r := decide(t, cfg, outcomes(settings, specs, 60, 12, 1))
	if len(r.Needs) != 2*2*len(sizes)+1 {
		t.Fatalf("%d questions", len(r.Needs))
	}
	for i, n := range r.Needs {
		if n.See[0] >= n.See[1] || n.See[1] >= n.See[2] || n.Pick[0] > n.See[0] {
			t.Errorf("question %d: %+v", i, n)
		}
	}
	if last := r.Needs[len(r.Needs)-1]; last.Share < .1 || last.Size != last.Share/2 {
		t.Errorf("the miss: %+v", last)
	}
	if c := r.Confirm; len(c) != 3 || c[0].Setting != 0 || c[2].Setting != 0 || c[1].Setting == 0 {
		t.Errorf("the check %+v", c)
	}
	var none report.Choice
	none.RunnerUp = -1
	none.Keep = true
	if confirm(none, cfg.Reference) != nil {
		t.Error("a check of nothing")
	}
}
