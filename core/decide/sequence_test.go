package decide

import (
	"flag"
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/units"
)

var long = flag.Bool("long", false, "run the simulations ten times as long and print their tables")

// scale of a simulation.
func scale() int {
	if *long {
		return 10
	}
	return 1
}

// world is an invented player: what the prior believes of the effects in
// strokes for a degree of lean, a degree of upright and a millimetre of the
// centre of mass, and how the truth is drawn.
type world struct {
	name     string
	meanBy   float64 // true mean effects over the prior's
	spreadBy float64 // true scatter over the prior's
}

// The three worlds of the reference experiment: the prior right, too sure, and
// its sign wrong.
var worlds = []world{{"prior right", 1, 1}, {"effects 0.3 of the prior's, 1.5 of its scatter", 0.3, 1.5}, {"sign wrong", -0.5, 1}}

var (
	priorMean = []float64{-0.015, 0.008, 0.02}
	priorSD   = []float64{0.02, 0.01, 0.025}
)

const (
	worldTau = 0.02
	// One drive of a middling player scatters by 0.33 strokes, but the fit learns
	// from its launch, which says far more than where the ball ended: an eighth of
	// that scatter's variance is taken to be left.
	worldNoise = 0.12
	widen      = 2.0 // the prior's scatter is doubled, as the fit does
)

// truth draws a player's real cost of each setting against the reference.
func (w world) truth(rng *rand.Rand, x [][]float64) []float64 {
	beta := make([]float64, len(priorMean))
	for k := range beta {
		beta[k] = w.meanBy*priorMean[k] + w.spreadBy*priorSD[k]*rng.NormFloat64()
	}
	out := make([]float64, len(x))
	for s := range out {
		out[s] = worldTau * rng.NormFloat64()
		for k, v := range x[s] {
			out[s] += beta[k] * v
		}
	}
	for s := len(out) - 1; s >= 0; s-- {
		out[s] -= out[0]
	}
	return out
}

// player is one simulated session.
type player struct {
	d     *Decider
	b     *belief
	truth []float64
	x     [][]float64
	balls int
}

func newPlayer(d *Decider, x [][]float64, w world, rng *rand.Rand) *player {
	sd := make([]float64, len(priorSD))
	for k := range sd {
		sd[k] = widen * priorSD[k]
	}
	p := &player{d: d, b: newBelief(x, priorMean, sd, worldTau, worldNoise), truth: w.truth(rng, x), x: x}
	d.cfg.Shots = nil
	p.b.prior = make([]float64, len(x))
	for s := range x {
		p.b.prior[s] = 2 * worldTau * worldTau
		for k, v := range x[s] {
			p.b.prior[s] += v * v * sd[k] * sd[k]
		}
	}
	return p
}

func (p *player) hit(s, n int, rng *rand.Rand) {
	p.b.see(s, n, 4+p.truth[s]+worldNoise/math.Sqrt(float64(n))*rng.NormFloat64())
	p.balls += n
	for range n {
		p.d.cfg.Shots = append(p.d.cfg.Shots, Shot{Setting: s, Counted: true})
	}
}

func (p *player) regret(s int) float64 {
	best := math.Inf(1)
	for _, v := range p.truth {
		best = math.Min(best, v)
	}
	return p.truth[s] - best
}

func worldHead(t testing.TB) (*Decider, [][]float64) {
	sleeves, weights := 6, 3 // the quick run has a smaller head
	if *long {
		sleeves, weights = 16, 5
	}
	settings, changes := head80(sleeves, weights)
	d := (&belief{}).decider(t, settings, changes)
	x := make([][]float64, len(changes))
	for i, c := range changes {
		x[i] = []float64{(c.Lean - changes[0].Lean) / units.Degree, (c.Upright - changes[0].Upright) / units.Degree, (c.CGToe - changes[0].CGToe) / units.Millimetre}
	}
	return d, x
}

// TestNextBeatsChance: after three settings of three balls, visits of three
// balls by the rule, against a random setting of them all and against going
// round six settings in turn. The same players and the same chance for all.
func TestNextBeatsChance(t *testing.T) {
	d, x := worldHead(t)
	runs := 30 * scale()
	names := []string{"rule", "random", "round"}
	const visits = 9
	var regret [3][visits + 1][]float64
	for run := range runs {
		for k, name := range names {
			rng := seed.Seed(run).Stream("player")
			own := seed.Seed(run).Stream(name)
			p := newPlayer(d, x, worlds[0], rng)
			start := []int{0, 1 + rng.IntN(len(x)-1), 1 + rng.IntN(len(x)-1)}
			for _, s := range start {
				p.hit(s, visit, rng)
			}
			round := append(append([]int{}, start...), 1+own.IntN(len(x)-1), 1+own.IntN(len(x)-1), 1+own.IntN(len(x)-1))
			for v := range visits + 1 {
				p.b.fill(d, own, 120)
				regret[k][v] = append(regret[k][v], p.regret(d.leader(-1)))
				var s int
				switch name {
				case "rule":
					s = d.next(report.Choice{Setting: d.leader(-1), RunnerUp: -1})[0].Setting
				case "random":
					s = own.IntN(len(x))
				case "round":
					s = round[(v+3)%6]
				}
				p.hit(s, visit, rng)
			}
		}
	}
	area := func(k int) []float64 { // mean regret over the whole session, a player
		out := make([]float64, runs)
		for v := range regret[k] {
			for i, r := range regret[k][v] {
				out[i] += r / float64(len(regret[k]))
			}
		}
		return out
	}
	for k, name := range names {
		for _, v := range []int{0, 3, 6, 9} {
			t.Logf("%-6s after %2d balls: regret %.4f +- %.4f strokes", name, 9+3*v, mean(regret[k][v]), math.Sqrt(variance(regret[k][v])/float64(runs)))
		}
	}
	for k := 1; k < 3; k++ {
		a, b := area(0), area(k)
		for i := range a {
			a[i] = b[i] - a[i]
		}
		se := math.Sqrt(variance(a) / float64(runs))
		t.Logf("mean regret over the session: %s less rule %.4f +- %.4f", names[k], mean(a), se)
		if mean(a) < -2*se || *long && mean(a) < 0 {
			t.Errorf("%s does better than the rule by %.4f +- %.4f strokes", names[k], -mean(a), se)
		}
	}
}

// TestStopping: sessions of up to 60 balls that stop when told to. What is
// left to lose when stopping, as stated, is not less than what truly is lost,
// in all three worlds; and few who change are worse off than with today's.
func TestStopping(t *testing.T) {
	d, x := worldHead(t)
	runs := 40 * scale()
	for wi, w := range worlds {
		var stated, lost, balls, gain []float64
		changed, worse, stopped := 0, 0, 0
		for run := range runs {
			rng := seed.Seed(1000*wi + run).Stream("stop")
			p := newPlayer(d, x, w, rng)
			p.hit(0, 6, rng)
			for _, s := range []int{1 + rng.IntN(len(x)-1), 1 + rng.IntN(len(x)-1), 1 + rng.IntN(len(x)-1)} {
				p.hit(s, visit, rng)
			}
			for {
				p.b.fill(d, rng, 120)
				c := d.choose()
				next := d.next(c)
				stop := d.stop(c)
				if !stop.Stop && p.balls < 60 {
					p.hit(next[0].Setting, visit, rng)
					continue
				}
				if stop.Stop {
					stopped++
				}
				stated, lost, balls = append(stated, stop.Risk), append(lost, p.regret(c.Setting)), append(balls, float64(p.balls))
				gain = append(gain, -p.truth[c.Setting])
				if !c.Keep {
					changed++
					if p.truth[c.Setting] > 0 {
						worse++
					}
				}
				break
			}
		}
		se := math.Sqrt(variance(lost) / float64(runs))
		t.Logf("%s: stopped by the rule %d of %d, after %.0f balls on average; gained %.3f; stated risk %.4f, truly lost %.4f +- %.4f; %d changed, %d of them for the worse",
			w.name, stopped, runs, mean(balls), mean(gain), mean(stated), mean(lost), se, changed, worse)
		if mean(lost)-2*se > mean(stated) {
			t.Errorf("%s: stated risk %.4f, truly lost %.4f +- %.4f", w.name, mean(stated), mean(lost), se)
		}
		if changed > 10 && float64(worse)/float64(changed) > 0.3+2*math.Sqrt(0.3*0.7/float64(changed)) {
			t.Errorf("%s: %d of %d changes are for the worse", w.name, worse, changed)
		}
	}
}
