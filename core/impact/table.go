package impact

import (
	"cmp"
	"fmt"
	"math"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/seed"
	"ferrule/core/units"
)

// Figure is what somebody else says of an effect. A statement of sign alone
// ("more spin") has an end at infinity.
type Figure struct {
	Lo, Hi float64 // [unit of its row] a range; equal for one number
	Status string  // "published", "theory", "rule of thumb", "practice" (common practice, no source)
	Source string  // key of core/REFERENCES.md, empty for practice and own arithmetic
}

// PriorRow is one effect of the prior predictive table. Key names its words in
// package text ("prior.<key>"); numbers are in Unit, in the trade's units.
type PriorRow struct {
	Key     string
	Unit    string
	Mean    float64 // [Unit]
	SD      float64 // [Unit]
	Figures []Figure

	// Disputed says that theory and practice disagree by about two, and that
	// the prior is wide on purpose so as to hold both.
	Disputed bool
}

// Away is how many standard deviations of the prior lie between its mean and
// the nearest end of a figure; 0 when the mean lies in the range.
func (r PriorRow) Away(f Figure) float64 {
	d := math.Max(f.Lo-r.Mean, r.Mean-f.Hi)
	if d <= 0 {
		return 0
	}
	return d / r.SD
}

// Interval is the half width of the stated interval in standard deviations: a
// figure has to lie inside the central 90 %.
const Interval = 1.645

// Holds reports whether a figure reaches into the central 90 % interval.
func (r PriorRow) Holds(f Figure) bool { return r.Away(f) <= Interval }

// outcome is what the table can look at: K responses and what becomes of them.
type outcome func(l flight.Launch) (float64, error)

// table gathers rows for one player and club.
type table struct {
	base  flight.Launch
	d     Delivery
	p     Params
	lie   float64
	prior Prior
	env   flight.Env
	rows  []PriorRow

	disputed bool // the rows being added
	err      error
}

// PriorTable is the prior predictive table: what physics says of each
// adjustment for this player and club before a ball is hit, with its standard
// deviation, beside what is published and what practice says. Effects are of
// the linear prior, read at the step that the row names; lateral and apex go
// through flight, with a tenth of the effect as doubt of the flight model
// (judged). The random deviation of a single setting (Prior.Misfit) is left
// out: the rows are about effects.
func PriorTable(base Baseline, h club.Head, env flight.Env, s seed.Seed) ([]PriorRow, error) {
	prior, err := Effects(base, h, s)
	if err != nil {
		return nil, err
	}
	d, p, err := base.delivery(h)
	if err != nil {
		return nil, err
	}
	d.StrikeToe, d.StrikeHigh = 0, 0
	l, err := Strike(d, p)
	if err != nil {
		return nil, err
	}
	lie := cmp.Or(h.Lie, 58*units.Degree)
	t := &table{base: l, d: d, p: p, lie: lie, prior: prior, env: env}
	t.delivered()
	t.sleeve()
	t.weight()
	t.struck()
	return t.rows, t.err
}

func (t *table) add(key, unit string, mean, sd float64, figures ...Figure) {
	t.rows = append(t.rows, PriorRow{key, unit, mean, sd, figures, t.disputed})
}

// above is the end of a figure that gives a sign alone.
var above = math.Inf(1)

func theory(lo, hi float64) Figure                   { return Figure{lo, hi, "theory", ""} }
func published(lo, hi float64, source string) Figure { return Figure{lo, hi, "published", source} }
func practice(lo, hi float64) Figure                 { return Figure{lo, hi, "practice", ""} }

// The outcomes.
func (t *table) lateral(l flight.Launch) (float64, error) {
	g, err := flight.Fly(l, t.env)
	return g.RestZ / units.Yard, err
}
func (t *table) carryLateral(l flight.Launch) (float64, error) {
	g, err := flight.Fly(l, t.env)
	return g.Offline / units.Yard, err
}
func (t *table) apex(l flight.Launch) (float64, error) {
	g, err := flight.Fly(l, t.env)
	return g.Apex / units.Foot, err
}
func response(k int) outcome {
	return func(l flight.Launch) (float64, error) { return responses(l)[k] / responseUnit[k], nil }
}
func sideSpin(l flight.Launch) (float64, error) {
	return l.Spin * math.Sin(l.Axis) / units.RPM, nil
}

// shift moves a launch by changes of the responses.
func shift(l flight.Launch, by [K]float64) flight.Launch {
	return flight.Launch{Speed: l.Speed + by[0], Angle: l.Angle + by[1], Direction: l.Direction + by[2], Spin: l.Spin + by[3], Axis: l.Axis + by[4]}
}

// between is the change of an outcome from half of by below the baseline to
// half above it.
func (t *table) between(o outcome, by [K]float64) float64 {
	for k := range by {
		by[k] /= 2
	}
	up, err1 := o(shift(t.base, by))
	for k := range by {
		by[k] = -by[k]
	}
	down, err2 := o(shift(t.base, by))
	for _, err := range []error{err1, err2} {
		if err != nil && t.err == nil {
			t.err = err
		}
	}
	return up - down
}

// effect is mean and standard deviation of an outcome's change by a move of
// the features. Flown outcomes carry a tenth as doubt of the flight.
func (t *table) effect(o outcome, flown bool, x [F]float64) (mean, sd float64) {
	var by [K]float64
	for f := range x {
		for k := range by {
			by[k] += x[f] * t.prior.Mean[f][k]
		}
	}
	mean = t.between(o, by)
	var g [K]float64 // slope of the outcome by each response
	for k := range K {
		var e [K]float64
		e[k] = responseUnit[k]
		if k == 3 {
			e[k] *= 50
		}
		g[k] = t.between(o, e) / e[k]
	}
	v := 0.0
	for f := range F {
		for e := range F {
			for k := range K {
				for j := range K {
					v += x[f] * x[e] * g[k] * g[j] * t.prior.Cov[(f*K+k)*F*K+e*K+j]
				}
			}
		}
	}
	if flown {
		v += .01 * mean * mean
	}
	return mean, math.Sqrt(math.Max(v, 0))
}

// strikes is mean and standard deviation of an outcome's change between two
// strikes, over the doubt of the grip efficiency.
func (t *table) strikes(o outcome, flown bool, change func(*Delivery, *Params)) (mean, sd float64) {
	var v [3]float64
	for e := range v {
		p, d := t.p, t.d
		p.Eta *= 1 + node(e)*etaDoubt
		a, err1 := Strike(d, p)
		change(&d, &p)
		b, err2 := Strike(d, p)
		if err1 != nil || err2 != nil {
			t.err = errNoStrike
			return 0, 0
		}
		x, err1 := o(a)
		y, err2 := o(b)
		if t.err == nil && (err1 != nil || err2 != nil) {
			t.err = fmt.Errorf("impact: prior table: %v %v", err1, err2)
		}
		v[e] = y - x
	}
	mean = (v[0] + 4*v[1] + v[2]) / 6
	sd = math.Sqrt((v[0]-mean)*(v[0]-mean)/6 + 4*(v[1]-mean)*(v[1]-mean)/6 + (v[2]-mean)*(v[2]-mean)/6)
	if flown {
		sd = math.Hypot(sd, .1*mean)
	}
	return mean, sd
}

// delivered is what the ball makes of the delivered face and path.
func (t *table) delivered() {
	face := func(x float64) func(*Delivery, *Params) {
		return func(d *Delivery, _ *Params) { d.Face += x * units.Degree }
	}
	m, sd := t.strikes(response(2), false, face(1))
	t.add("share", "%", 100*m, 100*math.Hypot(sd, .03), published(61, 83, "WHB18"), Figure{80, 90, "rule of thumb", "TutSlice"})
	m, sd = t.strikes(t.lateral, true, face(1))
	t.add("face1", "yd", m, math.Hypot(sd, .2*m), published(10, 10, "RobotFace"))
	m, sd = t.strikes(t.lateral, true, face(2))
	t.add("face2", "yd", m, math.Hypot(sd, .2*m), published(20, 20, "RobotFace"))
	m, sd = t.strikes(response(4), false, face(1))
	// The D-plane: tan(axis) = cosA cosD sinF / (cosA sinD - sinA cosD cosF), against the horizontal.
	a, dl, f := t.d.Attack, t.d.DynamicLoft, 1*units.Degree
	plane := math.Atan2(math.Cos(a)*math.Cos(dl)*math.Sin(f), math.Cos(a)*math.Sin(dl)-math.Sin(a)*math.Cos(dl)*math.Cos(f)) / units.Degree
	t.add("face-axis", "°", m, math.Hypot(sd, .15*m), theory(plane, plane))
}

// sleeve is what a sleeve's loft and lie do. A label degree is a degree of
// loft with the face squared: sin(lie) of lean.
func (t *table) sleeve() {
	lean := func(label float64) [F]float64 { return [F]float64{label * units.Degree * math.Sin(t.lie)} }
	m, sd := t.effect(response(1), false, lean(4.5))
	t.add("range-launch", "°", m, sd, practice(2.5, 3.5))
	m, sd = t.effect(t.apex, true, lean(4.5))
	t.add("range-apex", "ft", m, sd, practice(25, 55))
	m, sd = t.effect(response(3), false, lean(1.5))
	t.add("loft-spin", "rpm", m, sd, practice(200, 500))
	m, sd = t.effect(response(0), false, lean(-1.5))
	t.add("less-loft-speed", "mph", m, sd, published(0, above, "LoftTest"))
	m, sd = t.effect(response(2), false, [F]float64{1: units.Degree})
	t.add("upright-direction", "°", m, sd, theory(-.25, -.18))
	m, sd = t.effect(t.lateral, true, [F]float64{1: units.Degree})
	t.add("upright-lateral", "yd", m, sd, theory(-2, -2))
}

// weight is what moving or changing a weight does. A step is 1.1 mm of centre
// of mass: 10 g over 90 mm in five places.
func (t *table) weight() {
	heel := func(mm float64) [F]float64 { return [F]float64{2: -mm * units.Millimetre} }
	t.disputed = true
	m, sd := t.effect(sideSpin, false, heel(1))
	t.add("heel-side", "rpm", m, sd, theory(-55.4, -55.4), published(-98, -98, "TutGear3"))
	m, sd = t.effect(t.carryLateral, true, heel(1.1))
	t.add("step", "yd", m, sd, practice(-4, -4), theory(-1.7, -1.7))
	m, sd = t.effect(t.carryLateral, true, heel(4.5))
	t.add("track", "yd", m, sd, practice(-16, -16), published(-13.4, -13.4, "RobotSlicer"))
	t.disputed = false
	m, sd = t.effect(response(0), false, [F]float64{4: 26 * units.Gram})
	t.add("mass-ball", "mph", m, sd, published(-.8, .8, "MRR15"))
	m, sd = t.effect(response(3), false, [F]float64{4: 26 * units.Gram})
	t.add("mass-spin", "rpm", m, sd, published(0, above, "MRR15"))
	m, sd = t.effect(response(2), false, [F]float64{4: 26 * units.Gram})
	t.add("mass-direction", "°", m, sd, published(0, above, "MRR15"))
	v := priorOf(club.Head{})[massSpeed]
	t.add("mass-club", "mph", v.mean*26*units.Gram/units.MPH, v.sd*26*units.Gram/units.MPH, published(-2.7, -2.7, "MRR15"))
}

// struck is what the strike place does: more than a step of weight.
func (t *table) struck() {
	toe := func(mm float64) func(*Delivery, *Params) {
		return func(d *Delivery, _ *Params) { d.StrikeToe += mm * units.Millimetre }
	}
	m, sd := t.strikes(response(4), false, toe(10))
	t.add("toe-axis", "°", m, math.Hypot(sd, .3*m), published(-2.4, -2.4, "Drives10k"))
	m, _ = t.strikes(response(0), false, toe(12.7))
	m0 := responses(t.base)[0] / units.MPH
	t.add("toe-speed", "%", 100*m/m0, 1, practice(-4, -2))
	m, sd = t.strikes(response(3), false, func(d *Delivery, _ *Params) { d.StrikeHigh += 10 * units.Millimetre })
	t.add("high-spin", "rpm", m, math.Hypot(sd, .5*m), published(-100, -100, "Drives10k"))
}
