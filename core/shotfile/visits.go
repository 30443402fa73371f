package shotfile

import (
	"slices"
)

// Where in a file another device may have written, or the same one set otherwise.

// ofOneSign are the blocks of a file that changes its signs, each with those after it
// that too few balls tell by themselves and where nothing says that another device may
// stand: a header repeats on each page.
func (p *signAudit) ofOneSign() (out [][]int) {
	for b, rows := range p.blocks.rows {
		if b == 0 || p.visit(rows[0]) || p.known(rows) && p.known(out[len(out)-1]) {
			out = append(out, slices.Clone(rows))
		} else {
			out[len(out)-1] = append(out[len(out)-1], rows...)
		}
	}
	return out
}

// visit reports whether another device may stand at a block that begins with row i: on
// a new day, under another title, after an average, or where a column is filled that
// was empty, or no more.
func (p *signAudit) visit(i int) bool {
	switch p.blocks.why[i] {
	case "day", "session", "player":
		return true
	}
	if p.rows[i].past != p.rows[i-1].past || p.rows[i].title != p.rows[i-1].title {
		return true
	}
	const few = 4
	read := func(c *column, k int) bool { return c.read[k] == cellRead }
	filled := func(c *column, from, until int) (n int) {
		for k := max(0, from); k < min(until, len(c.read)); k++ {
			if read(c, k) {
				n++
			}
		}
		return n
	}
	return slices.ContainsFunc(p.cols, func(c *column) bool {
		if c.quantity == "" || read(c, i-1) == read(c, i) { // exactly here
			return false
		}
		before, after := filled(c, i-few, i), filled(c, i, i+few)
		return before == 0 && after >= few-1 || before >= few-1 && after == 0
	})
}

// known reports whether rows tell the sign of what spins the ball.
func (p *signAudit) known(rows []int) bool {
	rel := p.relations(rows)
	return rel[p.cols.spinning()].sign != 0
}

// free reports whether only the audit says which way a column goes, and nothing is asked
// of it yet.
func (p *signAudit) free(c *column) bool {
	return c != nil && !c.fixed && c.worded == 0 && !slices.ContainsFunc(p.asked, func(a sideQuestion) bool { return slices.Contains(a.of, c) })
}
