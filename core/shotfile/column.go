package shotfile

import (
	"math"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// column is one column of a section as understood so far.
type column struct {
	header   string
	key      string // the header, told apart from others that read alike: "Curve (2)"
	at       int
	quantity shot.Quantity
	kind     shot.Kind
	role     string
	ms       []meaning
	weak     bool
	assumed  bool   // the device estimates it
	guessed  []bool // by row, that the device filled it in
	unit     units.Unit
	from     string // of the unit: "header", "unit row", "cells", "values", ..., "" = not known yet
	fixed    bool   // the person said what it is
	mark     typed.Mark
	open     int     // > 0: every mark stands before three digits; one more than the whole numbers
	dots     bool    // those marks are points
	language string  // of single letters in its cells
	side     float64 // positive side as the header says, 0 = not said
	stands   int     // numbers that stand for "nothing read"
	standsAs string  // one of them
	worded   int     // cells with a side in letters or words
	flipped  bool
	over     []bool // by row, that its number is turned over; nil = none is
	evidence []message.Message
	byBlock  []units.Unit // as taken, once the units are decided
	blockOf  []int        // by row
	usual    units.Unit   // as its header says, else of most of its balls
	asRead   []bool       // by block: the person leaves the numbers as their header says

	filled bool    // an entry holds for the rows below it
	last   string  // that entry
	sideOf *column // the column whose sides stand in this one
	sides  *column // the column that holds this one's sides

	v    []float64   // by row, as written or SI where si
	read []cellState // by row
	si   []bool      // by row: the cell named its own unit and is SI already
}

// columns are those of a section.
type columns []*column

// of is the column of a quantity, nil where none is.
func (cs columns) of(q shot.Quantity) *column {
	for _, c := range cs {
		if c.quantity == q {
			return c
		}
	}
	return nil
}

// length is the distance column that speaks for the others.
func (cs columns) length() *column {
	for _, q := range []shot.Quantity{shot.Carry, shot.Total, shot.Offline, shot.OfflineTotal, shot.Curve, shot.Roll} {
		if c := cs.of(q); c != nil {
			return c
		}
	}
	return nil
}

// spinning is the column of what curves the ball, nil where none is.
func (cs columns) spinning() *column {
	if c := cs.of(shot.SpinAxis); c != nil {
		return c
	}
	return cs.of(shot.Sidespin)
}

// value is row i in SI with the sign as understood so far, NaN when not read.
func (c *column) value(i int) float64 {
	if c == nil || c.read[i] != cellRead {
		return math.NaN()
	}
	if c.si[i] {
		return c.v[i]
	}
	return c.byBlock[c.blockOf[i]].SI(c.v[i])
}

func (c *column) say(key string, places ...any) { c.add(message.Of(key, places...)) }

func (c *column) add(m message.Message) { c.evidence = addOnce(c.evidence, m) }

func cellOf(l line, at int) string {
	if at < len(l.cells) {
		return strings.TrimSpace(l.cells[at])
	}
	return ""
}

// understand decides for each column of a section what it is.
func (p *part) understand() {
	for i, h := range p.sec.names {
		c := &column{header: strings.TrimSpace(typed.Fold(h)), at: i}
		ms, unit, has := p.r.lx.meaning(h)
		if has {
			c.unit, c.from = unit, "header"
		}
		if i < len(p.sec.units) {
			if u, ok := typed.Unit(p.sec.units[i]); ok {
				c.unit, c.from = u, "unit row"
				ms = fitting(ms, u)
			}
		}
		c.ms, c.side = ms, statedSide(h)
		c.assumed = saysWorkedOut(c.header)
		c.key = p.r.unique(c.header)
		p.cols = append(p.cols, c)
	}
	p.goOn()
	p.languageOfFile()
	p.choose()
	for _, c := range p.cols {
		p.correct(c)
	}
	p.sideColumns()
	p.clubByValues()
	p.clubColumns()
	p.findSetting()
}

// goOn puts columns of one quantity together of which one is filled where the
// other is empty, as where objects of one list name other units.
func (p *part) goOn() {
	first := map[shot.Quantity]*column{}
	kept := p.cols[:0:0]
	for _, c := range p.cols {
		var one *column
		if len(c.ms) > 0 && c.ms[0].quantity != "" {
			q := c.ms[0].quantity
			if one = first[q]; one == nil {
				first[q] = c
			}
		}
		if one == nil || c.from != one.from || c.header == one.header || !inTurns(p.sec.rows, one, c) {
			kept = append(kept, c)
			continue
		}
		for i := range p.sec.rows {
			l := &p.sec.rows[i].line
			t := cellOf(*l, c.at)
			if t == "" {
				continue
			}
			if c.unit != one.unit {
				t += " " + c.unit.Symbol
			}
			l.cells = slices.Clone(l.cells)
			l.cells[one.at] = t
		}
		p.r.note("problem.goes-on", strconv.Quote(one.header), strconv.Quote(c.header))
	}
	p.cols = kept
}

// inTurns reports whether two columns are never filled in one row and both are
// in some.
func inTurns(rows []row, a, b *column) bool {
	as, bs := false, false
	for _, l := range rows {
		x, y := cellOf(l.line, a.at) != "", cellOf(l.line, b.at) != ""
		if x && y {
			return false
		}
		as, bs = as || x, bs || y
	}
	return as && bs
}

// languageOfFile is the language in which most headers are written, for
// letters such as D that languages use differently.
func (p *part) languageOfFile() {
	n := map[string]int{}
	for _, c := range p.cols {
		if len(c.ms) > 0 && c.ms[0].lang != "" {
			n[c.ms[0].lang]++
		}
	}
	best := 0
	for _, l := range languages {
		if n[l] > best {
			best, p.language = n[l], l
		}
	}
}

// content is how many cells of a column are filled, and how many are numbers.
func (p *part) content(at int) (numbers, full int) {
	for i, l := range p.sec.rows {
		if i == 400 {
			break
		}
		if t := cellOf(l.line, at); !isMissing(t) {
			full++
			if _, ok := typed.Split(typed.Plain(t)); ok {
				numbers++
			} else if _, ok := typed.FeetInches(t); ok {
				numbers++
			}
		}
	}
	return
}

// choose gives each column the first meaning that fits its unit and values and
// is still free: sure words before weak ones, filled columns before empty ones.
func (p *part) choose() {
	taken := map[shot.Quantity]*column{}
	content := make([][2]int, len(p.cols))
	for i, c := range p.cols {
		content[i][0], content[i][1] = p.content(c.at)
	}
	take := func(i int, weak, empty bool) {
		c := p.cols[i]
		if c.quantity != "" || c.role != "" {
			return
		}
		numbers, full := content[i][0], content[i][1]
		for _, m := range c.ms {
			if m.quantity == "" {
				if c.from == "" || m.role == roleTime || m.role == roleWeight || m.role == roleSkip {
					if !weak && m.weak {
						continue
					}
					c.role = m.role
					c.say("problem.header-names", strconv.Quote(c.header), message.Key("role."+m.role))
					return
				}
				continue
			}
			if m.weak != weak || (full == 0) != empty || taken[m.quantity] != nil {
				continue
			}
			k, _ := shot.KindOf(m.quantity)
			if full > 0 && numbers*2 < full && numbers < 2 {
				continue
			}
			if c.from != "" && !typed.SameDim(k.Dim, c.unit.Dim) {
				if len(c.ms) > 1 || k.Dim == units.None {
					continue
				}
				c.say("problem.no-unit-of", strconv.Quote(c.unit.Symbol))
				c.from = ""
			}
			c.quantity, c.kind, c.weak = m.quantity, k, m.weak
			taken[m.quantity] = c
			c.say("problem.header-is", strconv.Quote(c.header))
			if c.assumed {
				c.say("problem.header-estimated")
			}
			return
		}
	}
	for _, stage := range [][2]bool{{false, false}, {true, false}, {false, true}, {true, true}} {
		for _, assumed := range []bool{false, true} { // what was measured before what was worked out
			for i, c := range p.cols {
				if c.assumed == assumed {
					take(i, stage[0], stage[1])
				}
			}
		}
	}
	for _, c := range p.cols {
		switch {
		case c.quantity != "" || c.role != "" || c.header == "":
		case len(c.ms) > 0 && taken[c.ms[0].quantity] != nil:
			c.say("problem.already", strconv.Quote(taken[c.ms[0].quantity].header), message.Key("quantity."+string(c.ms[0].quantity)))
		case len(c.ms) > 0:
			c.say("problem.fits-none", strconv.Quote(c.header))
		default:
			c.say("problem.header-unknown", strconv.Quote(c.header))
		}
	}
}

// correct applies what the person said of a column.
func (p *part) correct(c *column) {
	fixes := p.r.opt.Columns
	if fix, ok := p.r.said(c); ok {
		fixes = append(fixes[:len(fixes):len(fixes)], fix)
	}
	for _, fix := range fixes {
		if fix.Header != c.key {
			continue
		}
		c.fixed = true
		c.role, c.quantity, c.evidence = fix.Role, fix.Quantity, []message.Message{message.Of("problem.as-you-said")}
		if k, ok := shot.KindOf(fix.Quantity); ok {
			c.kind = k
		}
		if u, ok := typed.Unit(fix.Unit); ok {
			c.unit, c.from = u, "correction"
		} else if c.from != "" && !typed.SameDim(c.unit.Dim, c.kind.Dim) {
			c.from = ""
		}
		c.flipped, c.side = fix.Flipped, 0
		for _, other := range p.cols { // one column for one quantity
			if other != c && other.quantity == c.quantity && c.quantity != "" && !other.fixed {
				other.quantity, other.evidence = "", []message.Message{message.Of("problem.gave-place", strconv.Quote(c.header))}
			}
			if other != c && (c.role == roleSetting || c.role == roleSleeve) && (other.role == roleSetting || other.role == roleSleeve) && !other.fixed {
				other.role = ""
			}
		}
	}
}

func hasLetter(s string) bool { return strings.IndexFunc(s, unicode.IsLetter) >= 0 }
