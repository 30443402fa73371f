package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// askBlock asks for the unit of the distances of a block that is written in other
// units than the rest, where its own few balls leave that open.
func (p *unitAudit) askBlock(rows []int, g guess, lead float64) guess {
	c := p.cols.length()
	if c == nil || lead >= 2*sure || c.from == "correction" {
		return g
	}
	where := p.lines(rows)
	return p.lengthIn(c, where, message.Of("problem.block-length", where, strconv.Quote(c.header), g.length.Symbol), g)
}

// flownShare is the written distance over the flown one under a guess, in natural
// logarithms; NaN where nothing says it.
func (p *unitAudit) flownShare(e evidence, g guess) float64 {
	of := e.carry
	if p.cols.of(shot.Carry) == nil {
		of = e.total
	}
	share, ok := of[g.ball.Name]
	if !ok || e.best || p.cols.of(shot.BallSpeed) == nil {
		return math.NaN()
	}
	return math.Log(share * g.length.Scale)
}

// askLengths compares the distances of blocks whose speeds are in one unit: where a
// device changed its units in one of them, a block whose balls fly as much shorter
// or farther than those of the first as another unit makes may be in that unit too,
// or the first may be.
// Nothing but the flights can tell a yard from a metre, and wind does as much: ask.
func (p *unitAudit) askLengths(flown []float64) {
	c := p.cols.length()
	if c == nil || c.from == "correction" || !slices.ContainsFunc(p.guesses, func(g guess) bool { return g.ball != p.guesses[0].ball }) {
		return
	}
	first := slices.IndexFunc(flown, func(x float64) bool { return !math.IsNaN(x) })
	for b := first + 1; first >= 0 && b < len(flown); b++ {
		off, g, one := flown[b]-flown[first], p.guesses[b], p.guesses[first]
		if math.IsNaN(off) || math.Abs(off) < .04 {
			continue
		}
		closer := func(g guess, sign float64) bool {
			return slices.ContainsFunc(options(c, c.kind.Dim), func(u units.Unit) bool {
				return math.Abs(off+sign*math.Log(u.Scale/g.length.Scale)) < math.Abs(off)-.03
			})
		}
		switch {
		case closer(g, 1):
			where := p.lines(p.blocks.rows[b])
			text := message.Of("problem.block-shorter", where, strconv.Quote(c.header), fmt.Sprintf("%.0f", 100*math.Exp(off)), g.length.Symbol)
			p.guesses[b] = p.lengthIn(c, where, text, g)
		case closer(one, -1):
			where := p.lines(p.blocks.rows[first])
			text := message.Of("problem.block-longer", where, strconv.Quote(c.header), fmt.Sprintf("%.0f", 100*math.Exp(-off)), one.length.Symbol)
			p.guesses[first] = p.lengthIn(c, where, text, one)
			flown[first] += math.Log(p.guesses[first].length.Scale / one.length.Scale)
		}
	}
}

// lines are those of the file from the first to the last of rows.
func (p *unitAudit) lines(rows []int) string {
	return fmt.Sprintf("%d-%d", p.rows[rows[0]].n, p.rows[rows[len(rows)-1]].n)
}

// lengthIn asks for the unit of the distances in some lines.
func (p *unitAudit) lengthIn(c *column, where string, text message.Message, g guess) guess {
	answer, ok := p.unitQuestion(c.key+" in "+where, text, options(c, c.kind.Dim))
	if u, is := typed.Unit(answer); ok && is {
		if g.height == g.length {
			g.height = u // devices change both at once
		}
		g.length = u
	}
	return g
}

// mine are the rows of clubs that are known to be of the session's kind, where
// there are a few: they alone are what the habits of drives speak of.
func (p *unitAudit) mine(rows []int) []int {
	kind := p.opt.kind()
	var out []int
	for _, i := range rows {
		if p.words[i].kind == kind {
			out = append(out, i)
		}
	}
	if len(out) < 4 {
		return rows
	}
	return out
}

// asWritten reports whether a distance keeps its written unit although the carry
// beside it is in another, u: a total is a little longer than the carry, and a
// landing place lies about where the start line points.
func (p *unitAudit) asWritten(c, main *column, u units.Unit) bool {
	if ratio := u.Scale / c.unit.Scale; ratio < 1.5 && ratio > .67 {
		return false // feet against yards tell; yards against metres do not
	}
	dir := p.cols.of(shot.LaunchDirection)
	var own []float64
	for i := range p.rows {
		carry, x := main.in(i, u), c.in(i, c.unit)
		want := math.NaN()
		switch {
		case c.quantity == shot.Total:
			want = carry * 1.08
		case dir != nil && c.kind.Compass:
			want = math.Abs(carry * math.Tan(dir.in(i, dir.unitOrHabit())))
			x = math.Abs(x)
			if want < 3 {
				want = math.NaN()
			}
		}
		if v := x / want; !math.IsNaN(v) && v > 0 {
			own = append(own, math.Log(v))
		}
	}
	m := robust.Median(own)
	return len(own) >= 4 && math.Abs(m) < math.Abs(m+math.Log(u.Scale/c.unit.Scale))
}

// otherUnits shows the blocks in other units than usual, those of the same ones
// together.
func (p *unitAudit) otherUnits() {
	lines, blocks, order := map[string][]int{}, map[string][]int{}, []string{}
	for b, rows := range p.blocks.rows {
		list := ""
		for _, c := range p.cols {
			if c.quantity != "" && c.byBlock[b].Name != c.usual.Name && slices.ContainsFunc(rows, func(i int) bool { return c.read[i] == cellRead && !c.si[i] }) {
				list += fmt.Sprintf(", %q %s", c.header, c.byBlock[b].Symbol)
			}
		}
		if list == "" {
			continue
		}
		if lines[list] == nil {
			order = append(order, list)
		}
		blocks[list] = append(blocks[list], b)
		for _, i := range rows {
			lines[list] = append(lines[list], p.rows[i].n)
		}
	}
	for _, list := range order {
		at := ranges(lines[list])
		made := p.repaired("units in "+at, message.Of("problem.other-units", at, list[2:]))
		for _, c := range p.cols {
			for _, b := range blocks[list] {
				switch {
				case c.quantity == "" || c.byBlock[b].Name == c.usual.Name:
				case made:
					c.say("problem.in-lines-not", at, c.byBlock[b].Symbol, c.usual.Symbol)
				default:
					c.byBlock[b], c.asRead[b] = c.usual, true
				}
			}
		}
	}
}

// cameFrom says where a unit came from.
var cameFrom = map[string]string{"header": "problem.unit-from-header", "unit row": "problem.unit-from-row", "cells": "problem.unit-from-cells", "values": "problem.unit-from-values",
	"values, against its header": "problem.against-header"}
