package chart

import (
	"math"
	"sort"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/units"
)

// Gains draws what every setting gains against today's as a dot with the
// limits that 8 of 10 such estimates keep, sorted, the best above; today's is
// the line at zero and a mark in its place. A hollow dot was not hit.
func Gains(r report.Report, st Style) Drawing {
	c := newCanvas(st)
	rd := st.Reader
	unit := r.Answer.Gain.Unit
	order := make([]int, 0, len(r.Settings))
	for i := range r.Settings {
		order = append(order, i)
	}
	gain := func(i int) report.Interval { return r.Settings[i].Gain.Value }
	sort.SliceStable(order, func(a, b int) bool { return gain(order[a]).Mean > gain(order[b]).Mean })
	lo, hi := -.1, .1
	for _, i := range order {
		lo, hi = math.Min(lo, gain(i).Lo80), math.Max(hi, gain(i).Hi80)
	}
	const top = 40.0
	row, left := 24.0, math.Min(150, .4*c.w)
	name := func(i int) string {
		if i == r.Reference {
			return st.say("chart.gains.today", st.label(r.Settings[i]))
		}
		return st.label(r.Settings[i])
	}
	for i := range r.Settings {
		if textWidth(name(i), 12.5) > left-12 { // two lines for all
			row, left = 32, math.Min(190, .46*c.w)
			break
		}
	}
	width := c.w - left - 8
	x := func(v float64) float64 { return left + (v-lo)/(hi-lo)*width }
	bottom := top + row*float64(len(order))
	c.text(left, 14, rd.Fill("chart.gains.axis", rd.Word("chart.gains."+string(unit))), "start", 12, soft)
	shownIn := units.Unit{Scale: 1}
	if unit == report.UnitCarry {
		shownIn = rd.System.Unit(units.Length)
	}
	for _, t := range ticks(rd, lo, hi, shownIn, 6) {
		c.line(x(t.si), top-6, x(t.si), bottom, rule, 1, "")
		c.text(x(t.si), top-10, t.label, "middle", 11, soft)
	}
	c.line(x(0), top-6, x(0), bottom, ink, 1.6, "")
	table := Table{Head: []string{rd.Word("chart.col.setting"), rd.Word("chart.gains." + string(unit)), rd.Word("chart.gains.limits")}}
	for n, i := range order {
		y := top + row*(float64(n)+.5)
		s := r.Settings[i]
		weight := "400"
		if i == r.Answer.Setting {
			weight = "700"
		}
		lines := wrap(name(i), left-12, 12.5, 2)
		for k, l := range lines {
			c.text(left-8, y+4+13*(float64(k)-float64(len(lines)-1)/2), l, "end", 12, ink, "font-weight", weight)
		}
		g := gain(i)
		switch {
		case i == r.Reference:
			c.patternBall(0, x(0), y, 5)
		default:
			c.line(x(g.Lo80), y, x(g.Hi80), y, ink, 2, "")
			fill := paper
			if s.Tested {
				fill = ink
			}
			if i == r.Answer.Setting {
				c.patternBall(1, x(g.Mean), y, 6)
			} else {
				c.el("circle", "cx", x(g.Mean), "cy", y, "r", 4.2, "fill", c.color(fill), "stroke", c.color(ink), "stroke-width", 1.6, "data-setting", i)
			}
		}
		c.target(c.w/2, y, c.w-2, row, "data-setting", i)
		table.Rows = append(table.Rows, []string{name(i), rd.Gain(g.Mean, unit), rd.Gain(g.Lo80, unit) + " – " + rd.Gain(g.Hi80, unit)})
	}
	c.h = bottom + 8
	return c.finish("chart-gains", rd.Word("chart.gains.title"), rd.Word("chart.gains.summary"), table)
}

// Marks draws n of all as marks that can be counted, in groups of five: full
// ones, and hollow ones for the rest.
func Marks(n, all int, st Style) string {
	c := newCanvas(st)
	const step, group = 15.5, 6.0
	for i := range all {
		x := 8 + step*float64(i) + group*float64(i/5)
		fill := paper
		if i < n {
			fill = accent
		}
		c.el("circle", "class", "mark", "cx", x, "cy", 8, "r", 6, "fill", c.color(fill), "stroke", c.color(accent), "stroke-width", 1.8)
	}
	c.w, c.h = 16+step*float64(all-1)+group*float64((all-1)/5), 16
	return c.bare("chart-marks")
}

// Pips are the marks of a small place, four rows of five: full ones, and specks
// for the rest. They are drawn in the colour of the text.
func Pips(n, all int) string {
	dots := func(from, to int) string {
		var d strings.Builder
		for i := from; i < to; i++ {
			d.WriteString("M" + num(4+7*float64(i%5)) + " " + num(4+7*float64(i/5)) + "h0")
		}
		return d.String()
	}
	return `<svg class="pips" viewBox="0 0 36 29" aria-hidden="true" focusable="false"><path stroke-width="5.6" d="` + dots(0, n) + `"/><path stroke-width="1.6" d="` + dots(n, all) + `"/></svg>`
}

// Drives draws how drives are expected to end, one ball each in groups of
// five: on the fairway a full one, in the rough a hollow one, in trouble a
// crossed one. The words stand beside it.
func Drives(k report.Counts, st Style) string {
	c := newCanvas(st)
	const step, group = 15.5, 6.0
	for i := range report.Drives {
		x := 8 + step*float64(i) + group*float64(i/5)
		switch {
		case i < k.Fairway:
			c.el("circle", "class", "drive-fairway", "cx", x, "cy", 8, "r", 6, "fill", c.color(ink), "stroke", c.color(ink), "stroke-width", 1.6)
		case i < k.Fairway+k.Rough:
			c.el("circle", "class", "drive-rough", "cx", x, "cy", 8, "r", 6, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 1.6)
		default:
			c.el("path", "class", "drive-trouble", "d", "M"+num(x-5)+" 3L"+num(x+5)+" 13M"+num(x+5)+" 3L"+num(x-5)+" 13", "stroke", c.color(trouble), "stroke-width", 3.0, "fill", "none")
		}
	}
	c.w, c.h = 16+step*float64(report.Drives-1)+group*float64((report.Drives-1)/5), 16
	return c.bare("chart-marks")
}

// bare is a drawing without words of its own: those stand beside it.
func (c *canvas) bare(class string) string {
	return `<svg xmlns="http://www.w3.org/2000/svg" class="` + class + `" viewBox="0 0 ` + num(c.w) + " " + num(c.h) + `" width="` + num(c.w) + `" height="` + num(c.h) + `" aria-hidden="true" focusable="false">` + c.b.String() + "</svg>"
}

// Aims draws two ways of playing a ball that ends on the costly side, each seen
// from the tee: aimed at the middle, and aimed by share [1] of the way to the
// other side. The words stand beside it.
func Aims(share float64, costly frame.Side, st Style) string {
	c := newCanvas(st)
	sign := 1.0
	if costly == frame.SideLeft {
		sign = -1
	}
	c.h = 104
	x, wide := c.w/2, 116.0
	c.el("rect", "x", x-wide/2, "y", 4, "width", wide, "height", 96, "fill", c.color(fairway))
	edge := x + sign*(wide/2+14)
	c.line(edge, 4, edge, 100, trouble, 3, "")
	for i := range 5 { // beyond the line
		at := edge + sign*(10+11*float64(i))
		c.line(at, 96, at+8, 8, trouble, 1.6, "")
	}
	miss := sign * 62
	aim := -sign * 62 * share
	c.line(x, 98, x+aim, 12, ink, 1.8, "6 4")
	c.el("path", "d", "M"+num(x)+" 98Q"+num(x+aim*.8)+" 50 "+num(x+aim+miss)+" 20", "fill", "none", "stroke", c.color(accent), "stroke-width", 3.0)
	c.el("circle", "cx", x+aim+miss, "cy", 20, "r", 6, "fill", c.color(accent), "stroke", c.color(paper), "stroke-width", 1.4)
	return c.bare("chart-aims")
}
