package chart

import (
	"math"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// plan is the landing plan's map from the ground to the drawing: one scale
// for both directions, carry upward, right of the target to the right.
type plan struct {
	left, top, width, height float64 // [px] of the plot
	lo, hi                   float64 // [m] of carry
	half                     float64 // [m] from the target line to either edge
	scale                    float64 // [px/m]
}

func (p plan) x(z float64) float64 { return p.left + p.width/2 + z*p.scale }
func (p plan) y(carry float64) float64 {
	return p.top + p.height - (carry-p.lo)*p.scale
}
func (p plan) in(carry, z float64) bool {
	return carry >= p.lo && carry <= p.hi && math.Abs(z) <= p.half
}

// Landing draws where the balls came down, seen from above: target line,
// fairway, the costly side, each ball, and the region of the next shot where
// enough balls allow one.
func Landing(r report.Report, st Style) Drawing {
	c := newCanvas(st)
	ks := st.shown(r, Keys(r))
	number := map[int]key{}
	for _, k := range ks {
		number[k.setting] = k
	}
	var balls []report.ShotRow
	for _, s := range r.Shots {
		if _, ok := number[s.Setting]; ok && s.Known && drawn(s.Status) {
			balls = append(balls, s)
		}
	}
	title := st.Reader.Word("chart.landing.title")
	p := layPlan(r, balls, ks, c.heading(title), st.width())
	p.ground(c, r.Ground)
	y := p.axes(c) + 11
	hidden := p.landings(c, r, balls, number)
	if hollow(balls) {
		y = c.paragraph(6, y+8, c.w-12, st.Reader.Word("chart.landing.hollow"), 11.5, soft)
	}
	if hidden > 0 {
		y = c.paragraph(6, y+8, c.w-12, st.say("chart.landing.outside", strconv.Itoa(hidden)), 11.5, soft)
	}
	switch some, all := outlined(r, ks); {
	case len(some) > 0 && all:
		y = c.paragraph(6, y+8, c.w-12, st.Reader.Word("chart.landing.ellipse"), 11.5, soft)
	case len(some) > 0:
		var names []string
		for _, k := range some {
			names = append(names, k.text())
		}
		y = c.paragraph(6, y+8, c.w-12, st.say("chart.landing.ellipse.some", strings.Join(names, ", ")), 11.5, soft)
	}
	c.h = c.legend(r, ks, y, false) + 6
	return c.finish("chart-landing", title, landingSummary(r, st, balls, ks), landingTable(r, st))
}

// drawn says whether a shot of this status belongs on the plan.
func drawn(s report.Status) bool {
	return s == report.Counted || s == report.Mishit || s == report.Suspect
}

func hollow(balls []report.ShotRow) bool {
	return slices.ContainsFunc(balls, func(b report.ShotRow) bool { return b.Status != report.Counted })
}

// layPlan chooses the ground to show: every ball but the far outliers, the
// fairway and the line of trouble, at one scale.
func layPlan(r report.Report, balls []report.ShotRow, ks []key, top, width float64) plan {
	p := plan{left: 46, top: top, width: width - 58}
	g := r.Ground
	p.half = math.Max(g.FairwayHalf*1.2, 20)
	if g.TroubleAt > 0 && g.Trouble != "" {
		p.half = math.Max(p.half, g.TroubleAt+8)
	}
	var carries []float64
	for _, b := range balls {
		carries = append(carries, b.Carry)
	}
	for _, k := range ks {
		if c, ok := r.Settings[k.setting].Of(shot.Carry); ok {
			carries = append(carries, c.Value.Mean)
		}
	}
	if len(carries) == 0 {
		carries = []float64{180, 220}
	}
	sort.Slice(carries, func(i, j int) bool { return carries[i] < carries[j] })
	middle := carries[len(carries)/2]
	// Farther off than this is a ball that would shrink all the others: it is
	// drawn on the edge and said below the plan.
	const far, wide = 55.0, 55.0 // [m]
	p.lo, p.hi = middle-12, middle+12
	for _, v := range carries {
		if v > middle-far && v < middle+far {
			p.lo, p.hi = math.Min(p.lo, v-6), math.Max(p.hi, v+6)
		}
	}
	for _, b := range balls {
		if z := math.Abs(b.Offline); z < wide {
			p.half = math.Max(p.half, z+4)
		}
	}
	outline, _ := outlined(r, ks)
	for _, k := range outline {
		e := r.Settings[k.setting].Ellipse
		sin, cos := math.Sincos(e.Turn)
		along, across := math.Hypot(e.A*cos, e.B*sin)+2, math.Abs(e.Z)+math.Hypot(e.A*sin, e.B*cos)+2
		p.lo, p.hi = math.Min(p.lo, math.Max(e.X-along, middle-far)), math.Max(p.hi, math.Min(e.X+along, middle+far))
		p.half = math.Max(p.half, math.Min(across, wide))
	}
	p.scale = math.Min(p.width/(2*p.half), 1.2*width/(p.hi-p.lo))
	p.half = p.width / 2 / p.scale
	if need := 0.62 * width; (p.hi-p.lo)*p.scale < need {
		grow := (need/p.scale - (p.hi - p.lo)) / 2
		p.lo, p.hi = p.lo-grow, p.hi+grow
	}
	p.height = (p.hi - p.lo) * p.scale
	return p
}

// ground draws the fairway, the costly side and the carry that is needed.
func (p plan) ground(c *canvas, g report.Ground) {
	c.open("class", "ground", "clip-path", c.clip("plan", p.left, p.top, p.width, p.height))
	c.el("rect", "x", p.x(-g.FairwayHalf), "y", p.top, "width", 2*g.FairwayHalf*p.scale, "height", p.height, "fill", c.color(fairway))
	for _, s := range []float64{-1, 1} {
		c.line(p.x(s*g.FairwayHalf), p.top, p.x(s*g.FairwayHalf), p.top+p.height, soft, 1, "")
	}
	c.line(p.x(0), p.top, p.x(0), p.top+p.height, ink, 1, "6 4")
	if z := troubleLine(g); z != 0 {
		edge := math.Copysign(p.half, z)
		x1, x2 := math.Min(p.x(z), p.x(edge)), math.Max(p.x(z), p.x(edge))
		c.el("rect", "x", x1, "y", p.top, "width", x2-x1, "height", p.height, "fill", c.hatch("trouble", trouble, 9), "opacity", 0.5)
		c.line(p.x(z), p.top, p.x(z), p.top+p.height, trouble, 2.5, "")
	}
	if g.CarryMin > 0 && g.CarryMin > p.lo && g.CarryMin < p.hi {
		y := p.y(g.CarryMin)
		c.line(p.left, y, p.left+p.width, y, ink, 1.2, "2 3")
	}
	c.close()
}

// troubleLine is where trouble begins, right +; 0 = there is none. [m]
func troubleLine(g report.Ground) float64 {
	switch {
	case g.TroubleAt > 0 && g.Trouble == frame.SideRight:
		return g.TroubleAt
	case g.TroubleAt > 0 && g.Trouble == frame.SideLeft:
		return -g.TroubleAt
	}
	return 0
}

// names writes what the parts of the ground are, over the balls so that it is
// read, and where the fewest balls lie.
func (p plan) names(c *canvas, g report.Ground, balls []report.ShotRow) {
	w := func(word string) string { return c.st.Reader.Word(word) }
	c.open("class", "names", "clip-path", "url(#"+c.st.ID+"-plan)")
	carry, anchor := p.left+4, "start"
	if z := troubleLine(g); z != 0 {
		p.troubleName(c, g, balls)
		if z < 0 {
			carry, anchor = p.left+p.width-4, "end"
		}
	}
	if g.CarryMin > 0 && g.CarryMin > p.lo && g.CarryMin < p.hi {
		c.halo(carry, p.y(g.CarryMin)-4, w("chart.landing.carrymin"), anchor, 11.5, ink)
	}
	c.halo(p.x(-g.FairwayHalf)+4, p.top+p.height-6, w("chart.fairway"), "start", 11.5, soft)
	c.close()
}

// troubleName says what lies on the costly side: across where there is room,
// else along its line, at the end where fewer balls are covered.
func (p plan) troubleName(c *canvas, g report.Ground, balls []report.ShotRow) {
	word := "chart.trouble.penalty"
	switch g.TroubleKind {
	case "out":
		word = "chart.trouble.out"
	case "trees":
		word = "chart.trouble.trees"
	}
	name := c.st.Reader.Word(word)
	z, anchor, shift := g.TroubleAt, "start", 5.0
	if g.Trouble == frame.SideLeft {
		z, anchor, shift = -z, "end", -5
	}
	long := textWidth(name, 11.5)
	across := long < p.half*p.scale-math.Abs(z)*p.scale-8
	wide, high := 16.0, long
	if across {
		wide, high = long, 16
	}
	above, below := 0, 0
	for _, b := range balls {
		x, y := (p.x(b.Offline)-p.x(z))*shift/5, p.y(b.Carry)-p.top
		if x < -4 || x > wide+8 {
			continue
		}
		if y < high+12 {
			above++
		}
		if y > p.height-high-12 {
			below++
		}
	}
	at := p.top + 8
	if below < above {
		at = p.top + p.height - high - 8
	}
	if across {
		c.halo(p.x(z)+shift, at+6, name, anchor, 11.5, ink)
		return
	}
	x := p.x(z) + shift*2.2
	c.halo(x, at, name, "start", 11.5, ink, "transform", "rotate(90 "+num(x)+" "+num(at)+")")
}

// axes draws both axes with numbers and units.
// It returns the line on which its last words stand.
func (p plan) axes(c *canvas) float64 {
	rd := c.st.Reader
	u := rd.System.Unit(units.Length)
	bottom := p.top + p.height
	c.open("class", "axes")
	c.el("rect", "x", p.left, "y", p.top, "width", p.width, "height", p.height, "fill", "none", "stroke", c.color(rule))
	for _, t := range ticks(rd, p.lo, p.hi, u, int(p.height/45)) {
		c.line(p.left-4, p.y(t.si), p.left, p.y(t.si), soft, 1, "")
		c.text(p.left-7, p.y(t.si)+4, t.label, "end", 12, soft)
	}
	for _, t := range ticks(rd, -p.half, p.half, u, int(p.width/45)) {
		c.line(p.x(t.si), bottom, p.x(t.si), bottom+4, soft, 1, "")
		c.text(p.x(t.si), bottom+17, strings.TrimPrefix(t.label, "\u2212"), "middle", 12, soft)
	}
	mid := p.top + p.height/2
	c.text(12, mid, c.st.say("chart.axis", rd.Word("chart.carry"), u.Symbol), "middle", 12, soft, "transform", "rotate(-90 12 "+num(mid)+")")
	left, right := "← "+rd.Word("chart.left"), rd.Word("chart.right")+" →"
	off, line := c.st.say("chart.axis", rd.Word("chart.offline"), u.Symbol), bottom+33
	c.text(p.left, line, left, "start", 12, soft)
	c.text(p.left+p.width, line, right, "end", 12, soft)
	if textWidth(off, 12)+2*math.Max(textWidth(left, 12), textWidth(right, 12)) > p.width {
		line += 15 // no room between the two sides
	}
	c.text(p.left+p.width/2, line, off, "middle", 12, soft)
	c.close()
	return line
}

// landings draws regions, balls and the middle of each setting; it returns
// how many balls fell outside the plan and stand on its edge.
func (p plan) landings(c *canvas, r report.Report, balls []report.ShotRow, number map[int]key) (hidden int) {
	p.regions(c, r, number)
	c.open("class", "shots")
	for _, b := range balls {
		k := number[b.Setting]
		x, y := p.x(b.Offline), p.y(b.Carry)
		if !p.in(b.Carry, b.Offline) {
			hidden++
			x, y = clamp(x, p.left+6, p.left+p.width-6), clamp(y, p.top+6, p.top+p.height-6)
		}
		c.mark(k, x, y, 3.9, b.Status != report.Counted, "class", "shot")
	}
	c.close()
	c.open("class", "middles")
	var spots labels
	for _, k := range inOrder(number) {
		s := r.Settings[k.setting]
		carry, z, ok := middle(s)
		if !ok || !p.in(carry, z) {
			continue
		}
		x, y := p.x(z), p.y(carry)
		if !s.Tested {
			c.mark(k, x, y, 6.5, true, "stroke-dasharray", "2 2")
		} else {
			c.el("path", "d", "M"+num(x-9)+" "+num(y)+"H"+num(x+9)+"M"+num(x)+" "+num(y-9)+"V"+num(y+9),
				"stroke", c.color(paper), "stroke-width", 5.0)
			c.el("path", "d", "M"+num(x-8)+" "+num(y)+"H"+num(x+8)+"M"+num(x)+" "+num(y-8)+"V"+num(y+8),
				"stroke", c.color(k.color()), "stroke-width", 2.4)
		}
		spots = append(spots, spot{x, y, k})
	}
	spots.draw(c, p)
	c.close()
	p.names(c, r.Ground, balls)
	if !c.st.Print { // above everything, so that a tap finds the ball
		c.open("class", "taps")
		for _, b := range balls {
			x := clamp(p.x(b.Offline), p.left+6, p.left+p.width-6)
			y := clamp(p.y(b.Carry), p.top+6, p.top+p.height-6)
			c.target(x, y, 24, 24, "data-shot", b.ID, "data-setting", b.Setting)
		}
		c.close()
	}
	return hidden
}

// spot is the middle of a setting on the drawing, waiting for its number.
type spot struct {
	x, y float64 // [px]
	key  key
}

type labels []spot

// draw puts each number as near to its middle as the others leave room, with
// a thin line to it where it had to go farther away.
func (l labels) draw(c *canvas, p plan) {
	type point struct{ x, y float64 }
	var taken []point
	for _, s := range l {
		taken = append(taken, point{s.x, s.y})
	}
	for _, s := range l {
		var at point
	search:
		for distance := 15.0; ; distance += 5 {
			for turn := 0.0; turn < 16; turn++ {
				a := (turn - 2) * math.Pi / 8
				at = point{s.x + distance*math.Cos(a), s.y + distance*math.Sin(a)}
				free := at.x > p.left+8 && at.x < p.left+p.width-8 && at.y > p.top+8 && at.y < p.top+p.height-8
				for _, q := range taken {
					free = free && math.Hypot(q.x-at.x, q.y-at.y) > 14
				}
				if free || distance > 90 {
					break search
				}
			}
		}
		taken = append(taken, at)
		if d := math.Hypot(at.x-s.x, at.y-s.y); d > 16 {
			c.line(s.x, s.y, s.x+(at.x-s.x)*(d-7)/d, s.y+(at.y-s.y)*(d-7)/d, ink, 0.8, "")
		}
		c.halo(at.x, at.y+4.5, s.key.text(), "middle", 13, ink, "font-weight", "700")
	}
}

// outlined are the settings whose next shot gets an ellipse, and whether that
// is every one that has one: of more than three only the reference and the
// choice (or its rival, when the choice is to keep), so that the plan stays
// legible.
func outlined(r report.Report, ks []key) (some []key, all bool) {
	all = true
	for _, k := range ks {
		if r.Settings[k.setting].Ellipse.Kind == "" {
			continue
		}
		if rival := r.Choice.Setting == r.Reference && k.setting == r.Choice.RunnerUp; len(ks) > 3 && k.setting != r.Reference && k.setting != r.Choice.Setting && !rival {
			all = false
			continue
		}
		some = append(some, k)
	}
	return some, all
}

// regions draws the ellipses of the next shot.
func (p plan) regions(c *canvas, r report.Report, number map[int]key) {
	c.open("class", "regions", "clip-path", "url(#"+c.st.ID+"-plan)")
	some, _ := outlined(r, inOrder(number))
	for _, k := range some {
		e := r.Settings[k.setting].Ellipse
		// On the drawing the first axis points up the page; turning it towards
		// z is clockwise, which is SVG's positive turn.
		x, y := p.x(e.Z), p.y(e.X)
		c.el("ellipse", "cx", x, "cy", y, "rx", e.B*p.scale, "ry", e.A*p.scale, "fill", "none",
			"stroke", c.color(k.color()), "stroke-width", 1.8, "stroke-dasharray", k.dash(),
			"transform", "rotate("+num(e.Turn/units.Degree)+" "+num(x)+" "+num(y)+")", "data-setting", k.setting)
	}
	c.close()
}

// inOrder lists the keys by their number: a map has no order of its own.
func inOrder(m map[int]key) []key {
	ks := make([]key, 0, len(m))
	for _, k := range m {
		ks = append(ks, k)
	}
	sort.Slice(ks, func(i, j int) bool { return ks[i].number < ks[j].number })
	return ks
}

// middle is where a setting's balls come down on average: as hit when it was
// tested, as predicted otherwise.
func middle(s report.Setting) (carry, offline float64, ok bool) {
	for _, as := range [][]report.Amount{s.Raw, s.Quantities} {
		c, known := report.AmountOf(as, shot.Carry)
		if o, ok := report.AmountOf(as, shot.Offline); known && ok {
			return c.Value.Mean, o.Value.Mean, true
		}
	}
	return 0, 0, false
}

func landingSummary(r report.Report, st Style, balls []report.ShotRow, ks []key) string {
	parts := []string{st.say("chart.landing.summary", strconv.Itoa(len(balls)), strconv.Itoa(len(ks)))}
	count := map[int]int{}
	for _, b := range balls {
		count[b.Setting]++
	}
	for _, k := range ks {
		s := r.Settings[k.setting]
		carry, z, ok := middle(s)
		if !ok {
			continue
		}
		word := "chart.landing.part"
		if !s.Tested {
			word = "chart.landing.part.predicted"
		}
		parts = append(parts, st.say(word, st.label(s), strconv.Itoa(count[k.setting]), st.Reader.Number(carry, units.Length, 0), st.side(z)))
	}
	return strings.Join(parts, " ")
}

func landingTable(r report.Report, st Style) Table {
	w := st.Reader.Word
	t := Table{Head: []string{w("chart.col.shot"), w("chart.col.setting"), w("chart.carry"), w("chart.offline"), w("chart.apex"), w("chart.col.status")}}
	for i, s := range r.Shots {
		row := []string{strconv.Itoa(i + 1), "–", "–", "–", "–", w("chart.status." + string(s.Status))}
		if s.Setting >= 0 && s.Setting < len(r.Settings) {
			row[1] = st.label(r.Settings[s.Setting])
		}
		if s.Known {
			row[2], row[3], row[4] = st.Reader.Number(s.Carry, units.Length, 0), st.side(s.Offline), st.Reader.Number(s.Apex, units.Height, 0)
		}
		t.Rows = append(t.Rows, row)
	}
	return t
}
