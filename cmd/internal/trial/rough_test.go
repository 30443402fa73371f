package trial

import (
	"math"
	"testing"

	"ferrule/cmd/internal/invent"
	"ferrule/cmd/internal/rough"
)

// The bench itself: whoever knows the truth loses nothing, keeping loses what
// today's setting lacks, an engine that knows all is covered and right, one
// that shouts is caught.
func TestTheRoughBenchJudges(t *testing.T) {
	cfg := RoughConfig{Seed: 4995000, Golfers: 4, Balls: []int{3}, Fixed: rough.Drawn(), Swings: 128}
	swings := invent.Swings(128)
	engine := func(off float64, verdict string) Ask {
		return func(g *rough.Golfer, _ []rough.Seen) (Said, error) {
			truth := g.Truth(swings)
			best := least(truth.Strokes[:], nil)
			if off > 0 {
				best = 79
			}
			s := Said{Choice: best, Top: best, Verdict: verdict, Sure: 1, Rival: -1, Of: map[string][80]Interval{}}
			for _, q := range Quantities {
				of, _ := truths(truth, q)
				var all [80]Interval
				for i := range all {
					m := of(i) + off
					all[i] = Interval{m, m - .1, m + .1, m - .2, m + .2, m - .3, m + .3}
				}
				s.Of[q] = all
			}
			s.Gain = truth.Strokes[0] - truth.Strokes[best] + off
			return s, nil
		}
	}
	run := func(ask Ask) (out []Record) {
		Rough(cfg, ask, func(r Record) { out = append(out, r) })
		return out
	}
	for _, r := range run(engine(0, "clear")) {
		truth := rough.New(r.Seed, rough.Drawn()).Truth(swings).Strokes
		if keep := truth[0] - truth[least(truth[:], nil)]; math.Abs(r.Regret["keep"]-keep) > 1e-12 {
			t.Errorf("seed %d: keeping loses %g, want %g", r.Seed, r.Regret["keep"], keep)
		}
		if r.Regret["engine"] != 0 || r.Regret["oracle"] != 0 || math.Abs(r.Promise["engine"]) > 1e-12 || r.Moved && r.True != 1 {
			t.Errorf("seed %d: who knows the truth loses %g, promises %g too much, true %g", r.Seed, r.Regret["engine"], r.Promise["engine"], r.True)
		}
		for _, m := range Rivals {
			if r.Regret[m] < 0 {
				t.Errorf("seed %d: %s loses %g", r.Seed, m, r.Regret[m])
			}
		}
	}
	known, shouted := summed(run(engine(0, "clear"))), summed(run(engine(.25, "clear")))
	for _, q := range Quantities {
		if known.Cover[q] != [2][3]float64{{1, 1, 1}, {1, 1, 1}} {
			t.Errorf("%s: intervals about the truth hold it %v", q, known.Cover[q])
		}
		if shouted.Cover[q] != [2][3]float64{{0, 0, 1}, {0, 0, 1}} {
			t.Errorf("%s: intervals off by .25 hold the truth %v", q, shouted.Cover[q])
		}
	}
	if shouted.Promise.Mean < .249 || known.Words["clear"].True.Mean != 1 {
		t.Errorf("promises %+v, words %+v", shouted.Promise, known.Words)
	}
}

// In its own world the reference's intervals hold what they say: effects about
// physics, deviations of .3 and slow levels of .2 of the scatter.
func TestTheReferenceIsCoveredInItsOwnWorld(t *testing.T) {
	r := invent.NewRand(4995100, 1)
	var in [2]Hits
	const worlds = 150
	for range worlds {
		v := evidence{feature: features, expect: [3]float64{2, -3, 1.5}}
		b := beliefs[0]
		if u := r.Uniform(); u > .8 {
			b = beliefs[2]
		} else if u > .4 {
			b = beliefs[1]
		}
		var effects [3]float64
		for k, e := range v.expect {
			effects[k] = b.middle*e + (b.share*math.Abs(e)+b.floor)*r.Normal()
		}
		const sigma = 12.
		own := ownScales[r.Int(len(ownScales))] * sigma
		slow := slowScales[r.Int(len(slowScales))] * sigma
		truth := make([]float64, 80)
		for i, f := range features {
			truth[i] = f[0]*effects[0] + f[1]*effects[1] + f[2]*effects[2] + own*r.Normal()
		}
		level := 0.
		hit := map[int]bool{}
		for i := range 30 {
			if i%stretch == 0 {
				level = slow * r.Normal()
			}
			s := []int{0, 7, 23, 41, 60, 79}[i%6]
			hit[s] = true
			v.setting = append(v.setting, s)
			v.y = append(v.y, 200+truth[s]+level+sigma*r.Normal()/math.Sqrt(gamma(r, 2.5)/2.5))
		}
		d := gibbs(v, r)
		for i := 1; i < 80; i += 1 + i%3 {
			k := 1
			if hit[i] {
				k = 0
			}
			in[k].add(interval(&d, i), truth[i]-truth[0])
		}
	}
	for k, h := range in {
		n := float64(h.N)
		t.Logf("hit %v: %.3f %.3f %.3f of %d, rms %.2f sd", k == 0, float64(h.In[0])/n, float64(h.In[1])/n, float64(h.In[2])/n, h.N, math.Sqrt(h.Z2/n))
		for j, want := range []float64{.5, .8, .95} {
			if got := float64(h.In[j]) / n; math.Abs(got-want) > .07 {
				t.Errorf("hit %v: %.0f %% intervals hold %.3f", k == 0, 100*want, got)
			}
		}
	}
}

// Draws of a normal with a known precision and of a gamma have their moments.
func TestDraws(t *testing.T) {
	r := invent.NewRand(5, 5)
	const n = 20000
	var m, s [2]float64
	var cross, g, g2 float64
	for range n {
		a, out := [][]float64{{2, 0}, {.6, 1}}, make([]float64, 2)
		normal(a, []float64{1, 2}, out, r)
		for k, v := range out {
			m[k] += v / n
			s[k] += v * v / n
		}
		cross += out[0] * out[1] / n
		x := gamma(r, 3)
		g += x / n
		g2 += x * x / n
	}
	// Inverse of {{2, .6}, {.6, 1}} is {{1, -.6}, {-.6, 2}} / 1.64.
	for name, c := range map[string][2]float64{"mean 0": {m[0], -.2 / 1.64}, "mean 1": {m[1], 3.4 / 1.64}, "variance 0": {s[0] - m[0]*m[0], 1 / 1.64},
		"variance 1": {s[1] - m[1]*m[1], 2 / 1.64}, "covariance": {cross - m[0]*m[1], -.6 / 1.64}, "gamma's mean": {g, 3}, "gamma's variance": {g2 - g*g, 3}} {
		if math.Abs(c[0]-c[1]) > .1 {
			t.Errorf("%s %.3f, want %.3f", name, c[0], c[1])
		}
	}
}

// A golfer in a wind is compared with himself in still air, and with nobody else.
func TestWindsArePaired(t *testing.T) {
	golfer := func(seed uint64, balls int, wind string, lost float64) Record {
		return Record{Seed: seed, Balls: balls, Traits: rough.Traits{Wind: wind}, Regret: map[string]float64{"engine": lost}}
	}
	cells := Cells([]Record{golfer(1, 3, "wrong", .05), golfer(1, 3, "none", .03), golfer(1, 5, "none", .9), golfer(2, 3, "wrong", .4)},
		func(r Record) string { return r.Wind })
	if got := cells[1].Less[stillAir].Mean; math.Abs(got-.02) > 1e-12 || cells[0].Less[stillAir].Mean != 0 {
		t.Errorf("less than in still air %g, want .02; of still air itself %g", got, cells[0].Less[stillAir].Mean)
	}
}
