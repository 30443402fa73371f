package flight

import "math"

// shares of the ball that are tried.
const shares = 10

// take finds the share of the ball that predicts flights left out best: the
// flights are dealt into folds, each fold is left out in turn and predicted by
// the ball of the others and by the mean ball, each with winds and device of its
// own; what lies between is the mean of both. A share is as good as the sum of the
// logarithms of its misses, quantity by quantity, is small.
func (c *fitting) take(r *Calibration) {
	k := c.folds()
	if len(c.flights) < 2 {
		return
	}
	var square [shares + 1][NumSeen]float64
	var bounded [shares + 1][NumSeen]float64
	var count [NumSeen]float64
	for fold := range k {
		h, g, ok := c.normal(fold)
		if !ok {
			return
		}
		full, ok1 := c.fitted(h, g)
		mean, ok2 := c.aloof(h, g)
		if !ok1 || !ok2 {
			return
		}
		for i := fold; i < len(c.flights); i += k {
			f := &c.flights[i]
			for q := range NumSeen {
				if !f.has[q] {
					continue
				}
				a, b := f.left[q], f.left[q]
				for j := range f.slope {
					if p := f.param(j); p >= 0 {
						a -= f.slope[j][q] * mean[p]
						b -= f.slope[j][q] * full[p]
					}
				}
				count[q]++
				for s := range square {
					t := float64(s) / shares
					off := a + t*(b-a)
					square[s][q] += off * off
					bounded[s][q] += math.Log1p(off * off / (heavyTail * c.sd[q] * c.sd[q]))
				}
			}
		}
	}
	best, least := 0, math.Inf(1)
	for s := range square {
		sum := 0.
		for q, n := range count {
			if n > 0 {
				sum += bounded[s][q]
			}
		}
		if sum < least {
			best, least = s, sum
		}
	}
	r.Taken = float64(best) / shares
	for q, n := range count {
		if n > 0 {
			r.Before[q], r.After[q] = math.Sqrt(square[0][q]/n), math.Sqrt(square[best][q]/n)
		}
	}
}

// result mixes what is taken: the belief of the mean ball and that of the
// fitted one with the weights 1-Taken and Taken.
func (c *fitting) result(all int) Calibration {
	n := c.size
	r := Calibration{Errors: c.sd, Weight: make([]float64, all), Used: len(c.flights)}
	balls := make([]int, len(c.prior.Blocks))
	for _, f := range c.flights {
		r.Weight[f.at] = math.Min(1, f.weight)
		if f.block >= 0 {
			balls[f.block]++
		}
	}
	c.take(&r)
	x, cov := c.mixed(r.Taken)
	copy(r.Traits[:], x[:NumTraits])
	r.Model = c.env.Model.With(r.Traits)
	for i := range NumTraits {
		for j := range NumTraits {
			r.Cov[i][j] = cov[i*n+j]
		}
	}
	sd := func(i int) float64 { return math.Sqrt(math.Max(cov[i*n+i], 0)) }
	r.DirectionZero, r.DirectionSD, r.AxisZero, r.AxisSD = x[atDirection], sd(atDirection), x[atAxis], sd(atAxis)
	for b := range balls {
		i := atWind + 2*b
		w := BlockWind{Wind: Wind{x[i], x[i+1]}, HeadSD: sd(i), CrossSD: sd(i + 1), Balls: balls[b]}
		if d := w.HeadSD * w.CrossSD; d > 0 {
			w.Corr = cov[i*n+i+1] / d
		}
		w.Ball = [2]float64{c.shared(i), c.shared(i + 1)}
		r.Blocks = append(r.Blocks, w)
	}
	return r
}

// mixed is where the parameters are taken to be and their covariance. Of the
// traits it is that of both beliefs, the fitted ball's and the mean ball's with
// the population's doubt, mixed as t and 1-t. Winds and device are those that go
// with the traits taken; in doubt as the fit says, and by how far that moved them.
func (c *fitting) mixed(t float64) (x, cov []float64) {
	n := c.size
	x, cov = append([]float64(nil), c.x...), append([]float64(nil), c.cov...)
	h, g, ok := c.normal(-1)
	if t >= 1 || !ok {
		return x, cov
	}
	by, ok := c.aloof(h, g)
	if !ok {
		return x, cov
	}
	for i := range n {
		for j := range n {
			if i < NumTraits && j < NumTraits {
				cov[i*n+j] = t*c.cov[i*n+j] + (1-t)*c.prior.Balls.Cov[i][j] + t*(1-t)*by[i]*by[j]
			} else {
				cov[i*n+j] += (1 - t) * (1 - t) * by[i] * by[j]
			}
		}
		x[i] = c.x[i] + (1-t)*by[i]
	}
	return x, cov
}

// shared is how much of the doubt of parameter p is the ball's: 1 less the
// variance that would stay were the traits known, over that with them unknown.
func (c *fitting) shared(p int) float64 {
	h, _, ok := c.normal(-1)
	if !ok || c.cov[p*c.size+p] <= 0 {
		return 0
	}
	return math.Max(0, 1-c.alone(h, p)/c.cov[p*c.size+p])
}
