package flight

import (
	"math"

	"ferrule/core/linear"
)

// normal are the normal equations of all flights but those of a fold (skip
// < 0: of all) about the present parameters: hessian and gradient. held: as if each
// had also been seen to carry as far as it was believed to, by a device as good as this.
func (c *fitting) normal(skip int, held bool) (h, g []float64, ok bool) {
	n := c.size
	h, g = append([]float64(nil), c.inverse...), make([]float64, n)
	for i := range n {
		for j := range n {
			g[i] += c.inverse[i*n+j] * (c.mean[j] - c.x[j])
		}
	}
	for i := range c.flights {
		f := &c.flights[i]
		if skip >= 0 && i%c.folds() == skip {
			continue
		}
		inv, ok := c.covariance(f)
		if !ok {
			return nil, nil, false
		}
		c.add(h, g, f, &inv, f.weight, f.left)
		if held {
			var as, off [numSeen]float64
			as[SeenCarry] = 1 / (c.sd[SeenCarry] * c.sd[SeenCarry])
			off[SeenCarry] = f.before[SeenCarry] - (f.seen[SeenCarry] - f.left[SeenCarry])
			c.add(h, g, f, &[numSeen][numSeen]float64{SeenCarry: as}, 1, off)
		}
	}
	return h, g, true
}

// add is one flight in the equations: off by left, known as well as inv says.
func (c *fitting) add(h, g []float64, f *flightOf, inv *[numSeen][numSeen]float64, weight float64, left [numSeen]float64) {
	n := c.size
	for a := range f.slope {
		pa := f.param(a)
		if pa < 0 {
			continue
		}
		var row [numSeen]float64 // slope' R^-1
		for p := range row {
			for q := range row {
				row[p] += f.slope[a][q] * inv[q][p]
			}
		}
		for p := range row {
			g[pa] += weight * row[p] * left[p]
		}
		for b := range f.slope {
			if pb := f.param(b); pb >= 0 {
				h[pa*n+pb] += weight * linear.Dot(row[:], f.slope[b][:])
			}
		}
	}
}

// solve finds the parameters, the errors' sizes and the flights' weights.
func (c *fitting) solve() bool {
	n := c.size
	moved := math.Inf(1) // by the last round, in prior standard deviations
	for range rounds {
		c.refly(moved > anewAfter)
		c.weigh()
		h, g, ok := c.normal(-1, false)
		if !ok {
			return false
		}
		f, ok := linear.Factor(n, h)
		if !ok || !f.Solve(g) {
			return false
		}
		if c.cov, ok = f.Inverse(); !ok {
			return false
		}
		moved = 0
		for i := range g {
			c.x[i] += g[i]
			moved = math.Max(moved, math.Abs(g[i])*math.Sqrt(c.inverse[i*n+i]))
		}
		c.hold()
		c.learn(g)
	}
	c.refly(true)
	c.weigh()
	return true
}

// anewAfter is a move after which a flight's slopes by the parameters are found anew, in
// prior standard deviations: twelve flights a ball, which change little over less.
const anewAfter = .3

// hold keeps the parameters where balls and winds are.
func (c *fitting) hold() {
	for i := range NumTraits {
		far := widest * math.Sqrt(c.prior.Balls.Cov[i][i])
		c.x[i] = math.Max(c.mean[i]-far, math.Min(c.mean[i]+far, c.x[i]))
	}
	for i := atWind; i < c.size; i++ {
		c.x[i] = math.Max(-20, math.Min(20, c.x[i]))
	}
}

// weigh gives each flight the weight of a multivariate t.
func (c *fitting) weigh() {
	for i := range c.flights {
		f := &c.flights[i]
		inv, ok := c.covariance(f)
		if !ok {
			continue
		}
		far := 0.
		for p := range inv {
			far += f.left[p] * linear.Dot(inv[p][:], f.left[:])
		}
		f.weight = (heavyTail + float64(f.n)) / (heavyTail + far)
	}
}

// learn moves the errors' sizes to what the flights say of them: the expected
// squares of each flight's own errors given what is left of it, launch errors
// and the parameters' doubt taken out, with a prior of errorsNu flights. step is
// what the parameters just moved by, so that what is left needs no new flights.
func (c *fitting) learn(step []float64) {
	var sum, count [numSeen]float64
	for i := range c.flights {
		f := &c.flights[i]
		inv, ok := c.covariance(f)
		if !ok {
			continue
		}
		left := f.left
		for k := range f.slope {
			if p := f.param(k); p >= 0 {
				for q := range left {
					left[q] -= f.slope[k][q] * step[p]
				}
			}
		}
		doubt := c.doubtOf(f)
		for q := range left {
			if !f.has[q] {
				continue
			}
			v := c.sd[q] * c.sd[q]
			own := v * linear.Dot(inv[q][:], left[:])
			share := 0. // of the parameters' doubt that looks like an error of its own
			for a := range inv {
				share += inv[q][a] * linear.Dot(doubt[a][:], inv[q][:])
			}
			sum[q] += f.weight*(own*own+v*v*share) + v - v*v*inv[q][q]
			count[q]++
		}
	}
	for q := range sum {
		v := (errorsNu*seenSD[q]*seenSD[q] + sum[q]) / (errorsNu + count[q])
		c.sd[q] = math.Sqrt(v)
	}
}

// doubtOf is the covariance that the parameters' doubt gives a flight.
func (c *fitting) doubtOf(f *flightOf) (out [numSeen][numSeen]float64) {
	for a := range f.slope {
		pa := f.param(a)
		if pa < 0 {
			continue
		}
		for b := range f.slope {
			if pb := f.param(b); pb >= 0 {
				v := c.cov[pa*c.size+pb]
				for p := range out {
					for q := range out {
						out[p][q] += v * f.slope[a][p] * f.slope[b][q]
					}
				}
			}
		}
	}
	return out
}

// folds is into how many parts the flights are dealt to be left out in turn.
func (c *fitting) folds() int { return max(2, min(len(c.flights), 10)) }

// beside is the part of the equations that is winds and device.
func (c *fitting) beside(h []float64) []float64 {
	n := c.size
	m := n - NumTraits
	a := make([]float64, m*m)
	for i := range m {
		copy(a[i*m:(i+1)*m], h[(NumTraits+i)*n+NumTraits:(NumTraits+i+1)*n])
	}
	return a
}

// fitted is the step to the least of the equations.
func (c *fitting) fitted(h, g []float64) ([]float64, bool) {
	f, ok := linear.Factor(c.size, h)
	b := append([]float64(nil), g...)
	return b, ok && f.Solve(b)
}

// alone are the variances of winds and device were the traits known; nil: nothing says.
func (c *fitting) alone() []float64 {
	h, _, ok := c.normal(-1, false)
	if !ok {
		return nil
	}
	m := c.size - NumTraits
	f, ok := linear.Factor(m, c.beside(h))
	if !ok {
		return nil
	}
	inv, ok := f.Inverse()
	if !ok {
		return nil
	}
	out := make([]float64, m)
	for i := range out {
		out[i] = inv[i*m+i]
	}
	return out
}
