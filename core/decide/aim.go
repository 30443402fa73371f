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

// ground is a function of the resting place, to be made small.
type ground func(x, z float64) float64

// costs is what the aim makes small: strokes, or the misses of the fairway.
// Carry and height do not depend on the aim, so they aim by strokes.
func (d *Decider) costs() ground {
	c := d.cfg.Course
	if d.goal == shot.GoalFairways {
		return func(x, z float64) float64 { return -c.SoftFairway(x, z) }
	}
	return c.SoftStrokes
}

// atAim is the mean cost of every step-th ball of each draw at aim a.
func (d *Decider) atAim(cost ground, a float64, step int) float64 {
	sin, cos := math.Sincos(a)
	sum, n := 0.0, 0
	for g := 0; g+d.perDraw <= len(d.x); g += d.perDraw {
		for b := g + g/d.perDraw%step; b < g+d.perDraw; b += step {
			sum += cost(d.x[b]*cos-d.z[b]*sin, d.z[b]*cos+d.x[b]*sin)
			n++
		}
	}
	return sum / float64(n)
}

// lost is how much of a ball at z, spread as the soft ground has it, lies
// beyond the line of the side that counts.
func lost(c *score.Course, z float64) float64 {
	return onSide(c.Limits.Side, score.SoftBeyond(z, c.Line), score.SoftBeyond(-z, c.Line))
}

// variant is the same drive judged by another aim, to say what would change
// the advice.
type variant struct {
	key    string
	course *score.Course
	cost   ground
}

// variantsOf are the other aims that are asked about: the trouble gone, or on
// the other side. Carry and fairways need no search of their own.
func variantsOf(c *score.Course) []variant {
	if c.Goal != shot.GoalStrokes || len(c.Holes) > 3 {
		return nil
	}
	var out []variant
	add := func(key string, change func(*score.Hole)) {
		v := *c
		holes := make([]score.Hole, len(c.Holes))
		for i, h := range c.Holes {
			change(&h)
			holes[i] = h
		}
		if v.SetHoles(holes) == nil {
			out = append(out, variant{key, &v, v.Strokes})
		}
	}
	switch c.Limits.Side {
	case frame.SideRight, frame.SideLeft:
		add("swap", func(h *score.Hole) { *h = h.Mirror(frame.Left) })
	default:
		line := []score.Trouble{{Kind: score.Penalty, At: c.Line}}
		add("right", func(h *score.Hole) { h.Right = line })
		add("left", func(h *score.Hole) { h.Left = line })
	}
	return out
}

// others scores the balls in d.x, d.z under each variant, on a quarter of them.
func (d *Decider) others(r *row) {
	for _, v := range d.variants {
		if v.course.Fixed {
			r.other = append(r.other, d.atAim(v.cost, 0, 4))
			continue
		}
		var at [7]float64
		best := 0
		for k := range at {
			if at[k] = d.atAim(v.cost, float64(k-3)*maxAim/3, 4); at[k] < at[best] {
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
