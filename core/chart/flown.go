package chart

import (
	"math"
	"strconv"
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Flown draws the typical flights of at most two settings from above, with
// their curve, and from the side below it, over one distance. Each has a ball at its
// end; the balls can be had to fly once (animateMotion, begun by the page): the
// points of a path are equally far apart in time.
func Flown(r report.Report, first, second int, st Style) Drawing {
	c := newCanvas(st)
	var blobs []blob
	for n, i := range []int{first, second} {
		if i >= 0 && i < len(r.Settings) && len(r.Settings[i].Path) > 1 && (n == 0 || i != first) {
			blobs = append(blobs, blobOf(r, i, n))
		}
	}
	rd := st.Reader
	far, high, wide := 50.0, math.Max(15, r.Ground.ApexHigh), math.Max(r.Ground.FairwayHalf*1.3, 15)
	for _, b := range blobs {
		for _, p := range r.Settings[b.key.setting].Path {
			far, high, wide = math.Max(far, p.X), math.Max(high, p.Y), math.Max(wide, math.Abs(p.Z)*1.25)
		}
	}
	far, high = far*1.06, high*1.2
	const left, panel, gap = 48.0, 100.0, 24.0
	width := c.w - left - 10
	x := func(v float64) float64 { return left + v/far*width }
	above := func(v float64) float64 { return gap + panel/2 + v/wide*panel/2 }
	ground := gap*2 + panel*2
	side := func(v float64) float64 { return ground - v/high*panel }

	c.open("class", "axes")
	half := math.Min(r.Ground.FairwayHalf, wide)
	c.el("rect", "x", left, "y", above(-half), "width", width, "height", above(half)-above(-half), "fill", c.color(fairway))
	if at := troubleLine(r.Ground); at != 0 && math.Abs(at) < wide {
		c.line(left, above(at), left+width, above(at), trouble, 2.4, "")
	}
	c.line(left, above(0), left+width, above(0), soft, 1, "3 4")
	g := r.Ground
	if g.ApexLow > 0 && g.ApexHigh > 0 {
		c.el("rect", "x", left, "y", side(g.ApexHigh), "width", width, "height", side(g.ApexLow)-side(g.ApexHigh), "fill", c.color(fairway))
	}
	c.line(left, ground, left+width, ground, ink, 1.2, "")
	lu, hu := rd.System.Unit(units.Length), rd.System.Unit(units.Height)
	c.text(left, 16, rd.Word("chart.flown.above"), "start", 12.5, ink, "font-weight", "600")
	c.text(left, gap+panel+17, rd.Word("chart.flown.side"), "start", 12.5, ink, "font-weight", "600")
	for _, t := range ticks(rd, -wide, wide, lu, 6) {
		label := strings.TrimPrefix(t.label, "\u2212")
		switch {
		case t.si < -1:
			label += "\u00a0" + rd.Word("side.l")
		case t.si > 1:
			label += "\u00a0" + rd.Word("side.r")
		}
		if y := above(t.si); y > gap+8 && y < gap+panel-4 {
			c.text(left-5, y+4, label, "end", 12, soft)
		}
	}
	for _, t := range ticks(rd, 0, high, hu, 3) {
		if t.si > 0 {
			c.text(left-5, side(t.si)+4, t.label, "end", 12, soft)
		}
	}
	c.text(left-5, ground+4, hu.Symbol, "end", 12, soft)
	marks := ticks(rd, 0, far, lu, int(width/60))
	for i, t := range marks {
		label := t.label
		if i == len(marks)-1 {
			label += "\u00a0" + lu.Symbol
		}
		c.text(math.Min(x(t.si), c.w-textWidth(label, 12)/2-1), ground+17, label, "middle", 12, soft)
	}
	c.close()

	words := []string{}
	for n, b := range blobs {
		s := r.Settings[b.key.setting]
		c.flownPath(n, s.Path, x, func(p report.Point) float64 { return above(p.Z) })
		c.flownPath(n, s.Path, x, func(p report.Point) float64 { return side(p.Y) })
		carry, ok1 := s.Of(shot.Carry)
		apex, ok2 := s.Of(shot.Apex)
		if ok1 && ok2 {
			words = append(words, st.say("chart.flight.part", st.label(s), rd.Number(carry.Value.Mean, units.Length, 0), rd.Number(apex.Value.Mean, units.Height, 0)))
		}
	}
	c.h = c.which(r, blobs, left, ground+38) - 6
	return c.finish("chart-flown", rd.Word("chart.flown.title"), strings.Join(words, " "), Table{})
}

// which says which ball is whose, a line each from y on, and returns where it ends.
func (c *canvas) which(r report.Report, blobs []blob, x, y float64) float64 {
	for n, b := range blobs {
		name := c.st.label(r.Settings[b.key.setting])
		if b.key.setting == r.Reference {
			name = c.st.say("chart.gains.today", name)
		}
		c.patternBall(n, x+4, y-4, 4)
		c.text(x+14, y, cut(name, c.w-x-16, 12.5), "start", 12.5, c.tone(n), "font-weight", "600")
		y += 18
	}
	return y
}

// flownPath draws one flight in one of the two views, and its ball at the end.
func (c *canvas) flownPath(n int, path []report.Point, x func(float64) float64, y func(report.Point) float64) {
	var line, motion, times, shares strings.Builder
	end := path[len(path)-1]
	ex, ey := x(end.X), y(end)
	long := []float64{0}
	for i, p := range path {
		px, py := x(p.X), y(p)
		line.WriteString("ML"[min(i, 1):min(i, 1)+1] + num(px) + " " + num(py))
		motion.WriteString("ML"[min(i, 1):min(i, 1)+1] + num(px-ex) + " " + num(py-ey))
		if i > 0 {
			q := path[i-1]
			long = append(long, long[i-1]+math.Hypot(px-x(q.X), py-y(q)))
		}
	}
	for i := range path {
		if i > 0 {
			times.WriteByte(';')
			shares.WriteByte(';')
		}
		times.WriteString(thousandths(float64(i) / float64(len(path)-1)))
		shares.WriteString(thousandths(long[i] / math.Max(long[len(long)-1], 1e-9)))
	}
	dash := "5 4"
	if n == 1 {
		dash = "none"
	}
	c.el("path", "class", "flown", "d", line.String(), "fill", "none", "stroke", c.color(c.tone(n)), "stroke-width", 2.2, "stroke-dasharray", dash)
	c.open("class", "flown-ball")
	c.patternBall(n, ex, ey, 4.4)
	if !c.st.Print {
		c.el("animateMotion", "path", motion.String(), "dur", "3s", "begin", "indefinite", "calcMode", "linear", "keyTimes", times.String(), "keyPoints", shares.String())
	}
	c.close()
}

func thousandths(v float64) string { return strconv.FormatFloat(v, 'f', 3, 64) }
