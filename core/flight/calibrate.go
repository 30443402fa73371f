package flight

import (
	"errors"
	"math"
)

// Observation is one ball whose launch and whose flight were both measured.
type Observation struct {
	Launch Launch
	Carry  *float64 // [m] straight distance to the landing place, nil = not measured
	Apex   *float64 // [m]
}

// Fit says how well a calibrated model follows what was measured.
type Fit struct {
	Used   int        // numbers compared
	Before float64    // [m] root mean square carry error of the uncalibrated model
	After  float64    // [m] of the calibrated one
	SD     [3]float64 // [1] posterior standard deviations of KD, KL, KS
}

// The belief about a ball before its flights are seen, and how far a single
// measured flight strays, launch errors included (trial of a calibration on
// invented balls: 3 yd and 4 ft).
var (
	scaleSD  = [3]float64{.08, .08, .4} // [1] KD, KL, KS about 1
	carrySD  = 3 * .9144                // [m]
	apexSD   = 4 * .3048                // [m]
	heavyTNu = 4.0                      // [1] degrees of freedom that let one bad flight count little
)

// ErrTooFew says that there are too few measured flights to calibrate.
var ErrTooFew = errors.New("flight: fewer than 8 measured flights, the published model is kept")

// Calibrate adjusts the drag, lift and spin-drag scales of e.Model to measured
// flights: the maximum a posteriori of N(1, scaleSD) priors and t errors, by
// Gauss-Newton with finite differences. Two scales fix the level only; the
// third, KS, fixes differences between settings of unlike spin.
func Calibrate(obs []Observation, e Env) (Model, Fit, error) {
	e = e.filled()
	var used []Observation
	for _, o := range obs {
		if (o.Carry != nil || o.Apex != nil) && o.Launch.Validate() == nil {
			used = append(used, o)
		}
	}
	if len(used) < 8 {
		return e.Model, Fit{}, ErrTooFew
	}
	p := [3]float64{1, 1, 1}
	var fit Fit
	fit.Before = rmsCarry(used, e, e.Model)
	base := e.Model
	model := func(p [3]float64) Model {
		m := base
		m.KD, m.KL, m.KS = base.KD*p[0], base.KL*p[1], base.KS*p[2]
		return m
	}
	var h [3][3]float64
	for range 8 {
		var g [3]float64
		h = [3][3]float64{}
		fit.Used = 0
		for i := range p {
			h[i][i] = 1 / (scaleSD[i] * scaleSD[i])
			g[i] = (1 - p[i]) / (scaleSD[i] * scaleSD[i])
		}
		const d = 1e-3
		for _, o := range used {
			at := flyWith(o.Launch, e, model(p))
			var slope [3]Landing
			for i := range p {
				q := p
				q[i] += d
				slope[i] = flyWith(o.Launch, e, model(q))
			}
			add := func(measured *float64, sd float64, of func(Landing) float64) {
				if measured == nil {
					return
				}
				fit.Used++
				r := (*measured - of(at)) / sd
				w := (heavyTNu + 1) / (heavyTNu + r*r) / (sd * sd)
				var j [3]float64
				for i := range j {
					j[i] = (of(slope[i]) - of(at)) / d
				}
				for a := range j {
					g[a] += w * j[a] * r * sd
					for b := range j {
						h[a][b] += w * j[a] * j[b]
					}
				}
			}
			add(o.Carry, carrySD, Landing.Distance)
			add(o.Apex, apexSD, func(g Landing) float64 { return g.Apex })
		}
		step, ok := solve3(h, g)
		if !ok {
			return e.Model, Fit{}, errors.New("flight: the measured flights do not determine a ball")
		}
		for i := range p {
			p[i] = math.Max(.6, math.Min(1.6, p[i]+step[i]))
		}
	}
	for i := range p {
		var unit [3]float64
		unit[i] = 1
		v, _ := solve3(h, unit)
		fit.SD[i] = math.Sqrt(math.Max(v[i], 0))
	}
	m := model(p)
	fit.After = rmsCarry(used, e, m)
	return m, fit, nil
}

func flyWith(l Launch, e Env, m Model) Landing {
	e.Model = m
	g, err := Fly(l, e)
	if err != nil {
		return Landing{}
	}
	return g
}

func rmsCarry(obs []Observation, e Env, m Model) float64 {
	sum, n := 0.0, 0.0
	for _, o := range obs {
		if o.Carry != nil {
			d := *o.Carry - flyWith(o.Launch, e, m).Distance()
			sum, n = sum+d*d, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / n)
}

// solve3 solves a symmetric positive definite 3x3 system by Cholesky.
func solve3(a [3][3]float64, b [3]float64) (x [3]float64, ok bool) {
	var l [3][3]float64
	for i := range 3 {
		for j := range i + 1 {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				if !(s > 0) {
					return x, false
				}
				l[i][i] = math.Sqrt(s)
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	for i := range 3 {
		for k := range i {
			b[i] -= l[i][k] * b[k]
		}
		b[i] /= l[i][i]
	}
	for i := 2; i >= 0; i-- {
		x[i] = b[i]
		for k := i + 1; k < 3; k++ {
			x[i] -= l[k][i] * x[k]
		}
		x[i] /= l[i][i]
	}
	return x, true
}
