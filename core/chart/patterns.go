package chart

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// inRing is how many standard deviations the ring of four fifths of the balls
// lies from the middle: sqrt(-2 ln 0.2), of a normal pattern in two directions.
const inRing = 1.794

// blob is one setting's pattern: where its balls are expected and how far they
// scatter.
type blob struct {
	key    key
	x, z   float64 // [m] carry, offline right +
	a, b   float64 // [m] half axes of the ring, along and across
	turn   float64 // [rad] of the first axis from x towards z
	balls  []report.ShotRow
	ringed bool
}

// Patterns draws at most two settings over the fairway with its trouble, seen
// from the tee: each ball that was hit, and one soft ring for the four fifths
// of the balls to come. The first is drawn hollow and dashed, the second full.
func Patterns(r report.Report, first, second int, st Style) Drawing {
	c := newCanvas(st)
	var blobs []blob
	for n, i := range []int{first, second} {
		if i < 0 || i >= len(r.Settings) || n == 1 && i == first {
			continue
		}
		blobs = append(blobs, blobOf(r, i, n))
	}
	p := c.layPatterns(r.Ground, blobs, patternNames(c, r, blobs))
	p.ground(c, r.Ground)
	p.scales(c, r.Ground)
	c.open("class", "regions", "clip-path", "url(#"+st.ID+"-plan)")
	for n, b := range blobs {
		c.blob(b, p, n)
	}
	c.close()
	c.open("class", "shots")
	var all []report.ShotRow
	for n, b := range blobs {
		for _, s := range b.balls {
			if p.in(s.Carry, s.Offline) {
				c.patternBall(n, p.x(s.Offline), p.y(s.Carry), 3.6)
			}
		}
		all = append(all, b.balls...)
	}
	c.close()
	p.names(c, r.Ground, all)
	if !st.Print {
		c.open("class", "taps")
		for _, s := range all {
			if p.in(s.Carry, s.Offline) {
				c.target(p.x(s.Offline), p.y(s.Carry), 24, 24, "data-shot", s.ID)
			}
		}
		c.close()
	}
	c.h = p.top + p.height + 18
	return c.finish("chart-patterns", st.Reader.Word("chart.patterns.title"), patternWords(r, st, blobs), landingTable(r, st))
}

func blobOf(r report.Report, i, n int) blob {
	s := r.Settings[i]
	b := blob{key: key{i, n + 1}}
	carry, ok := s.Of(shot.Carry)
	side, also := s.Of(shot.Offline)
	if ok && also {
		b.x, b.z, b.ringed = carry.Value.Mean, side.Value.Mean, true
		b.a, b.b = inRing*carry.Spread, inRing*side.Spread
	}
	if s.Ellipse.Kind != "" {
		b.a, b.b, b.turn = s.Ellipse.A, s.Ellipse.B, s.Ellipse.Turn
	}
	for _, row := range r.Shots {
		if row.Setting == i && row.Known && drawn(row.Status) {
			b.balls = append(b.balls, row)
		}
	}
	return b
}

// layPatterns chooses the ground to show below top, wider than long: a fairway is
// seen from the tee.
func (c *canvas) layPatterns(g report.Ground, blobs []blob, top float64) plan {
	p := plan{left: 34, top: top, width: c.w - 36}
	p.height = .48*c.w + 6 - top
	p.half = math.Max(g.FairwayHalf*1.25, 22)
	if g.TroubleAt > 0 && g.Trouble != "" {
		p.half = math.Max(p.half, g.TroubleAt+14)
	}
	var carries []float64
	for _, b := range blobs {
		if b.ringed {
			carries = append(carries, b.x)
			p.half = math.Max(p.half, math.Min(math.Abs(b.z)+b.b*.9, 58))
		}
	}
	if len(carries) == 0 {
		for _, b := range blobs {
			for _, s := range b.balls {
				carries = append(carries, s.Carry)
			}
		}
	}
	if len(carries) == 0 {
		carries = []float64{200}
	}
	middle := (slices.Min(carries) + slices.Max(carries)) / 2
	for _, b := range blobs { // a ring is seen whole, unless that would shrink all
		if b.ringed {
			p.half = math.Max(p.half, math.Min((b.a+math.Abs(b.x-middle)+3)*p.width/p.height, 52))
		}
	}
	p.scale = p.width / 2 / p.half
	span := p.height / p.scale
	p.lo, p.hi = middle-span/2, middle+span/2
	return p
}

// scales writes the carries at the left and the sides below.
func (p plan) scales(c *canvas, g report.Ground) {
	rd := c.st.Reader
	u := rd.System.Unit(units.Length)
	c.open("class", "axes")
	c.el("rect", "x", p.left, "y", p.top, "width", p.width, "height", p.height, "fill", "none", "stroke", c.color(rule))
	for i, t := range ticks(rd, p.lo, p.hi, u, 5) {
		if y := p.y(t.si); y > p.top+8 && y < p.top+p.height-4 {
			c.line(p.left, y, p.left+5, y, soft, 1, "")
			label := t.label
			if i == 0 {
				label += "\u00a0" + u.Symbol
			}
			c.text(p.left-3, y+4, label, "end", 12, soft, "textLength", math.Min(textWidth(label, 12), p.left-3), "lengthAdjust", "spacingAndGlyphs")
		}
	}
	y := p.top + p.height + 13
	var shown []tick
	for _, t := range ticks(rd, -p.half, p.half, u, 7) {
		if x := p.x(t.si); x > p.left+12 && x < p.left+p.width-14 {
			shown = append(shown, t)
		}
	}
	for i, t := range shown {
		label, word := strings.TrimPrefix(t.label, "\u2212"), ""
		switch {
		case t.si < -1:
			word = "\u00a0" + rd.Word("side.l")
		case t.si > 1:
			word = "\u00a0" + rd.Word("side.r")
		}
		// Where the word is long only the outermost bear it.
		if i == 0 || i == len(shown)-1 || textWidth(label+word, 12)+4 < (shown[1].si-shown[0].si)*p.scale {
			label += word
		}
		c.text(p.x(t.si), y, label, "middle", 12, soft)
	}
	c.close()
}

// blob draws the ring of a pattern.
func (c *canvas) blob(b blob, p plan, n int) {
	if !b.ringed || b.a <= 0 || b.b <= 0 {
		return
	}
	x, y := p.x(b.z), p.y(b.x)
	tone, dash, class, soft := c.tone(n), "", "pattern-new", ".12"
	if n == 0 {
		dash, class, soft = "7 4", "pattern-today", "0"
	}
	attrs := []any{"class", class, "cx", x, "cy", y, "rx", b.b * p.scale, "ry", b.a * p.scale, "fill", c.color(tone), "fill-opacity", soft,
		"stroke", c.color(tone), "stroke-width", 2.4, "transform", "rotate(" + num(b.turn/units.Degree) + " " + num(x) + " " + num(y) + ")", "data-setting", b.key.setting}
	if dash != "" {
		attrs = append(attrs, "stroke-dasharray", dash)
	}
	c.el("ellipse", attrs...)
}

// tone is the colour of the first or the second setting.
func (c *canvas) tone(n int) role {
	if n == 0 {
		return ink
	}
	return accent
}

// patternBall draws one ball: hollow for the first setting, a full diamond for
// the second.
func (c *canvas) patternBall(n int, x, y, size float64) {
	if n == 0 {
		c.el("circle", "class", "shot", "cx", x, "cy", y, "r", size, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 1.6)
		return
	}
	d := size * 1.35
	c.el("path", "class", "shot", "d", "M"+num(x)+" "+num(y-d)+"L"+num(x+d)+" "+num(y)+"L"+num(x)+" "+num(y+d)+"L"+num(x-d)+" "+num(y)+"Z", "fill", c.color(accent), "stroke", c.color(paper), "stroke-width", 1.0)
}

// patternNames writes which pattern is which, above the ground: a name over it would lie
// over balls. It returns how high it is.
func patternNames(c *canvas, r report.Report, blobs []blob) float64 {
	const size, line, mark = 12.5, 15.0, 14.0
	c.open("class", "pattern-names")
	x, y := 34.0, 4.0
	for n, b := range blobs {
		if !b.ringed {
			continue
		}
		name := c.st.Reader.Word("chart.patterns.today")
		if b.key.setting != r.Reference {
			name = c.st.label(r.Settings[b.key.setting])
		}
		room, most := c.w-34-mark-2, 2
		if c.st.Print { // where nobody can tap it to read it whole
			name, most = broken(name, room, size), 4
		}
		lines := wrap(name, room, size, most)
		wide := 0.0
		for _, l := range lines {
			wide = math.Max(wide, textWidth(l, size))
		}
		if y == 4 || x+mark+wide > c.w-2 {
			x, y = 34, y+line
		}
		c.patternBall(n, x+5, y-4.5, 3.6)
		for i, l := range lines {
			c.text(x+mark, y+line*float64(i), l, "start", size, c.tone(n), "font-weight", "700")
		}
		x, y = x+mark+wide+16, y+line*float64(len(lines)-1)
	}
	c.close()
	return y + 4
}

func patternWords(r report.Report, st Style, blobs []blob) string {
	var parts []string
	for _, b := range blobs {
		if b.ringed {
			parts = append(parts, st.say("chart.patterns.part", st.label(r.Settings[b.key.setting]), strconv.Itoa(len(b.balls)),
				st.Reader.Number(b.x, units.Length, 0), st.side(b.z)))
		}
	}
	if at := troubleLine(r.Ground); at != 0 {
		parts = append(parts, st.say("chart.patterns.trouble", st.side(at)))
	}
	return strings.Join(parts, " ")
}
