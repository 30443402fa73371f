package response

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/seed"
	"ferrule/core/text"
	"ferrule/core/units"
)

var base = [K]float64{61, 13 * units.Degree, 1 * units.Degree, 300, 4 * units.Degree}

// world is an invented player: effects e, shots scattered by spread reference units.
type world struct {
	changes []club.Change
	prior   impact.Prior
	e       [impact.F][K]float64
	spread  float64
	rng     *rand.Rand
}

// grid of loft by lie by weight; index 0 is the middle.
func newWorld(t testing.TB, keep float64, s uint64) *world {
	t.Helper()
	w := &world{spread: .8, rng: rand.New(rand.NewPCG(s, 5))}
	w.changes = []club.Change{{}}
	for _, a := range []float64{-1.5, 0, 1.5} {
		for _, b := range []float64{-1, 0, 1} {
			for _, c := range []float64{-1.2, 0, 1.2} {
				if a != 0 || b != 0 || c != 0 {
					w.changes = append(w.changes, club.Change{Lean: a * units.Degree, Upright: b * units.Degree, CGToe: c * units.Millimetre})
				}
			}
		}
	}
	var err error
	if w.prior, err = impact.Effects(impact.Baseline{Launch: Launch(base)}, club.Example(), 1); err != nil {
		t.Fatal(err)
	}
	for f := range w.e {
		for k := range K {
			w.e[f][k] = keep * w.prior.Mean[f][k]
		}
	}
	return w
}

func (w *world) mean(j int) (y [K]float64) {
	x := impact.Features(w.changes[j], w.changes[0])
	y = base
	for f := range x {
		for k := range y {
			y[k] += x[f] * w.e[f][k]
		}
	}
	return y
}

func (w *world) shot(j, order int) Obs {
	o := Obs{Setting: j, Order: order, Y: w.mean(j)}
	for k := range o.Y {
		o.Y[k] += w.spread * Scale[k] * w.rng.NormFloat64()
		o.Has[k] = true
	}
	return o
}

// session hits n balls with each of the settings, in mirrored rounds.
func (w *world) session(n int, settings ...int) Input {
	in := Input{Changes: w.changes, Prior: w.prior, Seed: 1}
	for round := range n {
		for i := range settings {
			j := settings[i]
			if round%2 == 1 {
				j = settings[len(settings)-1-i]
			}
			in.Shots = append(in.Shots, w.shot(j, len(in.Shots)))
		}
	}
	return in
}

func fit(t testing.TB, in Input) *Response {
	t.Helper()
	r, err := Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func response(e Effect) int { return slices.Index(quantities[:], e.Quantity) }

func (r *Response) effect(f, k int) Effect {
	for _, e := range r.Effects() {
		if e.Feature == f && response(e) == k {
			return e
		}
	}
	return Effect{}
}

// difference is mean and sd over the draws of response k of setting j less
// the reference's, in reference units.
func (r *Response) difference(j, k int) (mean, sd float64) {
	z, z0 := r.Deviations(1, "j"), r.Deviations(1, "0")
	n := float64(len(r.Draws))
	sq := 0.0
	for d := range r.Draws {
		v := (r.Mean(d, j, z)[k] - r.Mean(d, 0, z0)[k]) / Scale[k]
		mean, sq = mean+v/n, sq+v*v/n
	}
	return mean, math.Sqrt(sq - mean*mean)
}

func TestSameInputSameAnswer(t *testing.T) {
	w := newWorld(t, 1, 1)
	in := w.session(3, 0, 1, 5, 9, 20)
	a, b := fit(t, in), fit(t, in)
	for d := range a.Draws {
		for i := range a.Draws[d].Coef {
			if a.Draws[d].Coef[i] != b.Draws[d].Coef[i] {
				t.Fatalf("draw %d differs", d)
			}
		}
	}
	na, _ := a.Noise(8, 3)
	nb, _ := b.Noise(8, 3)
	for i := range na {
		if na[i] != nb[i] {
			t.Fatalf("noise %d differs", i)
		}
	}
}

// A left-hander's session, turned over together with the physics, must be the
// turned-over answer up to the noise of two samplers of 360 draws: a third of a
// standard deviation, a quarter of its size. (That the report of a left-hander is
// the turned-over one to the last digit is held in package pipeline.)
func TestMirror(t *testing.T) {
	w := newWorld(t, 1, 2)
	in := w.session(4, 0, 1, 5, 9, 20, 24)
	turn := func(k int) float64 {
		if k == 2 || k == 4 {
			return -1
		}
		return 1
	}
	m := in
	m.Shots = append([]Obs(nil), in.Shots...)
	for i := range m.Shots {
		for k := range K {
			m.Shots[i].Y[k] *= turn(k)
		}
	}
	m.Prior.Cov = append([]float64(nil), in.Prior.Cov...)
	const n = impact.F * K
	for a := range n {
		m.Prior.Mean[a/K][a%K] *= turn(a % K)
		m.Prior.ResquareCov[a] *= turn(a % K)
		for b := range n {
			m.Prior.Cov[a*n+b] *= turn(a%K) * turn(b%K)
		}
	}
	a, b := fit(t, in), fit(t, m)
	near := func(what string, x, y, within float64) {
		if math.Abs(x-y) > within {
			t.Errorf("%s: %g, turned over %g", what, x, y)
		}
	}
	ea, eb := a.Effects(), b.Effects()
	for i := range ea {
		sd := ea[i].SD
		near("effect", ea[i].Value.Mean, turn(response(ea[i]))*eb[i].Value.Mean, sd/3)
		near("sd", sd, eb[i].SD, sd/4)
		near("upper end", ea[i].Value.Hi80, turn(response(ea[i]))*map[bool]float64{true: eb[i].Value.Hi80, false: eb[i].Value.Lo80}[turn(response(ea[i])) > 0], sd/2)
	}
	near("conflict", a.Conflict, b.Conflict, .1)
	near("re-squaring", a.Resquare[0], b.Resquare[0], a.Resquare[1]/4)
	for i := range a.Weights {
		near("weight", a.Weights[i], b.Weights[i], .15)
	}
}

// Intervals of the launch differences hold the truth as often as they say, for
// settings hit and not hit, physics right and reversed.
func TestIntervalsHoldTheTruth(t *testing.T) {
	for _, keep := range []float64{1, -.5} {
		var in, of [2]float64
		for s := range uint64(60) {
			w := newWorld(t, keep, 100+s)
			for f := range w.e { // scatter about the physics
				for k := range K {
					at := f*K + k
					w.e[f][k] += math.Sqrt(w.prior.Cov[at*impact.F*K+at]) * w.rng.NormFloat64()
				}
			}
			dev := make([][K]float64, len(w.changes))
			for j := 1; j < len(dev); j++ {
				for k := range K {
					dev[j][k] = math.Max(tauShare[k], misfitShare*w.prior.Misfit[k]/Scale[k]) * w.rng.NormFloat64()
				}
			}
			hit := []int{0, 3, 8, 12, 19, 26}
			r := w.session(3, hit...)
			for i := range r.Shots {
				for k := range K {
					r.Shots[i].Y[k] += dev[r.Shots[i].Setting][k] * Scale[k]
				}
			}
			f := fit(t, r)
			for _, j := range []int{3, 12, 26, 5, 15, 22} {
				kind := 1
				if slices.Contains(hit, j) {
					kind = 0
				}
				for k := range K {
					m, sd := f.difference(j, k)
					want := (w.mean(j)[k]-w.mean(0)[k])/Scale[k] + dev[j][k]
					of[kind]++
					if math.Abs(m-want) < 1.2816*sd {
						in[kind]++
					}
				}
			}
		}
		for kind, name := range []string{"tested", "untested"} {
			if share := in[kind] / of[kind]; share < .75 || share > .93 {
				t.Errorf("physics x %g, %s: 80 %% intervals hold the truth in %.2f of %g cases", keep, name, share, of[kind])
			}
		}
	}
}

func TestContradictionIsSaid(t *testing.T) {
	agree := fit(t, newWorld(t, 1, 3).session(6, 0, 3, 8, 12, 19, 26))
	if agree.Conflict > 1.4 || agree.Contradictions() != nil || agree.Physics < .5 {
		t.Errorf("physics right: conflict %.2f, %d messages, physics %.2f", agree.Conflict, len(agree.Contradictions()), agree.Physics)
	}
	against := fit(t, newWorld(t, -1.5, 3).session(10, 0, 3, 8, 12, 19, 26))
	said := against.Contradictions()
	if against.Conflict < 1.5 || len(said) < 2 || against.Physics > .1 {
		t.Fatalf("physics reversed: conflict %.2f, %d messages, physics %.2f", against.Conflict, len(said), against.Physics)
	}
	for _, m := range said {
		if s := (text.Reader{}).Say(m); strings.ContainsAny(s, "[{?") {
			t.Errorf("said %q", s)
		}
	}
}

func TestConfoundingIsFound(t *testing.T) {
	w := newWorld(t, 1, 4)
	together := func(c club.Change) bool { return c.Lean*1 == c.Upright*1.5 && c.CGToe == 0 }
	var hit []int
	for j, c := range w.changes {
		if together(c) {
			hit = append(hit, j)
		}
	}
	if len(hit) != 3 {
		t.Fatalf("%d settings change loft and lie together, want 3", len(hit))
	}
	r := fit(t, w.session(4, hit...))
	found := r.Confounded()
	if len(found) != 1 || found[0].A+found[0].B != "feature.uprightfeature.lean" || len(found[0].Resolve) == 0 || together(w.changes[found[0].Resolve[0]]) {
		t.Errorf("found %+v", found)
	}
	if n := r.NotTried(); len(n) != 1 || n[0] != 2 {
		t.Errorf("not tried: %v, want the weight (2)", n)
	}
	// one block for each setting
	in := w.session(1, 0)
	in.Shots = nil
	for _, j := range []int{0, 3, 8, 26} {
		for range 4 {
			in.Shots = append(in.Shots, w.shot(j, len(in.Shots)))
		}
	}
	blocks := false
	for _, c := range fit(t, in).Confounded() {
		blocks = blocks || c.A == "feature.setting"
	}
	if !blocks {
		t.Error("one block for each setting was not noticed")
	}
	for _, c := range fit(t, w.session(4, 0, 3, 8, 26)).Confounded() {
		t.Errorf("mirrored rounds: found %+v", c)
	}
}

func TestMisHitsAreWeighedDown(t *testing.T) {
	w := newWorld(t, 1, 6)
	in := w.session(5, 0, 3, 8, 26)
	in.Shots[7].Y[0] -= 5 * Scale[0]
	in.Shots[7].Y[3] += 4 * Scale[3]
	r := fit(t, in)
	for i, v := range r.Weights {
		if (i == 7) != (v < LowWeight) {
			t.Errorf("ball %d has weight %.2f", i, v)
		}
	}
	in.Shots[7].Good = true
	if v := fit(t, in).Weights[7]; v < 1 {
		t.Errorf("a ball vouched for has weight %.2f", v)
	}
	in.Shots[7].Good, in.Shots[3].Mishit = false, true
	if v := fit(t, in).Weights[3]; v > .25 {
		t.Errorf("a ball called a mis-hit has weight %.2f", v)
	}
}

// A column that no ball has: the others must say what they said, and the
// missing one no more than physics does, up to the noise of two samplers.
func TestMissingColumns(t *testing.T) {
	w := newWorld(t, 1, 7)
	in := w.session(5, 0, 3, 8, 12, 26)
	whole := fit(t, in)
	for k := range K {
		c := in
		c.Shots = append([]Obs(nil), in.Shots...)
		for i := range c.Shots {
			if k == 0 { // how fast must be known somehow
				g, err := flight.Fly(Launch(c.Shots[i].Y), flight.Env{})
				if err != nil {
					t.Fatal(err)
				}
				c.Shots[i].Carry = &g.Carry
			}
			c.Shots[i].Has[k], c.Shots[i].Y[k] = false, math.NaN()
		}
		r := fit(t, c)
		for _, e := range r.Effects() {
			full := whole.effect(e.Feature, response(e))
			if math.IsNaN(e.Value.Mean) || math.IsNaN(e.SD) {
				t.Fatalf("without column %d: effect is not a number", k)
			}
			if response(e) == k && e.SD < .85*full.SD {
				t.Errorf("without column %d: its effect of %d is known better (%.3g) than with it (%.3g)", k, e.Feature, e.SD, full.SD)
			}
			if response(e) != k && math.Abs(e.Value.Mean-full.Value.Mean) > 1.2*full.SD {
				t.Errorf("without column %d: effect of %d on %d moved from %.3g to %.3g (sd %.2g)", k, e.Feature, response(e), full.Value.Mean, e.Value.Mean, full.SD)
			}
		}
	}
}

// Carry and offline alone must learn what moves the ball sideways.
func TestCarryAndOfflineLearn(t *testing.T) {
	w := newWorld(t, 1, 8)
	w.e[2][4] *= 3 // this player's ball curves three times as much with the weight as the textbook says
	w.spread = .5
	toe, heel := 0, 0
	for j, c := range w.changes {
		if c.Lean == 0 && c.Upright == 0 && c.CGToe > 0 {
			toe = j
		}
		if c.Lean == 0 && c.Upright == 0 && c.CGToe < 0 {
			heel = j
		}
	}
	in := w.session(14, 0, toe, heel)
	for i := range in.Shots {
		s := &in.Shots[i]
		g, err := flight.Fly(Launch(s.Y), flight.Env{})
		if err != nil {
			t.Fatal(err)
		}
		s.Has, s.Carry, s.Offline = [K]bool{}, &g.Carry, &g.Offline
	}
	r := fit(t, in)
	// whether by axis or by direction, toe lands where its own balls do against heel
	side := func(j int) float64 {
		sum, n := 0.0, 0.0
		for i := range in.Shots {
			if in.Shots[i].Setting == j {
				sum, n = sum+*in.Shots[i].Offline, n+1
			}
		}
		return sum / n
	}
	said := func(j int) float64 {
		sum, z := 0.0, make([]float64, K*len(r.Draws))
		for d := range r.Draws {
			g, err := flight.Fly(Launch(r.Mean(d, j, z)), flight.Env{})
			if err != nil {
				t.Fatal(err)
			}
			sum += g.Offline / float64(len(r.Draws))
		}
		return sum
	}
	seen, got := side(toe)-side(heel), said(toe)-said(heel)
	t.Logf("toe lands %.1f m right of heel, the fit says %.1f m", seen, got)
	if math.Abs(got-seen) > .2*seen {
		t.Errorf("toe lands %.1f m right of heel, the fit says %.1f m", seen, got)
	}
}

// Strike place and club speed explain scatter: effects get surer, and the
// predicted ball still scatters as the player does.
func TestSwingAsCovariate(t *testing.T) {
	w := newWorld(t, 1, 9)
	in := w.session(6, 0, 3, 8, 12, 26)
	in.ToeSlope = [K]float64{0, 0, 2 * units.Degree / .01, 0, -2.5 * units.Degree / .01}
	for i := range in.Shots {
		toe, speed := .004+.010*w.rng.NormFloat64(), 41+.8*w.rng.NormFloat64()
		s := &in.Shots[i]
		s.Y[0] += 1.45 * (speed - 41)
		s.Y[2] += in.ToeSlope[2] * (toe - .004)
		s.Y[4] += 1.2 * in.ToeSlope[4] * (toe - .004)
		s.Toe, s.ClubSpeed = &toe, &speed
	}
	with := fit(t, in)
	blind := in
	blind.Shots = append([]Obs(nil), in.Shots...)
	for i := range blind.Shots {
		blind.Shots[i].Toe, blind.Shots[i].ClubSpeed = nil, nil
	}
	without := fit(t, blind)
	spread := [K]float64{} // the ball's own and the swing's
	for k := range K {
		spread[k] = w.spread * Scale[k]
	}
	spread[0] = math.Hypot(spread[0], 1.45*.8)
	spread[2] = math.Hypot(spread[2], in.ToeSlope[2]*.010)
	spread[4] = math.Hypot(spread[4], 1.2*in.ToeSlope[4]*.010)
	less := 0.0
	for _, k := range []int{0, 2, 4} {
		less += with.post.Sigma[k*K+k] / without.post.Sigma[k*K+k] / 3
		if a, b := with.Spread[k], spread[k]; a < .8*b || a > 1.2*b {
			t.Errorf("response %d: spread %.3g with the swing, it scatters by %.3g", k, a, b)
		}
		if a, b := noiseSD(with, k), noiseSD(without, k); a < .75*b || a > 1.3*b {
			t.Errorf("response %d: predicted scatter %.3g with the swing, %.3g without", k, a, b)
		}
		var ma, mb float64
		for d := range with.Draws {
			ma += with.Mean(d, 0, nil)[k] / float64(len(with.Draws))
			mb += without.Mean(d, 0, nil)[k] / float64(len(with.Draws))
		}
		if math.Abs(ma-mb) > .5*Scale[k] {
			t.Errorf("response %d: the typical ball moved from %.4g to %.4g", k, mb, ma)
		}
	}
	// what is left unexplained (effects of settings are in doubt by their deviations, too)
	if less > .9 {
		t.Errorf("the swing leaves %.2f of the variance unexplained", less)
	}
}

func noiseSD(r *Response, k int) float64 {
	m, s := 0.0, 0.0
	z, _ := r.Noise(8, seed.Seed(2))
	for _, y := range z {
		m += y[k] / float64(len(z))
	}
	for _, y := range z {
		s += (y[k] - m) * (y[k] - m) / float64(len(z))
	}
	return math.Sqrt(s)
}

// A slower ball in one setting must not look like that setting's doing when
// the same ball was also hit elsewhere; another day likewise.
func TestBallAndDay(t *testing.T) {
	w := newWorld(t, 1, 10)
	in := w.session(8, 0, 3, 8, 26)
	for i := range in.Shots {
		s := &in.Shots[i]
		if i%3 == 0 || s.Setting == 26 && i%2 == 0 {
			s.Ball = "range"
			s.Y[0] -= 3
		}
		if i >= 20 {
			s.Session, s.Order = 1, s.Order-20
			s.Y[2] += 2 * units.Degree
		}
	}
	r := fit(t, in)
	for _, j := range []int{3, 8, 26} {
		m, sd := r.difference(j, 0)
		want := (w.mean(j)[0] - w.mean(0)[0]) / Scale[0]
		if math.Abs(m-want) > 2.5*sd {
			t.Errorf("setting %d: ball speed differs by %.2f +- %.2f, truth %.2f", j, m, sd, want)
		}
	}
}

func TestResquaringIsLearned(t *testing.T) {
	for _, h := range []float64{.1, 1.2} {
		w := newWorld(t, 1, 11)
		w.spread = .4
		for a := range w.prior.ResquareCov {
			w.e[a/K][a%K] += w.prior.ResquareCov[a] / w.prior.ResquareVar * (h - w.prior.Resquare)
		}
		r := fit(t, w.session(20, 0, 3, 8, 12, 19, 26))
		if got := r.Resquare; math.Abs(got[0]-h) > 2.5*got[1] || got[1] > .9*math.Sqrt(w.prior.ResquareVar) || (got[0]-w.prior.Resquare)*(h-w.prior.Resquare) < 0 {
			t.Errorf("share %.2f +- %.2f, truth %.1f, before the shots %.2f +- %.2f", got[0], got[1], h, w.prior.Resquare, math.Sqrt(w.prior.ResquareVar))
		}
	}
}

func TestMeasuredGrowsWithBalls(t *testing.T) {
	last := -1.0
	for _, n := range []int{1, 4, 16} {
		r := fit(t, newWorld(t, 1, 12).session(n, 0, 3, 8, 12, 26))
		if m := r.Measured(8); m <= last || m > 1 {
			t.Errorf("%d balls: measured share %.2f, before %.2f", n, m, last)
		} else {
			last = m
		}
		if r.Measured(0) != 1 || r.Measured(14) > r.Measured(8) {
			t.Errorf("reference %.2f, never hit %.2f, hit %.2f", r.Measured(0), r.Measured(14), r.Measured(8))
		}
		t.Logf("%d balls with each of five: setting 8 measured %.2f; 14, never hit but of the same features, %.2f", n, r.Measured(8), r.Measured(14))
	}
	r := fit(t, newWorld(t, 1, 12).session(16, 0, 3, 8, 12, 26))
	most, at := 0.0, 0
	for j := range r.in.Changes {
		if m := r.Measured(j); r.group[j] < 0 && j != r.in.Reference && m > most {
			most, at = m, j
		}
	}
	if r.Measured(8) < .5 || most < .3 || r.Learned(at) > most {
		t.Errorf("after 80 balls %.2f of a setting hit and %.2f of one never hit (%d) is said to be measured", r.Measured(8), most, at)
	}
}

func TestOddInput(t *testing.T) {
	w := newWorld(t, 1, 13)
	bad := func(name string, edit func(*Input)) {
		in := w.session(2, 0, 3, 8)
		edit(&in)
		if _, err := Fit(in); err == nil {
			t.Errorf("%s: no error", name)
		}
	}
	bad("no shots", func(in *Input) { in.Shots = nil })
	bad("not a number", func(in *Input) { in.Shots[1].Y[2] = math.NaN() })
	bad("no such setting", func(in *Input) { in.Shots[1].Setting = 99 })
	bad("no such reference", func(in *Input) { in.Reference = -1 })
	bad("a ball without numbers", func(in *Input) { in.Shots[1].Has = [K]bool{} })
	good := func(name string, edit func(*Input)) {
		in := w.session(2, 0, 3, 8)
		edit(&in)
		r, err := Fit(in)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		for j := range w.changes {
			for k := range K {
				if m, sd := r.difference(j, k); math.IsNaN(m) || math.IsNaN(sd) || math.IsInf(sd, 0) {
					t.Errorf("%s: setting %d response %d: %g +- %g", name, j, k, m, sd)
				}
			}
		}
		noise, _ := r.Noise(4, 1)
		for _, z := range noise {
			for _, v := range z {
				if math.IsNaN(v) {
					t.Errorf("%s: noise is not a number", name)
				}
			}
		}
	}
	good("one ball", func(in *Input) { in.Shots = in.Shots[:1] })
	good("one setting", func(in *Input) {
		for i := range in.Shots {
			in.Shots[i].Setting = 3
		}
	})
	good("all alike", func(in *Input) {
		for i := range in.Shots {
			in.Shots[i].Y = in.Shots[0].Y
		}
	})
	good("no setting named", func(in *Input) { in.Shots[2].Setting = -1 })
	good("a fixed head", func(in *Input) {
		for i := range in.Shots {
			in.Shots[i].Setting = 0
		}
		in.Changes = make([]club.Change, len(w.changes))
	})
	good("positions that nobody described", func(in *Input) {
		in.Changes = make([]club.Change, len(w.changes))
		for j := range in.Changes {
			in.Changes[j].Unknown = true
		}
	})
}

func benchmarkFit(b *testing.B, n int) {
	in := newWorld(b, 1, 1).session(n, 0, 3, 8, 12, 19, 26)
	for b.Loop() {
		if _, err := Fit(in); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(len(in.Shots)), "ns/ball")
}

// The work of a fit grows with the balls in a straight line: ns/ball stays.
func BenchmarkFit60(b *testing.B)    { benchmarkFit(b, 10) }
func BenchmarkFit600(b *testing.B)   { benchmarkFit(b, 100) }
func BenchmarkFit2400(b *testing.B)  { benchmarkFit(b, 400) }
func BenchmarkFit10000(b *testing.B) { benchmarkFit(b, 1667) }
