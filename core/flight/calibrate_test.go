package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/air"
	"ferrule/core/units"
	"ferrule/testdata/near"
)

// unknownDay is what is believed of n balls of which nothing is stated: the wind of
// each goes on from the one before.
func unknownDay(n int) Prior {
	p := Prior{Drift: .98, DirectionSD: .5 * units.Degree, AxisSD: units.Degree, LaunchSD: .5 * units.Degree}
	for range n {
		p.Blocks = append(p.Blocks, WindPrior{HeadSD: 2.5, CrossSD: 2.5, Gust: 1})
	}
	return p
}

func (d drive) observed() Observation {
	return Observation{Launch: d.l, Carry: &d.carry, Apex: &d.apex, Offline: &d.offline, Descent: &d.descent, Time: &d.timeAloft}
}

// flown is a flight in a block by what a calibration found.
func flown(t testing.TB, l Launch, c Calibration, block int) Landing {
	e := Env{Model: c.Model, Air: air.Standard()}
	if len(c.Blocks) > 0 {
		e.Air = c.Blocks[block].In(e.Air)
	}
	l.Direction -= c.DirectionZero
	l.Axis -= c.AxisZero
	l.Angle -= c.LaunchZero
	return mustFly(t, l, e)
}

// TestCalibrateMeasuredDrives does to the measured drives what the program does
// to a session: it calibrates on a fifth of a class, every fifth ball in five
// turns, and reports the other four fifths (`ferrule fly -measured FILE` prints
// more). The default model stays untuned. Carry, side, height and descent are no worse
// than the mean ball's in any class.
func TestCalibrateMeasuredDrives(t *testing.T) {
	for _, class := range []string{"a", "b", "c"} {
		t.Run("class "+class, func(t *testing.T) {
			var all []drive
			for _, d := range drives(t) {
				if d.class == class {
					all = append(all, d)
				}
			}
			var sum [2][4]float64 // mean ball, adjusted; carry, offline, apex, descent squared
			n := 0.
			for turn := range 5 {
				var learn []Observation
				var rest []int
				for i, d := range all {
					if i%5 == turn {
						o := d.observed()
						o.Block = i
						learn = append(learn, o)
					} else {
						rest = append(rest, i)
					}
				}
				fit, err := Calibrate(learn, Env{}, unknownDay(len(all)))
				if err != nil {
					t.Fatal(err)
				}
				for k, ball := range []Calibration{{Model: Default()}, fit} {
					for _, i := range rest {
						d := all[i]
						g := flown(t, d.l, ball, i)
						sum[k][0] += math.Pow((g.Distance()-d.carry)/units.Yard, 2)
						sum[k][1] += math.Pow((g.Offline-d.offline)/units.Yard, 2)
						sum[k][2] += math.Pow((g.Apex-d.apex)/units.Foot, 2)
						sum[k][3] += math.Pow((g.Descent-d.descent)/units.Degree, 2)
					}
				}
				n += float64(len(rest))
			}
			rms := func(k, q int) float64 { return math.Sqrt(sum[k][q] / n) }
			t.Logf("class %s, four fifths after learning from one, five turns, rms of the mean ball and adjusted: carry %.2f %.2f yd, offline %.2f %.2f yd, apex %.2f %.2f ft, descent %.2f %.2f deg",
				class, rms(0, 0), rms(1, 0), rms(0, 1), rms(1, 1), rms(0, 2), rms(1, 2), rms(0, 3), rms(1, 3))
			for q, what := range []string{"carry [yd]", "offline [yd]", "apex [ft]", "descent [deg]"} {
				if rms(1, q) > rms(0, q) {
					t.Errorf("class %s, %s: rms %.3f after calibration, %.3f of the mean ball", class, what, rms(1, q), rms(0, q))
				}
			}
		})
	}
}

// A wind that turns from head to tail and back is followed, also where a ball was not
// seen to fly.
func TestCalibrateDrift(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 7))
	p := Prior{Drift: .95}
	var obs []Observation
	var truth []float64
	for i := range 80 {
		w := Wind{Head: 3 * math.Cos(float64(i)/12)}
		truth, p.Blocks = append(truth, w.Head), append(p.Blocks, WindPrior{HeadSD: 2.5, CrossSD: 2.5})
		if o := invented(t, r, 1, Default(), w, 0)[0]; i%2 == 0 {
			o.Block = i
			obs = append(obs, o)
		}
	}
	rms := func() float64 {
		c, err := Calibrate(obs, Env{}, p)
		if err != nil {
			t.Fatal(err)
		}
		sum := 0.
		for i := 1; i < len(truth); i += 2 {
			sum += math.Pow(c.Blocks[i].Head-truth[i], 2) / float64(len(truth)/2)
		}
		return math.Sqrt(sum)
	}
	with := rms()
	p.Drift = 0
	if without := rms(); with > 1.2 || without < 1.5 {
		t.Errorf("head wind of balls not seen: off by %.2f m/s, %.2f where each has its own", with, without)
	}
}

// invented is a session of n balls of ball m in wind w by a device that errs:
// launch numbers and flights, normal, and its zero of direction.
func invented(t testing.TB, r *rand.Rand, n int, m Model, w Wind, zero float64) (obs []Observation) {
	for range n {
		true := launch(150+6*r.NormFloat64(), 12.5+2*r.NormFloat64(), 2*r.NormFloat64(), 2700+350*r.NormFloat64(), 6*r.NormFloat64())
		g := mustFly(t, true, Env{Model: m, Air: w.In(air.Standard())})
		seen := true
		seen.Speed += .3 * r.NormFloat64()
		seen.Angle += .25 * degree * r.NormFloat64()
		seen.Direction += .3*degree*r.NormFloat64() + zero
		seen.Spin += 10 * r.NormFloat64()
		seen.Axis += 1.5 * degree * r.NormFloat64()
		carry, offline, apex := g.Distance()+2*r.NormFloat64(), g.Offline+1.5*r.NormFloat64(), g.Apex+.8*r.NormFloat64()
		descent, time := g.Descent+1.5*degree*r.NormFloat64(), g.Time+.1*r.NormFloat64()
		obs = append(obs, Observation{Launch: seen, Carry: &carry, Offline: &offline, Apex: &apex, Descent: &descent, Time: &time})
	}
	return obs
}

// TestBlockWinds: balls drawn from the population, winds and zeros from their
// priors, blocks of 12 balls. The cross wind is found within 1.5 m/s in 80 of 100
// blocks, and its 80 % interval holds 75 to 85 % of the truths; so does the head
// wind's.
func TestBlockWinds(t *testing.T) {
	const blocks, q80 = 200, 1.2815515655
	r := rand.New(rand.NewPCG(12, 8))
	prior := Prior{Blocks: []WindPrior{{HeadSD: 3, CrossSD: 3}}, DirectionSD: .3 * degree}
	near15, in, inHead := 0., 0., 0.
	for range blocks {
		truth := Wind{3 * r.NormFloat64(), 3 * r.NormFloat64()}
		obs := invented(t, r, 12, Default().With(Balls().drawn(r)), truth, .3*degree*r.NormFloat64())
		c, err := Calibrate(obs, Env{}, prior)
		if err != nil {
			t.Fatal(err)
		}
		b := c.Blocks[0]
		if math.Abs(b.Cross-truth.Cross) < 1.5 {
			near15 += 100. / blocks
		}
		if math.Abs(b.Cross-truth.Cross) < q80*b.CrossSD {
			in += 100. / blocks
		}
		if math.Abs(b.Head-truth.Head) < q80*b.HeadSD {
			inHead += 100. / blocks
		}
	}
	t.Logf("cross wind within 1.5 m/s in %.0f %% of blocks; in its 80 %% interval %.0f %%, head wind %.0f %%", near15, in, inHead)
	if near15 < 80 || in < 73 || in > 87 || inHead < 73 || inHead > 87 {
		t.Errorf("cross wind within 1.5 m/s in %.0f %% of blocks; in its 80 %% interval %.0f %%, head wind %.0f %%", near15, in, inHead)
	}
}

// drawn is a ball of the population.
func (p Population) drawn(r *rand.Rand) (t Traits) {
	for _, cause := range p.Doubt() {
		x := r.NormFloat64()
		for i := range t {
			t[i] += x * cause[i]
		}
	}
	return t
}

// TestFewAndMissing: any number of balls is enough to start, and balls with a
// carry alone, of a spin that is guessed, say something, with more doubt.
func TestFewAndMissing(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 5))
	ball := Default().With(Traits{TraitDrag: .06})
	full := invented(t, r, 20, ball, Wind{}, 0)
	whole, err := Calibrate(full, Env{}, Prior{})
	if err != nil {
		t.Fatal(err)
	}
	for i := range full {
		o := &full[i]
		o.Offline, o.Apex, o.Descent, o.Time = nil, nil, nil, nil
		o.Launch.Spin, o.Launch.Axis = 280, 0
	}
	bare, err := Calibrate(full, Env{}, Prior{})
	if err != nil {
		t.Fatal(err)
	}
	a, b := whole.Cov[TraitLift][TraitLift], bare.Cov[TraitLift][TraitLift]
	if !(a < b && b <= Balls().Cov[TraitLift][TraitLift]*1.001) {
		t.Errorf("variance of lift %.5f with all, %.5f with carry alone", a, b)
	}
	for n := range 4 {
		c, err := Calibrate(full[:n], Env{}, Prior{})
		if (err != nil) != (n == 0) || c.Used != n || c.Model.validate() != nil || len(c.Weight) != n {
			t.Errorf("%d balls: used %d, %v", n, c.Used, err)
		}
	}
	if c, _ := Calibrate(full[:1], Env{}, Prior{}); c.Taken != 0 || c.Model != Default() {
		t.Error("one ball, of which none can be left out, moved the mean ball")
	}
}

// Curve is found again, and a steady error of the start line does not pass for it.
func TestCalibrateCurve(t *testing.T) {
	truth := Default()
	truth.Curve = 1.3
	var obs []Observation
	for i := range 60 {
		l := launch(140+10*sample(i, 0), 12+3*sample(i, 1), 2*sample(i, 2), 2800+600*sample(i, 3), 4+16*sample(i, 4))
		g := mustFly(t, l, Env{Model: truth})
		carry, offline := g.Distance(), g.Offline
		l.Direction += .5 * degree
		obs = append(obs, Observation{Launch: l, Carry: &carry, Offline: &offline})
	}
	c, err := Calibrate(obs, Env{}, Prior{DirectionSD: degree})
	if err != nil {
		t.Fatal(err)
	}
	if sd := math.Sqrt(c.Cov[TraitCurve][TraitCurve]); math.Abs(c.Model.Curve-1.3) > .06 || sd > .1 || sd <= 0 {
		t.Errorf("Curve = %.3f ± %.3f, want 1.3", c.Model.Curve, sd)
	}
	near.Abs(t, "zero of direction [deg]", c.DirectionZero/degree, .5, .1)
	topped := launch(120, 10, 0, 2000, 170)
	if a, b := mustFly(t, topped, Env{Model: truth}), mustFly(t, topped, Env{}); b.Apex > a.Apex+3 || a.Apex > b.Apex+3 {
		t.Errorf("topped ball: apex %.1f m with Curve 1.3, %.1f without", a.Apex, b.Apex)
	}
}

// A device that prints launch too low is told from a ball of more lift, and what
// lifts to a side moves no carry along the line.
func TestCalibrateLaunch(t *testing.T) {
	var obs []Observation
	for i := range 60 {
		l := launch(140+15*sample(i, 0), 12+4*sample(i, 1), 2*sample(i, 2), 2800+700*sample(i, 3), 10*sample(i, 4))
		g := mustFly(t, l, Env{})
		carry, offline, apex, descent := g.Distance(), g.Offline, g.Apex, g.Descent
		l.Angle -= .6 * degree
		obs = append(obs, Observation{Launch: l, Carry: &carry, Offline: &offline, Apex: &apex, Descent: &descent})
	}
	c, err := Calibrate(obs, Env{}, Prior{LaunchSD: .5 * degree})
	if err != nil {
		t.Fatal(err)
	}
	near.Abs(t, "zero of launch [deg]", c.LaunchZero/degree, -.6, .15)
	bent := Default()
	bent.Curve = 1.4
	l := launch(150, 12, 0, 2800, 15)
	a, b := mustFly(t, l, Env{}), mustFly(t, l, Env{Model: bent})
	near.Abs(t, "curve by 1.4 of lift to a side", b.Curve/a.Curve, 1.4, .02)
	near.Abs(t, "apex by it [m]", b.Apex, a.Apex, .05)
}

// Drawn as Doubt says, a ball varies as its covariance does.
func TestDoubt(t *testing.T) {
	var c Calibration
	for i := range NumTraits {
		c.Cov[i][i] = .01
	}
	c.Cov[0][3], c.Cov[3][0] = -.005, -.005
	rows := c.Doubt()
	for i := range NumTraits {
		for j := range NumTraits {
			got, want := 0., c.Cov[i][j]
			if i == j {
				want += followed[i] * followed[i]
			}
			for _, cause := range rows {
				got += cause[i] * cause[j]
			}
			near.Abs(t, "covariance", got, want, 1e-12)
		}
	}
}
