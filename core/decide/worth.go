package decide

import (
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// worth is what the player aims for, and what a cost a drive comes to in it.
type worth struct {
	goal shot.Goal
	aim  shot.Aim // drives a round, what a change must be worth, balls and minutes left
}

// unit is what a gain is counted in, and how many of it an amount of cost is.
func (w *worth) unit() (u report.Unit, per float64) {
	switch w.goal {
	case shot.GoalCarry:
		return report.UnitCarry, 1
	case shot.GoalFairways:
		return report.UnitFairways, report.Drives
	case shot.GoalHeight:
		return report.UnitWindow, report.Drives
	}
	return report.UnitStrokes, w.aim.Drives()
}

// gain is what a cost against today's is worth.
func (w *worth) gain(cost report.Interval) report.Worth {
	u, per := w.unit()
	v := cost.Minus()
	for _, x := range []*float64{&v.Mean, &v.Lo50, &v.Hi50, &v.Lo80, &v.Hi80, &v.Lo95, &v.Hi95} {
		*x *= per
	}
	return report.Worth{Unit: u, Value: roundedTo(v, stepGain)}
}

// plain is an amount without an interval.
func (w *worth) plain(saved float64) report.Worth {
	u, per := w.unit()
	return report.Worth{Unit: u, Value: flat(roundTo(per*saved, stepGain))}
}

// least is what a change must be worth to the player, as a cost a drive.
func (w *worth) least() float64 {
	_, per := w.unit()
	return w.aim.Least / per
}

// Tie is a difference, in the goal's own unit, that makes no other advice: 0.005
// strokes, and for the other goals half a yard of carry or half a percent of
// the balls.
func Tie(goal shot.Goal) float64 {
	if goal == shot.GoalCarry {
		return 0.5 * units.Yard
	}
	return 0.005
}

// equal is a difference between two settings that no count of drives can show:
// a thousandth of a stroke, a tenth of a yard, a drive in a thousand.
func (w *worth) equal() float64 {
	if w.goal == shot.GoalCarry {
		return 0.1 * units.Yard
	}
	return 0.001
}

// hitting is what balls must be expected to bring to be hit: what the
// player says a change must be worth, or else the least that is shown: a tenth
// of a stroke a round, half a yard of carry, a tenth of a drive in twenty.
func (w *worth) hitting() float64 {
	u, per := w.unit()
	if w.aim.Least > 0 {
		return w.least()
	}
	if u == report.UnitCarry {
		return 0.5 * units.Yard
	}
	return 0.1 / per
}
