package flight

import "math"

// The traits of a ball: what one ball has more or less of than the mean ball.
const (
	TraitDrag  = iota // ln of the scale of drag, KD
	TraitLift         // ln of the scale of lift, KL
	TraitCurve        // ln of the curve gain, Curve
	TraitSpin         // change of KS, the share of drag that spin causes
	TraitLow          // change of Low, the lift lost at low Reynolds number
	TraitDecay        // ln of the scale of the spin's decay
	NumTraits
)

// Traits are a ball's differences from the mean ball, in the order above [1].
type Traits [NumTraits]float64

// Population is how balls differ: about their mean, with correlations.
type Population struct {
	Mean Traits                        // [1] from the model that it is about
	Cov  [NumTraits][NumTraits]float64 // [1]
}

// The widest differences that a ball is given, in standard deviations of Balls.
const widest = 5.0

// Balls is the population about the default.
func Balls() Population {
	var p Population
	for i, sd := range [NumTraits]float64{.04, .04, .1, .3, .5, .1} {
		p.Cov[i][i] = sd * sd
	}
	return p
}

// With is the ball that differs from m by t.
func (m Model) With(t Traits) Model {
	if m == (Model{}) {
		m = Default()
	}
	if m.Curve == 0 {
		m.Curve = 1
	}
	m.KD *= math.Exp(t[TraitDrag])
	m.KL *= math.Exp(t[TraitLift])
	m.Curve *= math.Exp(t[TraitCurve])
	m.KS += t[TraitSpin]
	m.Low += t[TraitLow]
	m.Decay *= math.Exp(t[TraitDecay])
	return m
}
