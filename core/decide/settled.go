package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What is told is rounded once, here, before any sentence is made of it, to
// steps finer than what is shown: those in which a link holds an answer
// (package share), so that a sentence, a table and a link round the same number.
const (
	stepGain   = .05 // [unit of the gain]
	stepChance = .01 // [1]
)

var stepOf = map[shot.Quantity]float64{shot.Carry: .2, shot.Offline: .2, shot.Apex: .1, shot.BallSpeed: .1,
	shot.Launch: .1 * units.Degree, shot.Spin: 20 * units.RPM, shot.Descent: .2 * units.Degree}

func roundTo(v, step float64) float64 { return math.Round(v/step) * step }

// roundedTo is an interval in steps.
func roundedTo(v report.Interval, step float64) report.Interval {
	for _, x := range []*float64{&v.Mean, &v.Lo50, &v.Hi50, &v.Lo80, &v.Hi80, &v.Lo95, &v.Hi95} {
		*x = roundTo(*x, step)
	}
	return v
}

// settleAmount rounds a predicted mean, and makes its difference that of the
// two means that are told; ref is today's.
func settleAmount(a *report.Amount, ref float64) {
	step, ok := stepOf[a.Quantity]
	if !ok {
		return
	}
	a.Value, a.Difference, a.Spread = roundedTo(a.Value, step), roundedTo(a.Difference, step), roundTo(a.Spread, step)
	a.Difference.Mean = roundTo(a.Value.Mean-ref, step)
}
