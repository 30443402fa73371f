package pipeline

import (
	"slices"

	"ferrule/core/air"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// observed lists the balls whose launch and flight were both measured.
func (a *analysis) observed() (seen []flight.Observation) {
	for i, sh := range a.s.Shots {
		v := sh.Values
		l, has := launchOf(v)
		if !a.review.Rows[i].Used() || a.at[i] < 0 || !has[0] || !has[1] || !has[3] || !(v[shot.Carry] > 0 || v[shot.Apex] > 0) {
			continue
		}
		b := &a.blocks[a.blockOf[i]]
		dense, same := a.env, a.env // winds are inferred in the air of env: what temperature and pressure do is taken out first
		dense.Air, same.Air.Wind, same.Air.WindFrom = b.air, b.air.Wind, b.air.WindFrom
		v = carriedTo(v, dense, same)
		made := func(qs ...shot.Quantity) bool { // the device's own work: nothing is adjusted to it
			return slices.ContainsFunc(qs, func(q shot.Quantity) bool { return slices.Contains(sh.Assumed, q) })
		}
		o := flight.Observation{Launch: l, Carry: ptr(v, shot.Carry), Apex: ptr(v, shot.Apex), Block: a.blockOf[i]}
		if made(shot.Carry) {
			o.Carry = nil
		}
		if made(shot.Apex) {
			o.Apex = nil
		}
		if made(shot.BallSpeed, shot.Launch, shot.Spin, shot.Backspin) || o.Carry == nil && o.Apex == nil {
			continue
		}
		if has[2] && has[4] { // sideways only where start line and axis say why
			o.Offline = offlineOf(v)
		}
		seen = append(seen, o)
	}
	return seen
}

// mostFlights of a block tell its wind and the ball; with three hundred, a gust of
// 1 m/s leaves .06 m/s in doubt, and a season's thousands cost a minute.
const mostFlights = 300

// enough are the flights of which no block has more than mostFlights, taken evenly.
func enough(seen []flight.Observation, blocks int) []flight.Observation {
	of, at := make([]int, blocks), make([]int, blocks)
	for _, o := range seen {
		of[o.Block]++
	}
	return slices.DeleteFunc(slices.Clone(seen), func(o flight.Observation) bool {
		n, i := of[o.Block], at[o.Block]
		at[o.Block]++
		return n > mostFlights && (i+1)*mostFlights/n == i*mostFlights/n
	})
}

// calibrate adjusts the ball model when enough flights were really measured:
// not when the device computed them, be it that the player said so (indoors) or
// that they follow from the launch numbers. The same flights tell the winds. How much
// few flights say is theirs to say: flight.Calibrate takes what they predict.
func (a *analysis) calibrate() {
	seen := a.observed()
	if a.s.Conditions.Indoors {
		return
	}
	if a.origin = flight.Origin(seen, a.env); a.origin.Computed {
		noWind(a.blocks)
		return
	}
	fit, err := windsOf(a.blocks, a.env, enough(seen, len(a.blocks)))
	if err != nil {
		return
	}
	learnWinds(a.blocks, fit)
	if fit.Taken > 0 {
		a.env.Model, a.fit, a.adjusted = fit.Model, fit, true
	}
}

// modelOf is the ball of a report; nil is the published one.
func modelOf(b *report.Ball) flight.Model {
	m := flight.Default()
	if b != nil {
		m.KD, m.KL, m.KS, m.Curve, m.SpinLift, m.Low = b.Drag, b.Lift, b.SpinDrag, b.Curve, b.SpinLift, b.Low
		if b.Decay > 0 {
			m.Decay = b.Decay
		}
	}
	return m
}

// writeBall says what air does to the player's ball at the chosen setting and
// how far launch and spin could carry it.
func (a *analysis) writeBall(r *report.Report) {
	at := r.Choice.Setting
	if at < 0 || at >= len(a.typical) {
		at = r.Reference
	}
	m := a.env.Model
	if m == (flight.Model{}) {
		m = flight.Default()
	}
	b := &report.Ball{Drag: m.KD, Lift: m.KL, SpinDrag: m.KS, Curve: m.Curve, SpinLift: m.SpinLift, Low: m.Low, Decay: m.Decay}
	l := a.typical[at]
	still := a.env
	if still.Air == (air.Air{}) {
		still.Air = air.Standard()
	}
	still.Air.Wind = 0
	g, err := flight.Fly(l, still)
	if err != nil {
		return
	}
	b.Carry = g.Carry
	if list, err := flight.Elsewhere(l, a.env); err == nil {
		for _, c := range list {
			b.Airs = append(b.Airs, report.AirChange{Key: c.Key, Carry: c.Carry, Offline: c.Offline, Apex: c.Apex})
		}
	}
	known := impact.Known{ClubSpeed: a.base.ClubSpeed, Attack: a.base.Attack}
	if reach, err := impact.AdviseFor(l, known, impact.DefaultParams(a.head), still); err == nil {
		attack := impact.UsualAttack
		if a.base.Attack != nil {
			attack = *a.base.Attack
		}
		b.Reach = &report.Reach{Launch: reach.Best.Angle, Spin: reach.Best.Spin, Carry: reach.Carry, Short: reach.Short,
			Attack: attack, Measured: a.base.Attack != nil,
			LaunchLow: reach.Low.Angle, LaunchHigh: reach.High.Angle, SpinLow: reach.Low.Spin, SpinHigh: reach.High.Spin}
	}
	r.Ball = b
}
