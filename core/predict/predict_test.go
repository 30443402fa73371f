package predict

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/response"
	"ferrule/core/units"
)

// session invents balls with known effects of the example head's settings.
func session(t testing.TB, perSetting int, effect float64, seed uint64) (response.Input, []club.Setting) {
	t.Helper()
	h := club.Example()
	settings := h.Settings()
	in := response.Input{Seed: 1}
	for _, s := range settings {
		c, err := h.Change(s)
		if err != nil {
			t.Fatal(err)
		}
		in.Changes = append(in.Changes, c)
	}
	base := [5]float64{60, 13 * units.Degree, 1 * units.Degree, 290, 4 * units.Degree}
	var err error
	if in.Prior, err = impact.Effects(impact.Baseline{Launch: response.Launch(base)}, h, 1); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(seed, 2))
	order := 0
	for range perSetting {
		for _, j := range []int{0, 7, 14, 21, 28, 35} {
			o := response.Obs{Setting: j, Order: order}
			order++
			x := impact.Features(in.Changes[j], in.Changes[0])
			for k := range o.Y {
				o.Y[k] = base[k] + response.Scale[k]*.8*rng.NormFloat64()
				for f := range x {
					o.Y[k] += effect * x[f] * in.Prior.Mean[f][k]
				}
				o.Has[k] = true
			}
			in.Shots = append(in.Shots, o)
		}
	}
	return in, settings
}

func TestEffectsAreFoundAndUntestedSettingsCovered(t *testing.T) {
	inside, of := 0.0, 0.0
	for s := range uint64(12) {
		in, _ := session(t, 3, 1, s)
		r, err := response.Fit(in)
		if err != nil {
			t.Fatal(err)
		}
		for _, j := range []int{3, 11, 18, 25, 32, 38} { // never hit
			z := r.Deviations(1, "x")
			x := impact.Features(in.Changes[j], in.Changes[0])
			for k := range 5 {
				want := 0.0
				for f := range x {
					want += x[f] * in.Prior.Mean[f][k]
				}
				var sum, sq float64
				for d := range r.Draws {
					v := r.Mean(d, j, z)[k] - r.Mean(d, 0, z)[k]
					sum, sq = sum+v, sq+v*v
				}
				n := float64(len(r.Draws))
				mean := sum / n
				sd := math.Sqrt(sq/n - mean*mean)
				of++
				if math.Abs(mean-want) < 1.2816*sd {
					inside++
				}
			}
		}
		if r.Conflict > 1.6 {
			t.Errorf("seed %d: conflict %.2f where the physics is right", s, r.Conflict)
		}
	}
	if share := inside / of; share < .75 {
		t.Errorf("80 %% intervals hold the truth in %.2f of cases", share)
	}
}

// Physics of the wrong sign must be noticed with enough balls, and pull less.
func TestWrongPhysicsIsNoticed(t *testing.T) {
	in, _ := session(t, 12, -2, 5)
	r, err := response.Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	if r.Conflict < 1.5 || r.Physics > .2 {
		t.Errorf("conflict %.2f, physics kept %.2f; want > 1.5 and little", r.Conflict, r.Physics)
	}
}

// Carry and offline alone must do.
func TestCarryAndOfflineAlone(t *testing.T) {
	in, settings := session(t, 3, 1, 3)
	for i := range in.Shots {
		s := &in.Shots[i]
		g, err := flight.Fly(response.Launch(s.Y), flight.Env{})
		if err != nil {
			t.Fatal(err)
		}
		s.Has = [5]bool{}
		s.Carry, s.Offline = &g.Carry, &g.Offline
	}
	r, err := response.Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	surface, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
	if err != nil {
		t.Fatal(err)
	}
	Each(r, surface, settings[:1], Config{Seed: 1}, func(_ int, o *Outcome) {
		sum := 0.0
		for _, b := range o.Balls {
			sum += b.Carry / float64(len(o.Balls))
		}
		if want := 183.0; math.Abs(sum-want) > 15 {
			t.Errorf("mean carry %.1f m, want about %.0f", sum, want)
		}
	})
}

// The ground that a ball runs on is in doubt by flight.RunDoubt, the same for
// every setting and on average by nothing; the balls themselves know nothing of it.
func TestGroundIsInDoubt(t *testing.T) {
	in, settings := session(t, 3, 1, 3)
	r, err := response.Fit(in)
	if err != nil {
		t.Fatal(err)
	}
	surface, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
	if err != nil {
		t.Fatal(err)
	}
	var first []float64
	Each(r, surface, settings, Config{Seed: 1, PerDraw: 2}, func(i int, o *Outcome) {
		if i == 0 {
			first = slices.Clone(o.Ground)
		}
		if !slices.Equal(first, o.Ground) || len(o.Ground) != o.Draws {
			t.Fatalf("setting %d has a ground of its own", i)
		}
	})
	inside, sum := 0, 0.
	for _, g := range first {
		sum += g
		if math.Abs(g) < flight.RunDoubt {
			inside++
		}
	}
	if share := float64(inside) / float64(len(first)); math.Abs(sum) > 1e-9 || math.Abs(share-.8) > .01 {
		t.Errorf("grounds add up to %g m, %.2f of them within the doubt, want 0 and .80", sum, share)
	}
}

// Few and odd balls: an answer or an error, never a NaN.
func TestThinAndOdd(t *testing.T) {
	in, settings := session(t, 1, 1, 4)
	try := func(name string, edit func(*response.Input)) {
		c := in
		c.Shots = append([]response.Obs(nil), in.Shots...)
		edit(&c)
		r, err := response.Fit(c)
		if err != nil {
			return
		}
		surface, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		Each(r, surface, settings, Config{PerDraw: 4}, func(i int, o *Outcome) {
			for _, b := range o.Balls {
				for _, v := range []float64{b.Carry, b.Offline, b.Apex, b.Descent, b.RestX, b.RestZ} {
					if math.IsNaN(v) || math.IsInf(v, 0) {
						t.Fatalf("%s: setting %d predicts %+v", name, i, b)
					}
				}
			}
		})
	}
	try("one ball", func(c *response.Input) { c.Shots = c.Shots[:1] })
	try("one setting", func(c *response.Input) {
		for i := range c.Shots {
			c.Shots[i].Setting = 0
		}
	})
	try("all the same", func(c *response.Input) {
		for i := range c.Shots {
			c.Shots[i].Y = c.Shots[0].Y
		}
	})
	for k := range 5 {
		try("a column missing", func(c *response.Input) {
			for i := range c.Shots {
				c.Shots[i].Has[k] = false
			}
		})
	}
	try("none", func(c *response.Input) { c.Shots = nil })
}

func BenchmarkFit60(b *testing.B) {
	in, _ := session(b, 10, 1, 1)
	for b.Loop() {
		if _, err := response.Fit(in); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkEach40(b *testing.B) {
	in, settings := session(b, 10, 1, 1)
	r, err := response.Fit(in)
	if err != nil {
		b.Fatal(err)
	}
	surface, err := flight.NewSurface(flight.Around(response.Launch(r.Centre)), flight.Env{})
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		Each(r, surface, settings, Config{Seed: 1}, func(int, *Outcome) {})
	}
}
