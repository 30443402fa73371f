package flight

import "math"

// shares of the ball that are tried.
const shares = 10

// outcome is what flights left out say of each share.
type outcome struct {
	square [shares + 1][numSeen]float64
	loss   [shares + 1]float64
	count  [numSeen]float64
}

// best is the share that predicts them best.
func (o *outcome) best() (best int) {
	for s, x := range o.loss {
		if x < o.loss[best] {
			best = s
		}
	}
	return best
}

// take finds the share of what was fitted that predicts flights left out best. They
// may know nothing of carry that was not known, and still say line, height and descent:
// so the fit with carries held as believed is tried as well, and taken where it predicts
// the carries of flights left out better. A single flight has none to be left out for,
// and nothing is taken.
func (c *fitting) take(r *Calibration) {
	if len(c.flights) < 2 {
		return
	}
	said, ok := c.leftOut(false)
	if !ok {
		return
	}
	s := said.best()
	if held, ok := c.leftOut(true); ok && held.square[held.best()][SeenCarry] < said.square[s][SeenCarry] {
		if h, g, ok := c.normal(-1, true); ok {
			if step, ok := c.fitted(h, g); ok {
				said, s = held, held.best()
				for i := range step {
					c.x[i] += step[i]
				}
				c.hold()
			}
		}
	}
	r.Taken = float64(s) / shares
	for q, n := range said.count {
		if n > 0 {
			r.Before[q], r.After[q] = math.Sqrt(said.square[0][q]/n), math.Sqrt(said.square[s][q]/n)
		}
	}
}

// leftOut deals the flights into folds; each is left out in turn and flown by the fit
// of the others and by what was believed before; what lies between goes in proportion.
// A flight's loss is that of a t of its errors, summed over its quantities, so that no
// bad flight decides.
func (c *fitting) leftOut(held bool) (o outcome, ok bool) {
	k := c.folds()
	for fold := range k {
		h, g, ok := c.normal(fold, held)
		if !ok {
			return o, false
		}
		step, ok := c.fitted(h, g)
		if !ok {
			return o, false
		}
		for i := fold; i < len(c.flights); i += k {
			f := &c.flights[i]
			fitted := c.fly(f, f.own(func(p int) float64 { return c.x[p] + step[p] }), f.launch)
			for q := range numSeen {
				if !f.has[q] {
					continue
				}
				o.count[q]++
				for s := range o.square {
					off := f.seen[q] - f.before[q] - float64(s)/shares*(fitted[q]-f.before[q])
					o.square[s][q] += off * off
					o.loss[s] += math.Log1p(off * off / (heavyTail * c.sd[q] * c.sd[q]))
				}
			}
		}
	}
	return o, true
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
	alone := c.alone()
	for b := range balls {
		i := atWind + 2*b
		w := BlockWind{Wind: Wind{x[i], x[i+1]}, HeadSD: sd(i), CrossSD: sd(i + 1), Balls: balls[b]}
		w.Ball = [2]float64{c.shared(alone, i), c.shared(alone, i+1)}
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

// shared is how much of the doubt of parameter p is the ball's: 1 less the variance
// that would stay were the traits known, over that with them unknown.
func (c *fitting) shared(alone []float64, p int) float64 {
	if alone == nil || c.cov[p*c.size+p] <= 0 {
		return 0
	}
	return math.Max(0, 1-alone[p-NumTraits]/c.cov[p*c.size+p])
}
