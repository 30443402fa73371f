package text

import (
	"math"
	"strings"

	"ferrule/core/club"
	"ferrule/core/units"
)

// Angles below half of what is shown are no change.
const noAngle = .05 * units.Degree

// BothWays says what a position of the sleeve does in both readings: with the
// face turned back to square, and left as it soles. c is against the untilted
// sleeve or, by Change.Against, against another setting. A position that
// nobody described says so in both.
func (r Reader) BothWays(c club.Change) (squared, soled string) {
	if c.Unknown {
		w := r.Word("both.unknown")
		return w, w
	}
	say := func(v float64, plus, minus, none string) string {
		switch {
		case v > noAngle:
			return r.Fill(plus, r.Number(v, units.Angle, 1))
		case v < -noAngle:
			return r.Fill(minus, r.Number(-v, units.Angle, 1))
		case none == "":
			return ""
		}
		return r.Word(none)
	}
	lie := say(c.Upright, "both.upright", "both.flat", "")
	join := func(first string) string {
		if lie == "" {
			return first
		}
		return first + ", " + lie
	}
	squared = r.Fill("both.squared", join(say(c.LoftSquare, "both.more-loft", "both.less-loft", "both.loft-same")))
	soled = r.Fill("both.soled", join(say(c.FaceSoled, "both.open", "both.closed", "both.face-same")))
	return squared, soled
}

// Moved says what the weights do: where the centre of mass goes and how the
// mass changes.
func (r Reader) Moved(c club.Change) string {
	var parts []string
	say := func(v, least float64, d units.Dimension, plus, minus string) {
		if math.Abs(v) < least {
			return
		}
		key, digits := plus, -1
		if v < 0 {
			key = minus
		}
		parts = append(parts, r.Fill(key, r.Number(math.Abs(v), d, digits)))
	}
	say(c.CGToe, .05*units.Millimetre, units.Small, "moved.toe", "moved.heel")
	say(c.CGBack, .05*units.Millimetre, units.Small, "moved.back", "moved.forward")
	say(c.Mass, .5*units.Gram, units.Mass, "moved.heavier", "moved.lighter")
	if len(parts) == 0 {
		return r.Word("moved.nothing")
	}
	return strings.Join(parts, ", ")
}
