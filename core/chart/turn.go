package chart

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/units"
)

// Move is how a club is set from one setting to another, for Turn.
type Move struct {
	Head club.Head
	From club.Setting
	To   club.Setting
	Hand frame.Hand
	All  bool // label every position and take touches on each
}

// spoke is one position of a ring of the sleeve, as the golfer looks down the
// shaft: Angle is anticlockwise from three o'clock. [rad]
type spoke struct {
	label string
	angle float64
}

// ring is one turning part of the sleeve with the places it is set from and to.
type ring struct {
	spokes   []spoke
	from, to int
	listed   bool // in the order of a list: no way of turning is known
}

// Turn draws what the golfer does with the tool, seen from the golfer's eye:
// each ring of the sleeve with today's place hollow, the new one filled and an
// arrow from the one to the other, and each weight on the head likewise.
//
// Looking down the shaft at address the target is on a right-hander's left and
// the toe is away from the player. A position stands where its bore leans the
// shaft: to the left for more loft, away for more upright. The sleeve turns in
// the head by the angle between the two.
func Turn(m Move, st Style) Drawing {
	c := newCanvas(st)
	rings, weights := rings(m), m.Head.Weights
	high := 132.0
	if m.All {
		high = 190
	}
	parts := len(rings)
	if len(weights) > 0 {
		parts++
	}
	c.h = high
	if parts == 0 {
		c.h = 1
	}
	wide := c.w / float64(max(parts, 1))
	rest := wide // of the weights
	if len(weights) > 0 && parts == 2 {
		wide, rest = .57*c.w, .43*c.w
	}
	said := []string{}
	for i, r := range rings {
		c.ring(r, wide*(float64(i)+.5), high/2, wide, high, m.All, i)
		said = append(said, st.turnWords(r))
	}
	if len(weights) > 0 {
		c.weights(m, c.w-rest/2-m.Hand.Sign()*(rest/2-46), high/2, rest, high)
		for i, w := range weights {
			said = append(said, st.moveWords(w, m.From.StopOf(i), m.To.StopOf(i)))
		}
	}
	return c.finish("chart-turn", st.Reader.Word("chart.turn.title"), strings.Join(said, " "), Table{})
}

// rings lists the turning parts of the sleeve. A printed table is one ring
// when its bores lie on a circle; else only its list is known.
func rings(m Move) []ring {
	places := m.Head.Places()
	if len(places) < 2 {
		return nil
	}
	at := func(label string) int {
		return slices.IndexFunc(places, func(p club.Place) bool { return p.Label == label })
	}
	from, to := at(m.From.Sleeve), at(m.To.Sleeve)
	sign := m.Hand.Sign()
	if rs := m.Head.Sleeve.Rings; len(rs) == 2 && len(m.Head.Sleeve.Table) == 0 && rs[0].Positions*rs[1].Positions == len(places) {
		second := rs[1].Positions
		out, names := make([]ring, 2), m.Head.Sleeve.RingLabels()
		for k, r := range rs {
			for i := range r.Positions {
				out[k].spokes = append(out[k].spokes, spoke{names[k][i], eye(r.Offset+2*math.Pi*float64(i)/float64(r.Positions), sign)})
			}
		}
		out[0].from, out[0].to = apart(from, second, false), apart(to, second, false)
		out[1].from, out[1].to = apart(from, second, true), apart(to, second, true)
		return out
	}
	one := ring{from: from, to: to}
	lean, up := 0.0, 0.0
	for _, p := range places {
		lean += p.Tilt.Lean / float64(len(places))
		up += p.Tilt.Upright / float64(len(places))
	}
	least, most := math.Inf(1), 0.0
	for _, p := range places {
		far := math.Hypot(p.Tilt.Lean-lean, p.Tilt.Upright-up)
		least, most = math.Min(least, far), math.Max(most, far)
		one.listed = one.listed || p.Change.Unknown
		one.spokes = append(one.spokes, spoke{p.Label, eye(math.Atan2(p.Tilt.Upright-up, p.Tilt.Lean-lean), sign)})
	}
	if one.listed || least < .6*most {
		one.listed = true
		for i := range one.spokes {
			one.spokes[i].angle = math.Pi/2 - 2*math.Pi*float64(i)/float64(len(places))
		}
	}
	return []ring{one}
}

// apart is the place on the first or the second ring of place i of both.
func apart(i, second int, inner bool) int {
	switch {
	case i < 0:
		return -1
	case inner:
		return i % second
	}
	return i / second
}

// eye turns the direction in which a bore leans (0 = to the target, a quarter
// = upright) to the golfer's view.
func eye(phi, sign float64) float64 { return math.Atan2(math.Sin(phi), -sign*math.Cos(phi)) }

// way is the shorter turn from one place to the other, clockwise positive. [rad]
func (r ring) way() float64 {
	if r.from < 0 || r.to < 0 {
		return 0
	}
	return -math.Remainder(r.spokes[r.to].angle-r.spokes[r.from].angle, 2*math.Pi)
}

// ring draws one ring around x, y in a field of the given size.
func (c *canvas) ring(r ring, x, y, wide, high float64, all bool, n int) {
	size := math.Min(high/2-24, wide/2-46)
	if !all { // the two labels stand beside it
		size = math.Min(high/2-14, clamp((wide-44-widestWord(r))/2, .17*wide, .26*wide))
		x += size + 10 - wide/2
		c.besides(r, x+size+14, y, wide-2*size-28)
	}
	c.open("class", "sleeve-ring")
	c.el("circle", "cx", x, "cy", y, "r", size, "fill", c.color(fairway), "stroke", c.color(ink), "stroke-width", 1.6)
	c.el("circle", "cx", x, "cy", y, "r", size*.3, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 1.6)
	point := func(i int, far float64) (float64, float64) {
		s, co := math.Sincos(r.spokes[i].angle)
		return x + far*co, y - far*s
	}
	for i := range r.spokes {
		x1, y1 := point(i, size-5)
		x2, y2 := point(i, size+3)
		c.line(x1, y1, x2, y2, ink, 1.6, "")
	}
	turns := r.from >= 0 && r.to >= 0 && r.from != r.to
	if turns && !r.listed {
		c.arc(r, x, y, size*.64)
	}
	name := func(i int, strong bool) {
		px, py := point(i, size+13)
		co := math.Cos(r.spokes[i].angle)
		anchor, room := "middle", wide/2
		if co > .35 {
			anchor, px = "start", px-4
			room = x + wide/2 - px
		} else if co < -.35 {
			anchor, px = "end", px+4
			room = px - x + wide/2
		}
		weight := "400"
		if strong {
			weight = "700"
		}
		c.label(px, py+4, room-2, r.spokes[i].label, anchor, ink, "font-weight", weight)
	}
	for i := range r.spokes {
		if all {
			name(i, i == r.to)
		}
	}
	if r.from >= 0 {
		px, py := point(r.from, size)
		c.el("circle", "class", "place-today", "cx", px, "cy", py, "r", 6, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 2.2)
	}
	if r.to >= 0 {
		px, py := point(r.to, size)
		c.el("circle", "class", "place-new", "cx", px, "cy", py, "r", 6.5, "fill", c.color(accent), "stroke", c.color(paper), "stroke-width", 1.4)
	}
	for i := range r.spokes {
		if all {
			px, py := point(i, size)
			c.target(px, py, 24, 24, "data-ring", n, "data-place", i)
		}
	}
	c.close()
}

// widestWord is how much room the labels of today's place and of the new one need
// beside a ring. [px]
func widestWord(r ring) (w float64) {
	for _, i := range []int{r.from, r.to} {
		if i >= 0 {
			for _, word := range strings.FieldsFunc(r.spokes[i].label, func(c rune) bool { return c == ' ' || c == '-' }) {
				w = math.Max(w, textWidth(word+"-", 12.5))
			}
		}
	}
	return w
}

// besides writes the labels of today's place and of the new one beside a ring. On
// paper, where nobody can tap, a label is broken and not cut.
func (c *canvas) besides(r ring, x, y, room float64) {
	type line struct {
		parts []string
		isNew bool
	}
	var lines []line
	high := -12.0
	for k, place := range []int{r.from, r.to} {
		if place < 0 || k == 0 && place == r.to {
			continue
		}
		label, most := r.spokes[place].label, 3
		if c.st.Print {
			label, most = broken(label, room-16, 12.5), 4
		}
		l := line{wrap(label, room-16, 12.5, most), k == 1}
		lines = append(lines, l)
		high += 15*float64(len(l.parts)) + 12
	}
	at := y - high/2 + 7
	for _, l := range lines {
		weight, edge, fill := "400", ink, paper
		if l.isNew {
			weight, edge, fill = "700", accent, accent
		}
		c.el("circle", "cx", x+5, "cy", at, "r", 5, "fill", c.color(fill), "stroke", c.color(edge), "stroke-width", 2.0)
		for _, part := range l.parts {
			c.text(x+15, at+4.5, part, "start", 12.5, ink, "font-weight", weight)
			at += 15
		}
		at += 12
	}
}

// arc draws the arrow from today's place to the new one, at a distance from
// the middle.
func (c *canvas) arc(r ring, x, y, size float64) {
	way := r.way()
	a, b := r.spokes[r.from].angle, r.spokes[r.from].angle-way*.93
	sweep := 0
	if way > 0 {
		sweep = 1
	}
	p := func(angle, far float64) string {
		s, co := math.Sincos(angle)
		return num(x+far*co) + " " + num(y-far*s)
	}
	c.el("path", "class", "turn-arrow", "d", "M"+p(a, size)+"A"+num(size)+" "+num(size)+" 0 0 "+strconv.Itoa(sweep)+" "+p(b, size),
		"fill", "none", "stroke", c.color(accent), "stroke-width", 3.0)
	tip, back := r.spokes[r.from].angle-way, math.Copysign(.24, way)
	c.el("path", "d", "M"+p(tip, size)+"L"+p(tip+back, size+6)+"L"+p(tip+back, size-6)+"Z", "fill", c.color(accent))
}

// weights draws the head from above, the toe away from the player and the face
// to the target, and on it the places of each weight.
func (c *canvas) weights(m Move, x, y, wide, high float64) {
	sign := m.Hand.Sign()
	size := high / 132
	c.open("class", "weight-track")
	c.outline("M-16 -50C2 -58 26 -48 34 -22C40 4 32 34 12 46C2 52 -12 50 -18 44C-22 14 -22 -20 -16 -50Z",
		"translate("+num(x-12*sign)+" "+num(y)+") scale("+scale(sign*size)+" "+scale(size)+")", false)
	reach := 1e-3
	for _, w := range m.Head.Weights {
		for _, s := range w.Stops {
			reach = math.Max(reach, math.Max(math.Abs(s.Toe), math.Abs(s.Back)))
		}
	}
	for i, w := range m.Head.Weights {
		type spot struct{ x, y float64 }
		spots := make([]spot, len(w.Stops))
		same := true
		for j, s := range w.Stops {
			spots[j] = spot{x + sign*(s.Back/reach*20-8+16*float64(i)), y - s.Toe/reach*38*size}
			same = same && s.Toe == w.Stops[0].Toe && s.Back == w.Stops[0].Back
		}
		if same && len(spots) > 1 { // weights exchanged in one place: in the order of the list
			for j := range spots {
				spots[j].y = spots[j].y + 14*(float64(j)-float64(len(spots)-1)/2)
			}
		}
		from, to := w.Index(m.From.StopOf(i)), w.Index(m.To.StopOf(i))
		for j := range spots {
			if j > 0 {
				c.line(spots[j-1].x, spots[j-1].y, spots[j].x, spots[j].y, soft, 2.4, "")
			}
		}
		for _, s := range spots {
			c.line(s.x-5, s.y, s.x+5, s.y, ink, 1.6, "")
		}
		edge := x + sign*36
		write := func(j int, strong string) {
			anchor, room := "start", c.w-edge
			if sign < 0 {
				anchor, room = "end", edge-c.w+wide
			}
			c.label(edge, spots[j].y+4, room-2, w.Stops[j].Label, anchor, ink, "font-weight", strong)
		}
		if from >= 0 {
			if from == to || to < 0 || math.Abs(spots[from].y-spots[to].y) > 13 {
				write(from, "400")
			}
			c.el("circle", "class", "place-today", "cx", spots[from].x, "cy", spots[from].y, "r", 6, "fill", c.color(paper), "stroke", c.color(ink), "stroke-width", 2.2)
		}
		if to >= 0 {
			if to != from {
				write(to, "700")
				c.slide(spots[max(from, 0)].x, spots[max(from, 0)].y, spots[to].x, spots[to].y, sign)
			}
			c.el("circle", "class", "place-new", "cx", spots[to].x, "cy", spots[to].y, "r", 6.5, "fill", c.color(accent), "stroke", c.color(paper), "stroke-width", 1.4)
		}
	}
	c.close()
}

// slide draws the arrow of a weight beside its track.
func (c *canvas) slide(x1, y1, x2, y2, sign float64) {
	long := math.Hypot(x2-x1, y2-y1)
	if long < 16 {
		return
	}
	ux, uy := (x2-x1)/long, (y2-y1)/long
	sx := -13 * sign
	x1, y1, x2, y2 = x1+8*ux+sx, y1+8*uy, x2-2*ux+sx, y2-2*uy
	c.line(x1, y1, x2-7*ux, y2-7*uy, accent, 3, "")
	c.el("path", "d", "M"+num(x2)+" "+num(y2)+"L"+num(x2-9*ux-6*uy)+" "+num(y2-9*uy+6*ux)+"L"+num(x2-9*ux+6*uy)+" "+num(y2-9*uy-6*ux)+"Z", "fill", c.color(accent))
}

// turnWords says what is done with a ring.
func (st Style) turnWords(r ring) string {
	switch {
	case r.from < 0 || r.to < 0:
		return ""
	case r.from == r.to:
		return st.say("chart.turn.stays", r.spokes[r.to].label)
	case r.listed:
		return st.say("chart.turn.set", r.spokes[r.from].label, r.spokes[r.to].label)
	}
	word, way := "chart.turn.clockwise", r.way()
	if way < 0 {
		word = "chart.turn.anticlockwise"
	}
	return st.say(word, st.Reader.Number(math.Round(math.Abs(way)/units.Degree)*units.Degree, units.Angle, 0), r.spokes[r.from].label, r.spokes[r.to].label)
}

// moveWords says what is done with a weight.
func (st Style) moveWords(w club.Weight, from, to string) string {
	if from == to {
		return st.say("chart.turn.weight-stays", w.Name, to)
	}
	return st.say("chart.turn.weight", w.Name, from, to)
}
