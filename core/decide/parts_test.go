package decide

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/linear"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// TestDrawMeans: in one pass what mean and within say one after the other.
func TestDrawMeans(t *testing.T) {
	rng := seed.Seed(3).Stream("draws")
	const draws, per = 7, 5
	a, b := make([]float64, draws*per), make([]float64, draws*per)
	for i := range a {
		a[i], b[i] = 200+10*rng.NormFloat64(), 195+8*rng.NormFloat64()
	}
	q := make([]float64, draws)
	noise, noiseDiff := drawMeans(q, a, b, per)
	for k, want := range means(a, per) {
		if math.Abs(q[k]-want) > 1e-9 {
			t.Errorf("mean of draw %d is %g, want %g", k, q[k], want)
		}
	}
	if w, d := within(a, nil, per), within(a, b, per); math.Abs(noise-w) > 1e-9 || math.Abs(noiseDiff-d) > 1e-9 {
		t.Errorf("noise %g and %g, want %g and %g", noise, noiseDiff, w, d)
	}
	plain := 0.0 // within by the definition: the mean of the groups' variances
	for k := range draws {
		v := make([]float64, per)
		for i := range v {
			v[i] = a[k*per+i] - b[k*per+i]
		}
		plain += variance(v) / draws
	}
	if math.Abs(noiseDiff-plain) > 1e-9 {
		t.Errorf("noise of the differences %g, want %g", noiseDiff, plain)
	}
	if n, d := drawMeans(q, a, b, 1); n != 0 || d != 0 {
		t.Errorf("one ball a draw shows noise %g and %g", n, d)
	}
}

// TestBinomial: the unbiased variance of yes-or-no balls of which 1 in 4 and 3
// in 4 came out yes: both 4/3 of 3/16.
func TestBinomial(t *testing.T) {
	if got := binomial([]float64{.25, .75}, 4); math.Abs(got-.25) > 1e-12 {
		t.Errorf("%g, want .25", got)
	}
}

// TestMinutesAndMoves: a ball half a minute, the sleeve one, a weight one and a
// half; each is one move.
func TestMinutesAndMoves(t *testing.T) {
	at := club.Setting{Sleeve: "a", Weights: []string{"x", "y"}}
	for _, c := range []struct {
		name    string
		to      club.Setting
		minutes float64
		moves   int
	}{
		{"as it is", at, 1.5, 0},
		{"the sleeve turned", club.Setting{Sleeve: "b", Weights: []string{"x", "y"}}, 2.5, 1},
		{"one weight moved", club.Setting{Sleeve: "a", Weights: []string{"z", "y"}}, 3, 1},
		{"the sleeve and both weights", club.Setting{Sleeve: "b", Weights: []string{"z", "w"}}, 5.5, 3},
	} {
		if m, n := minutes(at, c.to, 3), moves(at, c.to); m != c.minutes || n != c.moves {
			t.Errorf("%s: %g minutes, %d moves, want %g and %d", c.name, m, n, c.minutes, c.moves)
		}
	}
}

// TestProbe: the covariances of a launch in one pass are those of its columns
// one by one.
func TestProbe(t *testing.T) {
	rng := seed.Seed(4).Stream("probe")
	const draws, others = 9, 3
	p := &probe{dims: launch, y: make([]float64, launch*draws)}
	other := make([]float64, others*draws)
	for i := range p.y {
		p.y[i] = rng.NormFloat64()
	}
	for i := range other {
		other[i] = rng.NormFloat64()
	}
	got := p.with(other, others)
	for j := range others {
		for k := range launch {
			want := linear.Dot(other[j*draws:(j+1)*draws], p.y[k*draws:(k+1)*draws]) / (draws - 1)
			if math.Abs(got[j*launch+k]-want) > 1e-12 {
				t.Errorf("of column %d with %d: %g, want %g", j, k, got[j*launch+k], want)
			}
		}
	}
}

// TestExpectedLow: E min(0, m + |s| Z) = m Phi(-m/|s|) - |s| phi(m/|s|), in one
// dimension and, whichever way the step points, in five.
func TestExpectedLow(t *testing.T) {
	density := func(z float64) float64 { return math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) }
	for _, m := range []float64{-.5, 0, .3, 1} {
		want := m*phi(-m) - density(m)
		if got := expectedLow([]float64{0, m}, []float64{0, 1}, 1); math.Abs(got-want) > .003 {
			t.Errorf("m %g in one dimension: %.4f, want %.4f", m, got, want)
		}
		for _, step := range [][]float64{{1, 0, 0, 0, 0}, {0, 0, 0, -1, 0}, {.6, 0, 0, 0, .8}, {.5, -.5, .5, 0, .5}} {
			if got := expectedLow([]float64{0, m}, append(make([]float64, launch), step...), launch); math.Abs(got-want) > .03 {
				t.Errorf("m %g along %v: %.4f, want %.4f", m, step, got, want)
			}
		}
	}
}

// TestSolve against the product: info times what solve finds is b again.
func TestSolve(t *testing.T) {
	rng := seed.Seed(5).Stream("solve")
	var info [5][5]float64
	for k := range info {
		info[k][k] = .1
	}
	var x [5]float64
	for range 9 {
		for k := range x {
			x[k] = rng.NormFloat64()
		}
		for a := range x {
			for b := range x {
				info[a][b] += x[a] * x[b]
			}
		}
	}
	y := solve(info, x)
	for a := range info {
		if got := linear.Dot(info[a][:], y[:]); math.Abs(got-x[a]) > 1e-9 {
			t.Errorf("row %d gives %g, want %g", a, got, x[a])
		}
	}
}

// TestOtherAimsAreAsked: where one setting is longest and another best, the
// longest is said to be what another aim would choose, and never the player's own.
func TestOtherAimsAreAsked(t *testing.T) {
	settings, changes := head80(3, 1)
	specs := []spec{{carry: 190, doubt: 1}, {carry: 205, offline: 0, doubt: 1}, {carry: 190, doubt: 1}}
	shots := hits(seed.Seed(1).Stream("x"), 8, 0, 1, 2, 0)
	for goal, never := range map[shot.Goal]string{shot.GoalStrokes: "flip.strokes", shot.GoalCarry: "flip.carry", shot.GoalFairways: "flip.fairways"} {
		o := outcomes(settings, specs, 120, 16, 1)
		for i := range o[1].Balls { // the long one scatters twice as much sideways
			b := &o[1].Balls[i]
			b.Offline, b.RestZ = 2.5*b.Offline, 2.5*b.RestZ
		}
		aim := shot.Aim{Goal: goal}
		r := decide(t, config(t, settings, changes, aim, shots), o)
		flips := map[string]report.Message{}
		for _, m := range r.Choice.Flips {
			flips[m.Key] = m
			if m.Key == never {
				t.Errorf("%s: its own aim is asked about", goal)
			}
		}
		if want := 1; goal == shot.GoalCarry && r.Choice.Setting != want {
			t.Errorf("carry: setting %d, want the longest", r.Choice.Setting)
		}
		if m, ok := flips["flip.carry"]; goal == shot.GoalFairways && (!ok || !strings.Contains(m.Args[0].Text, settings[1].Sleeve)) {
			t.Errorf("fairways: carry would choose %v, want the longest", m.Args)
		}
		if m, ok := flips["flip.fairways"]; goal == shot.GoalCarry && (!ok || strings.Contains(m.Args[0].Text, settings[1].Sleeve)) {
			t.Errorf("carry: fairways would choose %v, want one that scatters less", m.Args)
		}
	}
}

// TestNearestOfTheForbidden: when no setting meets a limit, those within three
// balls in a hundred of the one that comes nearest are compared, no others.
func TestNearestOfTheForbidden(t *testing.T) {
	settings, changes := head80(3, 1)
	low := 300.0
	aim := shot.Aim{CarryMin: &low, CarryPMin: .9}
	d, err := New(config(t, settings, changes, aim, nil))
	if err != nil {
		t.Fatal(err)
	}
	d.draws = 1
	for i, reached := range []float64{.50, .479, .46} {
		d.rows[i].limit[limitCarry].mean = reached
	}
	if got := allowed(d.cfg.Course.Limits, d.rows); len(got) != 2 || got[0] != 0 || got[1] != 1 {
		t.Errorf("%v are compared, want 0 and 1", got)
	}
	d.rows[2].out.Feasible = true
	if got := allowed(d.cfg.Course.Limits, d.rows); len(got) != 1 || got[0] != 2 {
		t.Errorf("%v are compared, want the one that meets the limit", got)
	}
}

// TestSince: the doubts of two visits add as squares, on both sides of the
// change, and what the air does is no change.
func TestSince(t *testing.T) {
	was := report.Interval{Mean: 200, Lo50: 197, Hi50: 203, Lo80: 194, Hi80: 206, Lo95: 191, Hi95: 209}
	is := report.Interval{Mean: 212, Lo50: 208, Hi50: 216, Lo80: 204, Hi80: 220, Lo95: 200, Hi95: 224}
	want := report.Interval{Mean: 7, Lo50: 2, Hi50: 12, Lo80: -3, Hi80: 17, Lo95: -8, Hi95: 22} // 3-4-5
	if got := since(was, is, 5); got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}

// TestCommon weighs each setting's change by one over the square of its doubt.
func TestCommon(t *testing.T) {
	row := func(change, half float64, balls int) report.FollowRow {
		return report.FollowRow{Quantity: shot.Carry, Then: flat(200), Now: flat(200 + change), Balls: [2]int{balls, balls},
			Change: report.Interval{Mean: change, Lo80: change - half, Hi80: change + half}}
	}
	other := row(50, 1, 9)
	other.Quantity = shot.Spin
	got := common([]report.FollowRow{row(10, 2, 3), row(4, 4, 5), row(99, 0, 7), other})
	// weights 1/4 and 1/16: (10/4 + 4/16)/(5/16) = 8.8, half width sqrt(16/5)
	if len(got) != 2 || got[1].Quantity != shot.Carry || math.Abs(got[1].Change.Mean-8.8) > 1e-9 || math.Abs(got[1].Change.Hi80-8.8-math.Sqrt(3.2)) > 1e-9 ||
		got[1].Balls != [2]int{8, 8} || math.Abs(got[1].Now.Mean-208.8) > 1e-9 || got[0].Quantity != shot.Spin {
		t.Errorf("%+v", got)
	}
}

// TestOtherClub: a setting of the same name that does something else calls for
// a new test.
func TestOtherClub(t *testing.T) {
	a := report.Report{Settings: []report.Setting{{Setting: club.Setting{Sleeve: "a"}, Change: club.Change{Lean: .01}}}}
	for name, c := range map[string]struct {
		change func(s *report.Setting)
		other  bool
	}{
		"the same":            {func(s *report.Setting) {}, false},
		"a tenth of a degree": {func(s *report.Setting) { s.Change.Lean += .1 * units.Degree }, false},
		"a quarter":           {func(s *report.Setting) { s.Change.Upright -= .25 * units.Degree }, true},
		"the face":            {func(s *report.Setting) { s.Change.FaceSoled += .25 * units.Degree }, true},
		"the weight":          {func(s *report.Setting) { s.Change.CGToe += .3 * units.Millimetre }, true},
		"not described":       {func(s *report.Setting) { s.Change.Unknown = true }, true},
		"another name":        {func(s *report.Setting) { s.Setting.Sleeve, s.Change.Lean = "b", 1 }, false},
	} {
		b := report.Report{Settings: append([]report.Setting(nil), a.Settings...)}
		c.change(&b.Settings[0])
		if got := otherClub(a, b); got != c.other {
			t.Errorf("%s: another club: %t", name, got)
		}
	}
}

// TestOpen: a chance that is told is never none and never certain.
func TestOpen(t *testing.T) {
	for p, want := range map[float64]float64{0: .01, .3: .3, 1: .99} {
		if got := open(p); got != want {
			t.Errorf("%g is said as %g, want %g", p, got, want)
		}
	}
}

// TestDistance: a degree, a millimetre and 5 g count alike, and each move half.
func TestDistance(t *testing.T) {
	settings, changes := head80(2, 2)
	for i := range changes {
		changes[i] = club.Change{}
	}
	changes[1].CGToe, changes[1].Mass = 3*units.Millimetre, 20*units.Gram
	changes[2].Upright = 2 * units.Degree
	d, err := New(config(t, settings, changes, shot.Aim{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []float64{0, 5.5, 2.5, 1} { // today's; a weight; the sleeve; both
		if got := d.distance(i); math.Abs(got-want) > 1e-9 {
			t.Errorf("setting %d is %g away, want %g", i, got, want)
		}
	}
}

// TestSlopes: where every quantity is a plain sum of what the features do, that
// is what least squares find, sign and all; what nobody described says nothing.
func TestSlopes(t *testing.T) {
	settings, changes := head80(5, 3)
	changes[7].Unknown = true
	d, err := New(config(t, settings, changes, shot.Aim{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	want := [5]float64{2, -3, 1.5, 0, 0} // a degree of loft and of lie, a millimetre to the toe
	for i := range d.rows {
		x := d.features(i)
		d.rows[i].mean[qCarry] = 200 + linear.Dot(want[:], x[:])
		d.rows[i].mean[qOffline] = 5 - 2*linear.Dot(want[:], x[:])
	}
	d.rows[7].mean[qCarry] = 1e6
	got, ok := (&comparison{settings: d.settings, rows: d.rows}).slopes()
	if !ok {
		t.Fatal("nothing can be told apart")
	}
	for k := range 3 { // the head moves no mass
		if math.Abs(got[qCarry][k]-want[k]) > 1e-6 || math.Abs(got[qOffline][k]+2*want[k]) > 1e-6 {
			t.Errorf("feature %d: %g and %g, want %g and %g", k, got[qCarry][k], got[qOffline][k], want[k], -2*want[k])
		}
	}
	m, ok := parts[1].says([5]float64{0, -2, 0, 0, 0}, 0, got) // two degrees flatter
	if !ok || m.Key != "why.upright.less" || math.Abs(m.Args[0].Value-2*units.Degree) > 1e-12 || math.Abs(m.Args[1].Value-6) > 1e-6 || math.Abs(m.Args[2].Value+12) > 1e-6 {
		t.Errorf("%+v, want 2 degrees flatter, 6 m farther and 12 m to the left", m)
	}
}

// TestGainArgs: strokes are told for a round, carry for a drive, fairways for twenty, and
// what is saved is what costs less.
func TestGainArgs(t *testing.T) {
	settings, changes := head80(2, 1)
	for goal, want := range map[shot.Goal]float64{shot.GoalStrokes: 20 * .5, shot.GoalCarry: .5, shot.GoalFairways: 10} {
		aim := shot.Aim{Goal: goal, BallsPerRound: 20}
		d, err := New(config(t, settings, changes, aim, nil))
		if err != nil {
			t.Fatal(err)
		}
		d.rows[1].out.Gain = d.gain(d.order.interval([]float64{-.4, -.5, -.6}))
		args := (&words{comparison: &comparison{rows: d.rows}}).gainArgs(report.Choice{Setting: 1})
		if mean, lo, hi := args[0].Value, args[1].Value, args[2].Value; math.Abs(mean-want) > 1e-9 || !(lo < mean && mean < hi) || math.Abs(lo+hi-2*mean) > 1e-9 {
			t.Errorf("%s: %g (%g to %g), want %g in the middle", goal, mean, lo, hi, want)
		}
	}
}
