package trial

import (
	"math"
	"testing"

	"ferrule/cmd/internal/invent"
)

func config(worlds ...invent.World) Config {
	return Config{Players: 3, Worlds: worlds, Levels: invent.Levels[1:2], Balls: []int{3}, Seed: 1, Workers: 2, Swings: 64}
}

func TestRunNull(t *testing.T) {
	// An engine that shouts: in a world without effects it is wrong always.
	shout := func([]invent.Ball, invent.Level, invent.Hole, uint64) (Answer, error) {
		d := make([]Interval, 80)
		for i := range d {
			d[i] = Interval{Mean: 0, Lo50: -1, Hi50: 1, Lo80: .5, Hi80: 1, Lo95: -1, Hi95: 1}
		}
		return Answer{Choice: 7, Verdict: "clear", Gain: .25, Difference: d}, nil
	}
	c := Run(config(invent.Worlds[3]), shout, nil)[0]
	if c.World != "null" || c.Clear.Mean != 1 || c.Moved.Mean != 1 || c.Verdicts["clear"].Mean != 1 {
		t.Errorf("null world: %+v", c)
	}
	for _, m := range Methods {
		if m == "bayes" { // asked for apart
			continue
		}
		if r, ok := c.Regret[m]; !ok || math.Abs(r.Mean) > 1e-9 {
			t.Errorf("null world, %s: regret %g, want 0", m, r.Mean)
		}
	}
	if g := c.Promise["engine"].Mean; math.Abs(g-.25) > 1e-9 {
		t.Errorf("promise less true = %g, want .25", g)
	}
	if g := c.Promise["raw"].Mean; g < .01 {
		t.Errorf("raw averages promise %.3f strokes of nothing, want a winner's curse", g)
	}
	if c.Tested != [3]Estimate{{1, 0}, {0, 0}, {1, 0}} {
		t.Errorf("coverage of tested %v, want 1 0 1", c.Tested)
	}
	for k, want := range []float64{1, 0, 1} {
		if math.Abs(c.Untested[k].Mean-want) > 1e-9 {
			t.Errorf("coverage of untested %v, want 1 0 1", c.Untested)
		}
	}
}

func TestRunRight(t *testing.T) {
	cells := Run(config(invent.Worlds[0]), nil, nil)
	c := cells[0]
	for _, m := range []string{"keep", "raw", "additive", "additive-all", "oracle-tested"} {
		if !(c.Regret[m].Mean >= 0) {
			t.Errorf("%s: regret %g, want at least 0", m, c.Regret[m].Mean)
		}
	}
	if c.Regret["oracle"].Mean != 0 || !(c.Regret["keep"].Mean > 0) || !(c.Regret["oracle-tested"].Mean <= c.Regret["raw"].Mean) {
		t.Errorf("regret %v", c.Regret)
	}
	again := Run(config(invent.Worlds[0]), nil, nil)
	if again[0].Regret["raw"] != c.Regret["raw"] {
		t.Error("the same seed gave another answer")
	}
}

// Least squares finds a plane exactly.
func TestAdditive(t *testing.T) {
	a := [4][4]float64{{4, 1, 0, 2}, {1, 3, 1, 0}, {0, 1, 5, 1}, {2, 0, 1, 6}}
	want := [4]float64{1, -2, .5, 3}
	var b [4]float64
	for i := range 4 {
		for j := range 4 {
			b[i] += a[i][j] * want[j]
		}
	}
	for i, v := range solve(a, b) {
		if math.Abs(v-want[i]) > 1e-12 {
			t.Errorf("x[%d] = %g, want %g", i, v, want[i])
		}
	}
}
