package decide

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/predict"
	"ferrule/core/score"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// normalBalls are balls at rest, normal about (x, z) with sx and sz, as a
// prediction of one setting has them.
func normalBalls(x, z, sx, sz float64, draws, per int) predict.Outcome {
	rng := seed.Seed(8).Stream("strokes")
	o := predict.Outcome{Draws: draws, PerDraw: per, Balls: make([]predict.Ball, draws*per)}
	for i := range o.Balls {
		b := &o.Balls[i]
		b.RestX, b.RestZ = x+sx*rng.NormFloat64(), z+sz*rng.NormFloat64()
		b.Carry, b.Offline, b.Apex, b.Descent = b.RestX, b.RestZ, 28, .7
	}
	return o
}

// bruteForce is the mean of the exact hole over those balls turned by aim: the
// middle points of 300 * 300 cells out to five standard deviations.
func bruteForce(c *score.Course, x, z, sx, sz, aim float64) float64 {
	const n = 300
	sin, cos := math.Sincos(aim)
	sum, total := 0.0, 0.0
	for i := range n {
		u := -5 + 10*(float64(i)+.5)/n
		for j := range n {
			v := -5 + 10*(float64(j)+.5)/n
			w := math.Exp(-(u*u + v*v) / 2)
			px, pz := x+sx*u, z+sz*v
			sum += w * c.Exact(px*cos-pz*sin, pz*cos+px*sin)
			total += w
		}
	}
	return sum / total
}

// closedForm is the same for a straight hole with one line of the same kind of
// trouble on each side, neglecting only that a ball to the side has slightly
// farther to go: the baseline is linear between its places, so its mean over a
// normal is a sum of normal integrals, and the lies are intervals of z.
func closedForm(h score.Hole, b score.Baseline, x, z, sx, sz, aim float64) float64 {
	sin, cos := math.Sincos(aim)
	mx, mz := x*cos-z*sin, z*cos+x*sin
	vx, vz := math.Hypot(sx*cos, sz*sin), math.Hypot(sz*cos, sx*sin)
	over := func(lie score.Lie) float64 { // mean of 1 + baseline at what is left
		const n = 4000 // the linear pieces, fine enough that their places do not matter
		s, last := 0.0, 0.0
		for i := range n {
			to := phi(-5 + 10*float64(i+1)/n)
			s += (to - last) * b.At(lie, h.Length-(mx+vx*(-5+10*(float64(i)+.5)/n)))
			last = to
		}
		return 1 + s/last
	}
	in := func(lo, hi float64) float64 { return phi((hi-mz)/vz) - phi((lo-mz)/vz) }
	r, l := h.Right[0].At, h.Left[0].At
	out := 2 + b.At(score.Tee, h.Length)
	fair := in(-h.FairwayHalf, h.FairwayHalf)
	rough := in(-l, -h.FairwayHalf) + in(h.FairwayHalf, r)
	return fair*over(score.Fairway) + rough*over(score.Rough) + (1-fair-rough)*out
}

// TestStrokesAgainstClosedFormAndBruteForce prints, for holes and patterns, the
// strokes that the decision works with beside the closed form and beside brute
// force over the exact hole: within 1 %. The number of balls is that of an
// analysis, so its chance is in the difference.
func TestStrokesAgainstClosedFormAndBruteForce(t *testing.T) {
	worst := 0.0
	for _, kind := range []string{"out", "penalty", "trees"} {
		for _, p := range []struct{ x, z, sx, sz float64 }{{230, 0, 12, 14}, {215, 14, 18, 18}, {250, -8, 15, 25}, {190, 20, 20, 22}} {
			hole := shot.Hole{Length: 400 * yd, FairwayWidth: 32 * yd, Trouble: frame.SideRight, TroubleAt: 30 * yd, TroubleKind: kind}
			c := course(t, shot.Aim{Holes: []shot.Hole{hole}})
			if kind == "out" { // the closed form has the same on both sides
				h := c.Holes[0]
				h.Left = h.Right
				if err := c.SetHoles([]score.Hole{h}); err != nil {
					t.Fatal(err)
				}
			}
			cfg := Config{Course: c, Settings: []club.Setting{{Sleeve: "only"}}, Changes: []club.Change{{}}}
			d, err := New(cfg)
			if err != nil {
				t.Fatal(err)
			}
			x, z, sx, sz := p.x*yd, p.z*yd, p.sx*yd, p.sz*yd
			o := normalBalls(x, z, sx, sz, 160, 16)
			if err := d.Add(0, &o); err != nil {
				t.Fatal(err)
			}
			got, aim := d.rows[0].out.Strokes.Mean, d.rows[0].out.Aim
			brute := bruteForce(c, x, z, sx, sz, aim)
			off := 100 * (got/brute - 1)
			worst = math.Max(worst, math.Abs(off))
			if kind == "out" {
				closed := closedForm(c.Holes[0], c.Baseline, x, z, sx, sz, aim)
				by := 100 * (got/closed - 1)
				worst = math.Max(worst, math.Abs(by))
				t.Logf("%-8s mean (%3.0f, %+3.0f) sd (%2.0f, %2.0f) yd, aim %+.1f°: %.4f strokes, closed form %.4f (%+.2f %%), brute force %.4f (%+.2f %%)",
					kind, p.x, p.z, p.sx, p.sz, aim/units.Degree, got, closed, by, brute, off)
				continue
			}
			t.Logf("%-8s mean (%3.0f, %+3.0f) sd (%2.0f, %2.0f) yd, aim %+.1f°: %.4f strokes, brute force %.4f (%+.2f %%)",
				kind, p.x, p.z, p.sx, p.sz, aim/units.Degree, got, brute, off)
		}
	}
	t.Logf("largest difference %.2f %%", worst)
	if worst > 1 {
		t.Errorf("strokes are off by %.2f %%, want 1 %%", worst)
	}
}

// TestSharesInClosedForm: on the fairway, beyond the line, carry reached, each
// a normal integral, to four standard errors of so many balls.
func TestSharesInClosedForm(t *testing.T) {
	carry := 215 * yd
	c := course(t, shot.Aim{Trouble: frame.SideRight, CarryMin: &carry})
	d, err := New(Config{Course: c, Settings: []club.Setting{{Sleeve: "only"}}, Changes: []club.Change{{}}})
	if err != nil {
		t.Fatal(err)
	}
	x, z, sx, sz := 220*yd, 10*yd, 15*yd, 18*yd
	const draws, per = 160, 64
	o := normalBalls(x, z, sx, sz, draws, per)
	for i := range o.Balls { // reach is measured from the tee: put the side aside
		o.Balls[i].Offline = 0
	}
	if err := d.Add(0, &o); err != nil {
		t.Fatal(err)
	}
	r := d.rows[0].out
	sin, cos := math.Sincos(r.Aim)
	mz, vz := z*cos+x*sin, math.Hypot(sz*cos, sx*sin)
	half := c.Holes[0].FairwayHalf
	for _, s := range []struct {
		name      string
		got, want float64
	}{
		{"on the fairway", r.PFairway, phi((half-mz)/vz) - phi((-half-mz)/vz)},
		{"beyond the right line", r.PRight, 1 - phi((c.Line-mz)/vz)},
		{"beyond the left line", r.PLeft, phi((-c.Line - mz) / vz)},
		{"carry reached", r.PCarry, 1 - phi((carry-x)/sx)},
	} {
		se := math.Sqrt(s.want * (1 - s.want) / (draws * per))
		t.Logf("%-22s %.4f, closed form %.4f (standard error %.4f)", s.name, s.got, s.want, se)
		if math.Abs(s.got-s.want) > 4*se+.004 { // the table's edges are soft over a metre
			t.Errorf("%s: %.4f, closed form %.4f", s.name, s.got, s.want)
		}
	}
}
