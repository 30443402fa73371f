package decide

import (
	"math"

	"ferrule/core/frame"
	"ferrule/core/score"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// maxAim is how far from the middle of the fairway a player is taken to aim.
const maxAim = 6 * units.Degree // [rad]

// costs is what the aim makes small: strokes, or the misses of the fairway.
// Carry and height do not depend on the aim, so they aim by strokes.
func (d *Decider) costs() ground {
	c := d.cfg.Course
	if d.goal == shot.GoalFairways {
		return func(spots []score.Spot, line, more float64) float64 { return -c.SoftFairway(spots, line, more) }
	}
	return c.SoftStrokes
}

// lost is the share of spots along a line that lies beyond the lines of the
// side that counts.
func lost(c *score.Course, spots []score.Spot, line float64) float64 {
	right, left := score.SoftBeyond(spots, line, c.Line)
	return onSide(c.Limits.Side, right, left)
}

// inTrouble is the share of spots along a line that lies in trouble.
func inTrouble(c *score.Course, spots []score.Spot, line float64) float64 {
	sin, cos := math.Sincos(line)
	sum := 0.0
	for i := range spots {
		s := &spots[i]
		sum += s.Share * c.InTrouble(s.U*cos-s.V*sin, s.V*cos+s.U*sin)
	}
	return sum
}

// variant is the same drive judged by another aim, to say what would change
// the advice.
type variant struct {
	key     string
	strokes ground
	still   bool // aimed at the middle
}

// variantsOf are the other aims that are asked about: the trouble gone, or on
// the other side, and a line that stays or that is chosen. Carry and fairways
// need no search of their own.
func variantsOf(c *score.Course) []variant {
	if c.Goal != shot.GoalStrokes || len(c.Holes) > 3 {
		return nil
	}
	out := []variant{{"aimed", c.SoftStrokes, false}}
	if c.Reaim > 0 {
		out[0] = variant{"middle", c.SoftStrokes, true}
	}
	add := func(key string, change func(*score.Hole)) {
		v := *c
		holes := make([]score.Hole, len(c.Holes))
		for i, h := range c.Holes {
			change(&h)
			holes[i] = h
		}
		if v.SetHoles(holes) == nil {
			out = append(out, variant{key, v.SoftStrokes, c.Reaim == 0})
		}
	}
	switch c.Limits.Side {
	case frame.SideRight, frame.SideLeft:
		out = append(out, variant{"swap", c.SoftMirrored, c.Reaim == 0})
	default:
		line := []score.Trouble{{Kind: score.Penalty, At: c.Line}}
		add("right", func(h *score.Hole) { h.Right = line })
		add("left", func(h *score.Hole) { h.Left = line })
	}
	return out
}

// others scores the pattern under each variant, at the best aim within maxAim.
func (d *Decider) others(r *row) {
	p := &d.pattern
	for _, v := range d.variants {
		switch {
		case v.still:
			r.other = append(r.other, v.strokes(p.spots, p.line, 1))
			continue
		case v.key == "aimed": // the course itself, of which the best line is known
			_, cost := p.best(d.cfg.Course, v.strokes, 0, d.ref.line)
			r.other = append(r.other, cost)
			continue
		}
		var at [7]float64
		best := 0
		for k := range at {
			if at[k] = v.strokes(p.spots, p.line+float64(k-3)*maxAim/3, 1); at[k] < at[best] {
				best = k
			}
		}
		value := at[best]
		if best > 0 && best < len(at)-1 { // the foot of the parabola through three aims
			lo, hi := at[best-1], at[best+1]
			if curve := lo + hi - 2*value; curve > 0 {
				value -= (lo - hi) * (lo - hi) / 8 / curve
			}
		}
		r.other = append(r.other, value)
	}
}
