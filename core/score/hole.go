package score

import (
	"math"

	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/units"
)

// Kind is what lies beyond a trouble line.
type Kind string

// The kinds of trouble.
const (
	Penalty Kind = "penalty" // a stroke, and a drop where the ball crossed
	Out     Kind = "out"     // a stroke, and another drive
	Trees   Kind = "trees"   // half the balls blocked, half playable as from rough
)

// Trouble is ground beyond a line beside the hole.
type Trouble struct {
	Kind Kind
	At   float64 // [m] distance of its edge from the middle of the fairway, > 0
}

// Hole is one driving hole: a strip of fairway, rough beside it, and trouble
// beyond lines on either side. Lengths are along the middle of the fairway.
type Hole struct {
	Name        string
	Length      float64   // [m] tee to pin along the hole
	FairwayHalf float64   // [m] half of the fairway's width
	BendAt      float64   // [m] where a dogleg turns, 0 = straight hole
	Bend        float64   // [rad] how far it turns, right +
	Right       []Trouble // innermost first
	Left        []Trouble
	Weight      float64 // [1] share of drives played here, 0 = 1
}

// check reports what is wrong with a hole as the user described it.
func (h Hole) check() error {
	in := func(err error) error { // of a hole with a name
		if h.Name == "" {
			return err
		}
		return message.New("problem.named", h.Name, err)
	}
	yards := func(m float64) float64 { return math.Round(m / units.Yard) }
	switch {
	case !(h.Length >= 100*units.Yard && h.Length <= 700*units.Yard):
		return in(message.Outside("club.hole", yards(h.Length), 100, 700, "yd"))
	case !(h.FairwayHalf > 0 && h.FairwayHalf <= 100*units.Yard):
		return in(message.Outside("club.fairway", yards(2*h.FairwayHalf), 1, 200, "yd"))
	case !(h.BendAt >= 0) || !(math.Abs(h.Bend) <= math.Pi/2):
		return in(message.New("problem.bend"))
	case !(h.Weight >= 0):
		return in(message.New("problem.weight"))
	}
	for _, side := range [][]Trouble{h.Right, h.Left} {
		for _, t := range side {
			if t.Kind != Penalty && t.Kind != Out && t.Kind != Trees {
				return in(oneOf("club.trouble-kind", string(t.Kind), `"penalty", "out", "trees"`))
			}
			if !(t.At > 0) {
				return in(message.New("problem.named", message.Key("club.trouble-at"), message.Of("problem.read", yards(t.At), message.Of("problem.positive"))))
			}
		}
	}
	return nil
}

// mirror swaps right and left, for a left-hander.
func (h Hole) mirror(hand frame.Hand) Hole {
	if hand != frame.Left {
		return h
	}
	h.Right, h.Left = h.Left, h.Right
	h.Bend = -h.Bend
	return h
}

// Place is where a ball came to rest on a hole.
type Place struct {
	Lie     Lie
	ToPin   float64 // [m] distance left after any drop
	Penalty float64 // [strokes] added
	Replay  bool    // the next stroke is from the tee
	Trees   bool    // half rough, half recovery
}

// lost reports whether the place is beyond a line of trouble.
func (p Place) lost() bool { return p.Penalty > 0 || p.Trees }

// along returns the distance along the hole and off its middle, right +.
func (h *Hole) along(x, z float64) (s, off float64) {
	if h.Bend == 0 || x <= h.BendAt {
		return x, z
	}
	sin, cos := math.Sincos(h.Bend)
	dx := x - h.BendAt
	s, off = dx*cos+z*sin, z*cos-dx*sin
	if s < 0 { // inside the corner: still on the first leg
		return x, z
	}
	return h.BendAt + s, off
}

// pin returns where the hole is.
func (h *Hole) pin() (x, z float64) {
	if h.Bend == 0 || h.BendAt >= h.Length {
		return h.Length, 0
	}
	sin, cos := math.Sincos(h.Bend)
	leg := h.Length - h.BendAt
	return h.BendAt + leg*cos, leg * sin
}

// Find says how a ball that rests at (x, z) [m] plays: x along the line from
// the tee, z right of it.
//
// Trouble is taken outermost first: a ball beyond the boundary is out whatever
// grows before it. The drop from a penalty area is on its edge where the ball
// crossed it, in rough; the crossing place assumes a sideways path that grows
// with the square of the distance, which is how a curving ball leaves its line.
func (h *Hole) Find(x, z float64) Place {
	p, x, z := h.find(x, z)
	px, pz := h.pin()
	p.ToPin = math.Hypot(px-x, pz-z)
	return p
}

// find is Find without the distance to the pin, and the place from which that
// counts.
func (h *Hole) find(x, z float64) (p Place, fromX, fromZ float64) {
	s, off := h.along(x, z)
	side, sign := h.Right, 1.0
	if off < 0 {
		side, sign = h.Left, -1
	}
	away := math.Abs(off)
	for i := len(side) - 1; i >= 0; i-- {
		t := &side[i]
		if away <= t.At || s < 0 {
			continue
		}
		switch t.Kind {
		case Out:
			return Place{Lie: Tee, Penalty: 1, Replay: true}, 0, 0
		case Penalty:
			x, z = h.ground(s*math.Sqrt(t.At/away), sign*t.At)
			return Place{Lie: Rough, Penalty: 1}, x, z
		case Trees:
			return Place{Lie: Rough, Trees: true}, x, z
		}
	}
	if away <= h.FairwayHalf && s >= 0 {
		return Place{Lie: Fairway}, x, z
	}
	return Place{Lie: Rough}, x, z
}

// ground is the inverse of along.
func (h *Hole) ground(s, off float64) (x, z float64) {
	if h.Bend == 0 || s <= h.BendAt {
		return s, off
	}
	sin, cos := math.Sincos(h.Bend)
	ds := s - h.BendAt
	return h.BendAt + ds*cos - off*sin, ds*sin + off*cos
}

// strokes returns the strokes to finish the hole with a drive that rests at
// (x, z) [m]: the drive itself, any penalty, and the baseline from there.
// A replayed drive is worth the baseline of the tee.
func (h *Hole) strokes(b Baseline, x, z float64) float64 { return h.from(b, h.Find(x, z)) }

// from is Strokes of a drive whose place is found.
func (h *Hole) from(b Baseline, p Place) float64 {
	switch {
	case p.Replay:
		return 1 + p.Penalty + b.At(Tee, h.Length)
	case p.Trees:
		return 1 + 0.5*(b.At(Rough, p.ToPin)+b.At(Recovery, p.ToPin))
	}
	return 1 + p.Penalty + b.At(p.Lie, p.ToPin)
}
