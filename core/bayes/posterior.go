package bayes

import (
	"math"
	"math/rand/v2"

	"ferrule/core/linear"
)

// Posterior is what is believed after the rows.
type Posterior struct {
	Coef     []float64   // [response unit per feature unit] posterior mean, (Effects+Rest)*Dim
	Cov      []float64   // [those squared] square matrix of that order
	Group    []float64   // [response unit] mean deviation of each group, Groups*Dim
	GroupCov []float64   // [response unit squared] Groups*Dim*Dim
	Weights  []float64   // [1] of each row
	Sigma    []float64   // [response unit squared] posterior mean of Sigma
	Scatter  []float64   // [response unit squared] scale of the inverse Wishart of Sigma
	Df       float64     // [1] its degrees of freedom
	Tau      []float64   // [response unit] standard deviation of group deviations
	Level    float64     // [1] spread of levels in units of Sigma's, 0 of Fit
	Sizes    []float64   // [1] root of the mean square of each change's factor, nil of Fit
	Keep     float64     // [1] mean of what of a level is left at the next row
	Chosen   []float64   // [1] posterior probability of each alternative
	Evidence []float64   // [1] log evidence of each alternative without its prior probability, up to one constant
	AltMean  [][]float64 // [as Coef] effects under each alternative
	AltCov   [][]float64 // [as Cov]
	Settled  bool        // no coefficient moved any more when the rounds ended; of Sample, where it set out
	Info     []float64   // [1/Cov] information of the rows on the effects, (Effects*Dim)^2
	InfoVec  []float64   // Info times the effects that the rows alone would give
	f        *fit
	work     work // of Whole
}

// work is memory that one ball after another is worked out in.
type work struct {
	mu, z []float64 // Dim
	r     []float64 // as many as the widest view has rows, m
	seen  []viewed  // by view
}

// viewed is what a view makes of a draw: most rows of a session share both.
type viewed struct {
	of *float64  // the draw's Sigma
	hl []float64 // rows*Dim, H L
	m  []float64 // rows*rows, memory of s
	s  chol      // of HSH'+R
	ok bool
}

func (f *fit) posterior() (*Posterior, error) {
	k := f.k
	p := &Posterior{
		Coef: f.coef, Cov: f.cov, Group: f.delta, GroupCov: f.deltaCov, Weights: f.weight,
		Scatter: f.scatter, Df: f.m.ScaleDf + float64(len(f.rows)), Info: f.j, InfoVec: f.jv, Settled: f.settled, f: f,
	}
	p.Sigma = make([]float64, k*k)
	div := math.Max(p.Df-float64(k)-1, 1)
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
		p.AltMean = append(p.AltMean, append([]float64(nil), a.mean...))
		p.AltCov = append(p.AltCov, a.post.inverse())
	}
	m := f.widest()
	p.work = work{mu: make([]float64, k), z: make([]float64, k), r: make([]float64, m), seen: make([]viewed, len(f.m.Views))}
	return p, nil
}

// Draw is one sample of the posterior.
type Draw struct {
	Coef  []float64 // [response unit per feature unit] (Effects+Rest)*Dim
	Group []float64 // [response unit] Groups*Dim
	Sigma []float64 // [response unit] lower Cholesky factor of Sigma, Dim*Dim
	Alt   int       // alternative it came from
	Tau   []float64 // [response unit] Dim, spread of the groups;
	Level float64   // [1] spread of levels in units of Sigma's
}

// fill draws the coefficients and groups of d, whose alternative is chosen, from
// the normal numbers z.
func (f *fit) fill(d *Draw, z []float64) {
	e, k := f.e, f.k
	d.Coef = make([]float64, f.n)
	d.Group = make([]float64, f.m.Groups*k)
	if e > 0 {
		a := &f.alts[d.Alt]
		t := f.space[:e]
		copy(t, z)
		a.post.backward(t)
		for i := range t {
			d.Coef[i] = a.mean[i] + t[i]
		}
	}
	if f.q > 0 {
		f.restGiven(d.Coef[:e], d.Coef[e:])
		t := f.space[:f.q]
		copy(t, z[e:f.n])
		f.rest.backward(t)
		for i := range t {
			d.Coef[e+i] += t[i]
		}
	}
	t := f.space[:k]
	for s := range f.group {
		g := d.Group[s*k : (s+1)*k]
		f.groupGiven(s, d.Coef, g)
		copy(t, z[f.n+s*k:])
		f.group[s].f.backward(t)
		for i := range g {
			g[i] += t[i]
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
// in response units, its level with it: what its view shows of it exactly
// where the view is exact, and a draw of what it hides given what it shows (conditioning by Matheron's
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
	z, r := p.work.z, p.work.r[:m]
	v := p.viewed(row.View, d)
	f.residual(i, d, p.work.mu, r)
	spread := math.Sqrt(1/math.Max(p.Weights[i], .05) + d.Level*d.Level)
	for c := range z {
		z[c] = rng.NormFloat64() * spread
	}
	for a := range m {
		noise := 0.0
		if view.R != nil {
			noise = math.Sqrt(view.R[a*m+a]) * rng.NormFloat64() * spread
		}
		r[a] -= noise + linear.Dot(v.hl[a*k:(a+1)*k], z)
	}
	if v.ok {
		v.s.solve(r)
	} else {
		clear(r)
	}
	for a := range m { // z += (H L)' (HSH'+R)^-1 (r - ...), then eps = L z
		for b := range z {
			z[b] += v.hl[a*k+b] * r[a]
		}
	}
	for a := range eps {
		eps[a] = linear.Dot(d.Sigma[a*k:a*k+a+1], z[:a+1])
	}
}

// viewed is worked out anew where the draw is another than the last time.
func (p *Posterior) viewed(view int, d *Draw) *viewed {
	v, of := &p.work.seen[view], &p.f.m.Views[view]
	if v.of == &d.Sigma[0] {
		return v
	}
	m, k := of.Rows, p.f.k
	if v.hl == nil {
		v.hl, v.m = make([]float64, m*k), make([]float64, m*m)
	}
	s := v.m
	mul(of.H, m, k, d.Sigma, k, v.hl)
	for a := range m { // the lower triangle, which alone is read
		for b := range a + 1 {
			s[a*m+b] = linear.Dot(v.hl[a*k:a*k+k], v.hl[b*k:b*k+k])
		}
		if of.R != nil {
			s[a*m+a] += of.R[a*m+a]
		}
	}
	c, err := factor(m, s)
	v.of, v.s, v.ok = &d.Sigma[0], c, err == nil
	return v
}

// Expected sets y, of Dim numbers, to the mean response of row i, B'x + delta.
func (p *Posterior) Expected(i int, y []float64) {
	p.f.residual(i, p.f.now(), y, p.work.r[:len(p.f.rows[i].Z)])
}

// Middle is a draw that holds the means.
func (p *Posterior) Middle() Draw {
	c, err := factorCopy(p.f.k, p.Sigma)
	if err != nil { // no posterior has such a Sigma
		c = chol{p.f.k, identity(p.f.k)}
	}
	return Draw{Coef: p.Coef, Group: p.Group, Sigma: c.l, Tau: p.Tau, Level: p.Level}
}
