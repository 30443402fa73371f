package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// Numbers that a device did not measure. They are kept, each ball says which of
// its numbers they are (shot.Assumed), and nothing is adjusted to them.

// workedOut are words of headers over numbers that a device estimates or computes,
// in nine languages (common practice, no source).
var workedOut = strings.Split("estimated|est|est.|calc|calc.|calculated|computed|modelled|modeled|predicted|derived|normalized|normalised|avg|average|geschätzt|geschätzte|geschätzter|berechnet|berechnete|berechneter|estimada|estimado|calculada|calculado|estimé|estimée|calculé|calculée|stimato|stimata|calcolato|calcolata|beräknad|uppskattad", "|")

// workedOutWhole are those of Chinese, Japanese and Korean, which write no spaces.
var workedOutWhole = []string{"推定", "計算", "算出", "估算", "计算", "예상", "추정", "계산"}

// saysWorkedOut reports whether a header says so.
func saysWorkedOut(header string) bool {
	for _, w := range strings.FieldsFunc(strings.ToLower(header), func(r rune) bool { return strings.ContainsRune(" _()[]-,", r) }) {
		if slices.Contains(workedOut, w) {
			return true
		}
	}
	return slices.ContainsFunc(workedOutWhole, func(w string) bool { return strings.Contains(header, w) })
}

// fewAlike is how many balls are the same by a device's default rather than by
// chance, where a number is written as finely as it scatters.
const fewAlike = 6

// filledIn finds numbers that are the same in all balls of one club and block: no
// two swings are alike to the digit.
func (p *part) filledIn() {
	type run struct {
		block int
		club  string
	}
	ids, of := map[run]int{}, make([]int, len(p.sec.rows))
	for i := range p.sec.rows {
		k := run{p.blocks.of[i], p.words[i].club}
		if _, known := ids[k]; !known {
			ids[k] = len(ids)
		}
		of[i] = ids[k]
	}
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		first, count := make([]int, len(ids)), make([]int, len(ids)) // by run: its first ball; its balls, -1 = they differ
		defaults := map[float64]bool{}
		for i, k := range of {
			switch {
			case c.read[i] != cellRead || count[k] < 0:
			case count[k] > 0 && c.v[i] != c.v[first[k]]:
				count[k] = -1
			default:
				if count[k]++; count[k] == 1 {
					first[k] = i
				}
			}
		}
		for k, n := range count {
			if n >= fewAlike && !coarse(c, cellOf(p.sec.rows[first[k]].line, c.at)) {
				defaults[c.v[first[k]]] = true
			}
		}
		n := 0
		for i, k := range of {
			if count[k] > 0 && c.read[i] == cellRead && defaults[c.v[i]] {
				if c.guessed == nil {
					c.guessed = make([]bool, len(of))
				}
				c.guessed[i] = true
				n++
			}
		}
		if n > 0 {
			p.r.note("problem.filled-in", strconv.Quote(c.header), n)
		}
	}
}

// coarse reports whether a number is written so coarsely that balls are alike by
// chance: whole seconds and degrees, a smash factor of one decimal.
func coarse(c *column, text string) bool {
	room := decimal(text)
	switch c.kind.Dim {
	case units.None, units.Small:
		return room > .02
	case units.Time, units.Angle:
		return room > .2
	}
	return false
}

// tracked takes a column that says how far the balls were followed: where that is
// a small part of their carry, the device worked out what came after the launch.
func (p *part) tracked() {
	carry := p.cols.of(shot.Carry)
	for _, c := range p.cols {
		if c.quantity != "" || carry == nil || !strings.Contains(strings.ToLower(c.header), "track") {
			continue
		}
		u := units.UnitYd
		if c.from != "" {
			u = c.unit
		}
		var shares []float64
		for i, l := range p.sec.rows {
			if n, ok := typed.Split(typed.Plain(cellOf(l.line, c.at))); ok {
				if v, err := number(n.Number, carry.mark); err == nil && v > 0 {
					shares = append(shares, u.SI(v)/carry.value(i))
				}
			}
		}
		m := robust.Median(shares)
		if len(shares) < 3 || math.IsNaN(m) || m > .5 {
			continue
		}
		for _, o := range p.cols {
			switch o.quantity {
			case shot.Carry, shot.Total, shot.Offline, shot.OfflineTotal, shot.OfflineAngle, shot.Apex, shot.Descent, shot.FlightTime, shot.Roll, shot.Curve:
				o.assumed = true
			}
		}
		p.r.note("problem.not-tracked", fmt.Sprintf("%.0f", 100*m))
	}
}
