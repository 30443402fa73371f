package club

import (
	"cmp"
	"fmt"
	"math"

	"ferrule/core/units"
)

// What the swing weight takes where the club does not say. The places are
// those that reproduce the worked examples of the definition for a 45.5 in
// driver (own arithmetic, W03 of the impact cases); common practice, no source.
const (
	fulcrum    = 14 * units.Inch                 // [m] from the butt, by definition [SwingWeight]
	point      = 1.75 * units.Ounce * units.Inch // [kg m] one point, by definition [SwingWeight]
	zeroPoints = 122.0                           // [1] D0 = 213.5 oz in = 122 points; from memory
	headShort  = 0.5 * units.Inch                // [m] head's centre short of the length
	gripCentre = 4.3 * units.Inch                // [m] from the butt
	usualShare = 0.48                            // [1] shaft's balance point as a share of the length
	usualGrip  = 50 * units.Gram                 // [kg]
)

// SwingWeight returns the swing weight in points above D0 with change c made:
// the first moment of head, shaft and grip about a point 14 in from the butt,
// one point being 1.75 oz in [SwingWeight]. A centre of mass moved towards the
// toe counts by cos(lie), which is its distance along the shaft. ok is false
// when length or shaft mass is unknown; a missing grip is taken as 50 g.
func (h Head) SwingWeight(c Change) (points float64, ok bool) {
	s := h.Shaft
	if s.Length <= 0 || s.Mass <= 0 || h.Mass <= 0 {
		return 0, false
	}
	balance, grip := s.Balance, s.GripMass
	balance = cmp.Or(balance, usualShare)
	grip = cmp.Or(grip, usualGrip)
	m := h.Mass + c.Mass
	arm := s.Length - headShort - fulcrum + c.CGToe*math.Cos(h.Lie+c.Upright)
	moment := m*arm + s.Mass*(balance*s.Length-fulcrum) + grip*(gripCentre-fulcrum)
	return moment/point - zeroPoints, true
}

// SwingWeightText writes points on the trade's scale of a letter and a number,
// ten points a letter: "D2.4". Off the scale it writes the points.
func SwingWeightText(points float64) string {
	tenths := math.Round(points*10) + zeroPoints*10 - 920 // A0 is 92 points
	if tenths < 0 || tenths >= 600 {
		return fmt.Sprintf("%+.1f points from D0", points)
	}
	letter := int(tenths) / 100
	return fmt.Sprintf("%c%.1f", 'A'+letter, tenths/10-float64(letter)*10)
}

// TotalMass returns the mass of the whole club [kg] with change c made; ok is
// false when neither the whole nor head, shaft and grip are known.
func (h Head) TotalMass(c Change) (mass float64, ok bool) {
	switch s := h.Shaft; {
	case s.TotalMass > 0:
		return s.TotalMass + c.Mass, true
	case s.Mass > 0 && s.GripMass > 0 && h.Mass > 0:
		return h.Mass + c.Mass + s.Mass + s.GripMass, true
	}
	return 0, false
}
