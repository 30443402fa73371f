package bayes

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// gibbs samples the model of Fit with one alternative by conjugate blocks, on
// dense matrices and without anything of Fit's: an oracle. Missing responses
// are imputed. It returns draws of (coefficients, deviations) and of Sigma.
func gibbs(m *Model, rows []Row, sweeps int, rng *rand.Rand) (theta, sigma [][]float64) {
	k, p := m.Dim, m.features()
	n := (p + m.Groups) * k
	prior := mat.NewSymDense(n, nil)
	target := make([]float64, n) // prior precision times prior mean
	if m.Effects > 0 {
		e := m.Effects * k
		var inv mat.Dense
		if err := inv.Inverse(mat.NewDense(e, e, append([]float64(nil), m.Alternatives[0].Cov...))); err != nil {
			panic(err)
		}
		for i := range e {
			for j := range e {
				if j >= i {
					prior.SetSym(i, j, (inv.At(i, j)+inv.At(j, i))/2)
				}
				target[i] += inv.At(i, j) * m.Alternatives[0].Mean[j]
			}
		}
	}
	for i := range m.Rest * k {
		at := m.Effects*k + i
		v := m.RestSD[i] * m.RestSD[i]
		prior.SetSym(at, at, 1/v)
		target[at] = m.RestMean[i] / v
	}
	for s := range m.Groups {
		for i := range k {
			at := (p+s)*k + i
			prior.SetSym(at, at, 1/(m.Tau[i]*m.Tau[i]))
		}
	}
	full := make([][]float64, len(rows)) // design over p+Groups
	y := make([][]float64, len(rows))
	w := make([]float64, len(rows))
	for i, r := range rows {
		full[i] = make([]float64, p+m.Groups)
		copy(full[i], r.X)
		if r.Group >= 0 {
			full[i][p+r.Group] = 1
		}
		y[i], w[i] = make([]float64, k), 1
	}
	s := mat.NewSymDense(k, nil)
	for i := range k {
		s.SetSym(i, i, m.Scale[i*k+i]/(m.ScaleDf-float64(k)-1))
	}
	t := make([]float64, n)
	mean := func(i int) []float64 {
		mu := make([]float64, k)
		for a, x := range full[i] {
			for c := range mu {
				mu[c] += x * t[a*k+c]
			}
		}
		return mu
	}
	for sweep := range sweeps + sweeps/5 {
		var q mat.Dense
		q.Inverse(s)
		for i, r := range rows {
			impute(y[i], mean(i), r, m.Views[r.View], s, w[i], rng)
		}
		// coefficients and deviations in one block
		a := mat.NewSymDense(n, nil)
		a.CopySym(prior)
		b := append([]float64(nil), target...)
		for i := range rows {
			var qy [8]float64
			for c := range k {
				for d := range k {
					qy[c] += q.At(c, d) * y[i][d]
				}
			}
			for u, xu := range full[i] {
				if xu == 0 {
					continue
				}
				for c := range k {
					b[u*k+c] += w[i] * xu * qy[c]
				}
				for v, xv := range full[i] {
					if xv == 0 {
						continue
					}
					for c := range k {
						for d := range k {
							if u*k+c <= v*k+d {
								a.SetSym(u*k+c, v*k+d, a.At(u*k+c, v*k+d)+w[i]*xu*xv*q.At(c, d))
							}
						}
					}
				}
			}
		}
		var ch mat.Cholesky
		if !ch.Factorize(a) {
			panic("gibbs: not positive definite")
		}
		var mu, z mat.VecDense
		ch.SolveVecTo(&mu, mat.NewVecDense(n, b))
		noise := make([]float64, n)
		for i := range noise {
			noise[i] = rng.NormFloat64()
		}
		var u mat.TriDense
		ch.UTo(&u)
		z.SolveVec(&u, mat.NewVecDense(n, noise))
		for i := range t {
			t[i] = mu.AtVec(i) + z.AtVec(i)
		}
		// Sigma, by a Wishart made of plain normal vectors
		sc := mat.NewSymDense(k, append([]float64(nil), m.Scale...))
		for i := range rows {
			e := mean(i)
			for c := range k {
				e[c] = y[i][c] - e[c]
			}
			sc.SymRankOne(sc, w[i], mat.NewVecDense(k, e))
		}
		s = inverseWishart(sc, int(m.ScaleDf)+len(rows), rng)
		// weights
		q.Inverse(s)
		for i, r := range rows {
			e := mean(i)
			for c := range k {
				e[c] = y[i][c] - e[c]
			}
			v := mat.NewVecDense(k, e)
			d := mat.Inner(v, &q, v)
			g := 0.0
			for range int(m.Nu) + k {
				x := rng.NormFloat64()
				g += x * x
			}
			w[i] = r.bound(g / (m.Nu + d))
		}
		if sweep >= sweeps/5 {
			theta = append(theta, append([]float64(nil), t...))
			flat := make([]float64, k*k)
			for i := range k {
				for j := range k {
					flat[i*k+j] = s.At(i, j)
				}
			}
			sigma = append(sigma, flat)
		}
	}
	return theta, sigma
}

// impute fills the responses that a view of plain rows hides.
func impute(y, mu []float64, r Row, v View, s *mat.SymDense, w float64, rng *rand.Rand) {
	k := len(y)
	seen := make([]int, 0, k)
	for d := range v.Rows {
		for c := range k {
			if v.H[d*k+c] == 1 {
				seen = append(seen, c)
				y[c] = r.Z[d]
			}
		}
	}
	var hidden []int
	for c := range k {
		found := false
		for _, o := range seen {
			found = found || o == c
		}
		if !found {
			hidden = append(hidden, c)
		}
	}
	if len(hidden) == 0 {
		return
	}
	h, o := len(hidden), len(seen)
	soo, sho := mat.NewDense(o, o, nil), mat.NewDense(h, o, nil)
	e := mat.NewVecDense(o, nil)
	for a, i := range seen {
		e.SetVec(a, y[i]-mu[i])
		for b, j := range seen {
			soo.Set(a, b, s.At(i, j))
		}
		for b, j := range hidden {
			sho.Set(b, a, s.At(j, i))
		}
	}
	var inv, g mat.Dense
	inv.Inverse(soo)
	g.Mul(sho, &inv)
	var m mat.VecDense
	m.MulVec(&g, e)
	var c mat.Dense
	c.Mul(&g, sho.T())
	cov := mat.NewSymDense(h, nil)
	for a, i := range hidden {
		for b := a; b < h; b++ {
			cov.SetSym(a, b, (s.At(i, hidden[b])-c.At(a, b))/w)
		}
	}
	var ch mat.Cholesky
	ch.Factorize(cov)
	var l mat.TriDense
	ch.LTo(&l)
	z := make([]float64, h)
	for a := range z {
		z[a] = rng.NormFloat64()
	}
	for a, i := range hidden {
		y[i] = mu[i] + m.AtVec(a)
		for b := range a + 1 {
			y[i] += l.At(a, b) * z[b]
		}
	}
}

func inverseWishart(scale *mat.SymDense, df int, rng *rand.Rand) *mat.SymDense {
	k := scale.SymmetricDim()
	var inv mat.Dense
	inv.Inverse(scale)
	is := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			is.SetSym(i, j, (inv.At(i, j)+inv.At(j, i))/2)
		}
	}
	var ch mat.Cholesky
	ch.Factorize(is)
	var l mat.TriDense
	ch.LTo(&l)
	w := mat.NewSymDense(k, nil)
	for range df {
		z, lz := mat.NewVecDense(k, nil), mat.VecDense{}
		for i := range k {
			z.SetVec(i, rng.NormFloat64())
		}
		lz.MulVec(&l, z)
		w.SymRankOne(w, 1, &lz)
	}
	var out mat.Dense
	out.Inverse(w)
	s := mat.NewSymDense(k, nil)
	for i := range k {
		for j := i; j < k; j++ {
			s.SetSym(i, j, (out.At(i, j)+out.At(j, i))/2)
		}
	}
	return s
}

// invent makes rows of a known model: 3 responses, 2 effects, intercept and
// time, groups of unlike size, a fifth of the rows with a response missing, and
// two gross outliers.
func invent(rng *rand.Rand, perGroup []int) (*Model, []Row) {
	const k = 3
	g := len(perGroup)
	m := &Model{Dim: k, Effects: 2, Rest: 2, Groups: g, Tau: []float64{.3, .3, .3}, Nu: 4, ScaleDf: 7, Scale: make([]float64, k*k),
		RestMean: make([]float64, 2*k), RestSD: make([]float64, 2*k),
		Views: []View{Whole(k), {Rows: 2, H: []float64{1, 0, 0, 0, 0, 1}}}}
	mean, cov := make([]float64, 2*k), make([]float64, 4*k*k)
	for i := range 2 * k {
		mean[i] = .4
		cov[i*2*k+i] = .25
		if i > 0 {
			cov[i*2*k+i-1], cov[(i-1)*2*k+i] = .08, .08
		}
	}
	m.Alternatives = []Alternative{{Name: "one", Weight: 1, Mean: mean, Cov: cov}}
	for i := range k {
		m.Scale[i*k+i] = 3
		m.RestSD[i], m.RestSD[k+i] = 10, .5
	}
	var rows []Row
	for s, n := range perGroup {
		x := []float64{float64(s%3) - 1, float64(s%2) - .5}
		for b := range n {
			r := Row{X: []float64{x[0], x[1], 1, rng.Float64() - .5}, Group: s}
			y := make([]float64, k)
			common := rng.NormFloat64()
			for i := range y {
				y[i] = 2 + .5*x[0] - .2*x[1] + .6*common + .8*rng.NormFloat64()
				if s == 1 && b == 0 {
					y[i] -= 6
				}
			}
			r.Z = y
			if (s+b)%5 == 4 {
				r.View, r.Z = 1, []float64{y[0], y[2]}
			}
			rows = append(rows, r)
		}
	}
	return m, rows
}

// The sampler must agree with an oracle on dense matrices: means within a
// tenth and standard deviations within an eighth of it, which is what the two
// runs' own noise leaves.
func TestSampleAgreesWithGibbs(t *testing.T) {
	for name, counts := range map[string][]int{"few": {3, 4, 2, 5}, "more": {9, 12, 6, 10}} {
		rng := rand.New(rand.NewPCG(7, uint64(len(name))))
		m, rows := invent(rng, counts)
		p, draws, err := Sample(m, rows, 6000, rng)
		if err != nil {
			t.Fatal(err)
		}
		theta, sigma := gibbs(m, rows, 6000, rng)
		for i := range theta[0] {
			gm, gs := moments(theta, i)
			fit := make([][]float64, len(draws))
			for d := range draws {
				fit[d] = append(append([]float64(nil), draws[d].Coef...), draws[d].Group...)
			}
			fm, fs := moments(fit, i)
			if math.Abs(fm-gm) > .1*gs || fs/gs > 1.125 || fs/gs < .875 {
				t.Errorf("%s: unknown %d: Sample %.3f +- %.3f, sampler %.3f +- %.3f", name, i, fm, fs, gm, gs)
			}
		}
		for i := range m.Dim * m.Dim {
			gm, gs := moments(sigma, i)
			if math.Abs(p.Sigma[i]-gm) > .1*gs {
				t.Errorf("%s: Sigma[%d]: Sample %.3f, sampler %.3f +- %.3f", name, i, p.Sigma[i], gm, gs)
			}
		}
	}
}

func moments(draws [][]float64, i int) (mean, sd float64) {
	n := float64(len(draws))
	for _, d := range draws {
		mean += d[i] / n
	}
	for _, d := range draws {
		sd += (d[i] - mean) * (d[i] - mean) / (n - 1)
	}
	return mean, math.Sqrt(sd)
}
