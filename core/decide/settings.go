package decide

import (
	"math"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/units"
)

// settings are what there is to choose from, seen from today's.
type settings struct {
	list      []club.Setting
	changes   []club.Change
	reference int
}

// label names setting i.
func (s *settings) label(i int) report.Arg { return label(s.list[i]) }

// anchor is today's setting of the club that setting i belongs to: the first that
// is listed of it.
func (s *settings) anchor(i int) int {
	name := s.list[i].Club
	if name == s.list[s.reference].Club {
		return s.reference
	}
	for j := range s.list {
		if s.list[j].Club == name {
			return j
		}
	}
	return i
}

// features of a setting against its own club's today: degrees, millimetres, 5 g.
func (s *settings) features(i int) [5]float64 {
	a, b := s.changes[i], s.changes[s.anchor(i)]
	return [5]float64{(a.Lean - b.Lean) / units.Degree, (a.Upright - b.Upright) / units.Degree,
		(a.CGToe - b.CGToe) / units.Millimetre, (a.CGBack - b.CGBack) / units.Millimetre, (a.Mass - b.Mass) / (5 * units.Gram)}
}

// distance from today's setting, in moves and in what they do: a degree, a
// millimetre of the centre of mass and 5 g count alike.
func (s *settings) distance(i int) float64 {
	a, b := s.changes[i], s.changes[s.anchor(i)]
	sum := 0.0
	for _, v := range []float64{(a.Lean - b.Lean) / units.Degree, (a.Upright - b.Upright) / units.Degree, (a.LoftSquare - b.LoftSquare) / units.Degree,
		(a.CGToe - b.CGToe) / units.Millimetre, (a.CGBack - b.CGBack) / units.Millimetre, (a.Mass - b.Mass) / (5 * units.Gram)} {
		sum += v * v
	}
	return math.Sqrt(sum) + 0.5*float64(moves(s.list[i], s.list[s.reference]))
}

// moves counts what must be changed between two settings: the sleeve is one,
// each weight is one; another club is one, however it is set.
func moves(a, b club.Setting) int {
	if a.Club != b.Club {
		return 1
	}
	n := 0
	if a.Sleeve != b.Sleeve {
		n++
	}
	for i := range a.Weights {
		if i >= len(b.Weights) || a.Weights[i] != b.Weights[i] {
			n++
		}
	}
	return n
}
