package chart

import (
	"math"
	"strings"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/units"
)

// Address is a head as it stands to the ball, for Head.
type Address struct {
	Head      club.Head
	Setting   club.Setting
	Change    club.Change // of Setting
	Reference club.Change // drawn dashed behind it
	Hand      frame.Hand
}

// exaggeration is how many times larger than real a change of angle is drawn:
// a degree is too little to see on a phone.
const exaggeration = 5

// Head draws the head at address in three views: from above (face), from the
// toe (loft) and from behind the heel (lie). The setting is drawn full, the
// reference dashed; the differences of the angles are exaggerated, and the
// drawing says so. Shapes are a plain driver's, not any club's.
func Head(a Address, st Style) Drawing {
	c := newCanvas(st)
	rd := st.Reader
	title := rd.Word("chart.head.title")
	top := c.heading(title)
	angle := func(v float64) string { return rd.Number(v, units.Angle, 1) }
	loft := a.Head.Loft
	if a.Head.MeasuredLoft != nil {
		loft = *a.Head.MeasuredLoft
	}
	face, faceRef := a.Head.Face+a.Change.FaceSoled, a.Head.Face+a.Reference.FaceSoled
	lie, lieRef := a.Head.Lie+a.Change.Upright, a.Head.Lie+a.Reference.Upright
	square := loft + a.Change.LoftSquare

	columns := 3.0
	size := (c.w - 12) / columns
	high := math.Min(size*1.05, 210)
	if c.w < 330 {
		high = size * 1.2
	}
	views := []struct {
		word, value string
		draw        func(x, y, s float64)
	}{
		{"chart.head.above", st.openClosed(face), func(x, y, s float64) { c.fromAbove(a, x, y, s, face, faceRef) }},
		{"chart.head.toe", st.say("chart.head.loft", angle(square)), func(x, y, s float64) {
			c.fromToe(x, y, s, loft+a.Change.LoftSquare, loft+a.Reference.LoftSquare, a.Hand)
		}},
		{"chart.head.front", st.say("chart.head.lie", angle(lie)), func(x, y, s float64) { c.fromFront(x, y, s, lie, lieRef, a.Hand) }},
	}
	if a.Change.Unknown {
		views[0].value, views[1].value, views[2].value = rd.Word("chart.head.unknown"), "", ""
	}
	bottom := top
	for i, v := range views {
		x := 6 + size*(float64(i)+0.5)
		c.open("class", "view")
		v.draw(x, top+high/2+2, math.Min(size, high)/100)
		y := top + high + 14
		for _, l := range wrap(rd.Word(v.word), size-4, 11.5, 2) {
			c.text(x, y, l, "middle", 11.5, soft)
			y += 15
		}
		for _, l := range wrap(v.value, size-4, 12.5, 3) {
			c.text(x, y+2, l, "middle", 12.5, ink, "font-weight", "600")
			y += 16
		}
		c.close()
		bottom = math.Max(bottom, y)
	}
	note := st.say("chart.head.exaggerated", rd.Number(exaggeration, units.None, 0))
	c.h = c.paragraph(6, bottom+10, c.w-12, note, 11.5, soft)
	parts := []string{st.say("chart.head.summary", a.Setting.Key(), angle(square), angle(lie), st.openClosed(face)), note}
	if weight := st.weightPlace(a.Change.CGToe - a.Reference.CGToe); weight != "" {
		parts = append(parts, weight)
	}
	t := Table{Head: []string{rd.Word("chart.col.what"), rd.Word("chart.col.setting"), rd.Word("chart.reference")}, Rows: [][]string{
		{rd.Word("chart.head.row.loft"), angle(square), angle(loft + a.Reference.LoftSquare)},
		{rd.Word("chart.head.row.lie"), angle(lie), angle(lieRef)},
		{rd.Word("chart.head.row.face"), st.openClosed(face), st.openClosed(faceRef)},
		{rd.Word("chart.head.row.cg"), rd.Number(a.Change.CGToe, units.Small, 1), rd.Number(a.Reference.CGToe, units.Small, 1)},
	}}
	if a.Change.Unknown {
		parts, t.Rows = []string{st.say("chart.head.summary.unknown", a.Setting.Key())}, nil
	}
	return c.finish("chart-head", title, strings.Join(parts, " "), t)
}

// openClosed writes a face angle in the player's words.
func (st Style) openClosed(face float64) string {
	switch v := math.Abs(face); {
	case v < 0.05*units.Degree:
		return st.Reader.Word("chart.head.square")
	case face > 0:
		return st.say("chart.head.open", st.Reader.Number(v, units.Angle, 1))
	default:
		return st.say("chart.head.closed", st.Reader.Number(v, units.Angle, 1))
	}
}

// weightPlace says which way the head's middle of mass moved.
func (st Style) weightPlace(toe float64) string {
	switch mm := st.Reader.Number(math.Abs(toe), units.Small, 1); {
	case math.Abs(toe) < 0.05e-3:
		return ""
	case toe > 0:
		return st.say("chart.head.cgtoe", mm)
	default:
		return st.say("chart.head.cgheel", mm)
	}
}

// outline draws a closed path full, and dashed for the reference.
func (c *canvas) outline(d, transform string, reference bool) {
	attrs := []any{"d", d, "transform", transform, "stroke-linejoin", "round"}
	if reference {
		attrs = append(attrs, "fill", "none", "stroke", c.color(soft), "stroke-width", 1.2, "stroke-dasharray", "4 3", "vector-effect", "non-scaling-stroke")
	} else {
		attrs = append(attrs, "fill", c.color(fairway), "stroke", c.color(ink), "stroke-width", 1.8, "vector-effect", "non-scaling-stroke")
	}
	c.el("path", attrs...)
}

// place is the transform of a view: middle, size, mirror for a left-hander
// and turn (clockwise positive before mirroring).
func place(x, y, s, mirror, turn float64) string {
	return "translate(" + num(x) + " " + num(y) + ") scale(" + scale(mirror*s) + " " + scale(s) + ") rotate(" + num(turn/units.Degree) + ")"
}

func scale(v float64) string {
	s := num(v * 100)
	return s + "e-2"
}

// crown is a head from above, the face upward (towards the target), the heel
// to the left: a right-hander looks down on it so. The shaft enters at the heel.
const crown = "M-30 -22C-10 -28 16 -28 32 -21C40 -8 38 14 22 28C8 38 -14 36 -26 22C-35 11 -36 -10 -30 -22Z"

// fromAbove draws the face's turn. A right-hander's open face looks to the
// right of the target, clockwise from above.
func (c *canvas) fromAbove(a Address, x, y, s, face, reference float64) {
	m := a.Hand.Sign()
	c.line(x, y-46*s, x, y-30*s, ink, 1, "3 3")
	c.el("path", "d", "M"+num(x-4)+" "+num(y-40*s)+"L"+num(x)+" "+num(y-47*s)+"L"+num(x+4)+" "+num(y-40*s), "fill", "none", "stroke", c.color(ink))
	c.outline(crown, place(x, y+4*s, s, m, exaggeration*reference), true)
	c.outline(crown, place(x, y+4*s, s, m, exaggeration*face), false)
	// The middle of mass, moved towards the toe or the heel: 1 mm is drawn as 5.
	toe := clamp(a.Change.CGToe*1000*exaggeration, -25, 25)
	c.el("circle", "cx", x+m*toe*s, "cy", y+8*s, "r", 3.4, "fill", c.color(accent), "stroke", c.color(paper))
}

// side is a head from the toe: face to the right for a right-hander, turned
// by its loft (leaning back, so anticlockwise here).
func (c *canvas) fromToe(x, y, s, loft, reference float64, hand frame.Hand) {
	const profile = "M24 22C28 4 26 -12 20 -22C4 -26 -26 -16 -34 10C-30 20 -6 24 24 22Z"
	m := hand.Sign()
	c.line(x-44*s, y+24*s, x+44*s, y+24*s, soft, 1, "")
	nominal := 10 * units.Degree // the profile's own face leans so much
	c.outline(profile, place(x, y, s, m, -exaggeration*(reference-nominal)), true)
	c.outline(profile, place(x, y, s, m, -exaggeration*(loft-nominal)), false)
}

// fromFront draws the lie: the face towards the reader, who looks back at the
// player, so a right-hander's shaft leans to the right.
func (c *canvas) fromFront(x, y, s, lie, reference float64, hand frame.Hand) {
	const front = "M26 20C34 10 30 -6 18 -14C-2 -22 -28 -16 -36 2C-36 14 -24 22 -4 23C8 23 20 23 26 20Z"
	m := hand.Sign()
	c.line(x-46*s, y+24*s, x+46*s, y+24*s, soft, 1, "")
	c.outline(front, place(x, y, s, m, 0), false)
	shaft := func(v float64, width float64, color role, dash string) {
		v = 58*units.Degree + exaggeration*(v-58*units.Degree)
		v = clamp(v, 20*units.Degree, 110*units.Degree)
		x0, y0 := x+m*24*s, y+2*s
		c.line(x0, y0, x0+m*48*s*math.Cos(v), y0-48*s*math.Sin(v), color, width, dash)
	}
	shaft(reference, 1.2, soft, "4 3")
	shaft(lie, 3, ink, "")
}
