package shotfile

import (
	"cmp"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// missing are the texts for "not read".
var missing = map[string]bool{"": true, "-": true, "--": true, "---": true, "n/a": true, "na": true, "nan": true, "null": true, "none": true, "nil": true,
	"#n/a": true, "no read": true, "noread": true, "no data": true, "estimated": true, "#div/0!": true, "#value!": true, "#ref!": true, "?": true, "inf": true, "undefined": true,
	"*": true, ".": true, "-.-": true, "--.-": true, "k.a.": true, "n.d.": true, "x": true, "err": true, "error": true, "なし": true, "없음": true}

func isMissing(t string) bool {
	if t == "" {
		return true
	}
	return strings.Trim(t, "-–—. ") == "" || len(t) <= 12 && missing[strings.ToLower(typed.Fold(t))]
}

type cellState uint8

const (
	cellMissing cellState = iota
	cellRead
	cellBad
	cellZero // a zero that means "not read"
)

// sentinel reports a device's mark for "not read". A side spin of 999 rpm is
// one that a ball can have.
func sentinel(q shot.Quantity, v float64) bool {
	if q == shot.Sidespin && math.Abs(v) < 1000 {
		return false
	}
	return v == -999 || v == 9999 || v == -9999 || v == 99999 || v == 999.9 || v == -999.9 || v == 999.99 || v < -1e6 || v > 1e7
}

// notation is what one column's cells say about decimal marks and letters.
func (p *part) notation(c *column) {
	var comma, point, grouped, dots, plain int
	seen := map[typed.Direction]int{}
	inCells := map[string]int{}
	for _, l := range p.sec.rows {
		t := c.textOf(l.line)
		parts, ok := typed.Split(t)
		if !ok {
			continue
		}
		n := strings.TrimLeft(parts.Number, "-")
		ci, pi := strings.LastIndexByte(n, ','), strings.LastIndexByte(n, '.')
		switch {
		case ci >= 0 && pi > ci:
			point += 3
		case pi >= 0 && ci > pi:
			comma += 3
		case ci >= 0 && typed.Grouped(n):
			grouped++
		case ci >= 0:
			comma++
		case pi >= 0 && !typed.Grouped(n):
			point++
		case pi >= 0:
			dots++
		default:
			plain++
		}
		for _, w := range parts.Words {
			if d := typed.Meaning(w); d != 0 {
				seen[d]++
			} else if u, ok := typed.Unit(w); ok && typed.SameDim(u.Dim, c.kind.Dim) {
				inCells[u.Name]++
			}
		}
	}
	c.language = cmp.Or(typed.LetterLanguage(seen), p.language)
	switch {
	case comma > 0 && point > 0:
		c.mark = typed.Auto // both occur: each cell by itself
	case comma > 0:
		c.mark = typed.Comma
	case point > 0:
		c.mark = typed.Point
	case grouped > 0 && dots > 0:
		c.mark = typed.Auto
	case grouped > 0 || dots > 0:
		c.open = 1 + plain // decided when all columns are seen
		c.dots = dots > 0
	}
	p.commas, p.points = p.commas+comma, p.points+point
	if c.from == "" && len(inCells) == 1 { // of several units each stands for its own cell alone
		for n := range inCells {
			c.unit, _ = typed.Unit(n)
		}
		c.from = "cells"
	}
}

// thousands decides a column whose marks all stand before three digits:
// "2,850" is 2850 of a spin and 2.85 of a time. The reading whose median is
// nearer to what drives have wins; then whole numbers beside the marked ones
// say thousands, then the rest of the file.
func (p *part) thousands(c *column) typed.Mark {
	grouping, decimal, fileSays := typed.Point, typed.Comma, p.points-p.commas
	if c.dots {
		grouping, decimal, fileSays = typed.Comma, typed.Point, p.commas-p.points
	}
	far := func(m typed.Mark) float64 {
		vs := p.sample(c, m)
		if len(vs) == 0 {
			return math.Inf(1)
		}
		list := candidates(c.kind.Dim)
		if c.from != "" {
			list = []units.Unit{c.unit}
		}
		best := math.Inf(1)
		for _, u := range list {
			best = math.Min(best, farFrom(c.quantity, u.SI(robust.Median(vs))))
		}
		return best
	}
	a, b := far(grouping), far(decimal)
	switch {
	case a < b-1e-9:
		return grouping
	case b < a-1e-9:
		return decimal
	case c.open > 1 || fileSays > 0 || fileSays == 0 && c.kind.Dim == units.Spin:
		return grouping
	}
	return decimal
}

// farFrom is how far a size lies outside what drives have, in logarithms.
func farFrom(q shot.Quantity, si float64) float64 {
	lo, hi := typed.Typical(q)
	if lo < 0 {
		lo = .003 * hi
	}
	return math.Max(0, math.Max(math.Log(lo/si), math.Log(si/hi)))
}

// sample is the sizes of a column's numbers under one decimal mark.
func (p *part) sample(c *column, m typed.Mark) []float64 {
	var vs []float64
	for i, l := range p.sec.rows {
		if i == 2000 {
			break
		}
		if parts, ok := typed.Split(c.textOf(l.line)); ok {
			if v, err := number(parts.Number, m); err == nil && v != 0 && !sentinel(c.quantity, v) {
				vs = append(vs, math.Abs(v))
			}
		}
	}
	return vs
}

// number reads a number under the column's decimal mark. A cell that cannot
// be grouped thousands under it is read by itself: 12,5 stays 12.5.
func number(s string, m typed.Mark) (float64, error) {
	switch {
	case m == typed.Point && strings.IndexByte(s, ',') >= 0:
		head, _, _ := strings.Cut(s, ".")
		if !typed.Grouped(head) {
			m = typed.Auto
		}
	case m == typed.Comma && strings.IndexByte(s, '.') >= 0:
		head, _, _ := strings.Cut(s, ",")
		if !typed.Grouped(head) {
			m = typed.Auto
		}
	}
	return typed.Value(s, m)
}

// readCells reads every cell of the section's quantities, as written.
func (p *part) readCells() {
	n := len(p.sec.rows)
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		p.notation(c)
		c.v, c.read, c.si = make([]float64, n), make([]cellState, n), make([]bool, n)
	}
	for _, c := range p.cols { // a column of whole numbers follows the file
		if c.open > 0 {
			c.mark = p.thousands(c)
		}
		if c.quantity != "" && c.mark == typed.Auto && p.commas == 0 {
			c.mark = typed.Point
		}
	}
	open := map[*column]string{}
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		for i, l := range p.sec.rows {
			c.v[i], c.read[i] = p.cell(i, l, c, open)
			if c.fixed && c.flipped {
				c.v[i] = -c.v[i]
			}
		}
	}
	for _, c := range p.cols {
		c.ownUnits()
		if letter, ok := open[c]; ok {
			p.r.letterQuestion(c, letter)
		}
		if c.stands > 0 {
			p.r.note("problem.stand-ins", c.stands, strconv.Quote(c.header), strconv.Quote(clip(c.standsAs)))
		}
		p.unsided(c)
	}
}

// ownUnits settles a column of feet and inches: each cell named its unit.
func (c *column) ownUnits() {
	if c.from != "" || c.quantity == "" {
		return
	}
	own := false
	for i := range c.v {
		if c.read[i] == cellRead && !c.si[i] {
			return
		}
		own = own || c.read[i] == cellRead
	}
	if own {
		c.unit, c.from = candidates(c.kind.Dim)[0], "cells"
	}
}

// cell reads one cell; what can't be used is said with line and column.
func (p *part) cell(i int, l row, c *column, open map[*column]string) (float64, cellState) {
	text := c.textOf(l.line)
	if isMissing(text) {
		return 0, cellMissing
	}
	bad := func(key string, more ...any) (float64, cellState) {
		read := message.Of(key, append([]any{strconv.Quote(clip(text))}, more...)...)
		p.r.reject(l.n, c.header, read, typed.Example(c.kind, c.unitOrHabit()))
		return 0, cellBad
	}
	if c.kind.Dim == units.Length || c.kind.Dim == units.Height || c.kind.Dim == units.Small {
		if v, ok := typed.FeetInches(text); ok {
			c.si[i] = true
			return v, cellRead
		}
	}
	parts, ok := typed.Split(text)
	if !ok {
		return bad("problem.plain")
	}
	v, err := number(parts.Number, c.mark)
	if err != nil {
		return bad("problem.plain")
	}
	if sentinel(c.quantity, v) {
		c.stands, c.standsAs = c.stands+1, parts.Number
		return 0, cellMissing
	}
	words := parts.Words
	if len(words) > 1 {
		if joined := strings.Join(words, ""); typed.Meaning(joined) != 0 {
			words = []string{joined}
		}
	}
	sign, sided := 1.0, false
	for _, w := range words {
		if d := typed.Meaning(w); d != 0 {
			if s, ok := d.Sign(c.kind, p.r.opt.Hand, c.language); ok {
				if sided && s != sign {
					return bad("problem.two-sides")
				}
				sign, sided = s, true
				continue
			}
			if d.IsLetter() && c.kind.Compass && v != 0 {
				open[c] = strings.ToUpper(w)
				if s := p.r.letterSign(c, w); s != 0 {
					sign, sided = s, true
					continue
				}
				return 0, cellBad
			}
		}
		if u, ok := typed.Unit(w); ok && (typed.SameDim(u.Dim, c.kind.Dim)) {
			if u != c.unit || c.from == "" {
				v, c.si[i] = u.SI(v), true
			}
			continue
		}
		switch w {
		case "%":
			if c.kind.Dim == units.None {
				v /= 100
			}
			continue
		case "*", "'", "e", "est", "estimated", "calc", "~":
			continue
		}
		if c.sides != nil && typed.Level(w) {
			continue
		}
		if d := typed.Meaning(w); d != 0 && !c.kind.Compass {
			continue // "up" beside a height says nothing new
		}
		if v != 0 {
			return bad("problem.neither", strconv.Quote(w))
		}
	}
	if sided {
		if v < 0 && sign > 0 {
			return bad("problem.minus-side")
		}
		v = math.Abs(v) * sign
		c.worded++
	}
	return v, cellRead
}

func clip(s string) string {
	if len(s) > 60 {
		return strings.ToValidUTF8(s[:60], "") + "..."
	}
	return s
}

// unitOrHabit is a column's unit as known so far.
func (c *column) unitOrHabit() units.Unit {
	if c == nil {
		return units.UnitOne
	}
	if c.from != "" {
		return c.unit
	}
	return candidates(c.kind.Dim)[0]
}

// unsided drops numbers without a side from a column whose other cells have
// one: the sign would be a guess.
func (p *part) unsided(c *column) {
	if c.worded < 2 || !c.kind.Compass {
		return
	}
	var bare []int
	negative := false
	for i, l := range p.sec.rows {
		if c.read[i] != cellRead || c.v[i] == 0 {
			continue
		}
		parts, _ := typed.Split(c.textOf(l.line))
		sided := false
		for _, w := range parts.Words {
			sided = sided || typed.Meaning(w) != 0
		}
		if !sided && strings.Join(parts.Words, "") != "" {
			sided = typed.Meaning(strings.Join(parts.Words, "")) != 0
		}
		if !sided {
			bare = append(bare, i)
			negative = negative || c.v[i] < 0
		}
	}
	if len(bare) == 0 || negative {
		return
	}
	for _, i := range bare {
		c.read[i] = cellBad
		l := p.sec.rows[i]
		p.r.reject(l.n, c.header, message.Of("problem.no-side", strconv.Quote(clip(cellOf(l.line, c.at)))), message.Of("problem.as-others"))
	}
}

// zeroIsNoRead are the quantities of which no ball has zero.
var zeroIsNoRead = map[shot.Quantity]bool{shot.ClubSpeed: true, shot.BallSpeed: true, shot.Smash: true, shot.Spin: true, shot.Backspin: true,
	shot.Carry: true, shot.Total: true, shot.Apex: true, shot.FlightTime: true, shot.DynamicLoft: true, shot.SpinLoft: true, shot.Descent: true}

// zeros marks zeros that mean "not read": of quantities that are never zero,
// of signed columns that are zero in a quarter of the rows, of club angles that
// are zero together, and of the axis of a ball whose spin was not read.
func (p *part) zeros() {
	clubAngles := []*column{}
	empty := p.emptyRows()
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		zero, full, bare, fine := 0, 0, 0, 0
		for i, l := range p.sec.rows {
			if c.read[i] != cellRead || empty[i] {
				continue
			}
			full++
			whole := !strings.ContainsAny(cellOf(l.line, c.at), ".,")
			switch {
			case c.v[i] == 0:
				zero++
				if whole {
					bare++
				}
			case !whole:
				fine++
			}
		}
		mark := zeroIsNoRead[c.quantity]
		if mark && zero > 0 {
			p.r.note("problem.zeros", zero, strconv.Quote(c.header))
		}
		many := zero >= 5 && zero*4 >= full
		odd := bare > 0 && bare == zero && fine >= 4 && fine*10 >= (full-zero)*9 // "0" among numbers such as 1.3
		switch c.quantity {
		case shot.Face, shot.Path, shot.FaceToPath, shot.Attack:
			clubAngles = append(clubAngles, c)
			fallthrough
		case shot.StrikeToe, shot.StrikeHigh, shot.SpinAxis, shot.Sidespin, shot.Offline, shot.OfflineTotal, shot.OfflineAngle, shot.Curve, shot.Launch, shot.LaunchDirection:
			if many || odd {
				mark = true
				p.r.note("problem.zeros", zero, strconv.Quote(c.header))
			}
		}
		if mark {
			for i := range c.v {
				if c.read[i] == cellRead && c.v[i] == 0 {
					c.read[i] = cellZero
				}
			}
		}
	}
	p.clubZeros(clubAngles)
	p.spinZeros()
}

// emptyRows marks the rows that hold nothing but zeros: they are refused as a
// whole.
func (p *part) emptyRows() []bool {
	out := make([]bool, len(p.sec.rows))
	for i := range out {
		out[i] = !slices.ContainsFunc(p.cols, func(c *column) bool { return c.quantity != "" && c.read[i] == cellRead && c.v[i] != 0 })
	}
	return out
}

// clubZeros takes club angles that are zero together as not read, once that
// happens in three rows: two zeros in one row are chance.
func (p *part) clubZeros(angles []*column) {
	zeros := func(i int) int {
		n := 0
		for _, c := range angles {
			if c.read[i] == cellZero || c.read[i] == cellRead && c.v[i] == 0 {
				n++
			}
		}
		return n
	}
	var rows []int
	for i := range p.sec.rows {
		if zeros(i) >= 2 {
			rows = append(rows, i)
		}
	}
	if len(rows) < 3 {
		return
	}
	for _, i := range rows {
		for _, c := range angles {
			if c.read[i] == cellRead && c.v[i] == 0 {
				c.read[i] = cellZero
			}
		}
	}
	p.r.note("problem.angles-zero", len(rows))
}

// spinZeros drops axis and side spin of balls whose spin was not read.
func (p *part) spinZeros() {
	spin := p.cols.of(shot.Spin)
	if spin == nil {
		spin = p.cols.of(shot.Backspin)
	}
	if spin == nil {
		return
	}
	for i := range p.sec.rows {
		if spin.read[i] != cellZero {
			continue
		}
		for _, q := range []shot.Quantity{shot.SpinAxis, shot.Sidespin} {
			if c := p.cols.of(q); c != nil && c.read[i] == cellRead && c.v[i] == 0 {
				c.read[i] = cellZero
			}
		}
	}
}
