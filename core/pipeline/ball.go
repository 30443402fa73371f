package pipeline

import (
	"ferrule/core/air"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// calibrateFrom is the number of measured flights from which the ball model
// is adjusted to them.
const calibrateFrom = 12

// observed lists the balls whose launch and flight were both measured.
func (a *analysis) observed() (seen []flight.Observation) {
	for _, i := range a.shotOf {
		v := a.s.Shots[i].Values
		l, has := launchOf(v)
		if !has[0] || !has[1] || !has[3] || !(v[shot.Carry] > 0 || v[shot.Apex] > 0) {
			continue
		}
		o := flight.Observation{Launch: l, Carry: ptr(v, shot.Carry), Apex: ptr(v, shot.Apex)}
		if has[2] && has[4] { // sideways only where start line and axis say why
			o.Offline = offlineOf(v)
		} // the session's air is taken as stated: Prior holds no block
		seen = append(seen, o)
	}
	return seen
}

// calibrate adjusts the ball model when enough flights were really measured:
// not when the device computed them, be it that the player said so (indoors) or
// that they follow from the launch numbers.
func (a *analysis) calibrate() {
	seen := a.observed()
	if a.s.Conditions.Indoors {
		return
	}
	if a.origin = flight.Origin(seen, a.env); a.origin.Computed || len(seen) < calibrateFrom {
		return
	}
	if fit, err := flight.Calibrate(seen, a.env, flight.Prior{}); err == nil && fit.Taken > 0 {
		a.env.Model, a.fit, a.adjusted = fit.Model, fit, true
	}
}

// modelOf is the ball of a report; nil is the published one.
func modelOf(b *report.Ball) flight.Model {
	m := flight.Default()
	if b != nil {
		m.KD, m.KL, m.KS, m.Curve = b.Drag, b.Lift, b.SpinDrag, b.Curve
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
	b := &report.Ball{Drag: m.KD, Lift: m.KL, SpinDrag: m.KS, Curve: m.Curve}
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
	if reach, err := impact.AdviseFor(l, known, impact.DefaultParams(a.s.Head), still); err == nil {
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

// levelled is a measured ball in standard still air; nil where its own air is
// that, or where carry and landing place were not measured.
func (a *analysis) levelled(v shot.Values) *report.Level {
	standard := a.env
	standard.Air = air.Standard()
	carry, offline, apex := ptr(v, shot.Carry), offlineOf(v), ptr(v, shot.Apex)
	l, has := launchOf(v)
	if a.env.Air == standard.Air || a.s.Conditions.Indoors || carry == nil || !has[0] || !has[1] {
		return nil
	}
	if !has[3] {
		l.Spin = a.response.Centre[3]
	}
	m, err := flight.Level(l, flight.Measured{Carry: carry, Offline: offline, Apex: apex}, a.env, standard)
	if err != nil {
		return nil
	}
	out := &report.Level{Carry: *m.Carry}
	if m.Offline != nil {
		out.Offline = *m.Offline
	}
	if m.Apex != nil {
		out.Apex = *m.Apex
	}
	return out
}
