package shotfile

import "math"

// curveSigns tells the curve's sign by landing less start line, or by what
// spins the ball, and the sign of that by the curve where nothing else does.
func (p *part) curveSigns(rows []int, out map[*column]relation, ts []track, landing bool, dir, curve, spinning *column, name string) {
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
			out[curve] = p.compare(rows, "the curve agrees with landing less start line", curve, func(i int) float64 {
				t, ok := byRow[i]
				if !ok {
					return math.NaN()
				}
				return t.off - of(dir)*t.carry*math.Tan(t.dir)
			}, 4, 3)
		} else if spinning != nil && of(spinning) != 0 {
			rel := p.compare(rows, "the curve agrees with "+name, curve, func(i int) float64 {
				t, ok := byRow[i]
				if !ok {
					return math.NaN()
				}
				return t.curve
			}, 8, 3)
			rel.sign *= of(spinning)
			out[curve] = rel
		}
	}
	if spinning != nil && of(spinning) == 0 && of(curve) != 0 { // a curve as written is finer than landing less start line
		byRow := map[int]track{}
		for _, t := range ts {
			byRow[t.row] = t
		}
		rel := p.compare(rows, name+" agrees with the curve", curve, func(i int) float64 { return orElse(byRow[i].curve, math.NaN()) }, 3, 1.5)
		if rel.sign != 0 {
			rel.sign *= of(curve)
			out[spinning] = rel
		}
	}
}
