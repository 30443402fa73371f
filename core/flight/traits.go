package flight

import "math"

// The traits of a ball: what one ball has more or less of than the mean ball.
const (
	TraitDrag     = iota // ln of drag in the middle of a drive
	TraitLift            // ln of lift there
	TraitCurve           // ln of the curve gain
	TraitSpinDrag        // change of KS, the share of drag that spin causes
	TraitSpinLift        // change of SpinLift
	TraitLow             // change of Low
	TraitDecay           // ln of the spin's decay
	NumTraits
)

// Traits are a ball's differences from the mean ball, in the order above [1].
type Traits [NumTraits]float64

// Population is how balls differ: about their mean, with correlations.
type Population struct {
	Mean Traits                        // [1] from the model that it is about
	Cov  [NumTraits][NumTraits]float64 // [1]
}

// widest differences that a ball is given, in standard deviations.
const widest = 5.0

// Balls is the population about the default.
func Balls() Population {
	var p Population
	for i, sd := range (Traits{.055, .055, .25, .5, .3, .8, .2}) {
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
	was := m.middleDrag()
	m.KS += t[TraitSpinDrag]
	m.KD *= math.Exp(t[TraitDrag]) * was / m.middleDrag()
	m.KL *= math.Exp(t[TraitLift])
	m.Curve *= math.Exp(t[TraitCurve])
	m.SpinLift += t[TraitSpinLift]
	m.Low += t[TraitLow]
	m.Decay *= math.Exp(t[TraitDecay])
	return m
}

// middleDrag is the drag in the middle of a drive but for KD.
func (m *Model) middleDrag() float64 {
	a := m.Aero
	if a == nil {
		a = Compromise{}
	}
	cd, _ := a.Coefficients(middleR, middleS)
	cd0, _ := a.Coefficients(middleR, 0)
	return cd0 + m.KS*(cd-cd0)
}
