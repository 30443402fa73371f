package chart

import (
	"math"
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Flight draws the typical flights from the side, with the height window.
// Without Style.Only it shows the reference, the choice and the runner-up:
// more curves of nearly the same ball cannot be told apart.
func Flight(r report.Report, st Style) Drawing {
	c := newCanvas(st)
	var ks []key
	for _, k := range st.shown(r, flights(r)) {
		if len(r.Settings[k.setting].Path) > 1 {
			ks = append(ks, k)
		}
	}
	rd := st.Reader
	title := rd.Word("chart.flight.title")
	top := c.heading(title)
	far, high := 50.0, math.Max(r.Ground.ApexHigh, 15)
	for _, k := range ks {
		for _, p := range r.Settings[k.setting].Path {
			far, high = math.Max(far, p.X), math.Max(high, p.Y)
		}
	}
	far, high = far*1.03, high*1.18
	left, width, height := 46.0, c.w-58, math.Max(150, 0.42*c.w)
	if c.w > 600 {
		height = 0.3 * c.w
	}
	x := func(v float64) float64 { return left + v/far*width }
	y := func(v float64) float64 { return top + height - v/high*height }
	factor := (height / high) / (width / far)

	g := r.Ground
	c.open("class", "window")
	if g.ApexLow > 0 || g.ApexHigh > 0 {
		upper := g.ApexHigh
		if upper <= 0 {
			upper = high
		}
		c.el("rect", "x", left, "y", y(upper), "width", width, "height", y(g.ApexLow)-y(upper), "fill", c.color(fairway))
		for _, v := range []float64{g.ApexLow, g.ApexHigh} {
			if v > 0 {
				c.line(left, y(v), left+width, y(v), soft, 1, "3 3")
			}
		}
		// Left of where the first number stands on its curve.
		for i, line := range wrap(rd.Word("chart.flight.window"), 0.32*width, 11.5, 2) {
			c.halo(left+4, y(upper)+14+14*float64(i), line, "start", 11.5, soft)
		}
	}
	if g.CarryMin > 0 && g.CarryMin < far {
		c.line(x(g.CarryMin), top+height*0.55, x(g.CarryMin), top+height, ink, 1.2, "2 3")
		c.halo(x(g.CarryMin)-4, top+height-7, rd.Word("chart.landing.carrymin"), "end", 11.5, ink)
	}
	c.close()

	c.open("class", "axes")
	hu, lu := rd.System.Unit(units.Height), rd.System.Unit(units.Length)
	c.line(left, top+height, left+width, top+height, ink, 1.2, "")
	for _, t := range ticks(rd, 0, high, hu, int(height/38)) {
		c.line(left-4, y(t.si), left, y(t.si), soft, 1, "")
		c.text(left-7, y(t.si)+4, t.label, "end", 12, soft)
	}
	for _, t := range ticks(rd, 0, far, lu, int(width/60)) {
		c.line(x(t.si), top+height, x(t.si), top+height+4, soft, 1, "")
		c.text(x(t.si), top+height+17, t.label, "middle", 12, soft)
	}
	c.text(12, top+height/2, st.say("chart.axis", rd.Word("chart.height"), hu.Symbol), "middle", 12, soft, "transform", "rotate(-90 12 "+num(top+height/2)+")")
	c.text(left+width/2, top+height+33, st.say("chart.axis", rd.Word("chart.distance"), lu.Symbol), "middle", 12, soft)
	c.close()

	c.open("class", "flights")
	for _, k := range ks {
		c.flight(r.Settings[k.setting].Path, k, x, y)
	}
	for i, k := range ks { // over all curves
		share := 0.34 + 0.13*float64(i)
		if n := len(ks); n > 4 { // each number has its own place on the way
			share = 0.22 + 0.62*float64(i)/float64(n-1)
		}
		path := r.Settings[k.setting].Path
		p := path[int(share*float64(len(path)-1))]
		c.mark(k, x(p.X), y(p.Y), 4.2, false)
		c.halo(x(p.X), y(p.Y)-9, k.text(), "middle", 13, ink, "font-weight", "700")
	}
	c.close()
	below := top + height + 50
	below = c.paragraph(6, below, c.w-12, st.say("chart.flight.scale", rd.Number(factor, units.None, 1)), 11.5, soft)
	c.h = c.legend(r, ks, below, true) + 6
	return c.finish("chart-flight", title, flightSummary(r, st, ks), flightTable(r, st, ks))
}

// flights are the settings shown when none are asked for.
func flights(r report.Report) []int {
	var list []int
	for _, i := range []int{r.Reference, r.Choice.Setting, r.Choice.RunnerUp} {
		again := i < 0 || i >= len(r.Settings)
		for _, j := range list {
			again = again || i == j
		}
		if !again {
			list = append(list, i)
		}
	}
	return list
}

// flight draws one curve.
func (c *canvas) flight(path []report.Point, k key, x, y func(float64) float64) {
	var d strings.Builder
	for i, p := range path {
		d.WriteByte("ML"[min(i, 1)])
		d.WriteString(num(x(p.X)) + " " + num(y(p.Y)))
	}
	c.el("path", "d", d.String(), "fill", "none", "stroke", c.color(k.color()), "stroke-width", 2.0, "stroke-dasharray", k.dash(), "data-setting", k.setting)
	if !c.st.Print { // a wide unseen line takes the tap
		c.el("path", "class", "tap", "d", d.String(), "fill", "none", "stroke", "transparent", "stroke-width", 24.0, "data-setting", k.setting)
	}
}

func flightSummary(r report.Report, st Style, ks []key) string {
	parts := []string{st.Reader.Word("chart.flight.summary")}
	for _, k := range ks {
		s := r.Settings[k.setting]
		carry, ok1 := s.Of(shot.Carry)
		apex, ok2 := s.Of(shot.Apex)
		if ok1 && ok2 {
			parts = append(parts, st.say("chart.flight.part", st.label(s), st.Reader.Number(carry.Value.Mean, units.Length, 0), st.Reader.Number(apex.Value.Mean, units.Height, 0)))
		}
	}
	if g := r.Ground; g.ApexLow > 0 && g.ApexHigh > 0 {
		parts = append(parts, st.say("chart.flight.window.part", st.Reader.Number(g.ApexLow, units.Height, 0), st.Reader.Number(g.ApexHigh, units.Height, 0)))
	}
	return strings.Join(parts, " ")
}

func flightTable(r report.Report, st Style, ks []key) Table {
	qs := []shot.Quantity{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline, shot.Apex, shot.Descent}
	t := Table{Head: []string{st.Reader.Word("chart.col.setting")}}
	for _, q := range qs {
		t.Head = append(t.Head, st.Quantity(q))
	}
	for _, k := range ks {
		s := r.Settings[k.setting]
		row := []string{st.label(s)}
		for _, q := range qs {
			cell := "–"
			if a, ok := s.Of(q); ok {
				cell = st.Estimate(a.Value, q)
			}
			row = append(row, cell)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
