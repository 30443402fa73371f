package rough

import (
	"math"
	"slices"
	"testing"

	"ferrule/cmd/internal/invent"
)

// The tour's average drive carries 275 yd (published figure, from memory) by
// both laws; a ball that curves right lands right, a wind from the right pushes
// left, against shortens.
func TestFlight(t *testing.T) {
	l := Launch{Speed: 167 * mph, Angle: 10.9 * deg, Back: 2686 * rpm}
	for _, power := range []bool{false, true} {
		b := ball{power: power, drag: 1, lift: 1, curve: 1, decay: 1, density: 1.2}
		f := b.fly(l, 0, 0)
		t.Logf("power %v: %.1f yd, %.1f ft, %.1f deg, %.2f s", power, f.X/yd, f.Apex/ft, f.Descent/deg, f.Time)
		if math.Abs(f.X/yd-275) > 6 || math.Abs(f.Z) > 1e-9 {
			t.Errorf("power %v: %.1f yd, %.3f m sideways", power, f.X/yd, f.Z)
		}
		bent := l
		bent.Side = 300 * rpm
		if g := b.fly(bent, 0, 0); g.Z < 5 {
			t.Errorf("side spin to the right: %.1f m", g.Z)
		}
		if g := b.fly(l, 5, 0); g.X > f.X-5 {
			t.Errorf("against the wind %.1f m of %.1f", g.X, f.X)
		}
		if g := b.fly(l, 0, 5); g.Z > -5 {
			t.Errorf("wind from the right: %.1f m", g.Z)
		}
		none := ball{power: power, density: 0}
		if g := none.fly(Launch{Speed: 50, Angle: .4}, 0, 0); math.Abs(g.X-50*50*math.Sin(.8)/9.81) > 1e-6 {
			t.Errorf("vacuum %.9f m", g.X)
		}
	}
}

// The surface says what flying says, for the golfers' own balls.
func TestSurface(t *testing.T) {
	swings := invent.Swings(256)
	for seed := uint64(4990000); seed < 4990012; seed++ {
		g := New(seed, Drawn())
		s := g.newSurface(swings)
		worst, sum, mean := 0., 0., 0.
		for i, u := range invent.Swings(400)[256:] {
			l := g.Launch(i*53%80, u)
			f := g.ball.fly(l, 0, 0)
			x, z, apex, on := s.fly(l)
			rx, rz := f.Rest()
			d := math.Hypot(x*on-rx, z*on-rz)
			worst = math.Max(worst, d)
			sum += d * d / 144
			mean += (x*on - rx) / 144
			if math.Abs(apex-f.Apex) > 2 {
				t.Errorf("seed %d: apex %.1f m of %.1f", seed, apex, f.Apex)
			}
		}
		t.Logf("seed %d %s %s %s: mean %.2f m, rms %.2f m, worst %.2f m", seed, g.Level, g.Flight, g.Impact, mean, math.Sqrt(sum), worst)
		if math.Sqrt(sum) > 1.5 || math.Abs(mean) > .25 { // topped balls of high handicaps are the worst
			t.Errorf("seed %d: surface off by %.2f m on average, rms %.2f m", seed, mean, math.Sqrt(sum))
		}
	}
}

// Balls of a steady session have the truth's means.
func TestTruthIsWhatIsHit(t *testing.T) {
	for _, w := range []string{"expected", "strange", "null"} {
		f := Drawn()
		f.World, f.Wind, f.Device = w, "none", "full"
		g := New(4990100, f)
		g.form = newForm(invent.NewRand(1, 1), 0)
		g.form.warm, g.form.tire, g.form.opens = 0, 0, 0
		truth := g.Truth(invent.Swings(1024))
		for _, s := range []int{0, 37} {
			o := g.Start(1)
			const n = 4000
			var carry, side, apex, c2, s2 float64
			for range n {
				o.Seen = o.Seen[:0]
				o.Hit(s)
				b := o.Seen[0]
				carry += b.Carry / n
				side += b.Offline / n
				apex += b.Apex / n
				c2 += b.Carry * b.Carry / n
				s2 += b.Offline * b.Offline / n
			}
			ec, es := 4*math.Sqrt((c2-carry*carry)/n), 4*math.Sqrt((s2-side*side)/n)
			if math.Abs(carry-truth.Carry[s]) > ec || math.Abs(side-truth.Side[s]) > es || math.Abs(apex-truth.Apex[s]) > .6 {
				t.Errorf("%s, setting %d: hit %.1f %.1f %.1f m, truth %.1f %.1f %.1f", w, s, carry, side, apex, truth.Carry[s], truth.Side[s], truth.Apex[s])
			}
		}
		if d := truth.Strokes[37] - truth.Strokes[0]; (w == "null") != (d == 0) {
			t.Errorf("%s: setting 37 differs by %g strokes", w, d)
		}
	}
}

// A golfer is a number; holding a trait moves no other.
func TestTraits(t *testing.T) {
	for seed := uint64(4990200); seed < 4990220; seed++ {
		a, b := New(seed, Drawn()), New(seed, Drawn())
		f := Drawn()
		f.Device = "no spin"
		c := New(seed, f)
		if a.Traits != b.Traits || a.at != b.at {
			t.Fatal("the same number, another golfer")
		}
		c.Device = a.Device
		if a.Traits != c.Traits || a.at != c.at {
			t.Errorf("seed %d: holding the device moved something else", seed)
		}
		for _, n := range []int{3, 5} {
			count := map[int]int{}
			for _, s := range a.Visits(a.Tested(6), n) {
				count[s]++
			}
			for _, s := range a.Tested(6) {
				if count[s] != n {
					t.Errorf("%s: setting %d is hit %d times of %d", a.Order, s, count[s], n)
				}
			}
		}
	}
}

// A bag is the same golfer: the own club is as without it, heads and the shaft
// add up, and a session hits the own club three times.
func TestABagAddsUp(t *testing.T) {
	g := New(4990001, Drawn())
	bag := g.Bag()
	if bag[0].at[0] != g.at[0] {
		t.Error("the own club is another than without the bag")
	}
	for j := range g.at[0] {
		a := bag[3].at[0][j] - bag[1].at[0][j]
		b := bag[4].at[0][j] - bag[2].at[0][j]
		if math.Abs(a-b) > 1e-12 || a == 0 {
			t.Errorf("the shaft does %g in one head and %g in the other", a, b)
		}
	}
	seen, of := g.BagSession(bag, 3)
	count := map[int]int{}
	for k, s := range seen {
		if !s.WarmUp {
			count[of[k]]++
		}
	}
	if len(seen) != len(of) || count[0] != 9 || count[1] != 9 || count[2] != 9 || count[3] != 6 || count[4] != 6 {
		t.Errorf("balls by club %v", count)
	}
}

// Who knows the head sees in the balls what a setting has of its own: with many
// balls all of it, with three better than who takes none of it or all that is seen.
func TestWhoKnowsTheHeadShrinksWhatIsSeen(t *testing.T) {
	var err [3]float64 // nothing taken, all of it, as it is
	for seed := uint64(4990300); seed < 4990340; seed++ {
		g := New(seed, Drawn())
		hit := g.Tested(6)
		many, three := g.Known(hit, 1<<40), g.Known(hit, 3)
		for i := range g.at {
			for j := range g.at[i] {
				is := many.at[i][j] - g.at[i][j]
				if !slices.Contains(hit, i) {
					is += g.odd[i][j]
				}
				if math.Abs(is) > 1e-4*g.sd[j] {
					t.Fatalf("seed %d, setting %d: off by %g with all balls of the world", seed, i, is)
				}
			}
		}
		if g.Deviation == 0 {
			continue
		}
		shrink := g.Deviation * g.Deviation / (g.Deviation*g.Deviation + 1./3)
		for _, i := range hit {
			for j := range g.at[i] {
				left := (three.at[i][j] - g.at[i][j]) / g.sd[j]
				odd := g.odd[i][j] / g.sd[j]
				err[0] += odd * odd
				err[1] += math.Pow((left+odd)/shrink-odd, 2)
				err[2] += left * left
			}
		}
	}
	if !(err[2] < .8*err[0] && err[2] < .8*err[1]) {
		t.Errorf("squared errors %.0f, nothing taken %.0f, all of it %.0f", err[2], err[0], err[1])
	}
}
