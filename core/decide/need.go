package decide

import (
	"math"

	"gonum.org/v1/gonum/mathext"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// sizes of the differences that are asked about, in yards and in metres.
var sizes = []float64{3, 5, 8, 10, 15}

// needed answers "how many balls would it take?" for the questions that a
// player may pick: a difference of carry or of side between two settings, and
// the costly miss halved. The spread is the predicted shot-to-shot spread with
// today's setting.
func needed(ref *row, side frame.Side) []report.Need {
	var out []report.Need
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
		a, ok := ref.out.Of(q)
		if !ok || a.Spread <= 0 {
			continue
		}
		for _, unit := range []float64{units.Yard, 1} {
			for _, s := range sizes {
				n := report.Need{Quantity: q, Size: s * unit}
				for k, chance := range report.NeedChances {
					n.See[k] = ballsToSee(a.Spread, n.Size, chance)
					n.Pick[k] = whole(ballsToPick(a.Spread, n.Size, chance))
				}
				out = append(out, n)
			}
		}
	}
	p := 0.0
	switch side {
	case frame.SideRight:
		p = ref.straight[0]
	case frame.SideLeft:
		p = ref.straight[1]
	}
	if p > 0.02 {
		n := report.Need{Share: p, Size: p / 2}
		for k, chance := range report.NeedChances {
			n.See[k] = ballsToHalve(p, chance)
			n.Pick[k] = whole(ballsToPick(math.Sqrt((p*(1-p)+p/2*(1-p/2))/2), p/2, chance))
		}
		out = append(out, n)
	}
	return out
}

// ballsToSee is ballsEach as a whole number, with a quarter of z^2 added for
// the spread being estimated from the same balls (key Guenther1981).
func ballsToSee(sd, difference, power float64) int {
	z := mathext.NormalQuantile(1 - level/2)
	return whole(ballsEach(sd, math.Abs(difference), power) + z*z/4)
}

// ballsToHalve is how many balls each of two settings needs to tell that one
// of them halves a miss of share p, with the given chance of seeing it and a
// two-sided 5 %: (z_.975 + z_power)^2 (p q + p' q')/(p - p')^2, p' = p/2.
func ballsToHalve(p, power float64) int {
	z := mathext.NormalQuantile(1-level/2) + mathext.NormalQuantile(power)
	h := p / 2
	return whole(z * z * (p*(1-p) + h*(1-h)) / (h * h))
}

// whole rounds a number of balls up, to at most mostBalls.
func whole(n float64) int {
	if n = math.Ceil(n); n < mostBalls {
		return max(1, int(n))
	}
	return mostBalls
}
