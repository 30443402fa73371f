package predict

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/response"
	"ferrule/core/seed"
	"ferrule/core/units"
)

// Moving a ball by slopes must land where flying it lands, as high and as
// steep, for every setting of the example club: it decides which of two
// settings is longer.
func TestLocalAgreesWithFlights(t *testing.T) {
	in, settings := session(t, 5, 1, 9)
	r, err := response.Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	s, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
	if err != nil {
		t.Fatal(err)
	}
	cfg := Config{PerDraw: 6, Seed: 1, Doubt: [flight.NumTraits]flight.Traits{{1e-9}}}
	noise, _ := r.Noise(cfg.PerDraw, cfg.Seed)
	var worstMean, worstRMS [parts]float64
	Each(r, s, settings, cfg, func(j int, o *Outcome) {
		var mean, sq [parts]float64
		for d := range o.Draws {
			for b := range o.PerDraw {
				at := d*o.PerDraw + b
				y := [response.K]float64(o.Launch[d*response.K : (d+1)*response.K])
				ball := noise[at]
				ball[4] *= tilting(r.Mean(d, in.Reference, make([]float64, o.Draws*response.K))[3], y[3])
				g := s.At(response.Launch(launchOf(&y, &ball)))
				n := float64(len(o.Balls))
				is := o.Balls[at]
				for i, e := range [parts]float64{is.Carry - g.Carry, is.Offline - g.Offline, is.Apex - g.Apex, is.Descent - g.Descent, is.RestX - g.RestX, is.RestZ - g.RestZ} {
					mean[i] += e / n
					sq[i] += e * e / n
				}
			}
		}
		for i := range mean {
			worstMean[i] = math.Max(worstMean[i], math.Abs(mean[i]))
			worstRMS[i] = math.Max(worstRMS[i], math.Sqrt(sq[i]))
		}
	})
	for i, c := range []struct {
		part, unit string
		mean, rms  float64
	}{{"carry", "m", .06, .25}, {"offline", "m", .04, .2}, {"apex", "m", .01, .05}, {"descent", "rad", .0003, .0015}, {"rest along", "m", .06, .25}, {"rest across", "m", .04, .2}} {
		t.Logf("%s: largest mean error of a setting %.4f %s, largest rms error of its balls %.4f %s", c.part, worstMean[i], c.unit, worstRMS[i], c.unit)
		if worstMean[i] > c.mean || worstRMS[i] > c.rms {
			t.Errorf("%s: mean error %.4f, rms %.4f %s; want at most %g and %g", c.part, worstMean[i], worstRMS[i], c.unit, c.mean, c.rms)
		}
	}
}

// The same swing at more loft puts more backspin and the same sidespin on the
// ball: package impact's strike, face 3 degrees open, tilts it less in
// proportion to its spin within 3 %.
func TestTiltingFollowsTheStrike(t *testing.T) {
	p := impact.DefaultParams(club.Head{Kind: club.Driver, Loft: 10.5 * units.Degree, Mass: .2})
	strike := func(loft, face float64) flight.Launch {
		l, err := impact.Strike(impact.Delivery{ClubSpeed: 43, DynamicLoft: loft * units.Degree, Face: face * units.Degree}, p)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	for _, loft := range []float64{12, 14, 18} {
		a, b := strike(15, 3), strike(loft, 3)
		if want := b.Axis / a.Axis; math.Abs(tilting(a.Spin, b.Spin)/want-1) > .03 {
			t.Errorf("loft %g: tilts by %.3f, the strike by %.3f", loft, tilting(a.Spin, b.Spin), want)
		}
	}
}

// TestSecondOrder holds the formulas of a moved ball against the plain ones, on
// slopes and curvatures of chance: f(d) = at + slope d + d'Hd/2, in which the
// square of the sway is left aside.
func TestSecondOrder(t *testing.T) {
	rng := seed.Seed(1).Stream("second order")
	random := func() (l landing) {
		for p := range l {
			l[p] = rng.NormFloat64()
		}
		return l
	}
	var c curvature
	for i := range c {
		c[i] = random()
	}
	l := local{at: random()}
	for k := range l.slope {
		l.slope[k] = random()
	}
	h := c.hessian()
	plain := func(d [response.K]float64, p int) float64 {
		v := l.at[p]
		for i := range d {
			v += l.slope[i][p] * d[i]
			for j := range d {
				v += d[i] * h[i][j][p] * d[j] / 2
			}
		}
		return v
	}
	const axis, sway = 4, .7
	change := [response.K]float64{.3, -.8, 1.1, -.4, .9}
	bend, lean := c.bend(&change), c.alongAxis(&change)
	var got landing
	l.changed(&got, &bend, &lean, &change, sway)
	whole := change
	whole[axis] += sway
	moved := l.moved(&change, h)
	for p := range got {
		if want := plain(whole, p) - sway*sway*h[axis][axis][p]/2; math.Abs(got[p]-want) > 1e-12 {
			t.Errorf("part %d of a changed ball: %g, want %g", p, got[p], want)
		}
		if want := plain(change, p); math.Abs(moved.at[p]-want) > 1e-12 {
			t.Errorf("part %d of a moved ball: %g, want %g", p, moved.at[p], want)
		}
		for k := range change {
			want := l.slope[k][p]
			for j := range change {
				want += h[k][j][p] * change[j]
			}
			if math.Abs(moved.slope[k][p]-want) > 1e-12 {
				t.Errorf("slope %d of part %d of a moved ball: %g, want %g", k, p, moved.slope[k][p], want)
			}
		}
	}
}
