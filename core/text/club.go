package text

import (
	"cmp"
	"math"
	"slices"
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
	lie := r.turned(c.Upright, "both.upright", "both.flat")
	say := func(v float64, plus, minus, none string) string {
		first := cmp.Or(r.turned(v, plus, minus), r.Word(none))
		if lie == "" {
			return first
		}
		return first + ", " + lie
	}
	squared = r.Fill("both.squared", say(c.LoftSquare, "both.more-loft", "both.less-loft", "both.loft-same"))
	soled = r.Fill("both.soled", say(c.FaceSoled, "both.open", "both.closed", "both.face-same"))
	return squared, soled
}

// turned says an angle [rad] by the word of its direction and without a sign;
// one too small to be shown is said by nothing.
func (r Reader) turned(v float64, plus, minus string) string {
	switch {
	case v > noAngle:
		return r.Fill(plus, r.Number(v, units.Angle, 1))
	case v < -noAngle:
		return r.Fill(minus, r.Number(-v, units.Angle, 1))
	}
	return ""
}

// degrees says what a change does to loft, lie and face, each by the word of
// its direction ("1.8° more loft with the face square", "1.1° flatter"); what
// stays is left out. A change that nobody described says nothing.
func (r Reader) degrees(c club.Change) []string {
	if c.Unknown {
		return nil
	}
	return slices.DeleteFunc([]string{
		r.turned(c.LoftSquare, "degrees.more-loft", "degrees.less-loft"),
		r.turned(c.Upright, "degrees.upright", "degrees.flat"),
		r.turned(c.FaceSoled, "degrees.open", "degrees.closed"),
	}, func(s string) bool { return s == "" })
}

// between stands between the parts of a change.
const between = "\u00a0· "

// FromOwn says loft, lie and face of a setting against the head with its
// sleeve untilted, and names that zero. c is Head.Change's.
func (r Reader) FromOwn(c club.Change) string {
	parts := r.degrees(c)
	switch {
	case c.Unknown:
		return r.Word("degrees.unknown")
	case len(parts) == 0:
		return r.Word("degrees.own-none")
	}
	return r.Fill("degrees.own", strings.Join(parts, between))
}

// FromToday says all that a setting changes against today's, and names that
// zero. c is against it, by Change.Against.
func (r Reader) FromToday(c club.Change) string {
	parts := append(r.degrees(c), r.weights(c)...)
	if c.Unknown {
		parts = append([]string{r.Word("degrees.unknown")}, parts...)
	}
	if len(parts) == 0 {
		return r.Word("change.none")
	}
	return r.Fill("degrees.today", strings.Join(parts, between))
}

// Moved says what the weights do: where the centre of mass goes and how the
// mass changes.
func (r Reader) Moved(c club.Change) string {
	if parts := r.weights(c); len(parts) > 0 {
		return strings.Join(parts, ", ")
	}
	return r.Word("moved.nothing")
}

func (r Reader) weights(c club.Change) (parts []string) {
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
	return parts
}
