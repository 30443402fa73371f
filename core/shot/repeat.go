package shot

import (
	"math"

	"ferrule/core/units"
)

// Repeats tells which shots of read are in have already: out[i] is the index in
// have, -1 for a new ball. A ball is known by its numbers, in any file, order
// and unit: five or more that agree as closely as devices print them, three
// that are the same to six digits, or two of them in the same line or at the
// same time; in the same line of a file of the same name half of them, since a
// person may have corrected the others. Each ball of have is met once.
func Repeats(have, read []Shot) (out []int) {
	out = make([]int, len(read))
	if len(have) == 0 {
		for i := range out {
			out[i] = -1
		}
		return out
	}
	exact, lines := map[string][]int{}, map[int][]int{}
	near := map[bucket][]int{}
	for k, h := range have {
		text, _ := h.Values.Print()
		exact[text] = append(exact[text], k)
		lines[h.Line] = append(lines[h.Line], k)
		if b, ok := bucketOf(h.Values, 0); ok {
			near[b] = append(near[b], k)
		}
	}
	used := make([]bool, len(have))
	take := func(list []int, same func(h Shot) bool) int {
		for _, k := range list {
			if !used[k] && same(have[k]) {
				used[k] = true
				return k
			}
		}
		return -1
	}
	for i, r := range read {
		text, n := r.Values.Print()
		out[i] = take(exact[text], func(h Shot) bool {
			return n >= 3 || n >= 2 && (h.Line == r.Line || h.Clock != "" && h.Clock == r.Clock)
		})
		for step := -1; step <= 1 && out[i] < 0; step++ {
			if b, ok := bucketOf(r.Values, step); ok {
				out[i] = take(near[b], func(h Shot) bool { return agree(h.Values, r.Values) })
			}
		}
		if out[i] < 0 && r.Line > 0 {
			out[i] = take(lines[r.Line], func(h Shot) bool {
				same := 0
				for q, v := range r.Values {
					if x, ok := h.Values[q]; ok && x == v {
						same++
					}
				}
				return same >= 2 && h.Source == r.Source && 2*same >= len(r.Values)
			})
		}
	}
	return out
}

// bucket gathers balls of nearly the same speed, or carry where no speed was
// measured.
type bucket struct {
	q  Quantity
	at int
}

func bucketOf(v Values, step int) (bucket, bool) {
	for _, q := range []Quantity{BallSpeed, Carry} {
		if x, ok := v[q]; ok {
			return bucket{q, int(math.Floor(x/.2)) + step}, true
		}
	}
	return bucket{}, false
}

// printed is how closely devices print a dimension, in SI: a tenth of the
// larger unit in use, a whole revolution a minute.
func printed(d units.Dimension) float64 {
	switch d {
	case units.Speed:
		return .05
	case units.Length, units.Height:
		return .1
	case units.Angle:
		return .1 * units.Degree
	case units.Spin:
		return 1 * units.RPM
	case units.Small:
		return .0006
	}
	return .011
}

// agree reports five or more numbers that are the same as far as devices print
// them, and none that is not.
func agree(a, b Values) bool {
	n := 0
	for q, x := range a {
		y, ok := b[q]
		if !ok {
			continue
		}
		k, _ := KindOf(q)
		if math.Abs(x-y) > printed(k.Dim) {
			return false
		}
		n++
	}
	return n >= 5
}
