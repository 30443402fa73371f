// Package frame is the only place that says which way is positive.
//
// Axes: x down the target line, y up, z to the right of the target line as
// the player sees it. Launch direction, path, face, offline and the tilt of
// the spin axis are positive to the right of the target, for every golfer.
// Attack is positive upward. The club is kept in the player's own terms: toe,
// open and upright are positive for both hands.
//
// Every model behind this package is written for a right-hander. A
// left-hander's compass numbers are mirrored once on the way in and once on
// the way out (Hand.Mirror); the player's own terms need no mirroring.
//
// Begin with Hand.Mirror and its example.
package frame

// Hand is the side from which a golfer plays.
type Hand string

// The two hands. The zero value counts as right.
const (
	Right Hand = "right"
	Left  Hand = "left"
)

// Sign is +1 for a right-hander and -1 for a left-hander.
func (h Hand) Sign() float64 {
	if h == Left {
		return -1
	}
	return 1
}

// OrRight is left for a left-hander and right for anybody else.
func (h Hand) OrRight() Hand {
	if h == Left {
		return Left
	}
	return Right
}

// Mirror turns a compass quantity (positive right) into the right-handed
// equivalent, and back: Mirror(Mirror(v)) == v.
func (h Hand) Mirror(v float64) float64 { return h.Sign() * v }

// Side is a side of the target line as the player sees it.
type Side string

// The sides; the empty Side means neither.
const (
	SideRight Side = "right"
	SideLeft  Side = "left"
)

// MirrorSide turns a side into the right-handed equivalent, and back.
func (h Hand) MirrorSide(s Side) Side {
	if h != Left {
		return s
	}
	switch s {
	case SideRight:
		return SideLeft
	case SideLeft:
		return SideRight
	}
	return s
}
