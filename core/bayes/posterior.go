package bayes

import (
	"math"
	"math/rand/v2"

	"ferrule/core/linear"
)

// Posterior is what is believed after the rows.
type Posterior struct {
	Coef      []float64   // [response unit per feature unit] posterior mean, (Effects+Rest)*Dim
	Cov       []float64   // [those squared] square matrix of that order
	Group     []float64   // [response unit] mean deviation of each group, Groups*Dim
	GroupCov  []float64   // [response unit squared] Groups*Dim*Dim
	Weights   []float64   // [1] of each row
	Sigma     []float64   // [response unit squared] posterior mean of Sigma
	Scatter   []float64   // [response unit squared] scale of the inverse Wishart of Sigma
	Df        float64     // [1] its degrees of freedom
	Tau       []float64   // [response unit] standard deviation of group deviations
	Chosen    []float64   // [1] posterior probability of each alternative
	Evidence  []float64   // [1] log evidence of each alternative without its prior probability, up to one constant
	AltMean   [][]float64 // [as Coef] effects under each alternative
	AltCov    [][]float64 // [as Cov]
	Info      []float64   // [1/Cov] information of the rows on the effects, (Effects*Dim)^2
	InfoVec   []float64   // Info times the effects that the rows alone would give
	f         *fit
	sigmaChol chol // factor of Scatter
	work      work // of Whole
}

// work is memory that one ball after another is worked out in.
type work struct {
	mu, z []float64 // Dim
	r     []float64 // as many as the widest view has rows, m
	hl    []float64 // m*Dim
	s     []float64 // m*m
}

func (f *fit) posterior() (*Posterior, error) {
	k := f.k
	p := &Posterior{
		Coef: f.coef, Cov: f.cov, Group: f.delta, GroupCov: f.deltaCov, Weights: f.weight,
		Scatter: f.scatter, Df: f.m.ScaleDf + float64(len(f.rows)), Info: f.j, InfoVec: f.jv, f: f,
	}
	p.Sigma = make([]float64, k*k)
	div := p.Df
	if !f.m.Mode {
		div = math.Max(p.Df-float64(k)-1, 1)
	}
	for i, s := range f.scatter {
		p.Sigma[i] = s / div
	}
	p.Tau = make([]float64, k)
	for i, v := range f.tau2 {
		p.Tau[i] = math.Sqrt(v)
	}
	for i := range f.alts {
		a := &f.alts[i]
		p.Chosen = append(p.Chosen, a.weight)
		p.Evidence = append(p.Evidence, a.logZ-a.prior)
		p.AltMean = append(p.AltMean, a.mean)
		p.AltCov = append(p.AltCov, a.post.inverse())
	}
	m := f.widest()
	p.work = work{mu: make([]float64, k), z: make([]float64, k), r: make([]float64, m), hl: make([]float64, m*k), s: make([]float64, m*m)}
	var err error
	if p.sigmaChol, err = factorCopy(k, f.scatter); err != nil {
		return nil, err
	}
	return p, nil
}

// Draw is one sample of the posterior.
type Draw struct {
	Coef  []float64 // [response unit per feature unit] (Effects+Rest)*Dim
	Group []float64 // [response unit] Groups*Dim
	Sigma []float64 // [response unit] lower Cholesky factor of Sigma, Dim*Dim
	Alt   int       // alternative it came from
}

// Draws returns n samples. Alternatives appear in proportion to their
// probability (systematic sampling), and samples come in antithetic pairs
// (+z, -z) within an alternative, so that few samples give a precise mean.
// Sigma is an inverse Wishart draw; the coefficients are widened by the same
// draw's size, which gives them the t tails that the plug-in Sigma lacks.
func (p *Posterior) Draws(n int, rng *rand.Rand) []Draw {
	f := p.f
	k := f.k
	out := make([]Draw, n)
	z := make([]float64, f.n+f.m.Groups*k)
	offset := rng.Float64()
	for d := range out {
		dr := &out[d]
		pair := d / 2
		if d%2 == 0 {
			for i := range z {
				z[i] = rng.NormFloat64()
			}
			dr.Sigma = p.drawSigma(rng)
		} else {
			for i := range z {
				z[i] = -z[i]
			}
			dr.Sigma = out[d-1].Sigma
		}
		pairs := (n + 1) / 2
		dr.Alt = p.pick((float64(scatterIndex(pair, pairs)) + offset) / float64(pairs))
		p.fill(dr, z, p.size(dr.Sigma))
	}
	return out
}

// scatterIndex permutes 0..n-1 so that neighbouring draws do not share an
// alternative (a caller may use only the first of the draws).
func scatterIndex(i, n int) int {
	step := int(float64(n)*0.6180339887498949) | 1
	for gcd(step, n) != 1 {
		step += 2
	}
	return i * step % n
}

func gcd(a, b int) int {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// pick returns the alternative at quantile u of their probabilities.
func (p *Posterior) pick(u float64) int {
	for i, w := range p.Chosen {
		if u -= w; u < 0 {
			return i
		}
	}
	return len(p.Chosen) - 1
}

// size is how much larger a draw of Sigma is than its plug-in, as a ratio of
// standard deviations (geometric mean over the directions).
func (p *Posterior) size(l []float64) float64 {
	k := p.f.k
	s := 0.0
	for i := range k {
		s += math.Log(l[i*k+i]) - math.Log(p.sigmaChol.l[i*k+i]/math.Sqrt(p.Df))
	}
	return math.Exp(s / float64(k))
}

// drawSigma draws from IW(Df, Scatter) and returns the lower Cholesky factor:
// Sigma = L T^-T T^-1 L' with T lower triangular, T_ii^2 ~ chi2(Df-i)
// (Bartlett's decomposition [Bartlett1933]).
func (p *Posterior) drawSigma(rng *rand.Rand) []float64 {
	k := p.f.k
	t := make([]float64, k*k)
	for i := range k {
		t[i*k+i] = math.Sqrt(chi2(p.Df-float64(i), rng))
		for j := range i {
			t[i*k+j] = rng.NormFloat64()
		}
	}
	// T T' ~ Wishart(I); Sigma = L (T T')^-1 L'.
	inv := chol{k, t}.inverse()
	li := make([]float64, k*k)
	mul(p.sigmaChol.l, k, k, inv, k, li)
	s := make([]float64, k*k)
	mulT(li, k, k, p.sigmaChol.l, k, s)
	c, err := factor(k, s)
	if err != nil { // rounding of a nearly singular draw
		c, _ = factorCopy(k, p.Sigma)
	}
	return c.l
}

func (p *Posterior) fill(d *Draw, z []float64, size float64) {
	f := p.f
	e, k := f.e, f.k
	d.Coef = make([]float64, f.n)
	d.Group = make([]float64, f.m.Groups*k)
	if e > 0 {
		a := &f.alts[d.Alt]
		t := append([]float64(nil), z[:e]...)
		a.post.backward(t)
		for i := range t {
			d.Coef[i] = a.mean[i] + size*t[i]
		}
	}
	if f.q > 0 {
		f.restGiven(d.Coef[:e], d.Coef[e:])
		t := append([]float64(nil), z[e:f.n]...)
		f.rest.backward(t)
		for i := range t {
			d.Coef[e+i] += size * t[i]
		}
	}
	t := make([]float64, k)
	for s := range f.group {
		g := d.Group[s*k : (s+1)*k]
		f.groupGiven(s, d.Coef, g)
		copy(t, z[f.n+s*k:])
		f.group[s].f.backward(t)
		for i := range g {
			g[i] += size * t[i]
		}
	}
}

// chi2 draws from a chi-square distribution by the method of Marsaglia and
// Tsang for the gamma [Marsaglia2000].
func chi2(df float64, rng *rand.Rand) float64 {
	shape, boost := df/2, 1.0
	if shape < 1 {
		boost = math.Pow(rng.Float64(), 1/shape)
		shape++
	}
	d := shape - 1.0/3
	c := 1 / math.Sqrt(9*d)
	for {
		x := rng.NormFloat64()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		u := rng.Float64()
		if math.Log(u) < 0.5*x*x+d-d*v+d*math.Log(v) {
			return 2 * d * v * boost
		}
	}
}

// Whole sets eps, of Dim numbers, to the whole residual of row i under draw d,
// in response units: what its view shows of it exactly where the view is exact,
// and a draw of what it hides given what it shows (conditioning by Matheron's
// rule; the noise of a view is taken as diagonal here). One call at a time: it
// works in memory of the posterior's.
func (p *Posterior) Whole(i int, d *Draw, rng *rand.Rand, eps []float64) {
	f, row := p.f, &p.f.rows[i]
	if f.plain[row.View] {
		f.residual(i, d, p.work.mu, eps)
		return
	}
	view, k := &f.m.Views[row.View], f.k
	m := view.Rows
	z, r, hl, s := p.work.z, p.work.r[:m], p.work.hl[:m*k], p.work.s[:m*m]
	f.residual(i, d, p.work.mu, r)
	spread := 1 / math.Sqrt(math.Max(p.Weights[i], .05))
	for c := range z {
		z[c] = rng.NormFloat64() * spread
	}
	mul(view.H, m, k, d.Sigma, k, hl)
	mulT(hl, m, k, hl, m, s)
	for a := range m {
		noise := 0.0
		if view.R != nil {
			s[a*m+a] += view.R[a*m+a]
			noise = math.Sqrt(view.R[a*m+a]) * rng.NormFloat64() * spread
		}
		r[a] -= noise + linear.Dot(hl[a*k:(a+1)*k], z)
	}
	c, err := factor(m, s)
	if err != nil {
		clear(r)
	} else {
		c.solve(r)
	}
	for a := range m { // z += (H L)' (HSH'+R)^-1 (r - ...), then eps = L z
		for b := range z {
			z[b] += hl[a*k+b] * r[a]
		}
	}
	for a := range eps {
		eps[a] = linear.Dot(d.Sigma[a*k:a*k+a+1], z[:a+1])
	}
}
