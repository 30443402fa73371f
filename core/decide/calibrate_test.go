package decide

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
)

// belief is a small exact model of strokes a drive: setting s costs
// x_s' beta + delta_s more than the reference (setting 0), beta and delta
// normal, a ball's strokes normal about it with standard deviation noise.
// It stands for the whole chain where only the decision is under test.
type belief struct {
	x     [][]float64
	n     int // coefficients: effects, then a deviation a setting, then the level
	prec  *mat.SymDense
	info  *mat.VecDense
	noise float64
	hit   []int
	prior []float64 // variance of each setting's difference before any ball, nil = not known
}

// newBelief has effects N(m, sd^2), deviations N(0, tau^2) and a wide level.
func newBelief(x [][]float64, m, sd []float64, tau, noise float64) *belief {
	p := len(m)
	b := &belief{x: x, n: p + len(x) + 1, noise: noise, hit: make([]int, len(x))}
	b.prec, b.info = mat.NewSymDense(b.n, nil), mat.NewVecDense(b.n, nil)
	for k := range m {
		b.prec.SetSym(k, k, 1/sd[k]/sd[k])
		b.info.SetVec(k, m[k]/sd[k]/sd[k])
	}
	for s := range x {
		b.prec.SetSym(p+s, p+s, 1/tau/tau)
	}
	b.prec.SetSym(b.n-1, b.n-1, 0.01)
	return b
}

func (b *belief) row(s int) []float64 {
	r := make([]float64, b.n)
	copy(r, b.x[s])
	r[len(b.x[s])+s], r[b.n-1] = 1, 1
	return r
}

// see adds the mean of n balls with setting s.
func (b *belief) see(s, n int, y float64) {
	r := b.row(s)
	w := float64(n) / b.noise / b.noise
	for i := range r {
		if r[i] == 0 {
			continue
		}
		b.info.SetVec(i, b.info.AtVec(i)+w*y*r[i])
		for j := i; j < len(r); j++ {
			b.prec.SetSym(i, j, b.prec.At(i, j)+w*r[i]*r[j])
		}
	}
	b.hit[s] += n
}

// fill puts draws of the belief into a Decider, as Add would. The deviation of
// a setting never hit is tied to nothing, so only the others are drawn together.
// Draws come in pairs with opposite chance, as those of the fit do.
func (b *belief) fill(d *Decider, rng *rand.Rand, draws int) *comparison {
	p := len(b.x[0])
	var tied []int
	for i := range b.n {
		if s := i - p; s < 0 || s >= len(b.x) || b.hit[s] > 0 {
			tied = append(tied, i)
		}
	}
	m := len(tied)
	prec, info := mat.NewSymDense(m, nil), mat.NewVecDense(m, nil)
	for i, at := range tied {
		info.SetVec(i, b.info.AtVec(at))
		for j := i; j < m; j++ {
			prec.SetSym(i, j, b.prec.At(at, tied[j]))
		}
	}
	var chol mat.Cholesky
	if !chol.Factorize(prec) {
		panic("belief: precision is not positive definite")
	}
	mean := mat.NewVecDense(m, nil)
	if err := chol.SolveVecTo(mean, info); err != nil {
		panic(err)
	}
	var lower mat.TriDense
	chol.LTo(&lower) // precision = L L', so theta = mean + L'^-1 z
	l := make([]float64, m*m)
	for i := range m {
		for j := range i + 1 {
			l[i*m+j] = lower.At(i, j)
		}
	}
	d.draws, d.perDraw = draws, 1
	for i := range d.rows {
		d.rows[i] = row{done: true, cost: make([]float64, draws), level: make([]float64, draws)}
		d.rows[i].out = report.Setting{Setting: d.list[i], Change: d.changes[i], Balls: b.hit[i], Tested: b.hit[i] > 0, Feasible: true}
		d.counts[i] = Count{Balls: b.hit[i]}
	}
	full := make([]float64, b.n)
	for i, at := range tied {
		full[at] = mean.AtVec(i)
	}
	middle := make([]float64, len(d.rows))
	for i := range middle {
		middle[i] = full[p+i] + full[b.n-1]
		for j, x := range b.x[i] {
			middle[i] += x * full[j]
		}
	}
	z, theta := make([]float64, m), make([]float64, b.n)
	for k := range draws {
		if k%2 == 1 {
			for i := range d.rows {
				d.rows[i].level[k] = 2*middle[i] - d.rows[i].level[k-1]
			}
			continue
		}
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		for i := m - 1; i >= 0; i-- {
			for j := i + 1; j < m; j++ {
				z[i] -= l[j*m+i] * z[j]
			}
			z[i] /= l[i*m+i]
		}
		for s := range b.x {
			if b.hit[s] == 0 {
				theta[p+s] = rng.NormFloat64() / math.Sqrt(b.prec.At(p+s, p+s))
			}
		}
		for i, at := range tied {
			theta[at] = mean.AtVec(i) + z[i]
		}
		for i := range d.rows {
			v := theta[p+i] + theta[b.n-1]
			for j, x := range b.x[i] {
				v += x * theta[j]
			}
			d.rows[i].level[k] = v
		}
	}
	for i := range d.rows {
		for k := range draws {
			d.rows[i].cost[k] = d.rows[i].level[k] - d.rows[0].level[k]
		}
	}
	// the noise of one ball, which gains reads off the reference's balls
	d.perDraw = 2
	d.ref.cost = make([]float64, 2*draws)
	for k := range draws {
		d.ref.cost[2*k], d.ref.cost[2*k+1] = b.noise/math.Sqrt2, -b.noise/math.Sqrt2
	}
	if b.prior != nil {
		d.cfg.Measured = make([]float64, len(d.rows))
		for i := range d.rows {
			d.cfg.Measured[i] = 1 - variance(d.rows[i].cost)/math.Max(b.prior[i], 1e-12)
		}
	}
	return d.compare()
}

func (b *belief) decider(t testing.TB, settings []club.Setting, changes []club.Change) *Decider {
	d, err := New(config(t, settings, changes, shot.Aim{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	return d
}

// TestFalseClear: eight settings that do nothing, three balls each, and how
// often one is called clearly better: at most one time in twenty, whether the
// prior knows that settings do little or hardly anything, and whether the share
// that comes from shots is known or not. The third row has a prior as wide as
// the noise of three balls, the fourth is wider than any.
func TestFalseClear(t *testing.T) {
	settings, changes := head80(8, 1)
	x := make([][]float64, 8)
	for i := range x {
		x[i] = []float64{}
	}
	runs := 300 * scale()
	for _, c := range []struct {
		tau   float64
		balls int
		share bool
	}{{0.05, 3, true}, {0.1, 3, true}, {0.2, 3, true}, {1, 3, true}, {0.1, 30, true}, {0.2, 3, false}, {1, 3, false}} {
		rng := seed.Seed(11).Stream("null")
		d := (&belief{}).decider(t, settings, changes)
		clear, likely := 0, 0
		if c.share {
			d.cfg.Measured = make([]float64, 8)
			for i := range d.cfg.Measured {
				d.cfg.Measured[i] = c.tau * c.tau / (c.tau*c.tau + 0.33*0.33/float64(c.balls))
			}
		}
		for range runs {
			b := newBelief(x, nil, nil, c.tau, 0.33)
			for s := range x {
				b.see(s, c.balls, 4+0.33/math.Sqrt(float64(c.balls))*rng.NormFloat64())
			}
			known := b.fill(d, rng, 150)
			d.counts[0].Balls = max(leastReference, c.balls) // or no verdict would be given at all
			if ch := known.choose(&d.session); !ch.Keep && ch.Verdict == report.Clear {
				clear++
			} else if !ch.Keep && ch.Verdict == report.Likely {
				likely++
			}
		}
		t.Logf("prior sd %.2f strokes, %d balls: clear %.3f, likely %.3f of %d null sessions", c.tau, c.balls, float64(clear)/float64(runs), float64(likely)/float64(runs), runs)
		if float64(clear+likely)/float64(runs) > 0.16 {
			t.Errorf("prior sd %.2f, %d balls: a false likely or clear in %.3f", c.tau, c.balls, float64(clear+likely)/float64(runs))
		}
		if float64(clear)/float64(runs) > 0.05+2*math.Sqrt(0.05*0.95/float64(runs)) {
			t.Errorf("prior sd %.2f, %d balls: a false clear in %.3f of null sessions", c.tau, c.balls, float64(clear)/float64(runs))
		}
	}
}
