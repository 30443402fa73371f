package decide

import (
	"math"

	"ferrule/core/linear"
)

// nodes of the standard normal for the expectation of the best mean: 41 places
// from -4 to 4, with the weights of the normal density.
var nodes, nodeWeight = func() (z, w [41]float64) {
	total := 0.0
	for i := range z {
		z[i] = -4 + 0.2*float64(i)
		w[i] = math.Exp(-z[i] * z[i] / 2)
		total += w[i]
	}
	for i := range w {
		w[i] /= total
	}
	return
}()

// lookahead is what is known of the settings now, and what balls would show.
type lookahead struct {
	*comparison
	spread [launch]float64 // [SI] of a ball's launch from shot to shot, 0 = unknown
	noise  float64         // of the cost of one ball
}

// gains returns, for each number of balls in balls and each candidate, what as
// many more balls with it are expected to improve the choice by, in the goal's unit:
// the knowledge gradient for correlated beliefs (key Frazier2009 in
// core/REFERENCES.md), in which a ball hit with one setting teaches about all
// others.
//
// What a visit shows is the mean launch of its balls, five numbers whose joint
// distribution with the costs of all settings is read off the draws. When no
// spread of the launch is known, it is the mean cost of the balls instead.
func (l *lookahead) gains(candidates []int, balls ...int) [][]float64 {
	out := make([][]float64, len(balls))
	for b := range out {
		out[b] = make([]float64, len(candidates))
	}
	open := l.in
	low := math.Inf(1)
	for _, i := range open {
		low = math.Min(low, l.rows[i].average)
	}
	var near []int // settings that come to the top under some likely result
	var mu, dev []float64
	for _, i := range open {
		r := &l.rows[i]
		if r.average-4*r.scatter > low+1e-12 {
			continue
		}
		near, mu = append(near, i), append(mu, r.average)
		for _, v := range r.cost {
			dev = append(dev, v-r.average)
		}
	}
	for c, i := range candidates {
		p := l.probe(i)
		if p == nil {
			continue
		}
		cross := p.with(dev, len(near))
		for b, m := range balls {
			steps, ok := p.steps(cross, m, func(j int) float64 { s := l.rows[near[j]].scatter; return s * s })
			if !ok {
				continue
			}
			centre, far := contenders(mu, steps, p.dims)
			out[b][c] = math.Max(0, low-expectedLow(centre, far, p.dims))
		}
	}
	return out
}

// probe is what balls with one setting show, as it stands in the draws: dims
// numbers a draw about their mean, and the variance that one ball adds to each.
type probe struct {
	dims  int
	y     []float64 // [dims*draws] a column after the other
	cov   []float64 // [dims*dims] of the draws
	noise float64   // of one ball, in every column
}

func (l *lookahead) probe(i int) *probe {
	r := &l.rows[i]
	known := len(r.launches) > 0
	for _, s := range l.spread {
		known = known && s > 0
	}
	n := l.draws
	p := &probe{dims: 1, noise: l.noise}
	if known {
		p.dims, p.noise = launch, 1
	}
	p.y = make([]float64, p.dims*n)
	for k := range p.dims {
		col := p.y[k*n : k*n+n]
		for t := range col {
			if known {
				col[t] = float64(r.launches[t*launch+k]) / l.spread[k]
			} else {
				col[t] = r.level[t]
			}
		}
		m := mean(col)
		for t := range col {
			col[t] -= m
		}
	}
	p.cov = p.with(p.y, p.dims)
	if !known && p.cov[0] <= 0 {
		return nil
	}
	return p
}

// with is the covariance of the probe with m other columns about their means,
// a row of dims each.
func (p *probe) with(other []float64, m int) []float64 {
	n := len(p.y) / p.dims
	out := make([]float64, m*p.dims)
	if p.dims == launch {
		p.withLaunch(other, out, 1/float64(n-1))
		return out
	}
	for j := range m {
		o := other[j*n : j*n+n]
		for k := range p.dims {
			out[j*p.dims+k] = linear.Dot(p.y[k*n:k*n+n], o) / float64(n-1)
		}
	}
	return out
}

// withLaunch is with for the five numbers of a launch, in one pass.
func (p *probe) withLaunch(other, out []float64, by float64) {
	n := len(p.y) / launch
	a, b, c, d, e := p.y[:n], p.y[n:2*n], p.y[2*n:3*n], p.y[3*n:4*n], p.y[4*n:5*n]
	for len(out) > 0 {
		var v, w, x, y, z float64
		for t, o := range other[:n] {
			v += o * a[t]
			w += o * b[t]
			x += o * c[t]
			y += o * d[t]
			z += o * e[t]
		}
		out[0], out[1], out[2], out[3], out[4] = v*by, w*by, x*by, y*by, z*by
		other, out = other[n:], out[launch:]
	}
}

// steps are by how much one standard deviation of each independent direction
// of what m balls show moves the mean of each of the settings that cross is
// with. Of a step's length as much is taken off as directions that are
// unrelated to the setting would show in so few draws.
func (p *probe) steps(cross []float64, m int, variance func(j int) float64) ([]float64, bool) {
	k := p.dims
	sum := make([]float64, k*k)
	for a := range k {
		for b := a; b < k; b++ {
			v := p.cov[a*k+b]
			if a == b {
				v += p.noise / float64(m)
			}
			sum[a*k+b] = v
		}
	}
	chol, ok := linear.Factor(k, sum)
	if !ok {
		return nil, false
	}
	forward := func(v []float64) { // L x = v in place, L = U'
		for a := range v {
			for b := range a {
				v[a] -= chol.U[b*k+a] * v[b]
			}
			v[a] /= chol.U[a*k+a]
		}
	}
	// share of the directions' unit variance that the draws hold: trace of
	// L^-1 C L^-T
	held := 0.0
	half := make([]float64, k*k)
	col := make([]float64, k)
	for b := range k {
		for a := range k {
			col[a] = p.cov[a*k+b]
		}
		forward(col)
		for a := range k {
			half[a*k+b] = col[a]
		}
	}
	for a := range k {
		copy(col, half[a*k:a*k+k])
		forward(col)
		held += col[a]
	}
	n := float64(len(p.y) / k)
	out := append([]float64(nil), cross...)
	for j := range len(cross) / k {
		s := out[j*k : j*k+k]
		forward(s)
		length, chance := linear.Dot(s, s), variance(j)*held/(n-1)
		f := 0.0
		if length > chance {
			f = math.Sqrt(1 - chance/length)
		}
		for a := range s {
			s[a] *= f
		}
	}
	return out, true
}

// contenders leaves out the settings that no result in the nodes or the cloud
// brings below all others: what they would add to the lowest mean is nothing.
func contenders(mu, steps []float64, dims int) (centre, far []float64) {
	reach := math.Inf(1)
	length := func(j int) float64 {
		return farthest * math.Sqrt(linear.Dot(steps[j*dims:j*dims+dims], steps[j*dims:j*dims+dims]))
	}
	for j := range mu {
		reach = math.Min(reach, mu[j]+length(j))
	}
	for j := range mu {
		if mu[j]-length(j) <= reach {
			centre = append(centre, mu[j])
			far = append(far, steps[j*dims:j*dims+dims]...)
		}
	}
	return centre, far
}

// expectedLow is E min_j (mu_j + step_j Z), Z standard normal in dims
// dimensions; steps holds dims numbers a setting.
func expectedLow(mu, steps []float64, dims int) float64 {
	if dims == 1 {
		e := 0.0
		for k, z := range nodes {
			low := math.Inf(1)
			for j, m := range mu {
				low = math.Min(low, m+steps[j]*z)
			}
			e += nodeWeight[k] * low
		}
		return e
	}
	e := 0.0
	if dims != launch {
		panic("decide: steps of one or five dimensions")
	}
	for i := range cloud {
		z := &cloud[i]
		up, down := math.Inf(1), math.Inf(1)
		for j, m := range mu {
			s := steps[j*launch : j*launch+launch]
			v := s[0]*z[0] + s[1]*z[1] + s[2]*z[2] + s[3]*z[3] + s[4]*z[4]
			if m+v < up {
				up = m + v
			}
			if m-v < down {
				down = m - v
			}
		}
		e += up + down
	}
	return e / float64(2*len(cloud))
}

// cloud is a low-discrepancy sample (Halton) of the standard normal in five
// dimensions, whitened so that its covariance about 0 is exactly the identity;
// each place is used with its opposite.
var cloud = func() (out [96][launch]float64) {
	for i := range out {
		for a, base := range [launch]int{2, 3, 5, 7, 11} {
			u, f := 0.0, 1.0
			for k := i + 1; k > 0; k /= base {
				f /= float64(base)
				u += f * float64(k%base)
			}
			out[i][a] = math.Sqrt2 * math.Erfinv(2*u-1)
		}
	}
	for a := range launch { // Gram-Schmidt on the columns
		for b := range a {
			s := 0.0
			for i := range out {
				s += out[i][a] * out[i][b] / float64(len(out))
			}
			for i := range out {
				out[i][a] -= s * out[i][b]
			}
		}
		s := 0.0
		for i := range out {
			s += out[i][a] * out[i][a] / float64(len(out))
		}
		for i := range out {
			out[i][a] /= math.Sqrt(s)
		}
	}
	return
}()

// farthest is how far from the middle the nodes and the cloud reach.
var farthest = func() float64 {
	far := nodes[len(nodes)-1]
	for _, z := range cloud {
		far = math.Max(far, math.Sqrt(linear.Dot(z[:], z[:])))
	}
	return far
}()
