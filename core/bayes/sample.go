package bayes

import (
	"math"
	"math/rand/v2"

	"ferrule/core/linear"
)

// perState draws are taken of each state of the variances: the costly part of a
// state is to solve for it. warmUp states go by before the first.
const (
	perState = 4
	warmUp   = 12
)

// Sample fits m and returns n draws from its whole posterior: Gibbs sampling of
// the error variance, the weights, the spread of the groups, the levels and
// the alternatives, started where Fit ends. Given those, the
// coefficients and the groups are drawn together and exactly, with the groups
// eliminated, so that states hardly hang together; the spread of levels is drawn
// with the levels integrated out. The posterior returned holds the means of the
// variances and what follows from them. The normal numbers behind the
// coefficients are made to have no mean and unit covariance over the draws, so
// that few draws know the width of an interval well.
func Sample(m *Model, rows []Row, n int, rng *rand.Rand) (*Posterior, []Draw, error) {
	f, err := iterate(m, rows)
	if err != nil {
		return nil, nil, err
	}
	c, err := newChain(f, rng)
	if err != nil {
		return nil, nil, err
	}
	z := c.normals(n)
	for range warmUp {
		if err := c.state(); err != nil {
			return nil, nil, err
		}
		if err := c.next(c.draw(nil)); err != nil {
			return nil, nil, err
		}
	}
	out := make([]Draw, 0, n)
	for len(out) < n {
		if err := c.state(); err != nil {
			return nil, nil, err
		}
		for range min(perState, n-len(out)) {
			out = append(out, c.draw(z[len(out)]))
		}
		c.keep()
		if err := c.next(out[len(out)-1]); err != nil {
			return nil, nil, err
		}
	}
	p, err := c.posterior(out)
	return p, out, err
}

// chain is the state of the sampling beside that of the fit, whose sigma,
// weights and tau2 are the current ones.
type chain struct {
	f      *fit
	rng    *rand.Rand
	sigma  chol // of the current Sigma
	wander wander
	u      []float64 // rows*K: level of each row
	own    []float64 // what f.z holds where levels are taken out
	whole  []float64 // rows*K: level and error of each row
	usual  []float64 // expected weight of each row
	scale  []int     // of each response, in Deviations
	common int       // the same for the usual one
	near   [][]float64
	z      []float64 // normal numbers of a draw
	groups float64   // that have rows
	kept   float64
	sizes  []int     // of each change, in its Sizes
	unit   []float64 // RestSD of the model as it was given
	sum    struct{ sigma, weight, tau2, level, sizes []float64 }

	mu, seen, eps, y []float64 // memory of rows
}

func newChain(f *fit, rng *rand.Rand) (*chain, error) {
	k, m := f.k, f.m
	sigma, err := factorCopy(k, f.sigma)
	if err != nil {
		return nil, err
	}
	c := &chain{f: f, rng: rng, sigma: sigma, u: make([]float64, len(f.rows)*k), whole: make([]float64, len(f.rows)*k), scale: make([]int, k)}
	c.usual = append(c.usual, f.weight...)
	for _, rows := range f.byGroup {
		if len(rows) > 0 {
			c.groups++
		}
	}
	all := 0
	for _, r := range f.rows {
		all += len(r.Z)
	}
	c.mu, c.seen, c.eps, c.y = make([]float64, k), make([]float64, f.widest()), make([]float64, k), make([]float64, k)
	c.own, c.z = make([]float64, all), make([]float64, f.n+m.Groups*k)
	c.near = nearness(m.Deviations.Values)
	c.common = nearest(m.Deviations.Values, 1)
	for i := range c.scale {
		c.scale[i] = c.common
	}
	c.wander = newWander(m, len(f.rows))
	c.sum.sigma, c.sum.weight, c.sum.tau2, c.sum.level = make([]float64, k*k), make([]float64, len(f.rows)), make([]float64, k), make([]float64, 2)
	c.sum.sizes = make([]float64, len(m.Changes))
	if len(m.Changes) > 0 { // the sizes move in a model of the chain's own
		own := *m
		c.unit, own.RestSD = m.RestSD, append([]float64(nil), m.RestSD...)
		f.m = &own
		for _, ch := range m.Changes {
			c.sizes = append(c.sizes, nearest(ch.Sizes.Values, 1))
		}
	}
	return c, nil
}

// nearest is the index of the value closest to v.
func nearest(values []float64, v float64) int {
	at := 0
	for i, x := range values {
		if math.Abs(x-v) < math.Abs(values[at]-v) {
			at = i
		}
	}
	return at
}

// nearness [i][j] is the chance that a response deviates by multiple j when
// multiple i is usual among the responses: a normal of the logarithm to base 2,
// of variance a half.
func nearness(values []float64) [][]float64 {
	out := make([][]float64, len(values))
	for i, usual := range values {
		out[i] = make([]float64, len(values))
		total := 0.0
		for j, v := range values {
			d := math.Log2(v / usual)
			out[i][j] = math.Exp(-d * d)
			total += out[i][j]
		}
		for j := range out[i] {
			out[i][j] /= total
		}
	}
	return out
}

// normals are the normal numbers of n draws; those of the coefficients have no
// mean and unit covariance where there are enough draws for it.
func (c *chain) normals(n int) [][]float64 {
	f := c.f
	z, dim := make([][]float64, n), f.n+f.m.Groups*f.k
	all := make([]float64, n*dim)
	for d := range z {
		z[d] = all[d*dim : (d+1)*dim]
		for i := range z[d] {
			z[d][i] = c.rng.NormFloat64()
		}
	}
	dims := f.n
	if n < 3*dims {
		return z
	}
	col := make([][]float64, dims)
	for i := range col {
		v := make([]float64, n)
		mean := 0.0
		for d := range v {
			v[d] = z[d][i]
			mean += v[d] / float64(n)
		}
		for d := range v {
			v[d] -= mean
		}
		for _, w := range col[:i] {
			by := linear.Dot(v, w) / float64(n)
			for d := range v {
				v[d] -= by * w[d]
			}
		}
		by := math.Sqrt(float64(n) / linear.Dot(v, v))
		for d := range v {
			v[d] *= by
			z[d][i] = v[d]
		}
		col[i] = v
	}
	return z
}

// state solves for the coefficients given everything else and weighs the
// alternatives with the effects integrated out.
func (c *chain) state() error {
	f, k := c.f, c.f.k
	at := 0
	for i := range f.rows {
		r := &f.rows[i]
		view := &f.m.Views[r.View]
		z := c.own[at : at+len(r.Z)]
		at += len(r.Z)
		copy(z, r.Z)
		u := c.u[i*k : (i+1)*k]
		for j := range z {
			z[j] -= linear.Dot(view.H[j*k:(j+1)*k], u)
		}
		f.z[i] = z
	}
	f.accumulate()
	if err := f.reduce(); err != nil {
		return err
	}
	return f.weigh()
}

// draw takes coefficients and groups of the current state; z are its normal
// numbers, nil = new ones.
func (c *chain) draw(z []float64) Draw {
	f, k := c.f, c.f.k
	if z == nil {
		z = c.z
		for i := range z {
			z[i] = c.rng.NormFloat64()
		}
	}
	d := Draw{Sigma: append([]float64(nil), c.sigma.l...), Tau: make([]float64, k)}
	for i := range d.Tau {
		d.Tau[i] = math.Sqrt(f.tau2[i])
	}
	d.Level = c.wander.spread
	if f.e > 0 {
		u := c.rng.Float64()
		for i := range f.alts {
			d.Alt = i
			if u -= f.alts[i].weight; u < 0 {
				break
			}
		}
	}
	f.fill(&d, z)
	return d
}

// next moves weights, levels, variance and spreads on, given the coefficients
// and groups of d.
func (c *chain) next(d Draw) error {
	if err := c.changes(&d); err != nil {
		return err
	}
	d.Group = append([]float64(nil), d.Group...) // the draw itself stays
	c.rows(&d)
	c.levels()
	if err := c.variance(); err != nil {
		return err
	}
	if err := c.shift(&d); err != nil {
		return err
	}
	c.spreads(&d)
	return nil
}

// rows draws each row's weight, and its level and error together: what it shows
// exactly, and a draw of what its view hides given what it shows.
func (c *chain) rows(d *Draw) {
	f, k := c.f, c.f.k
	mu, buf, eps, y := c.mu, c.seen, c.eps, c.y
	for i := range f.rows {
		row := &f.rows[i]
		m := len(row.Z)
		r := buf[:m]
		f.residual(i, d, mu, r)
		if nu := f.m.Nu; nu > 0 {
			copy(f.scratch[:m], r)
			f.quad[row.View].forward(f.scratch[:m])
			q := linear.Dot(f.scratch[:m], f.scratch[:m])
			f.weight[i] = row.bound(chi2(nu+float64(m), c.rng) / (nu + q))
			c.usual[i] = row.bound((nu + float64(m)) / (nu + q))
		}
		w := c.whole[i*k : (i+1)*k]
		if f.plain[row.View] {
			copy(w, r)
		} else {
			c.hidden(row.View, f.weight[i], r, eps, y)
			copy(w, eps)
		}
		for j := range w {
			w[j] += c.u[i*k+j]
		}
	}
}

// hidden sets eps to a draw of a row's whole error given its seen residual r,
// which is overwritten: a draw of both, put right by what the two seen residuals
// differ by (Matheron's rule).
func (c *chain) hidden(v int, weight float64, r, eps, y []float64) {
	f, k := c.f, c.f.k
	view := &f.m.Views[v]
	spread := 1 / math.Sqrt(weight)
	for a := range y {
		y[a] = spread * c.rng.NormFloat64()
	}
	for a := range eps {
		eps[a] = linear.Dot(c.sigma.l[a*k:a*k+a+1], y[:a+1])
	}
	for j := range r {
		r[j] -= linear.Dot(view.H[j*k:(j+1)*k], eps)
		if view.R != nil {
			r[j] -= spread * math.Sqrt(view.R[j*view.Rows+j]) * c.rng.NormFloat64()
		}
	}
	for a := range y {
		y[a] = linear.Dot(f.gain[v][a*view.Rows:(a+1)*view.Rows], r)
	}
	for a := range eps {
		eps[a] += linear.Dot(f.sigma[a*k:(a+1)*k], y)
	}
}

// variance draws Sigma given errors and levels.
func (c *chain) variance() error {
	f, k := c.f, c.f.k
	copy(f.scatter, f.m.Scale)
	add := func(v []float64, w float64) {
		for a := range k {
			for b := range k {
				f.scatter[a*k+b] += w * v[a] * v[b]
			}
		}
	}
	for i, w := range f.weight {
		add(c.whole[i*k:(i+1)*k], w)
	}
	df := f.m.ScaleDf + float64(len(f.rows)) + c.pushes(add)
	l, err := factorCopy(k, f.scatter)
	if err != nil {
		return err
	}
	if c.sigma, err = wishart(l, df, c.rng); err != nil {
		return err
	}
	mulT(c.sigma.l, k, k, c.sigma.l, k, f.sigma)
	return nil
}

// spreads draws how much groups deviate in each response, and what is usual
// among the responses.
func (c *chain) spreads(d *Draw) {
	f, k := c.f, c.f.k
	grid := f.m.Deviations
	if len(grid.Values) == 0 {
		return
	}
	inverse := c.sigma.inverse()
	for r := range k {
		sq := 0.0
		for s := range f.group {
			if f.group[s].used {
				sq += d.Group[s*k+r] * d.Group[s*k+r]
			}
		}
		sq /= 2 * f.m.Tau[r] * f.m.Tau[r]
		c.scale[r] = pickLog(c.rng, len(grid.Values), func(i int) float64 {
			v := grid.Values[i]
			return math.Log(c.near[c.common][i]) - c.groups*math.Log(v) - sq/(v*v)
		})
		c.rescale(d, inverse, r)
		v := grid.Values[c.scale[r]] * f.m.Tau[r]
		f.tau2[r] = v * v
	}
	c.common = pickLog(c.rng, len(grid.Values), func(i int) float64 {
		l := math.Log(grid.Weight[i])
		for _, s := range c.scale {
			l += math.Log(c.near[i][s])
		}
		return l
	})
}

// rescale draws how much groups deviate in response r once more, the deviations
// in units of that held: what drawing it given the deviations themselves can
// hardly move where few rows tell them (Yu and Meng's interweaving). A factor g
// turns each error e into e - (g-1) delta_r.
func (c *chain) rescale(d *Draw, inverse []float64, r int) {
	f, k := c.f, c.f.k
	cross, square := 0.0, 0.0
	for i := range f.rows {
		s := f.rows[i].Group
		if s < 0 {
			continue
		}
		delta := d.Group[s*k+r]
		cross += f.weight[i] * delta * linear.Dot(inverse[r*k:(r+1)*k], c.whole[i*k:(i+1)*k])
		square += f.weight[i] * delta * delta * inverse[r*k+r]
	}
	grid := f.m.Deviations
	was := grid.Values[c.scale[r]]
	c.scale[r] = pickLog(c.rng, len(grid.Values), func(i int) float64 {
		g := grid.Values[i]/was - 1
		return math.Log(c.near[c.common][i]) + g*cross - g*g*square/2
	})
	by := grid.Values[c.scale[r]] / was
	for i := range f.rows {
		if s := f.rows[i].Group; s >= 0 {
			c.whole[i*k+r] -= (by - 1) * d.Group[s*k+r]
		}
	}
	for s := range f.group {
		d.Group[s*k+r] *= by
	}
}

// pickLog draws one of n by their log weights.
func pickLog(rng *rand.Rand, n int, log func(i int) float64) int {
	var space [16]float64
	w := space[:0]
	best := math.Inf(-1)
	for i := range n {
		w = append(w, log(i))
		best = math.Max(best, w[i])
	}
	total := 0.0
	for i := range w {
		w[i] = math.Exp(w[i] - best)
		total += w[i]
	}
	u := total * rng.Float64()
	for i := range w {
		if u -= w[i]; u < 0 {
			return i
		}
	}
	return n - 1
}

// wishart draws Sigma of the inverse Wishart of df degrees of freedom whose scale
// has the factor l: Sigma = L (T T')^-1 L' with T lower triangular, T_ii^2 ~
// chi2(df-i) (Bartlett's decomposition [Bartlett1933]).
func wishart(l chol, df float64, rng *rand.Rand) (chol, error) {
	k := l.n
	t := make([]float64, k*k)
	for i := range k {
		t[i*k+i] = math.Sqrt(chi2(df-float64(i), rng))
		for j := range i {
			t[i*k+j] = rng.NormFloat64()
		}
	}
	li, s := make([]float64, k*k), make([]float64, k*k)
	mul(l.l, k, k, chol{k, t}.inverse(), k, li)
	mulT(li, k, k, l.l, k, s)
	return factor(k, s)
}

// keep adds the state to the means.
func (c *chain) keep() {
	f := c.f
	c.kept++
	add := func(to, v []float64) {
		for i, x := range v {
			to[i] += x
		}
	}
	add(c.sum.sigma, f.sigma)
	add(c.sum.weight, c.usual)
	add(c.sum.tau2, f.tau2)
	for i := range c.sizes {
		s := c.size(i)
		c.sum.sizes[i] += s * s
	}
	c.sum.level[0] += c.wander.spread * c.wander.spread
	c.sum.level[1] += c.wander.keep
}

// posterior solves once more at the means of the variances. Levels count there
// as so much less weight of the rows that share them.
func (c *chain) posterior(draws []Draw) (*Posterior, error) {
	f, k := c.f, c.f.k
	for _, v := range [][]float64{c.sum.sigma, c.sum.weight, c.sum.tau2, c.sum.level, c.sum.sizes} {
		for i := range v {
			v[i] /= c.kept
		}
	}
	copy(f.sigma, c.sum.sigma)
	copy(f.tau2, c.sum.tau2)
	for i, s := range c.sum.sizes {
		c.resize(i, math.Sqrt(s))
	}
	weights := append([]float64(nil), c.sum.weight...)
	together := c.together(weights, c.sum.level[1])
	for i, r := range f.rows {
		f.z[i] = r.Z
		f.weight[i] = weights[i] / (1 + c.sum.level[0]*together[i])
	}
	f.accumulate()
	if err := f.solve(); err != nil {
		return nil, err
	}
	df := f.m.ScaleDf + float64(len(f.rows))
	for i, s := range f.sigma {
		f.scatter[i] = s * (df - float64(k) - 1)
	}
	p, err := f.posterior()
	if err != nil {
		return nil, err
	}
	copy(f.weight, weights)
	p.Level, p.Keep = math.Sqrt(c.sum.level[0]), c.sum.level[1]
	for _, s := range c.sum.sizes {
		p.Sizes = append(p.Sizes, math.Sqrt(s))
	}
	p.moments(draws)
	return p, nil
}

// moments puts mean and covariance of the draws in place of those at the mean
// variances.
func (p *Posterior) moments(draws []Draw) {
	n, count := len(p.Coef), float64(len(draws))
	clear(p.Coef)
	clear(p.Cov)
	for _, d := range draws {
		for i, v := range d.Coef {
			p.Coef[i] += v / count
		}
	}
	off := make([]float64, n)
	for _, d := range draws {
		for i, v := range d.Coef {
			off[i] = v - p.Coef[i]
		}
		for i, v := range off {
			row := p.Cov[i*n : i*n+i+1]
			for j := range row {
				row[j] += v * off[j] / (count - 1)
			}
		}
	}
	for i := range n {
		for j := range i {
			p.Cov[j*n+i] = p.Cov[i*n+j]
		}
	}
}
