package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// strayRows finds balls that were written in the units of another block of the
// file, as where too few stand at an end of it to be a block of their own: under
// their block's units they are faster or slower than all others by a unit's
// factor, under the other's they are not.
func (p *unitAudit) strayRows() {
	ball := p.cols.of(shot.BallSpeed)
	if ball == nil || len(p.blocks.rows) < 2 && ball.from == "" || ball.from == "correction" {
		return
	}
	clubs := p.cols.of(shot.ClubSpeed)
	of := map[string][]int{} // balls of one club are compared
	for i := range p.rows {
		of[p.words[i].club] = append(of[p.words[i].club], i)
	}
	type usual struct {
		c    *column
		club string
	}
	middle := map[usual]float64{}
	for name, rows := range of {
		for _, c := range []*column{ball, clubs} {
			middle[usual{c, name}] = medianOf(c, rows, func(i int) float64 { return c.value(i) })
		}
	}
	turned, rows := map[guess][]int{}, map[guess][]int{}
	fits := func(c *column, i int, m float64, g guess) bool {
		u := g.ball
		if c == clubs {
			u = g.club
		}
		return u.Scale > 0 && math.Abs(math.Log(u.SI(c.v[i])/m)) < .18
	}
	others := append(p.guesses[:len(p.guesses):len(p.guesses)], p.asHeaded(ball))
	for i := range p.rows {
		c := ball
		if math.IsNaN(ball.value(i)) && clubs != nil {
			c = clubs
		}
		v, m := c.value(i), middle[usual{c, p.words[i].club}]
		if math.IsNaN(v) || c.si[i] || c.asRead[p.blocks.of[i]] || math.Abs(math.Log(v/m)) < .33 {
			continue
		}
		at := slices.IndexFunc(others, func(g guess) bool { return fits(c, i, m, g) && (c == clubs || struck(ball, clubs, i, g)) })
		if at < 0 {
			at = slices.IndexFunc(others, func(g guess) bool { return fits(c, i, m, g) })
		}
		if at >= 0 {
			g := others[at]
			turned[g], rows[g] = append(turned[g], p.rows[i].n), append(rows[g], i)
		}
	}
	for _, g := range others {
		at := ranges(turned[g])
		if at != "" && p.repaired("units in "+at, message.Of("problem.stray-lines", at, g.ball.Symbol, g.length.Symbol)) {
			for _, i := range rows[g] {
				p.rewrite(i, g)
			}
		}
		delete(turned, g)
	}
}

// struck reports whether the two speeds of row i are those of one strike under a guess,
// as far as both are read: a block without club speeds says nothing of their unit.
func struck(ball, clubs *column, i int, g guess) bool {
	smash := ball.in(i, g.ball) / clubs.in(i, g.club)
	return math.IsNaN(smash) || smash > 1.1 && smash < 1.6
}

// asHeaded are the units that the headers state.
func (p *unitAudit) asHeaded(ball *column) (g guess) {
	if ball.from == "" {
		return g
	}
	g = p.guesses[0]
	g.ball = ball.unit
	if c := p.cols.of(shot.ClubSpeed); c != nil && c.from != "" {
		g.club = c.unit
	}
	if c := p.cols.length(); c != nil && c.from != "" {
		g.length = c.unit
	}
	if c := p.cols.of(shot.Apex); c != nil && c.from != "" {
		g.height = c.unit
	}
	return g
}

// rewrite reads a row under the units of another block.
func (p *unitAudit) rewrite(i int, g guess) {
	for _, c := range p.cols {
		if c.quantity == "" || c.read[i] != cellRead || c.si[i] || c.from == "correction" {
			continue
		}
		c.v[i], c.si[i] = g.unitOf(c, g.length, c.byBlock[p.blocks.of[i]]).SI(c.v[i]), true
	}
}

// oddRows finds balls of which one speed is written in another unit than its
// block's: ball speed over club speed is the smash factor, an identity where a
// column gives it, and between 1.2 and 1.56 of any drive where none does.
func (p *unitAudit) oddRows() {
	ball, clubs, smash := p.cols.of(shot.BallSpeed), p.cols.of(shot.ClubSpeed), p.cols.of(shot.Smash)
	if ball == nil || clubs == nil {
		return
	}
	middle := p.middles(ball, clubs)
	type turn struct {
		c *column
		u units.Unit
	}
	turned, lines := map[turn][]int{}, map[turn][]int{}
	var order []turn
	for i := range p.rows {
		b, c, s := ball.value(i), clubs.value(i), smash.value(i)
		want, room := s, .03
		if math.IsNaN(s) {
			want, room = 1.43, .12
		}
		if math.IsNaN(b) || math.IsNaN(c) || math.Abs(math.Log(b/c/want)) < .25 {
			continue
		}
		best, far := turn{}, math.Inf(1)
		for _, x := range []*column{clubs, ball} {
			if x.si[i] || x.from == "correction" || x.asRead[p.blocks.of[i]] {
				continue
			}
			for _, u := range candidates(units.Speed) {
				v := u.SI(x.v[i])
				r := b / v
				if x == ball {
					r = v / c
				}
				off := math.Abs(math.Log(v / middle[x]))
				if math.Abs(math.Log(r/want)) < room && off < far && off < .35 {
					best, far = turn{x, u}, off
				}
			}
		}
		if best.c == nil {
			continue
		}
		if turned[best] == nil {
			order = append(order, best)
		}
		turned[best], lines[best] = append(turned[best], i), append(lines[best], p.rows[i].n)
	}
	for _, t := range order {
		at := ranges(lines[t])
		text := message.Of("problem.odd-speeds", len(turned[t]), strconv.Quote(t.c.header), t.u.Symbol, at)
		if !p.repaired("unit of "+t.c.key+" in "+at, text) {
			continue
		}
		t.c.add(text)
		for _, i := range turned[t] {
			t.c.v[i], t.c.si[i] = t.u.SI(t.c.v[i]), true
		}
	}
}

// middles are the sizes that most of a column's balls have, by balls whose two
// speeds fit each other.
func (p *unitAudit) middles(ball, clubs *column) map[*column]float64 {
	out := map[*column]float64{}
	var b, c []float64
	for i := range p.rows {
		x, y := ball.value(i), clubs.value(i)
		if r := x / y; r > 1.15 && r < 1.6 {
			b, c = append(b, x), append(c, y)
		}
	}
	if len(b) == 0 {
		for i := range p.rows {
			if x := ball.value(i); !math.IsNaN(x) {
				b, c = append(b, x), append(c, x/1.43)
			}
		}
	}
	out[ball], out[clubs] = robust.Median(b), robust.Median(c)
	return out
}

// ranges writes line numbers as runs: "9-15, 20".
func ranges(ns []int) string {
	var out []string
	for i := 0; i < len(ns); {
		j := i
		for j+1 < len(ns) && ns[j+1] <= ns[j]+1 {
			j++
		}
		if j > i {
			out = append(out, fmt.Sprintf("%d-%d", ns[i], ns[j]))
		} else {
			out = append(out, fmt.Sprint(ns[i]))
		}
		if i = j + 1; len(out) == 12 && i < len(ns) {
			out = append(out, "...")
			break
		}
	}
	return strings.Join(out, ", ")
}
