package shotfile

import (
	"fmt"
	"math"
	"strings"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// A table whose headers nobody knows, or that has none, is mapped by hand: its
// columns are listed with three values each, with a guess from the values
// beside those that look like a ball's numbers, and nothing is taken over
// until somebody says what they are.

// byHand lists the columns of the first grid that is a table of numbers and asks
// what they are; once a column is said, the grid is read with what was said.
func (r *reader) byHand(gs []grid) bool {
	for _, g := range gs {
		sec := tableOf(g)
		if sec == nil {
			continue
		}
		r.table.Errors, r.sheet, r.keys = nil, g.name, map[string]int{}
		p := &part{r: r, sec: sec}
		p.understand()
		if said := p.useful(); said || p.guessed() {
			p.readWords(false)
			p.readCells()
			r.judge([]table{{name: g.name, parts: []*part{p}}})
		}
		r.table.Columns = nil
		r.listColumns(p)
		if len(r.table.Shots) == 0 {
			r.question(p.mapQuestion())
		}
		return true
	}
	return false
}

// mapQuestion asks for the columns; one answer takes the guesses.
func (p *part) mapQuestion() shot.Question {
	q := shot.Question{ID: "columns", Text: message.Of("problem.no-known-header", clip(strings.Join(p.sec.names, ", ")))}
	guesses := p.guesses1()
	var all message.Message
	for _, c := range p.cols {
		g, ok := guesses[c]
		if !ok {
			continue
		}
		one := message.Of("problem.named", fmt.Sprintf("%q [%s]", c.header, g.u.Symbol), message.Key("quantity."+string(g.q)))
		if all.Key == "" {
			all = one
		} else {
			all = message.Of("problem.both", all, one)
		}
	}
	if len(guesses) >= 2 {
		q.Choices = append(q.Choices, shot.Choice{Value: "guess", Text: all})
	}
	q.Choices = append(q.Choices, shot.Choice{Value: "later", Text: message.Of("problem.by-column")})
	return q
}

// guessed takes the guesses when they were accepted.
func (p *part) guessed() bool {
	if p.r.opt.Answers["columns"] != "guess" {
		return false
	}
	any := false
	for c, g := range p.guesses1() {
		k, _ := shot.KindOf(g.q)
		c.quantity, c.kind, c.role, any = g.q, k, "", true
		c.unit, c.from = g.u, "guess"
		c.evidence = []message.Message{message.Of("problem.guess-taken")}
	}
	return any
}

type guessedColumn struct {
	q shot.Quantity
	u units.Unit
}

// guesses1 is what the values of the columns look like: a ball speed, a carry, a
// launch, a spin. Sizes that could be several things are no guess.
func (p *part) guesses1() map[*column]guessedColumn {
	out := map[*column]guessedColumn{}
	taken := map[shot.Quantity]bool{}
	for _, want := range []struct {
		q      shot.Quantity
		u      units.Unit
		lo, hi float64
	}{
		{shot.Spin, units.UnitRPM, 1500, 5500}, {shot.Smash, units.UnitOne, 1.25, 1.56},
		{shot.Carry, units.UnitYd, 185, 320}, {shot.BallSpeed, units.UnitMPH, 115, 184}, {shot.ClubSpeed, units.UnitMPH, 82, 114},
		{shot.Launch, units.UnitDeg, 7, 19},
	} {
		for _, c := range p.cols {
			if _, has := out[c]; has || taken[want.q] || c.fixed || c.quantity != "" {
				continue
			}
			var vs []float64
			whole := true
			for _, n := range numbersOf(p.sec.rows, c.at) {
				if len(n.words) == 0 {
					vs = append(vs, n.v)
					whole = whole && n.v == math.Trunc(n.v)
				}
			}
			m := robust.Median(vs)
			if len(vs)*2 < len(p.sec.rows) || !(m >= want.lo && m <= want.hi) || whole && want.u != units.UnitRPM {
				continue
			}
			out[c] = guessedColumn{want.q, want.u}
			taken[want.q] = true
		}
	}
	return out
}

// tableOf is a grid as a section when it is a table of numbers: three rows or
// more of the same width, two columns or more that hold numbers.
func tableOf(g grid) *section {
	widths, mode := map[int]int{}, 0
	for _, l := range g.lines {
		widths[len(l.cells)]++
		if widths[len(l.cells)] > widths[mode] {
			mode = len(l.cells)
		}
	}
	if mode < 2 || widths[mode] < 3 {
		return nil
	}
	sec := &section{labels: make([]byte, mode)}
	numeric := make([]int, mode)
	rows := 0
	for _, l := range g.lines {
		full := filled(l.cells)
		if len(l.cells) < mode && full < 2 {
			continue
		}
		if !mostlyNumbers(l.cells, full) && sec.names == nil && len(sec.rows) == 0 {
			if full > 1 && len(l.cells) >= mode-1 {
				sec.names, sec.headLine = l.cells, l.n
			}
			continue
		}
		if isSummary(l.cells, nil, nil) || isUnitRow(l.cells) {
			continue
		}
		sec.rows = append(sec.rows, row{line: l})
		rows++
		for k := 0; k < mode && k < len(l.cells); k++ {
			if _, ok := typed.Split(l.cells[k]); ok && isNumeric(l.cells[k]) {
				numeric[k]++
			}
		}
	}
	for k := len(sec.names); k < mode; k++ {
		sec.names = append(sec.names, "")
	}
	good := 0
	for k := range numeric {
		if strings.TrimSpace(sec.names[k]) == "" {
			sec.names[k] = fmt.Sprintf("#%d", k+1)
		}
		if rows > 0 && numeric[k]*2 > rows {
			good++
		}
	}
	if rows < 3 || good < 2 {
		return nil
	}
	return sec
}
