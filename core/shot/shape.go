package shot

import (
	"math"

	"ferrule/core/frame"
	"ferrule/core/units"
)

// Shape is a golfer's name for the way of a ball. It follows from the compass
// and the hand, and is never stored.
type Shape string

// The shapes. Push and Pull fly straight, but beside the line; the other ball
// names are for those that curve, wherever they start.
const (
	Straight Shape = "straight"
	Draw     Shape = "draw" // curves a little to the player's own side
	Fade     Shape = "fade" // a little to the other
	Hook     Shape = "hook" // much to the player's own side
	Slice    Shape = "slice"
	Push     Shape = "push" // straight, to the side away from the player
	Pull     Shape = "pull"
)

// Where one name ends and the next begins: our own choice, no source. Less
// than 2 % of the carry is no curve and 8 % is much (4 and 16 yd in 200); a
// degree of spin axis curves a drive by .6 % (ferrule fly 130 13 2900 0 10:
// 11.7 yd in 198.3), which speaks where neither curve nor side was measured.
const (
	leastCurve   = .02
	muchCurve    = .08
	curveOfAxis  = .006 / units.Degree
	leastStartOf = 1 * units.Degree
)

// Way is how a ball started and curved.
type Way struct {
	Shape  Shape
	Start  float64 // [rad] direction, right +
	Starts bool    // it is known
	Curve  float64 // [m] at landing, right +
}

// WayOf names the way of a ball hit by hand; ok is false where nothing says
// how it curved, or how far it flew.
func WayOf(v Values, hand frame.Hand) (w Way, ok bool) {
	carry, ok := v.Get(Carry)
	if !ok || carry <= 0 {
		return Way{}, false
	}
	w.Start, w.Starts = v.Get(LaunchDirection)
	offline, sided := v.Get(Offline)
	curve, curved := v.Get(Curve)
	axis, tilted := v.Get(SpinAxis)
	switch {
	case curved:
		w.Curve = curve
	case sided && w.Starts:
		w.Curve = offline - carry*math.Tan(w.Start)
	case tilted:
		w.Curve = axis * curveOfAxis * carry
	default:
		return Way{}, false
	}
	// As a right-hander's, who stands to the left of the ball.
	turn, start := hand.Mirror(w.Curve)/carry, hand.Mirror(w.Start)
	switch {
	case turn <= -muchCurve:
		w.Shape = Hook
	case turn <= -leastCurve:
		w.Shape = Draw
	case turn >= muchCurve:
		w.Shape = Slice
	case turn >= leastCurve:
		w.Shape = Fade
	case w.Starts && start > leastStartOf:
		w.Shape = Push
	case w.Starts && start < -leastStartOf:
		w.Shape = Pull
	default:
		w.Shape = Straight
	}
	return w, true
}
