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

	Offline *float64 // [m] landing place right of the target line
}

// Fit says how well a calibrated model follows what was measured.
type Fit struct {
	Used   int        // numbers compared
	Before float64    // [m] root mean square carry error of the uncalibrated model
	After  float64    // [m] of the calibrated one
	SD     [3]float64 // [1] posterior standard deviations of KD, KL, KS

	Cov [3][3]float64 // [1] their covariance: drag and its share by spin trade against each other

	CurveSD       float64 // [1] posterior standard deviation of Curve, 0 when it was not fitted
	OfflineBefore float64 // [m] root mean square sideways error of the uncalibrated model
	OfflineAfter  float64 // [m] of the calibrated one
}

// The belief about a ball before its flights are seen is the spread of the
// published models about the default on a drive (TestPriorIsTheSpread). The
// spread of a single flight holds the errors of its launch (trial of a
// calibration on invented balls: 3 yd and 4 ft).
var (
	scaleSD   = [3]float64{.15, .15, .6} // [1] KD, KL, KS about 1
	scaleLow  = [3]float64{.6, .6, .2}   // [1]
	scaleHigh = [3]float64{1.8, 1.8, 2}  // [1]
	carrySD   = 3 * .9144                // [m]
	apexSD    = 4 * .3048                // [m]
	curveSD   = .25                      // [1] Curve about 1: devices and balls differ, see TestCalibrateMeasuredDrives
	sideSD    = 5 * .9144                // [m] a sideways place, errors of axis and start line included
	heavyTNu  = 4.0                      // [1] degrees of freedom that let one bad flight count little
)

// leastFlights are fewer than a session is calibrated from (package pipeline
// asks for 20): the priors hold the rest.
const leastFlights = 6

// ErrTooFew says that there are too few measured flights to calibrate.
var ErrTooFew = errors.New("flight: fewer than 6 measured flights, the published model is kept")

// Calibrate adjusts the drag, lift and spin-drag scales of e.Model to measured
// flights: the maximum a posteriori of N(1, scaleSD) priors and t errors, by
// Gauss-Newton with finite differences. Two scales fix the level only; the
// third, KS, fixes differences between settings of unlike spin. Where the
// landing place was measured sideways too, Curve is fitted to it.
func Calibrate(obs []Observation, e Env) (Model, Fit, error) {
	e = e.filled()
	var used []Observation
	for _, o := range obs {
		if (o.Carry != nil || o.Apex != nil) && o.Launch.Validate() == nil {
			used = append(used, o)
		}
	}
	if len(used) < leastFlights {
		return e.Model, Fit{}, ErrTooFew
	}
	p := [3]float64{1, 1, 1}
	var fit Fit
	fit.Before = rmsCarry(used, e, e.Model)
	fit.OfflineBefore = rmsOffline(used, e, e.Model)
	base := e.Model
	base.Curve, fit.CurveSD = fitCurve(used, e, base)
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
			p[i] = math.Max(scaleLow[i], math.Min(scaleHigh[i], p[i]+step[i]))
		}
	}
	for i := range p {
		var unit [3]float64
		unit[i] = 1
		v, _ := solve3(h, unit)
		fit.SD[i], fit.Cov[i] = math.Sqrt(math.Max(v[i], 0)), v
	}
	m := model(p)
	m.Curve, fit.CurveSD = fitCurve(used, e, m)
	fit.After = rmsCarry(used, e, m)
	fit.OfflineAfter = rmsOffline(used, e, m)
	return m, fit, nil
}

// fitCurve is the maximum a posteriori of Curve about 1 given where balls
// landed sideways, with t errors, and its standard deviation; the model's own
// and 0 when fewer than leastFlights were measured.
//
// A start line that a device measures with a steady error would look like
// curve if all balls curved the same way, so a constant of its own is fitted
// beside it (prior 0 with the spread of a ball) and thrown away.
func fitCurve(obs []Observation, e Env, m Model) (curve, sd float64) {
	c, shift := 1.0, 0.0
	n := 0
	for _, o := range obs {
		if o.Offline != nil {
			n++
		}
	}
	if n < leastFlights {
		return m.Curve, 0
	}
	for range 6 {
		const d = .02
		hcc, hcs, hss := 1/(curveSD*curveSD), 0., 1/(sideSD*sideSD)
		gc, gs := (1-c)/(curveSD*curveSD), -shift/(sideSD*sideSD)
		at, step := m, m
		at.Curve, step.Curve = c, c+d
		for _, o := range obs {
			if o.Offline == nil {
				continue
			}
			z := flyWith(o.Launch, e, at).Offline
			j := (flyWith(o.Launch, e, step).Offline - z) / d
			r := *o.Offline - z - shift
			w := (heavyTNu + 1) / (heavyTNu + r*r/(sideSD*sideSD)) / (sideSD * sideSD)
			gc, gs = gc+w*j*r, gs+w*r
			hcc, hcs, hss = hcc+w*j*j, hcs+w*j, hss+w
		}
		det := hcc*hss - hcs*hcs
		c = math.Max(.3, math.Min(2.5, c+(hss*gc-hcs*gs)/det))
		shift += (hcc*gs - hcs*gc) / det
		sd = math.Sqrt(hss / det)
	}
	return c, sd
}

func rmsOffline(obs []Observation, e Env, m Model) float64 {
	sum, n := 0.0, 0.0
	for _, o := range obs {
		if o.Offline != nil {
			d := *o.Offline - flyWith(o.Launch, e, m).Offline
			sum, n = sum+d*d, n+1
		}
	}
	if n == 0 {
		return 0
	}
	return math.Sqrt(sum / n)
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

// Doubt is what stays in doubt of a calibrated ball m, for drawing it: row by
// row the relative changes [1] of KD, KL and KS that go with one standard
// deviation of an independent cause. Beside the posterior it holds .01, .01 and
// .1 for what three scales cannot follow of a ball (our own choice).
func (f Fit) Doubt(m Model) (rows [3][3]float64) {
	scale := [3]float64{m.KD, m.KL, m.KS}
	var a [3][3]float64
	for i := range a {
		for j := range a {
			a[i][j] = f.Cov[i][j] / (scale[i] * scale[j])
		}
		least := [3]float64{.01, .01, .1}[i]
		a[i][i] += least * least
	}
	for i := range 3 { // Cholesky's factor, a cause a column
		for j := range i + 1 {
			s := a[i][j]
			for k := range j {
				s -= rows[k][i] * rows[k][j]
			}
			if i == j {
				rows[i][i] = math.Sqrt(math.Max(s, 0))
			} else if rows[j][j] > 0 {
				rows[j][i] = s / rows[j][j]
			}
		}
	}
	return rows
}
