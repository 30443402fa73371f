package flight

import (
	"cmp"
	"math"
)

// The traits of a ball: what one ball has more or less of than the mean ball.
const (
	TraitDrag     = iota // ln of drag in the middle of a drive
	TraitLift            // ln of lift there
	TraitCurve           // ln of Curve
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
	Cov [NumTraits][NumTraits]float64 // [1]
}

// widest differences that a ball is given, in standard deviations.
const widest = 5.0

// Balls is the population about the default. How balls differ in drag, lift, their
// slopes with spin and the loss at low speed is what the published points say
// (`ferrule fly -fit` prints it, TestPopulation in cmd/ferrule holds it); the
// square of what their mean ball differs from the default is in it, because either
// may be the mean of today's balls. Of Curve nothing is published: devices
// and balls together, our own choice. Decay: the two published values differ by
// .22 [SS94, Tavares 1999].
func Balls() Population {
	sd := Traits{.048, .0413, .2, .549, .258, 1.136, .2}
	corr := [NumTraits][NumTraits]float64{
		TraitDrag:     {TraitLift: .16, TraitSpinDrag: .49, TraitSpinLift: .29, TraitLow: -.63},
		TraitLift:     {TraitSpinDrag: -.22, TraitSpinLift: .02, TraitLow: .32},
		TraitSpinDrag: {TraitSpinLift: .63, TraitLow: -.53},
		TraitSpinLift: {TraitLow: -.09},
	}
	var p Population
	for i := range sd {
		p.Cov[i][i] = sd[i] * sd[i]
		for j := i + 1; j < NumTraits; j++ {
			p.Cov[i][j] = corr[i][j] * sd[i] * sd[j]
			p.Cov[j][i] = p.Cov[i][j]
		}
	}
	return p
}

// With is the ball that differs from m by t, held where balls fly.
func (m Model) With(t Traits) Model {
	if m == (Model{}) {
		m = Default()
	}
	m.Curve = cmp.Or(m.Curve, 1)
	if t == (Traits{}) {
		return m
	}
	was := m.middleDrag()
	m.KS = held(m.KS+t[TraitSpinDrag], -.3, 3)
	m.KD = held(m.KD*math.Exp(t[TraitDrag])*was/m.middleDrag(), .3, 3)
	m.KL = held(m.KL*math.Exp(t[TraitLift]), .3, 3)
	m.Curve = held(m.Curve*math.Exp(t[TraitCurve]), .2, 3)
	m.SpinLift = held(m.SpinLift+t[TraitSpinLift], -1, 2)
	m.Low = held(m.Low+t[TraitLow], -6, 6)
	m.Decay *= math.Exp(t[TraitDecay])
	return m
}

// middleDrag is the drag in the middle of a drive but for KD.
func (m *Model) middleDrag() float64 {
	a := m.Aero
	if a == nil {
		a = Compromise{}
	}
	cd, _ := a.Coefficients(MiddleR, MiddleS)
	cd0, _ := a.Coefficients(MiddleR, 0)
	return cd0 + m.KS*(cd-cd0)
}
