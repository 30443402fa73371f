package flight

import (
	"math"

	"ferrule/core/linear"
)

// flightOf is one observation in a fitting: what was measured and, at the
// present place of the parameters, what is left of it and its slopes.
type flightOf struct {
	at      int // in the caller's list
	launch  Launch
	gust    float64 // [m/s]
	block   int     // -1 = the wind is known
	seen    [numSeen]float64
	has     [numSeen]bool
	n       int // quantities measured
	left    [numSeen]float64
	before  [numSeen]float64      // as the mean ball in the air of the prior flies
	slope   [own][numSeen]float64 // by parameter that concerns it: traits, device, wind
	noise   [7][numSeen]float64   // by launch number and gust, times their standard deviations
	weight  float64
	started bool
}

// fitting holds a calibration at work. Its parameters are the traits, the three
// zeros of the device, the law's and head and cross of each block.
type fitting struct {
	env     Env
	prior   Prior
	flights []flightOf
	size    int // parameters
	x       []float64
	mean    []float64
	inverse []float64 // prior precision, size*size
	cov     []float64
	sd      [numSeen]float64
}

const (
	atDirection = NumTraits
	atAxis      = NumTraits + 1
	atLaunch    = NumTraits + 2
	atLaw       = NumTraits + 3
	atWind      = NumTraits + 4
	own         = atWind + 2 // parameters that concern one flight
)

const fixed = 1e-9 // variance of what is known

func newFitting(obs []Observation, e Env, p Prior) *fitting {
	if p.Balls == (Population{}) {
		p.Balls = Balls()
	}
	c := &fitting{env: e, prior: p, size: atWind + 2*len(p.Blocks), sd: seenSD}
	for i, o := range obs {
		f := flightOf{at: i, launch: o.Launch, block: -1, weight: 1}
		if o.Launch.Validate() != nil {
			continue
		}
		if o.Block >= 0 && o.Block < len(p.Blocks) {
			f.block, f.gust = o.Block, p.Blocks[o.Block].Gust
		}
		for q, v := range [numSeen]*float64{o.Carry, o.Offline, o.Apex, o.Descent, o.Time} {
			if v != nil && !math.IsNaN(*v) && !math.IsInf(*v, 0) {
				f.seen[q], f.has[q] = *v, true
				f.n++
			}
		}
		if f.n > 0 {
			c.flights = append(c.flights, f)
		}
	}
	c.believe()
	return c
}

// believe writes the prior's means and precisions.
func (c *fitting) believe() {
	n := c.size
	c.mean, c.inverse = make([]float64, n), make([]float64, n*n)
	var cov [NumTraits * NumTraits]float64
	for i := range NumTraits {
		for j := range NumTraits {
			cov[i*NumTraits+j] = c.prior.Balls.Cov[i][j]
		}
		cov[i*NumTraits+i] += fixed
	}
	if f, ok := linear.Factor(NumTraits, cov[:]); ok {
		if inv, ok := f.Inverse(); ok {
			for i := range NumTraits {
				copy(c.inverse[i*n:i*n+NumTraits], inv[i*NumTraits:(i+1)*NumTraits])
			}
		}
	}
	single := func(i int, mean, sd float64) {
		c.mean[i], c.inverse[i*n+i] = mean, 1/(sd*sd+fixed)
	}
	single(atDirection, 0, c.prior.DirectionSD)
	single(atAxis, 0, c.prior.AxisSD)
	single(atLaunch, 0, c.prior.LaunchSD)
	single(atLaw, 0, c.prior.LawSD)
	for b, w := range c.prior.Blocks {
		single(atWind+2*b, w.Head, w.HeadSD)
		single(atWind+2*b+1, w.Cross, w.CrossSD)
	}
	c.drift()
	c.x = append([]float64(nil), c.mean...)
}

// drift makes of winds apart winds that go on: the precision of an autoregression
// of first order, in standard deviations.
func (c *fitting) drift() {
	r, n := c.prior.Drift, c.size
	if r == 0 {
		return
	}
	inner := 1 / (1 - r*r)
	for i := atWind; i < n; i++ {
		root := math.Sqrt(c.inverse[i*n+i])
		if j := i - 2; j >= atWind {
			was := math.Sqrt(c.inverse[j*n+j])
			c.inverse[i*n+j], c.inverse[j*n+i] = -r*inner*root*was, -r*inner*root*was
		}
	}
	for i := atWind; i < n; i++ {
		ends := 0.
		if i-2 >= atWind {
			ends += r * r
		}
		if i+2 < n {
			ends += r * r
		}
		c.inverse[i*n+i] *= 1 + ends*inner
	}
}

// param is where parameter k of those that concern f stands among all, -1 if it
// does not.
func (f *flightOf) param(k int) int {
	if k < atWind {
		return k
	}
	if f.block < 0 {
		return -1
	}
	return atWind + 2*f.block + k - atWind
}

// own are the parameters that concern f.
func (f *flightOf) own(of func(p int) float64) (x [own]float64) {
	for k := range x {
		if p := f.param(k); p >= 0 {
			x[k] = of(p)
		}
	}
	return x
}

// fly is flight f with its own parameters (see param) and launch moved.
func (c *fitting) fly(f *flightOf, own [own]float64, l Launch) (out [numSeen]float64) {
	e := c.env
	var t Traits
	copy(t[:], own[:NumTraits])
	e.Model = e.Model.With(t)
	if f.block >= 0 {
		e.Air = Wind{own[atWind] + own[atLaw], own[atWind+1]}.In(e.Air)
	}
	l.Direction -= own[atDirection]
	l.Axis -= own[atAxis]
	l.Angle -= own[atLaunch]
	g := newFlyer(l, newAero(e))
	g.run(nil)
	return [numSeen]float64{math.Hypot(g.x, g.z), g.z, g.apex, math.Atan2(-g.vy, math.Hypot(g.vx, g.vz)), g.time}
}

// refly flies every ball at the present parameters and finds what is left and, anew,
// its slopes; those by launch number once, they hardly change.
func (c *fitting) refly(anew bool) {
	steps := [own]float64{}
	copy(steps[:], nudge[:])
	steps[atDirection], steps[atAxis], steps[atLaunch] = slight[2], slight[4], slight[1]
	steps[atLaw], steps[atWind], steps[atWind+1] = gustStep, gustStep, gustStep
	for i := range c.flights {
		f := &c.flights[i]
		x := f.own(func(p int) float64 { return c.x[p] })
		at := c.fly(f, x, f.launch)
		for q := range at {
			f.left[q] = f.seen[q] - at[q]
		}
		for k := range x {
			if p := f.param(k); !anew || p < 0 || c.known(p) {
				continue
			}
			y := x
			y[k] += steps[k]
			moved := c.fly(f, y, f.launch)
			for q := range at {
				f.slope[k][q] = (moved[q] - at[q]) / steps[k]
			}
		}
		if !f.started {
			c.noise(f, x, at)
			f.started, f.before = true, at
		}
	}
}

// known says whether parameter p has no doubt to begin with.
func (c *fitting) known(p int) bool { return c.inverse[p*c.size+p] > .5/fixed }

func (c *fitting) noise(f *flightOf, x [own]float64, at [numSeen]float64) {
	for k, sd := range launchSD {
		l := f.launch
		step := slight[k]
		switch k {
		case 0:
			l.Speed += step
		case 1:
			l.Angle += step
		case 2:
			l.Direction += step
		case 3:
			l.Spin += step
		case 4:
			l.Axis += step
		}
		moved := c.fly(f, x, l)
		for q := range at {
			f.noise[k][q] = (moved[q] - at[q]) / step * sd
		}
	}
	if f.gust == 0 {
		return
	}
	for k := range 2 {
		y := x
		y[atWind+k] += gustStep
		moved := c.fly(f, y, f.launch)
		for q := range at {
			f.noise[5+k][q] = (moved[q] - at[q]) / gustStep * f.gust
		}
	}
}

// covariance is that of a flight's errors, inverted, over the quantities measured;
// others have none.
func (c *fitting) covariance(f *flightOf) (inverse [numSeen][numSeen]float64, ok bool) {
	var r [numSeen][numSeen]float64
	for p := range numSeen {
		r[p][p] = 1
		if !f.has[p] {
			continue
		}
		r[p][p] = c.sd[p] * c.sd[p]
		for q := range numSeen {
			if f.has[q] {
				for k := range f.noise {
					r[p][q] += f.noise[k][p] * f.noise[k][q]
				}
			}
		}
	}
	if !invert(&r) {
		return inverse, false
	}
	for p := range numSeen {
		if !f.has[p] {
			r[p][p] = 0
		}
	}
	return r, true
}

// invert a symmetric positive definite matrix in place (Gauss and Jordan); false:
// it is none. Written out because every flight of every round asks for it.
func invert(a *[numSeen][numSeen]float64) bool {
	for k := range a {
		pivot := a[k][k]
		if !(pivot > 0) {
			return false
		}
		a[k][k] = 1
		for j := range a {
			a[k][j] /= pivot
		}
		for i := range a {
			if i == k {
				continue
			}
			by := a[i][k]
			a[i][k] = 0
			for j := range a {
				a[i][j] -= by * a[k][j]
			}
		}
	}
	return true
}
