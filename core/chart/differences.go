package chart

import (
	"math"
	"strconv"
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// strokes is asked of Differences for the strokes a drive, which is no
// measured quantity.
const strokes shot.Quantity = ""

// Quantity is the name of q as a reader of the trade knows it.
func (st Style) Quantity(q shot.Quantity) string {
	if q == strokes {
		return st.Reader.Word("chart.strokes")
	}
	return st.Reader.Word("quantity." + string(q))
}

func dimension(q shot.Quantity) units.Dimension {
	k, _ := shot.KindOf(q)
	return k.Dim
}

// value writes an SI amount of q; width is its 80 % interval's, which decides
// how many decimals it deserves.
func (st Style) value(v float64, q shot.Quantity, width float64, signed bool) string {
	if q == strokes {
		s := st.Reader.Number(v, units.None, 2)
		if signed && v >= 0.005 {
			s = "+" + s
		}
		return s
	}
	d := dimension(q)
	digits := digitsFor(width / st.Reader.System.Unit(d).Scale)
	if signed {
		return st.Reader.Difference(v, d, digits)
	}
	return st.Reader.Number(v, d, digits)
}

// Estimate writes a value with its 80 % interval: "214 yd (210 … 218)". What lies
// to a side bears the word of it in place of a sign, its limits too where they
// lie on both: "11 yd left (7 … 15)", "3 yd left (7 left … 1 right)".
func (st Style) Estimate(i report.Interval, q shot.Quantity) string {
	w := i.Hi80 - i.Lo80
	if kind, _ := shot.KindOf(q); !kind.Compass {
		return st.say("chart.estimate", st.value(i.Mean, q, w, false), st.bare(i.Lo80, q, w), st.bare(i.Hi80, q, w))
	}
	bare := func(v float64) string { return st.bare(math.Abs(v), q, w) }
	sided := func(number string, v float64) string {
		if strings.Trim(bare(v), "0.,") == "" {
			return number
		}
		return number + " " + st.Reader.Word(map[bool]string{true: "side.left", false: "side.right"}[v < 0])
	}
	lo, hi := bare(i.Lo80), bare(i.Hi80)
	switch {
	case i.Hi80 <= 0:
		lo, hi = hi, lo
	case i.Lo80 < 0:
		lo, hi = sided(lo, i.Lo80), sided(hi, i.Hi80)
	}
	return st.say("chart.estimate", sided(st.value(math.Abs(i.Mean), q, w, false), i.Mean), lo, hi)
}

// Change writes a difference with its 80 % interval: "+6 yd (−2 … 14)".
func (st Style) Change(i report.Interval, q shot.Quantity) string {
	w := i.Hi80 - i.Lo80
	return st.say("chart.estimate", st.value(i.Mean, q, w, true), st.bare(i.Lo80, q, w), st.bare(i.Hi80, q, w))
}

// bare writes the number without its unit.
func (st Style) bare(v float64, q shot.Quantity, width float64) string {
	if q == strokes {
		return st.Reader.Number(v, units.None, 2)
	}
	u := st.Reader.System.Unit(dimension(q))
	return st.Reader.Number(v/u.Scale, units.None, digitsFor(width/u.Scale))
}

// difference is the interval of q of setting i against the reference.
func difference(r report.Report, i int, q shot.Quantity) (report.Interval, bool) {
	if q == strokes {
		return r.Settings[i].Difference, true
	}
	a, ok := r.Settings[i].Of(q)
	return a.Difference, ok
}

// Differences draws one quantity of each setting against the reference: a dot
// for the estimate and lines for where 50, 80 and 95 % of belief lie, thick,
// thin and hair. Strokes is the quantity of the answer.
func Differences(r report.Report, q shot.Quantity, st Style) Drawing {
	c := newCanvas(st)
	rd := st.Reader
	var ks []key
	lo, hi := 0.0, 0.0
	for _, k := range st.shown(r, Keys(r)) {
		d, ok := difference(r, k.setting, q)
		if k.setting == r.Reference || !ok {
			continue
		}
		ks = append(ks, k)
		lo, hi = math.Min(lo, d.Lo95), math.Max(hi, d.Hi95)
	}
	if hi == lo {
		lo, hi = -1, 1
	}
	pad := 0.04 * (hi - lo)
	lo, hi = lo-pad, hi+pad
	title := st.say("chart.differences.title", st.Quantity(q))
	y := c.heading(title) + 6
	if r.Reference >= 0 && r.Reference < len(r.Settings) {
		against := st.say("chart.differences.against", st.label(r.Settings[r.Reference]))
		if kind, _ := shot.KindOf(q); kind.Compass {
			against += "; " + rd.Word("chart.differences.compass")
		}
		y = c.paragraph(6, y, c.w-12, against, 12, soft)
	}
	if len(ks) == 0 { // an axis alone would look like a difference of nothing
		c.h = c.paragraph(6, y+14, c.w-12, rd.Word("chart.differences.none"), 12, ink)
		return c.finish("chart-differences", title, differenceSummary(r, q, st, ks), differenceTable(r, q, st))
	}
	left, width := 12.0, c.w-24
	x := func(v float64) float64 { return left + (v-lo)/(hi-lo)*width }
	const row = 48.0
	top, bottom := y, y+row*float64(len(ks))
	c.differenceAxis(q, x, lo, hi, top, bottom)
	c.open("class", "intervals")
	for i, k := range ks {
		d, _ := difference(r, k.setting, q)
		at := top + row*float64(i)
		value := st.Change(d, q)
		room := width - textWidth(value, 12.5) - 34
		c.mark(k, left+6, at+14, 4.6, !r.Settings[k.setting].Tested)
		c.halo(left+17, at+18, cut(k.text()+"  "+st.label(r.Settings[k.setting]), room, 12.5), "start", 12.5, ink)
		c.halo(left+width, at+18, value, "end", 12.5, ink)
		m := at + 34
		c.line(x(d.Lo95), m, x(d.Hi95), m, ink, 1, "")
		c.line(x(d.Lo80), m, x(d.Hi80), m, k.color(), 3, "")
		c.line(x(d.Lo50), m, x(d.Hi50), m, k.color(), 7.5, "")
		c.el("circle", "cx", x(d.Mean), "cy", m, "r", 4.5, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 2.0)
		c.target(c.w/2, at+row/2, width, row, "data-setting", k.setting)
	}
	c.close()
	c.h = c.paragraph(6, bottom+52, c.w-12, rd.Word("chart.differences.lines"), 11.5, soft)
	return c.finish("chart-differences", title, differenceSummary(r, q, st, ks), differenceTable(r, q, st))
}

// differenceAxis draws the scale, the line of no difference and which way is which.
func (c *canvas) differenceAxis(q shot.Quantity, x func(float64) float64, lo, hi, top, bottom float64) {
	rd := c.st.Reader
	u := units.UnitOne
	if q != strokes {
		u = rd.System.Unit(dimension(q))
	}
	c.open("class", "axes")
	for _, t := range ticks(rd, lo, hi, u, int(c.w/70)) {
		c.line(x(t.si), top, x(t.si), bottom, rule, 1, "")
		c.text(x(t.si), bottom+16, t.label, "middle", 12, soft)
	}
	c.line(x(0), top-2, x(0), bottom+4, ink, 1.6, "")
	less, more := "chart.less", "chart.more"
	kind, _ := shot.KindOf(q)
	switch {
	case q == strokes:
		less, more = "chart.strokes.fewer", "chart.strokes.more"
	case kind.Compass:
		less, more = "chart.left", "chart.right"
	}
	c.text(12, bottom+33, "← "+rd.Word(less), "start", 12, soft)
	c.text(c.w-12, bottom+33, rd.Word(more)+" →", "end", 12, soft)
	if u.Symbol != "" {
		c.text(c.w/2, bottom+33, u.Symbol, "middle", 12, soft)
	}
	c.close()
}

func differenceSummary(r report.Report, q shot.Quantity, st Style, ks []key) string {
	if len(ks) == 0 {
		return st.Reader.Word("chart.differences.none")
	}
	name := st.Reader.Word("chart.reference")
	if r.Reference >= 0 && r.Reference < len(r.Settings) {
		name = st.label(r.Settings[r.Reference])
	}
	parts := []string{st.say("chart.differences.summary", st.Quantity(q), name)}
	if kind, _ := shot.KindOf(q); kind.Compass {
		parts = append(parts, st.Reader.Word("chart.differences.plus"))
	}
	for _, k := range ks {
		d, _ := difference(r, k.setting, q)
		word := "chart.differences.open" // zero lies within the 80 % interval
		if d.Lo80 > 0 || d.Hi80 < 0 {
			word = "chart.differences.seen"
		}
		parts = append(parts, st.say(word, st.label(r.Settings[k.setting]), st.Change(d, q)))
	}
	return strings.Join(parts, " ")
}

// differenceTable is the table of one quantity: each setting's value, its
// difference and how many more balls would tell.
func differenceTable(r report.Report, q shot.Quantity, st Style) Table {
	w := st.Reader.Word
	t := Table{Caption: st.say("chart.differences.title", st.Quantity(q)),
		Head: []string{w("chart.col.setting"), w("chart.col.balls"), st.Quantity(q), w("chart.col.difference"), w("chart.col.interval95"), w("chart.col.more")}}
	for _, k := range st.shown(r, Keys(r)) {
		s := r.Settings[k.setting]
		d, ok := difference(r, k.setting, q)
		if !ok {
			continue
		}
		value, more := s.Strokes, -1
		if q != strokes {
			a, _ := s.Of(q)
			value, more = a.Value, a.BallsMore
		}
		row := []string{st.label(s), strconv.Itoa(s.Balls), st.Estimate(value, q), "–", "–", "–"}
		if !s.Tested {
			row[1] = w("chart.predicted")
		}
		if k.setting == r.Reference {
			row[3] = w("chart.reference")
		} else {
			width := d.Hi80 - d.Lo80
			row[3] = st.Change(d, q)
			row[4] = st.bare(d.Lo95, q, width) + " … " + st.bare(d.Hi95, q, width)
			if more >= 0 {
				row[5] = strconv.Itoa(more)
			}
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
