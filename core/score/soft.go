package score

import "math"

// Soft is by how much a Spot is spread across the hole: the standard deviation
// of a normal [m].
//
// An edge of a stroke moves the mean over few balls by jumps; spread, the balls
// move it smoothly, so that two settings are told apart by fewer of them.
// Whoever makes spots draws the balls together by as much.
const Soft = 5.0

// Spot is a share of a pattern of balls, about one place.
type Spot struct {
	U, V  float64 // [m] along and right of the pattern's line
	Share float64 // [1]
}

// soft are the tables of softened ground, made when first asked for.
type soft struct{ strokes, fairway *table2 }

// SoftStrokes is the mean of strokes over spots whose line points to line
// [rad, right +], all by times as far from where they are hit: balls that go
// farther with the same angles also come down farther apart.
func (c *Course) SoftStrokes(spots []Spot, line, by float64) float64 {
	if c.soft.strokes == nil {
		c.soft.strokes = c.strokes.softened()
	}
	return c.soft.strokes.mean(spots, line, by, 1, c.Exact)
}

// SoftMirrored is SoftStrokes on the mirrored course.
func (c *Course) SoftMirrored(spots []Spot, line, by float64) float64 {
	if c.soft.strokes == nil {
		c.soft.strokes = c.strokes.softened()
	}
	return c.soft.strokes.mean(spots, line, by, -1, c.Exact)
}

// SoftFairway is the share of the spots on the fairway.
func (c *Course) SoftFairway(spots []Spot, line, by float64) float64 {
	if c.soft.fairway == nil {
		c.soft.fairway = c.fairway.softened()
	}
	return c.soft.fairway.mean(spots, line, by, 1, func(x, z float64) float64 { return 0 })
}

// SoftBeyond is the shares of the spots right and left of the lines that lie
// off [m] to either side. A spot is spread evenly here, by as much, which needs
// no table.
func SoftBeyond(spots []Spot, line, off float64) (right, left float64) {
	const width = Soft * 3.4641016151377544 // sqrt 12
	sin, cos := math.Sincos(line)
	for i := range spots {
		s := &spots[i]
		z := (s.V*cos + s.U*sin) / width
		right += s.Share * math.Max(0, math.Min(1, z-off/width+.5))
		left += s.Share * math.Max(0, math.Min(1, -z-off/width+.5))
	}
	return right, left
}

// mean of the table over spots, turned over for a side of -1.
func (t *table2) mean(spots []Spot, line, by, side float64, outside func(x, z float64) float64) float64 {
	sin, cos := math.Sincos(line)
	sum := 0.0
	for i := range spots {
		s := &spots[i]
		x, z := by*(s.U*cos-s.V*sin), side*by*(s.V*cos+s.U*sin)
		cost, known := t.at(x, z)
		if !known {
			cost = outside(x, z)
		}
		sum += s.Share * cost
	}
	return sum
}

// softened is the table spread along z by Soft.
func (t *table2) softened() *table2 {
	const reach = int(3 * Soft / gridDZ)
	var w [reach + 1]float32
	total := float32(0)
	for k := range w {
		w[k] = float32(math.Exp(-float64(k*k) * gridDZ * gridDZ / 2 / Soft / Soft))
		total += w[k]
		if k > 0 {
			total += w[k]
		}
	}
	for k := range w {
		w[k] /= total
	}
	out := &table2{make([]float32, len(t.v))}
	var wide [gridNZ + 2*reach]float32 // the row, its ends continued
	for i := range gridNX {
		row, to := t.v[i*gridNZ:(i+1)*gridNZ], out.v[i*gridNZ:(i+1)*gridNZ]
		for j := range wide {
			wide[j] = row[max(0, min(gridNZ-1, j-reach))]
		}
		for j := range to {
			v := wide[j : j+2*reach+1]
			s := w[0] * v[reach]
			for k := 1; k <= reach; k++ {
				s += w[k] * (v[reach-k] + v[reach+k])
			}
			to[j] = s
		}
	}
	return out
}
