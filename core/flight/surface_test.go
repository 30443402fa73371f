package flight

import (
	"math"
	"testing"

	"ferrule/core/units"
)

// unseen is the root mean square error of the surface on as many flights
// inside its box as it has terms, none of which it was fitted to.
func unseen(t *testing.T, s *Surface) (carry, apex, descent, offline float64) {
	n := len(s.coef)
	vars := 5
	if s.still {
		vars = 4
	}
	for i := 4 * n; i < 5*n; i++ { // the fit takes the first 4n points
		var u [5]float64
		for v := range vars {
			u[v] = sample(i, v)
		}
		l := s.launch(u)
		a, b := s.eval(&u), mustFly(t, l, s.env)
		for k, d := range map[*float64]float64{&carry: a[outCarry] - b.Carry, &apex: a[outApex] - b.Apex, &descent: a[outDescent] - b.Descent, &offline: a[outOffline] - b.Offline} {
			*k += d * d / float64(n)
		}
	}
	return math.Sqrt(carry), math.Sqrt(apex), math.Sqrt(descent), math.Sqrt(offline)
}

// The surface must stand in for Fly: inside its box to half a yard rms, at
// its edge without a step that matters, outside exactly.
func TestSurfaceFollowsFly(t *testing.T) {
	for name, c := range map[string]struct {
		l    Launch
		wind float64
	}{
		"a middling drive": {launch(135, 13, 1, 2900, 4), 0},
		"a fast one":       {launch(165, 12, -1, 2400, -3), 0},
		"a slow one":       {launch(105, 15, 0, 3300, 0), 0},
		"in a wind":        {launch(140, 12, 0, 2800, 2), 4},
	} {
		t.Run(name, func(t *testing.T) {
			var e Env
			e = e.filled()
			e.Air.Wind, e.Air.WindFrom = c.wind, .6
			s, err := NewSurface(Around(c.l), e)
			if err != nil {
				t.Fatal(err)
			}
			carry, apex, descent, offline := unseen(t, s)
			t.Logf("%.0f mph, wind %g: rms carry %.3f yd, apex %.3f ft, descent %.3f deg, offline %.3f yd", c.l.Speed/units.MPH, c.wind,
				carry/units.Yard, apex/units.Foot, descent/units.Degree, offline/units.Yard)
			if carry > .5*units.Yard || offline > .5*units.Yard {
				t.Errorf("surface misses Fly by %.2f yd carry, %.2f yd offline rms", carry/units.Yard, offline/units.Yard)
			}
			worst, rest := 0.0, 0.0
			for i := range 200 {
				l := c.l
				h := Around(l).Half
				l.Speed += .9 * h.Speed * sample(i, 0)
				l.Angle += .9 * h.Angle * sample(i, 1)
				l.Spin += .9 * h.Spin * sample(i, 2)
				l.Axis += .6 * h.Axis * sample(i, 3)
				l.Direction += 6 * units.Degree * sample(i, 4)
				a, b := s.At(l), mustFly(t, l, e)
				worst = math.Max(worst, math.Max(math.Abs(a.Carry-b.Carry), math.Abs(a.Offline-b.Offline)))
				rest = math.Max(rest, math.Max(math.Abs(a.RestX-b.RestX), math.Abs(a.RestZ-b.RestZ)))
			}
			t.Logf("worst of 200: landing %.2f m, rest %.2f m", worst, rest)
			if worst > 1.5 || rest > 1.5 {
				t.Errorf("worst of 200: landing off by %.2f m, rest by %.2f m", worst, rest)
			}
			miss := c.l // a mis-hit outside the box: a few yards are good enough
			miss.Speed *= .78
			miss.Angle -= 6 * units.Degree
			if a, b := s.At(miss), mustFly(t, miss, e); math.Abs(a.Carry-b.Carry) > 5 {
				t.Errorf("mis-hit: At %.1f m, Fly %.1f m", a.Carry, b.Carry)
			}
			far := launch(60, 30, 20, 6000, 40)
			if a, b := s.At(far), mustFly(t, far, e); a != b {
				t.Errorf("outside the box At = %+v, Fly = %+v", a, b)
			}
		})
	}
}

// An invented ball with other scales must be found again, and a single wild
// flight must not matter.
func TestCalibrateFindsTheBall(t *testing.T) {
	truth := Model{KD: 1.06, KL: 1.04, KS: .8, Decay: 2e-5}
	var obs []Observation
	for i := range 60 {
		l := launch(140+15*sample(i, 0), 12+3*sample(i, 1), 0, 2800+900*sample(i, 2), 0)
		g := mustFly(t, l, Env{Model: truth})
		c, a := g.Distance()+1.5*sample(i, 3), g.Apex+sample(i, 4)
		obs = append(obs, Observation{Launch: l, Carry: &c, Apex: &a})
	}
	wild := 40.0
	obs[7].Carry = &wild
	fit, err := Calibrate(obs, Env{}, Prior{})
	if err != nil {
		t.Fatal(err)
	}
	t.Logf("%+v", fit)
	if w := fit.Weight[7]; w > .1 {
		t.Errorf("the wild flight weighs %.2f", w)
	}
	// A lone scale is not identified (drag and its spin part trade), flights are.
	for name, l := range map[string]Launch{"fast and low": launch(150, 10, 0, 2200, 0), "slow and high": launch(130, 15, 0, 3400, 0)} {
		got, want := flyWith(l, Env{}.filled(), fit.Model), mustFly(t, l, Env{Model: truth})
		if d := math.Abs(got.Carry - want.Carry); d > 2 {
			t.Errorf("carry of an unseen launch, %s, is off by %.2f m", name, d)
		}
	}
}

func BenchmarkSurfaceAt(b *testing.B) {
	l := launch(140, 12.5, 1, 2700, 3)
	s, err := NewSurface(Around(l), Env{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		s.At(l)
	}
}

func BenchmarkNewSurface(b *testing.B) {
	for b.Loop() {
		if _, err := NewSurface(Around(launch(140, 12.5, 0, 2700, 0)), Env{}); err != nil {
			b.Fatal(err)
		}
	}
}
