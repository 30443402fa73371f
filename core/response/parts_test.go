package response

import (
	"math"
	"testing"

	"ferrule/core/bayes"
	"ferrule/core/impact"
)

// TestQuantileOfAMixture: one normal's by its known quantile, a mixture's by
// the chance below it, which is the weighted sum of the parts' chances.
func TestQuantileOfAMixture(t *testing.T) {
	if got, want := quantile([]float64{1}, []float64{3}, []float64{2}, .975), 3+2*1.959963985; math.Abs(got-want) > 1e-6 {
		t.Errorf("a normal's: %g, want %g", got, want)
	}
	w, mean, sd := []float64{.2, .5, .3}, []float64{-4, 1, 6}, []float64{.5, 2, 1}
	for _, p := range []float64{.025, .1, .25, .5, .75, .9, .975} {
		q, below := quantile(w, mean, sd, p), 0.0
		for a := range w {
			below += w[a] * (1 + math.Erf((q-mean[a])/(sd[a]*math.Sqrt2))) / 2
		}
		if math.Abs(below-p) > 1e-6 {
			t.Errorf("%g lies below the quantile of %g", below, p)
		}
	}
	// a part of no weight counts for nothing, wherever it lies
	if got := quantile([]float64{1, 0}, []float64{0, 1e9}, []float64{1, 1}, .5); math.Abs(got) > 1e-6 {
		t.Errorf("the middle of a normal at 0 is %g", got)
	}
}

// TestTired: nothing until the 40th ball, one more every 20.
func TestTired(t *testing.T) {
	for order, want := range map[float64]float64{0: 0, 39: 0, 40: 0, 60: 1, 90: 2.5} {
		if got := tired(order); got != want {
			t.Errorf("ball %g: %g, want %g", order, got, want)
		}
	}
}

// TestMoments against the definitions, on columns that anybody can work out.
func TestMoments(t *testing.T) {
	r := tried{rows: []bayes.Row{{X: []float64{1, 2, 5}}, {X: []float64{2, 4, 5}}, {X: []float64{6, 0, 5}}}}
	if m, v := r.moments(0, 0); math.Abs(m-3) > 1e-12 || math.Abs(v-14./3) > 1e-12 {
		t.Errorf("mean %g and variance %g, want 3 and 14/3", m, v)
	}
	if _, c := r.moments(0, 1); math.Abs(c-(-2*0+-1*2+3*-2)/3.) > 1e-12 {
		t.Errorf("covariance %g, want -8/3", c)
	}
	if got, want := r.correlation(0, 1), -8./3/math.Sqrt(14./3*8/3); math.Abs(got-want) > 1e-12 {
		t.Errorf("correlation %g, want %g", got, want)
	}
	if got := r.correlation(0, 2); got != 0 {
		t.Errorf("correlation %g with what never changed, want 0", got)
	}
}

// TestLearned by its definition: one less the ratio of the variances that the
// textbook's prior and the posterior give a setting's difference, deviations and
// effects apart, averaged over the responses.
func TestLearned(t *testing.T) {
	r := fit(t, newWorld(t, 1, 12).session(12, 0, 3, 8, 12, 26))
	n := len(r.post.Coef)
	for _, j := range []int{8, 14} { // hit, and never hit
		x := impact.Features(r.in.Changes[j], r.in.Changes[0])
		want := 0.0
		for k := range K {
			tau := r.Tau[k] / Scale[k]
			before, after := 2*tau*tau, r.post.GroupCov[r.group[0]*K*K+k*K+k]
			if g := r.group[j]; g >= 0 {
				after += r.post.GroupCov[g*K*K+k*K+k]
			} else {
				after += tau * tau
			}
			for a, f := range r.feature {
				for b, g := range r.feature {
					before += x[f] * x[g] * r.in.Prior.Cov[(f*K+k)*impact.F*K+g*K+k] / (Scale[k] * Scale[k])
					after += x[f] / featureUnit[f] * x[g] / featureUnit[g] * r.post.Cov[(a*K+k)*n+b*K+k]
				}
			}
			want += math.Min(1, math.Max(0, 1-after/before)) / K
		}
		if got := r.Learned(j); math.Abs(got-want) > 1e-9 {
			t.Errorf("setting %d: %g, want %g", j, got, want)
		}
	}
	if hit, never := r.Learned(8), r.Learned(14); r.Learned(0) != 1 || !(hit > never && hit < 1) {
		t.Errorf("learned of today's %g, of one hit %g, of one never hit %g", r.Learned(0), hit, never)
	}
}

// TestHowManyBallsAreFresh: of each pair of draws N/(N+5) of the balls are
// those of the session, each about as often as any other, and the fresh ones
// stand opposite each other.
func TestHowManyBallsAreFresh(t *testing.T) {
	r := fit(t, newWorld(t, 1, 12).session(4, 0, 3, 8, 12, 26)) // 20 balls
	const per = 16
	noise, from := r.Noise(per, 3)
	fresh, often := 0, map[int]int{}
	for at, i := range from {
		if i >= 0 {
			often[i]++
			continue
		}
		fresh++
		if d := at / per; d%2 == 1 {
			for k := range K {
				if noise[at][k] != -noise[at-per][k] {
					t.Fatalf("ball %d of draw %d is no opposite of its pair's", at%per, d)
				}
			}
		}
	}
	if share := float64(fresh) / float64(len(from)); math.Abs(share-5./25) > .001 {
		t.Errorf("%.4f of the balls are fresh, want 5/(20+5)", share)
	}
	least, most := len(from), 0
	for i := range 20 {
		least, most = min(least, often[i]), max(most, often[i])
	}
	t.Logf("the 20 balls of the session come %d to %d times in %d", least, most, len(from))
	// Dealt 192 times each, of which every fifth place is taken by chance: 154
	// with a standard deviation of sqrt(192*.2*.8) = 5.5; freely drawn 12.
	if want := float64(len(from)-fresh) / 20; float64(least) < want-18 || float64(most) > want+18 {
		t.Errorf("the balls of the session come %d to %d times, want about %.0f each", least, most, want)
	}
}

// TestBlocked: settings hit in one block each tell the time, in mirrored rounds
// they do not.
func TestBlocked(t *testing.T) {
	w := newWorld(t, 1, 12)
	blocks := Input{Changes: w.changes, Prior: w.prior, Seed: 1}
	for _, j := range []int{0, 3, 8, 12} {
		for range 6 {
			blocks.Shots = append(blocks.Shots, w.shot(j, len(blocks.Shots)))
		}
	}
	// equal blocks: between variance over all, (b^2 - 1)/(b^2 - 1/n^2) of b blocks of n
	if got, want := fit(t, blocks).blocked(), (16-1)/(16-1/36.); math.Abs(got-want) > 1e-6 {
		t.Errorf("one block each: %.6f, want %.6f", got, want)
	}
	if got := fit(t, w.session(6, 0, 3, 8, 12)).blocked(); got > 1e-6 {
		t.Errorf("mirrored rounds: %.6f, want 0", got)
	}
}

// TestResolvers: where loft and lie were only ever changed together, the
// settings that would tell them apart are those off that line, the farther the
// better.
func TestResolvers(t *testing.T) {
	w := newWorld(t, 1, 12)
	along := func(j int) float64 { // off the line that the shots kept to, in degrees of lie
		c := w.changes[j]
		return c.Upright/featureUnit[1] - c.Lean/featureUnit[0]/1.5
	}
	var both []int // 1.5 degrees of loft and 1 of lie, each way, the weight left alone
	for j, c := range w.changes {
		if c.CGToe == 0 && c.Lean != 0 && math.Abs(along(j)) < 1e-9 {
			both = append(both, j)
		}
	}
	if len(both) != 2 {
		t.Fatalf("settings %v on the line, want two", both)
	}
	r := fit(t, w.session(6, 0, both[0], both[1]))
	got := map[int]bool{}
	for _, j := range r.resolvers(0) {
		got[j] = true
	}
	for j := range w.changes {
		if far := math.Abs(along(j)); got[j] != (far > 1.9) { // loft one way, lie the other: 2 degrees off
			t.Errorf("setting %d lies %.1f off the line; it would tell them apart: %t", j, far, got[j])
		}
	}
}

// TestTheFitEndsByItself: what the sampler sets out from is where no coefficient moves
// any more, and not where the rounds ran out.
func TestTheFitEndsByItself(t *testing.T) {
	for _, each := range []int{2, 6, 12} {
		if r := fit(t, newWorld(t, 1, 12).session(each, 0, 3, 8, 12, 26)); !r.post.Settled {
			t.Errorf("%d balls each: the rounds ran out", each)
		}
	}
}
