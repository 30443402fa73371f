package flight

import "math"

// shares of the ball that are tried.
const shares = 10

// take finds the share of what was fitted that predicts flights left out best: the
// flights are dealt into folds, each is left out in turn and flown by the fit of the
// others and by what was believed before; what lies between goes in proportion. A flight's loss
// is that of a t of its errors, summed over its quantities, so that no bad flight
// decides. A single flight has none to be left out for, and nothing is taken.
func (c *fitting) take(r *Calibration) {
	k := c.folds()
	if len(c.flights) < 2 {
		return
	}
	var square [shares + 1][NumSeen]float64
	var loss [shares + 1]float64
	var count [NumSeen]float64
	for fold := range k {
		h, g, ok := c.normal(fold)
		if !ok {
			return
		}
		step, ok := c.fitted(h, g)
		if !ok {
			return
		}
		for i := fold; i < len(c.flights); i += k {
			f := &c.flights[i]
			fitted := c.fly(f, f.own(func(p int) float64 { return c.x[p] + step[p] }), f.launch)
			before := c.fly(f, f.own(func(p int) float64 { return c.mean[p] }), f.launch)
			for q := range NumSeen {
				if !f.has[q] {
					continue
				}
				count[q]++
				for s := range square {
					off := f.seen[q] - before[q] - float64(s)/shares*(fitted[q]-before[q])
					square[s][q] += off * off
					loss[s] += math.Log1p(off * off / (heavyTail * c.sd[q] * c.sd[q]))
				}
			}
		}
	}
	best := 0
	for s := range loss {
		if loss[s] < loss[best] {
			best = s
		}
	}
	r.Taken = float64(best) / shares
	for q, n := range count {
		if n > 0 {
			r.Before[q], r.After[q] = math.Sqrt(square[0][q]/n), math.Sqrt(square[best][q]/n)
		}
	}
}

// result is what is taken of what was fitted.
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
	r.LaunchZero, r.LaunchSD = x[atLaunch], sd(atLaunch)
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

// mixed is where the parameters are when share t of the fit is taken, and their
// covariance. Of the traits it is that of two beliefs, the fitted ball's and the
// population's, mixed as t and 1-t; of winds and device it is the fit's, and by how
// far they are from it.
func (c *fitting) mixed(t float64) (x, cov []float64) {
	n := c.size
	x, cov = append([]float64(nil), c.x...), append([]float64(nil), c.cov...)
	by := make([]float64, n)
	for i := range by {
		by[i] = c.mean[i] - c.x[i]
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
