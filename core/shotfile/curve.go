package shotfile

import (
	"math"

	"ferrule/core/message"
)

// curveSigns tells the curve's sign by landing less start line, or by what
// spins the ball, and the sign of that by the curve where nothing else does.
func (p *signAudit) curveSigns(rows []int, out map[*column]relation, ts []track, landing bool, dir, curve, spinning *column, name message.Message) {
	of := func(c *column) float64 {
		if c == nil {
			return 0
		}
		return out[c].sign
	}
	if curve != nil && landing {
		byRow := map[int]track{}
		for _, t := range ts {
			byRow[t.row] = t
		}
		if dir != nil && of(dir) != 0 {
			out[curve] = p.compare(rows, message.Of("problem.rel-written-curve"), curve, func(i int) float64 {
				t, ok := byRow[i]
				if !ok {
					return math.NaN()
				}
				return t.off - of(dir)*t.carry*math.Tan(t.dir)
			}, 4, 3)
		} else if spinning != nil && of(spinning) != 0 {
			rel := curveUnderWind(ts, curve, p, message.Of("problem.rel-curve", name))
			rel.sign *= of(spinning)
			out[curve] = rel
		}
	}
	if spinning != nil && of(spinning) == 0 && of(curve) != 0 { // a curve as written is finer than landing less start line
		rel := curveUnderWind(ts, curve, p, message.Of("problem.rel-curve-air", name))
		if rel.sign > 0 || rel.lead < -sureLead { // the landing side has said the same already, and not enough
			rel.sign *= of(curve)
			out[spinning] = rel
		}
	}
}

// curveUnderWind tells the sign of the written curve relative to what spins the
// ball, each block's drift unknown.
func curveUnderWind(ts []track, curve *column, p *signAudit, what message.Message) relation {
	var kept []track
	for _, t := range ts {
		if t.off = curve.value(t.row); !math.IsNaN(t.off) && !math.IsNaN(t.curve) {
			kept = append(kept, t)
		}
	}
	sign := func(s float64) float64 {
		return underWind(kept, true, func(t track) float64 { return t.off - s*t.curve })
	}
	same, of := alike(kept, func(t track) (x, y float64) { return t.curve, t.off })
	return contest(what, sign(1), sign(-1), same, of, len(kept)).byCurve(len(kept), surely)
}
