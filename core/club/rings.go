package club

import (
	"strconv"
	"strings"
)

// ringJoint stands between the labels of two rings in the label of a position.
const ringJoint = "·"

// RingLabels are the labels of each ring's places. Of two rings each position
// is called by both; where the labels of the positions are not made so, the
// places are numbers on the first ring and letters on the second.
func (s Sleeve) RingLabels() [][]string {
	if len(s.Rings) != 2 {
		return nil
	}
	out := make([][]string, 2)
	for k, r := range s.Rings {
		for i := range max(1, min(r.Positions, maxPositions)) {
			out[k] = append(out[k], plainPlace(k, i))
		}
	}
	n := len(out[1])
	if len(s.Labels) != len(out[0])*n {
		return out
	}
	own := [][]string{make([]string, len(out[0])), make([]string, n)}
	for p, l := range s.Labels {
		a, b, ok := strings.Cut(l, ringJoint)
		if !ok || p%n > 0 && own[0][p/n] != a || p >= n && own[1][p%n] != b {
			return out
		}
		own[0][p/n], own[1][p%n] = a, b
	}
	return own
}

func plainPlace(ring, i int) string {
	if ring == 1 && i < 26 {
		return string(rune('A' + i))
	}
	return strconv.Itoa(i + 1)
}

// NameRings calls every position by the places of its two rings.
func (s *Sleeve) NameRings(labels [][]string) {
	s.Labels = nil
	for _, a := range labels[0] {
		for _, b := range labels[1] {
			s.Labels = append(s.Labels, a+ringJoint+b)
		}
	}
}
