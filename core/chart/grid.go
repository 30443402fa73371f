package chart

import (
	"math"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/report"
	"ferrule/core/units"
)

// lattice is the grid's shape: sleeve positions down, weights across, in the
// order in which they first stand in the report.
type lattice struct {
	rows, columns []string
	cell          map[[2]int]int // row, column -> index in Report.Settings
}

func layLattice(r report.Report) lattice {
	l := lattice{cell: map[[2]int]int{}}
	place := func(list *[]string, name string) int {
		for i, n := range *list {
			if n == name {
				return i
			}
		}
		*list = append(*list, name)
		return len(*list) - 1
	}
	// The reference stands first in the report, out of its natural order: it is
	// placed last so that rows and columns keep the order of the club.
	order := make([]int, 0, len(r.Settings))
	for i := range r.Settings {
		if i != r.Reference {
			order = append(order, i)
		}
	}
	if r.Reference >= 0 && r.Reference < len(r.Settings) {
		order = append(order, r.Reference)
	}
	for _, i := range order {
		s := r.Settings[i].Setting
		l.cell[[2]int{place(&l.rows, s.Sleeve), place(&l.columns, strings.Join(s.Weights, " / "))}] = i
	}
	l.sortColumns(r)
	return l
}

// sortColumns orders the weights from heel to toe, as they lie in the head;
// equal ones keep their order.
func (l *lattice) sortColumns(r report.Report) {
	type column struct {
		name string
		toe  float64
		old  int
	}
	cs := make([]column, len(l.columns))
	for c, name := range l.columns {
		cs[c] = column{name, 0, c}
		for row := range l.rows {
			if i, ok := l.cell[[2]int{row, c}]; ok {
				cs[c].toe = r.Settings[i].Change.CGToe
				break
			}
		}
	}
	sort.SliceStable(cs, func(a, b int) bool { return cs[a].toe < cs[b].toe-1e-7 })
	moved := map[[2]int]int{}
	for c, col := range cs {
		l.columns[c] = col.name
		for row := range l.rows {
			if i, ok := l.cell[[2]int{row, col.old}]; ok {
				moved[[2]int{row, c}] = i
			}
		}
	}
	l.cell = moved
}

// Grid draws every combination of the club with its predicted difference in
// strokes a drive against the reference. Certainty needs no colour: the range
// stands in the cell, a bar shows the chance of being better, full when that
// is likely, hatched when it leans, hollow when it cannot be told; a thick
// border means tested.
//
// With many columns the drawing is wider than asked for: the page scrolls it.
func Grid(r report.Report, st Style) Drawing {
	c := newCanvas(st)
	title := st.Reader.Word("chart.grid.title")
	l := layLattice(r)
	left := 86.0
	wide := (c.w - left - 6) / float64(max(len(l.columns), 1))
	if wide < 50 {
		wide = 50
		c.w = left + 6 + wide*float64(len(l.columns))
	}
	wide = math.Min(wide, 150)
	const high, head = 52.0, 44.0
	top := c.heading(title) + 4
	if len(r.Settings) == 0 {
		c.h = top + 30
		c.text(6, top+16, st.Reader.Word("chart.grid.none"), "start", 12.5, ink)
		return c.finish("chart-grid", title, st.Reader.Word("chart.grid.none"), gridTable(r, st))
	}
	half := c.hatch("lean", ink, 4)
	c.open("class", "heads")
	for i, name := range l.columns {
		lines := wrap(name, wide-4, 11.5, 3)
		for j, line := range lines {
			c.text(left+wide*(float64(i)+0.5), top+head-8-13*float64(len(lines)-1-j), line, "middle", 11.5, soft)
		}
	}
	for i, name := range l.rows {
		lines := wrap(name, left-10, 12, 3)
		for j, line := range lines {
			c.text(left-6, top+head+high*(float64(i)+0.5)+4+13*(float64(j)-float64(len(lines)-1)/2), line, "end", 12, soft)
		}
	}
	c.close()
	c.open("class", "cells")
	for row := range l.rows {
		for col := range l.columns {
			x, y := left+wide*float64(col), top+head+high*float64(row)
			if i, ok := l.cell[[2]int{row, col}]; ok {
				c.cell(r, i, x, y, wide, high, half)
			} else {
				c.text(x+wide/2, y+high/2+4, "–", "middle", 12.5, soft)
			}
		}
	}
	c.close()
	y := top + head + high*float64(len(l.rows)) + 8
	c.h = c.gridLegend(r, y, half)
	return c.finish("chart-grid", title, gridSummary(r, st), gridTable(r, st))
}

// cell draws one combination.
func (c *canvas) cell(r report.Report, i int, x, y, w, h float64, half string) {
	s := r.Settings[i]
	c.open("data-setting", i, "class", "cell")
	border, width, dash := c.color(rule), 1.0, "2 2"
	if s.Tested {
		border, width, dash = c.color(ink), 2.6, ""
	}
	attrs := []any{"x", x + 2, "y", y + 2, "width", w - 4, "height", h - 4, "fill", c.color(paper), "stroke", border, "stroke-width", width}
	if dash != "" {
		attrs = append(attrs, "stroke-dasharray", dash)
	}
	c.el("rect", attrs...)
	mid := x + w/2
	if i == r.Choice.Setting {
		c.el("path", "d", "M"+num(x+w-13)+" "+num(y+3)+"H"+num(x+w-3)+"V"+num(y+13)+"Z", "fill", c.color(accent))
		c.el("rect", "x", x+4.5, "y", y+4.5, "width", w-9, "height", h-9, "fill", "none", "stroke", c.color(accent), "stroke-width", 1.6)
	}
	if i == r.Reference {
		c.text(mid, y+h/2+4, cut(c.st.Reader.Word("chart.grid.now"), w-10, 12.5), "middle", 12.5, ink, "font-weight", "600")
		c.target(mid, y+h/2, w-2, h-2, "data-setting", i)
		c.close()
		return
	}
	if !s.Feasible {
		c.line(x+4, y+h-4, x+w-4, y+4, soft, 1.4, "")
	}
	d := s.Difference
	weight := "400"
	if s.PBetter >= 0.85 || s.PBetter <= 0.15 {
		weight = "700"
	}
	c.halo(mid, y+19, c.st.value(d.Mean, Strokes, 0, true), "middle", 13, ink, "font-weight", weight)
	c.halo(mid, y+32, "±"+c.st.Reader.Number((d.Hi80-d.Lo80)/2, units.None, 2), "middle", 11, soft)
	bar, full := y+h-13, w-18
	c.el("rect", "x", x+9, "y", bar, "width", full, "height", 6.0, "fill", "none", "stroke", c.color(soft), "stroke-width", 0.8)
	switch long := full * clamp(s.PBetter, 0, 1); {
	case s.PBetter >= 0.85:
		c.el("rect", "x", x+9, "y", bar, "width", long, "height", 6.0, "fill", c.color(ink))
	case s.PBetter >= 0.65:
		c.el("rect", "x", x+9, "y", bar, "width", long, "height", 6.0, "fill", half, "stroke", c.color(ink), "stroke-width", 0.8)
	default:
		c.line(x+9+long, bar-1, x+9+long, bar+7, ink, 1.6, "")
	}
	c.target(mid, y+h/2, w-2, h-2, "data-setting", i)
	c.close()
}

// gridLegend explains a cell's signs from y on and returns the y below.
func (c *canvas) gridLegend(r report.Report, y float64, half string) float64 {
	w := func(word string) string { return c.st.Reader.Word(word) }
	c.open("class", "legend")
	row := func(word string, draw func(x, y float64)) {
		draw(8, y)
		for i, l := range wrap(w(word), c.w-50, 11.5, 2) {
			if i > 0 {
				y += 15
			}
			c.text(44, y+11, l, "start", 11.5, ink)
		}
		y += 21
	}
	box := func(fill, stroke string, width float64, dash string) func(x, y float64) {
		return func(x, y float64) {
			attrs := []any{"x", x, "y", y + 2, "width", 26.0, "height", 11.0, "fill", fill, "stroke", stroke, "stroke-width", width}
			if dash != "" {
				attrs = append(attrs, "stroke-dasharray", dash)
			}
			c.el("rect", attrs...)
		}
	}
	any := func(is func(i int, s report.Setting) bool) bool {
		for i, s := range r.Settings {
			if i != r.Reference && is(i, s) {
				return true
			}
		}
		return false
	}
	row("chart.grid.key.number", func(x, y float64) { c.text(x+13, y+11, "±", "middle", 13, ink) })
	if any(func(_ int, s report.Setting) bool { return s.PBetter >= 0.85 }) {
		row("chart.grid.key.full", box(c.color(ink), c.color(ink), 1, ""))
	}
	if any(func(_ int, s report.Setting) bool { return s.PBetter >= 0.65 && s.PBetter < 0.85 }) {
		row("chart.grid.key.half", box(half, c.color(ink), 0.8, ""))
	}
	if any(func(_ int, s report.Setting) bool { return s.PBetter < 0.65 }) {
		row("chart.grid.key.hollow", box("none", c.color(soft), 0.8, ""))
	}
	row("chart.grid.key.tested", box("none", c.color(ink), 2.6, ""))
	if any(func(_ int, s report.Setting) bool { return !s.Tested }) {
		row("chart.grid.key.predicted", box("none", c.color(rule), 1, "2 2"))
	}
	if r.Choice.Setting >= 0 && r.Choice.Setting < len(r.Settings) {
		row("chart.grid.key.choice", func(x, y float64) {
			c.el("path", "d", "M"+num(x+10)+" "+num(y+2)+"h10v10Z", "fill", c.color(accent))
		})
	}
	if any(func(_ int, s report.Setting) bool { return !s.Feasible }) {
		row("chart.grid.key.limit", func(x, y float64) { c.line(x, y+14, x+26, y, soft, 1.4, "") })
	}
	c.close()
	return y + 4
}

func gridSummary(r report.Report, st Style) string {
	better, worse, tested := 0, 0, 0
	for i, s := range r.Settings {
		if s.Tested {
			tested++
		}
		if i == r.Reference {
			continue
		}
		if s.PBetter >= 0.85 {
			better++
		}
		if s.PBetter <= 0.15 {
			worse++
		}
	}
	parts := []string{st.say("chart.grid.summary", strconv.Itoa(len(r.Settings)), strconv.Itoa(tested), strconv.Itoa(better), strconv.Itoa(worse))}
	if c := r.Choice.Setting; c >= 0 && c < len(r.Settings) && c != r.Reference {
		s := r.Settings[c]
		parts = append(parts, st.say("chart.grid.choice", label(s), st.Change(s.Difference, Strokes), st.percent(s.PBetter)))
	}
	return strings.Join(parts, " ")
}

// percent writes a chance without claiming more than 99 or less than 1 %.
func (st Style) percent(p float64) string {
	n := math.Round(100 * clamp(p, 0, 1))
	switch {
	case n >= 100 && p < 1:
		n = 99
	case n <= 0 && p > 0:
		n = 1
	}
	return st.say("chart.percent", strconv.Itoa(int(n)))
}

func gridTable(r report.Report, st Style) Table {
	w := st.Reader.Word
	t := Table{Head: []string{w("chart.col.setting"), w("chart.col.balls"), w("chart.col.difference"), w("chart.col.pbetter"), w("chart.col.pbest"), w("chart.col.fairway"), w("chart.col.right"), w("chart.col.left")}}
	for i, s := range r.Settings {
		row := []string{label(s), strconv.Itoa(s.Balls), st.Change(s.Difference, Strokes), st.percent(s.PBetter), st.percent(s.PBest), st.percent(s.PFairway), st.percent(s.PRight), st.percent(s.PLeft)}
		if !s.Tested {
			row[1] = w("chart.predicted")
		}
		if i == r.Reference {
			row[2], row[3] = w("chart.reference"), "–"
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
