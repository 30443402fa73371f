package record

import (
	"encoding/binary"
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ferrule/core/club"
	"ferrule/core/linear"
)

// players draws n players with the adjustments lean and toe: effects about mu, of
// spread s, seen through balls that know some directions well and some not at all.
func players(n int, mu []float64, s float64, seed uint64) (out []Player) {
	rng := rand.New(rand.NewPCG(seed, 1))
	features := []int{0, 2}
	e := len(mu)
	for i := range n {
		p := Player{Features: features, Info: make([]float64, e*e), Vec: make([]float64, e), Seen: []uint64{seed<<20 + uint64(i)}}
		theta := make([]float64, e)
		for k := range theta {
			theta[k] = mu[k] + between(features, k, s)*rng.NormFloat64()
		}
		for range 7 { // seven measurements of ten unknowns: the information is singular
			x := make([]float64, e)
			y, noise := 0.0, .3
			for k := range x {
				x[k] = rng.NormFloat64()
				y += x[k] * theta[k]
			}
			y += noise * rng.NormFloat64()
			for k := range x {
				p.Vec[k] += x[k] * y / (noise * noise)
				for l := range x {
					p.Info[k*e+l] += x[k] * x[l] / (noise * noise)
				}
			}
		}
		out = append(out, p)
	}
	return out
}

var truth = []float64{-.1, .3, -.2, .6, -.3, .05, 0, .1, .1, .5}

func book(e int) (mean, cov []float64) {
	mean, cov = make([]float64, e), make([]float64, e*e)
	for i := range e {
		mean[i] = truth[i] / 2
		cov[i*e+i] = .01
	}
	return mean, cov
}

func learnt(t *testing.T, list []Player) *Record {
	t.Helper()
	r := New(club.Example())
	for _, p := range list {
		if err := r.Add(p); err != nil {
			t.Fatal(err)
		}
	}
	return r
}

// The sums say what a dense solution of the whole hierarchical model says: for a
// spread s, all effects and mu stacked into one normal (with the singular
// information made whole by the prior T), the marginal of mu.
func TestSumsAreTheWholeModel(t *testing.T) {
	list := players(6, truth, .35, 3)
	r := learnt(t, list)
	e := len(truth)
	mean, cov := book(e)
	got, err := r.Beliefs(mean, cov)
	if err != nil {
		t.Fatal(err)
	}
	for _, b := range got {
		n := (len(list) + 1) * e // theta_1 .. theta_6, mu
		a, rhs := make([]float64, n*n), make([]float64, n)
		at := len(list) * e
		for p, one := range list {
			for i := range e {
				rhs[p*e+i] += one.Vec[i]
				for j := range e {
					a[(p*e+i)*n+p*e+j] += one.Info[i*e+j]
				}
				x := between(one.Features, i, b.Spread)
				w := 1 / (x * x)
				a[(p*e+i)*n+p*e+i] += w
				a[(at+i)*n+at+i] += w
				a[(p*e+i)*n+at+i] -= w
				a[(at+i)*n+p*e+i] -= w
			}
		}
		wide := slices.Clone(cov)
		for i := range e {
			x := between(list[0].Features, i, .5)
			wide[i*e+i] += x * x
			for j := range e {
				wide[i*e+j] += mean[i] * mean[j]
			}
		}
		f, _ := linear.Factor(e, wide)
		inv, _ := f.Inverse()
		for i := range e {
			for j := range e {
				a[(at+i)*n+at+j] += inv[i*e+j]
				rhs[at+i] += inv[i*e+j] * mean[j]
			}
		}
		whole, ok := linear.Factor(n, a)
		if !ok {
			t.Fatal("singular")
		}
		whole.Solve(rhs)
		for i := range e {
			if math.Abs(rhs[at+i]-b.Mean[i]) > 1e-6 {
				t.Errorf("spread %g, effect %d: %.8f, the whole model %.8f", b.Spread, i, b.Mean[i], rhs[at+i])
			}
		}
	}
}

// With many players mu and the spread are found.
func TestManyPlayersTellMeanAndSpread(t *testing.T) {
	r := learnt(t, players(400, truth, .35, 4))
	mean, cov := book(len(truth))
	list, err := r.Beliefs(mean, cov)
	if err != nil {
		t.Fatal(err)
	}
	best := list[0]
	for _, b := range list {
		if b.Weight > best.Weight {
			best = b
		}
	}
	if best.Spread != .35 || best.Weight < .99 {
		t.Errorf("spread %g with weight %.2f, expected .35", best.Spread, best.Weight)
	}
	for i := range truth {
		if sd := math.Sqrt(best.Head[i*len(truth)+i]); math.Abs(best.Mean[i]-truth[i]) > 4*sd {
			t.Errorf("effect %d: %.3f +- %.3f, truth %.3f", i, best.Mean[i], sd, truth[i])
		}
	}
	if r.Players != 400 || r.Trust() >= most || r.Trust() < .85 {
		t.Errorf("%g players, trust %g", r.Players, r.Trust())
	}
}

// One of thirty whose effects no head has moves the others' mean by little.
func TestAStrangePlayerCountsForLittle(t *testing.T) {
	list := players(30, truth, .2, 5)
	odd := players(1, []float64{40, 40, 40, 40, 40, 40, 40, 40, 40, 40}, .2, 6)
	mean, cov := book(len(truth))
	without, _ := learnt(t, list).Beliefs(mean, cov)
	with, _ := learnt(t, append(list, odd...)).Beliefs(mean, cov)
	of := func(b []Belief) (m []float64) {
		m = make([]float64, len(truth))
		for _, x := range b {
			for i := range m {
				m[i] += x.Weight * x.Mean[i]
			}
		}
		return m
	}
	a, b := of(without), of(with)
	for i := range a {
		if math.Abs(a[i]-b[i]) > .15 {
			t.Errorf("effect %d moves from %.3f to %.3f", i, a[i], b[i])
		}
	}
}

func TestRecordsAddUpAndCountOnce(t *testing.T) {
	list := players(40, truth, .35, 7)
	whole, a, b := learnt(t, list), learnt(t, list[:25]), learnt(t, list[25:])
	if both, err := a.Merge(b); both != 0 || err != nil {
		t.Fatal(both, err)
	}
	if a.Players != 40 || !slices.Equal(a.Seen, whole.Seen) {
		t.Errorf("%g players", a.Players)
	}
	for g := range a.Sums {
		for i, v := range a.Sums[g].Info {
			if w := whole.Sums[g].Info[i]; math.Abs(v-w) > 1e-9*(1+math.Abs(w)) {
				t.Fatalf("sum %d %d: %g, expected %g", g, i, v, w)
			}
		}
	}
	before := a.Sums[2].Log
	if both, err := a.Merge(b); both != 15 || err != nil || a.Players != 40 || a.Sums[2].Log != before {
		t.Errorf("the same record again: %d in both, %v, %g players", both, err, a.Players)
	}
	c := learnt(t, list[:25])
	if both, err := c.Merge(learnt(t, list[20:])); both != 5 || err != nil || math.Abs(c.Players-40) > 1e-9 || len(c.Seen) != 40 {
		t.Errorf("overlapping: %d in both, %v, %g players of %d sessions", both, err, c.Players, len(c.Seen))
	}
	other := club.Example()
	other.Loft += .02
	if _, err := a.Merge(New(other)); !errors.Is(err, ErrOther) {
		t.Errorf("another head: %v", err)
	}
}

func TestFilesOpenAndDamageIsSeen(t *testing.T) {
	r := learnt(t, players(5, truth, .35, 8))
	b, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	again, err := Decode(b)
	if err != nil {
		t.Fatal(err)
	}
	if c, _ := again.Encode(); !slices.Equal(b, c) {
		t.Error("what is read and written again is another file")
	}
	if err := again.Of(club.Example()); err != nil {
		t.Error(err)
	}
	rng := rand.New(rand.NewPCG(1, 9))
	for range 3000 {
		bad := slices.Clone(b)
		switch rng.IntN(3) {
		case 0:
			at := rng.IntN(len(bad))
			if rng.IntN(2) == 0 {
				at = rng.IntN(headerSize)
			}
			bad[at] ^= byte(1 << rng.IntN(8))
		case 1:
			bad = bad[:rng.IntN(len(bad))]
		case 2:
			bad = append(bad, byte(rng.IntN(256)))
		}
		if _, err := Decode(bad); !errors.Is(err, ErrDamaged) {
			t.Fatalf("damaged: %v", err)
		}
	}
	b[4] = version + 1
	binary.BigEndian.PutUint32(b[5:], checksum(b[4], b[headerSize:]))
	if _, err := Decode(b); !errors.Is(err, ErrNewer) {
		t.Errorf("newer: %v", err)
	}
}

// A record made by hand, with a true checksum, is refused when it is opened or when
// it is asked, and never answers with a number that is none.
func TestNumbersThatNoBallsSay(t *testing.T) {
	whole := learnt(t, players(5, truth, .35, 8))
	mean, cov := book(len(truth))
	rng := rand.New(rand.NewPCG(3, 9))
	odd := []float64{math.NaN(), math.Inf(1), -math.MaxFloat64, 1e300, -1e150, 1e16, -1e14, 1e14, -1, 0}
	refused, asked := 0, 0
	for range 4000 {
		b, err := whole.Encode()
		if err != nil {
			t.Fatal(err)
		}
		r, _ := Decode(b)
		for range 1 + rng.IntN(3) {
			s, x := &r.Sums[rng.IntN(len(r.Sums))], odd[rng.IntN(len(odd))]
			switch rng.IntN(4) {
			case 0:
				s.Log = x
			case 1:
				s.Vec[rng.IntN(len(s.Vec))] = x
			case 2:
				s.Info[rng.IntN(len(s.Info))] = x
			case 3:
				r.Players = x
			}
		}
		b, _ = r.Encode()
		if r, err = Decode(b); err != nil {
			refused++
			continue
		}
		beliefs, err := r.Beliefs(mean, cov)
		if err != nil {
			asked++
			continue
		}
		total := 0.0
		for _, x := range beliefs {
			total += x.Weight
			for _, v := range slices.Concat(x.Mean, x.Cov, x.Head) {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%g of %+v", v, r.Sums)
				}
			}
		}
		if !(total > .9 && total < 1+1e-9) { // those of hardly any weight are left out
			t.Fatalf("weights add up to %g", total)
		}
	}
	t.Logf("4000 records: %d refused when opened, %d when asked", refused, asked)
}

// TestNumbersWithoutDigitsAreRefused: physics so uneven that its inverse has no digits
// left is told and not believed.
func TestNumbersWithoutDigitsAreRefused(t *testing.T) {
	r := learnt(t, players(3, truth, .3, 1))
	mean, cov := book(len(truth))
	if _, err := r.Beliefs(mean, cov); err != nil {
		t.Fatal(err)
	}
	mean[0] = 1e12
	if _, err := r.Beliefs(mean, cov); err == nil {
		t.Error("no error where the inverse has no digits")
	}
}
