package shotfile

import (
	"math"
	"slices"
	"strconv"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// size is what the middle of a drive's numbers lies between, written in a unit.
type size struct {
	unit   units.Unit
	lo, hi float64
}

// wanted are the numbers of a ball without which an answer is worth much less: their
// sizes without their sign (common practice, no source), and what says as much.
var wanted = []struct {
	quantity shot.Quantity
	sided    bool // numbers of both signs, or with a side
	sizes    []size
	others   []shot.Quantity
}{
	{shot.BallSpeed, false, []size{{units.UnitMPH, 100, 200}, {units.UnitMPS, 45, 90}, {units.UnitKMH, 161, 320}}, nil},
	{shot.Carry, false, []size{{units.UnitYd, 130, 340}, {units.UnitM, 120, 310}}, []shot.Quantity{shot.Total}},
	{shot.Launch, false, []size{{units.UnitDeg, 6, 20}}, nil},
	{shot.Spin, false, []size{{units.UnitRPM, 1500, 5500}}, []shot.Quantity{shot.Backspin}},
	{shot.Offline, true, []size{{units.UnitYd, 2, 40}, {units.UnitM, 2, 40}}, []shot.Quantity{shot.OfflineTotal, shot.OfflineAngle, shot.LaunchDirection, shot.Curve}},
}

// askUnknown asks what a column is whose header is on no list, where the file has no
// column of a number that an answer needs and this one's are of its size. Nobody
// would notice otherwise what a file held.
func askUnknown(d *dialogue, rows []row, cols columns) {
	for _, c := range cols {
		if len(c.ms) > 0 || c.fixed || c.role != "" || c.quantity != "" || c.header == "" {
			continue
		}
		like := looksOf(rows, c.at)
		var choices []shot.Choice
		for _, w := range wanted {
			named := slices.ContainsFunc(append(w.others[:len(w.others):len(w.others)], w.quantity), func(q shot.Quantity) bool { return cols.of(q) != nil })
			if !named && w.sided == like.sided && slices.ContainsFunc(w.sizes, like.of) {
				choices = append(choices, shot.Choice{Value: string(w.quantity), Text: message.Of("problem.plain", message.Key("quantity."+string(w.quantity)))})
			}
		}
		if len(choices) > 0 {
			d.question(shot.Question{ID: "what " + c.key, Text: message.Of("problem.unknown-header", strconv.Quote(c.header)),
				Choices: append(choices, shot.Choice{Value: roleSkip, Text: message.Of("problem.not-used")})})
		}
	}
}

// looks is what the numbers of a column look like.
type looks struct {
	middle float64    // without their sign; NaN where most of it is no number, or all are one
	unit   units.Unit // that the cells name
	named  bool       // they name one
	sided  bool
}

func (l looks) of(s size) bool {
	return l.middle >= s.lo && l.middle <= s.hi && (!l.named || l.unit.Symbol == s.unit.Symbol)
}

// looksOf reads a column whose header says nothing.
func looksOf(rows []row, at int) looks {
	l := looks{middle: math.NaN()}
	var vs []float64
	same := true
	for _, n := range numbersOf(rows, at) {
		for _, w := range n.words {
			if u, ok := typed.Unit(w); ok {
				l.unit, l.named = u, true
			}
			l.sided = l.sided || typed.Meaning(w).IsSide()
		}
		l.sided = l.sided || n.v < 0
		vs = append(vs, math.Abs(n.v))
		same = same && math.Abs(n.v) == vs[0]
	}
	if !same && len(vs)*2 >= len(rows) {
		l.middle = robust.Median(vs)
	}
	return l
}

// bare is a number as written, with the words beside it.
type bare struct {
	v     float64
	words []string
}

// numbersOf are the numbers of a column of which nothing is known yet.
func numbersOf(rows []row, at int) (ns []bare) {
	for _, r := range rows {
		parts, ok := typed.Split(cellOf(r.line, at))
		if !ok {
			continue
		}
		if v, err := number(parts.Number, typed.Auto); err == nil {
			ns = append(ns, bare{v, parts.Words})
		}
	}
	return ns
}
