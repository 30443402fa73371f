package shotfile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// The sign audit. Columns that name a side agree or disagree with the physics
// of the shots: where a ball lands is its start line plus the curve that its
// axis makes. Every column gets a sign relative to the landing place; the
// columns that go the same way form a camp, and the smaller camp is turned.
// Letters, or a header that says which side is positive, settle which camp is
// right. A file whose camps are about equal is asked about.
//
// Physics is the same in a mirror: a file that has every column turned cannot
// be told from one that has none, and only letters or the person can say so.

// relation is the sign of one column relative to the landing side.
type relation struct {
	sign float64         // +1 the same way, -1 the other way, 0 = cannot be told
	text message.Message // "the spin axis agrees with the curve in 2 of 249 shots"
	torn bool            // contradictory: neither sign explains the shots

	lead   float64 // log likelihood of the two signs, + for the same way
	curved bool    // judged by the curve: a person can say which way it went
}

// sureLead is the log likelihood by which a block must speak against another
// before a file is taken to change its signs in the middle.
const sureLead = 8

// surely is the log likelihood by which the curve must speak for one of its signs:
// balls in wind make a lead of 3 by chance, and many files are read. Few files are
// written the other way: turning one over takes more where no start line was read, which
// goes with the axis as nobody told. (As much for either sign asks about 1.2 dialects
// in a hundred and mends one season of twenty thousand.)
const (
	surely  = 5
	unaimed = 7
)

// byCurve judges the sign of a column by its likelihood alone: how many balls seem
// to agree says little where a few curve and the wind takes all.
func (r relation) byCurve(n int, turned float64) relation {
	r.curved = true
	switch {
	case r.lead >= surely && n >= 3:
		r.sign, r.torn = 1, false
	case r.lead <= -turned && n >= 3:
		r.sign, r.torn = -1, false
	default:
		r.sign, r.torn = 0, r.torn || n >= 6
	}
	return r
}

// contest weighs the two signs of a column by log likelihoods and the count of
// clear shots that agree.
func contest(what message.Message, plus, minus float64, same, of, n int) relation {
	text := message.Of("problem.clear-shots", what, same, of)
	lead := plus - minus
	mixed := of >= 12 && same*4 > of && same*4 < of*3
	switch {
	case lead >= 3 && of >= 3 && same*2 > of:
		return relation{sign: 1, text: text, lead: lead}
	case lead <= -3 && of >= 3 && same*2 < of:
		return relation{sign: -1, text: text, lead: lead}
	}
	// Three balls say nothing. Many that go both ways, some that lean against
	// the sign as written, or six that lean nowhere, are a question.
	return relation{text: text, lead: lead, torn: mixed || lead < -1 || lead < 3 && n >= 6}
}

// tail is the log density of a residual under Student's t with 3 degrees of
// freedom and scale s: mis-hits must not decide a sign.
func tail(r, s float64) float64 { return -2 * math.Log1p(r*r/(3*s*s)) }

// track is one ball's numbers for the audit, NaN where not read.
type track struct {
	off, start, curve float64 // [m] landing; where the start line points; curve of the axis as written
	dir, axis         float64 // [rad]
	carry             float64 // [m]
	cross             float64 // [m/s] of the wind that was told, blowing to the right +; NaN = none was
	drift             float64 // [s] of the landing by each m/s of cross wind
	row, block        int
}

// usualSpin stands in where a file gives no spin: only signs follow from it.
const usualSpin = 2700 * units.RPM // [rad/s] a driver's median (an open collection of drives: 3,100 with mis-hits)

func orElse(v, otherwise float64) float64 {
	if math.IsNaN(v) {
		return otherwise
	}
	return v
}

// manyTracks is about how many balls of a file are flown.
const manyTracks = 400

// tracks collects what the audit needs of the rows, about most of them; the axis is that of the
// column, or of side spin over backspin when the file has none.
func (p *signAudit) tracks(rows []int, most int) (ts []track, byAxis bool) {
	off, offAngle := p.cols.of(shot.Offline), p.cols.of(shot.OfflineAngle)
	if off == nil {
		off = p.cols.of(shot.OfflineTotal)
	}
	dir, axis, side := p.cols.of(shot.LaunchDirection), p.cols.of(shot.SpinAxis), p.cols.of(shot.Sidespin)
	carryC, totalC := p.cols.of(shot.Carry), p.cols.of(shot.Total)
	ball, launch, spin, back := p.cols.of(shot.BallSpeed), p.cols.of(shot.Launch), p.cols.of(shot.Spin), p.cols.of(shot.Backspin)
	byAxis = axis != nil
	step := max(1, len(rows)/most)
	for k := 0; k < len(rows); k += step {
		i := rows[k]
		t := track{off: off.value(i), dir: dir.value(i), axis: axis.value(i), carry: carryC.value(i), row: i, block: p.blocks.of[i], cross: p.told(i), curve: math.NaN(), start: math.NaN()}
		if math.IsNaN(t.carry) {
			t.carry = totalC.value(i) * .92
		}
		s, b, sd := spin.value(i), back.value(i), side.value(i)
		if math.IsNaN(s) && !math.IsNaN(b) {
			s = math.Abs(b)
			if !math.IsNaN(sd) {
				s = math.Hypot(b, sd)
			}
		}
		if axis == nil && !math.IsNaN(sd) {
			if !math.IsNaN(b) {
				t.axis = math.Atan2(sd, math.Abs(b))
			} else if w := orElse(s, usualSpin); w > math.Abs(sd) {
				t.axis = math.Asin(sd / w)
			}
		}
		v, l := ball.value(i), launch.value(i)
		if math.IsNaN(l) {
			l = 13 * units.Degree
		}
		if math.IsNaN(s) {
			s = usualSpin
		}
		if math.IsNaN(v) && t.carry > 20 {
			v = (t.carry + 57) / 4.05 // common practice: carry [m] is about 4 ball speeds [m/s] less 57
		}
		if math.IsNaN(t.off) && offAngle != nil {
			t.off = t.carry * math.Tan(offAngle.value(i))
		}
		if !math.IsNaN(v) && !math.IsNaN(t.axis) && v > 5 && v < 120 && s < 2000 {
			if g, err := flight.Fly(flight.Launch{Speed: v, Angle: l, Spin: s, Axis: t.axis}, flight.Env{}); err == nil {
				t.curve, t.drift = g.Curve, lagShare*(g.Time-g.Distance()/(v*math.Cos(l)))
				if t.carry > 20 && g.Distance() > 20 {
					t.curve *= t.carry / g.Distance()
				} else {
					t.carry = g.Distance()
				}
			}
		}
		if math.IsNaN(t.carry) && v > 20 {
			t.carry = 4.05*v - 57
		}
		t.start = t.carry * math.Sin(t.dir)
		t.drift = cmp.Or(t.drift, driftShare*t.carry)
		ts = append(ts, t)
	}
	return ts, byAxis
}

// told is the cross wind [m/s] of row i that the file or the person says, NaN =
// none.
func (p *signAudit) told(i int) float64 {
	a, said := p.air.of(p.rows[i], false)
	if !said || a.Wind == 0 {
		a = p.opt.Air
	}
	if a.Wind == 0 {
		return math.NaN()
	}
	_, cross := a.Parts()
	return cross
}

// enoughAxes is how many balls with an axis speak for themselves, without those that
// have none.
const enoughAxes = 8

// flightSigns tells start line and axis relative to the landing side.
func flightSigns(ts []track, axisName message.Message) (dir, axis relation) {
	var kept []track
	starts, axes := 0, 0
	for _, t := range ts {
		if math.IsNaN(t.off) {
			continue
		}
		if !math.IsNaN(t.start) {
			starts++
		}
		if !math.IsNaN(t.curve) {
			axes++
		}
		kept = append(kept, t)
	}
	signs := [2]float64{-1, 1}
	start, curve := columnOr(starts*2 >= len(kept)), columnOr(axes*2 >= len(kept) || axes >= enoughAxes)
	var ll [2][2]float64 // [start -,+][axis -,+]
	for a, sa := range signs {
		for b, sb := range signs {
			if starts == 0 && a == 0 || axes == 0 && b == 0 {
				ll[a][b] = math.Inf(-1)
				continue
			}
			ll[a][b] = underWind(kept, starts*2 >= len(kept), func(t track) float64 { return t.off - sa*start(t.start) - sb*curve(t.curve) })
		}
	}
	bestA, bestB := 0, 0
	for a := range signs {
		for b := range signs {
			if ll[a][b] > ll[bestA][bestB] {
				bestA, bestB = a, b
			}
		}
	}
	if starts > 0 {
		same, of := alike(kept, func(t track) (x, y float64) { return t.start, t.off - signs[bestB]*curve(t.curve) })
		dir = contest(message.Of("problem.rel-start"), math.Max(ll[1][0], ll[1][1]), math.Max(ll[0][0], ll[0][1]), same, of, starts)
		if dir.sign < 0 && dir.lead > -surely {
			dir.sign, dir.torn = 0, true
		}
	}
	if axes > 0 {
		for a, sa := range signs {
			for b, sb := range signs {
				ll[a][b] += sa * sb * faceLead(kept) / 2
			}
		}
		same, of := alike(kept, func(t track) (x, y float64) { return t.curve, t.off - signs[bestA]*start(t.start) })
		turned := float64(surely)
		if starts*2 < len(kept) {
			turned = unaimed
		}
		axis = contest(message.Of("problem.rel-curve-air", axisName), math.Max(ll[0][1], ll[1][1]), math.Max(ll[0][0], ll[1][0]), same, of, axes).byCurve(axes, turned)
	}
	return dir, axis
}

// compare tells a column's sign by what it must equal, up to spread s.
func (p *signAudit) compare(rows []int, what message.Message, c *column, want func(i int) float64, s, clear float64) relation {
	var plus, minus float64
	same, of, n := 0, 0, 0
	for _, i := range rows {
		x, w := c.value(i), want(i)
		if math.IsNaN(x) || math.IsNaN(w) {
			continue
		}
		n++
		plus += tail(x-w, s)
		minus += tail(-x-w, s)
		if math.Abs(x) > clear && math.Abs(w) > clear {
			of++
			if x*w > 0 {
				same++
			}
		}
	}
	return contest(what, plus, minus, same, of, n)
}

// relations tells every sided column's sign relative to the landing side (or
// to the start line, or the axis, when the file has no landing side).
func (p *signAudit) relations(rows []int) map[*column]relation {
	out := map[*column]relation{}
	off, dir, axis, side := p.cols.of(shot.Offline), p.cols.of(shot.LaunchDirection), p.cols.of(shot.SpinAxis), p.cols.of(shot.Sidespin)
	total, angle, curve := p.cols.of(shot.OfflineTotal), p.cols.of(shot.OfflineAngle), p.cols.of(shot.Curve)
	anchor := off
	for _, c := range []*column{total, angle, dir, axis, side} {
		if anchor == nil {
			anchor = c
		}
	}
	if anchor == nil {
		return out
	}
	out[anchor] = relation{sign: 1}
	ts, byAxis := p.tracks(rows, max(60, manyTracks/max(1, len(p.blocks.rows)))) // enough to tell a sign; flights cost most
	spinning, name := axis, message.Of("problem.rel-axis")
	if !byAxis {
		spinning, name = side, message.Of("problem.rel-side")
	}
	landing := anchor == off || anchor == total || anchor == angle
	if landing {
		d, a := flightSigns(ts, name)
		if dir != nil {
			out[dir] = d
		}
		if spinning != nil {
			out[spinning] = a
		}
	}
	of := func(c *column) float64 {
		if c == nil {
			return 0
		}
		return out[c].sign
	}
	deg := units.Degree
	if total != nil && total != anchor {
		out[total] = p.compare(rows, message.Of("problem.rel-rest"), total, func(i int) float64 { return 1.08 * anchor.value(i) }, 4, 3)
	}
	if angle != nil && angle != anchor && off != nil {
		carry := p.cols.of(shot.Carry)
		out[angle] = p.compare(rows, message.Of("problem.rel-angle"), angle, func(i int) float64 { return math.Atan2(off.value(i), carry.value(i)) }, deg, .4*deg)
	}
	if side != nil && axis != nil {
		back, spin := p.cols.of(shot.Backspin), p.cols.of(shot.Spin)
		rel := p.compare(rows, message.Of("problem.rel-sidespin"), side, func(i int) float64 {
			if b := back.value(i); !math.IsNaN(b) {
				return math.Abs(b) * math.Tan(axis.value(i))
			}
			return orElse(spin.value(i), usualSpin) * math.Sin(axis.value(i))
		}, 60*units.RPM, 60*units.RPM)
		out[side] = rel // relative to the axis, until that is known
	}
	p.curveSigns(rows, out, ts, landing, dir, curve, spinning, name)
	p.faceSigns(rows, out, dir, spinning)
	if rel, ok := out[side]; ok && side != nil && axis != nil && side != anchor {
		if of(axis) == 0 && rel.sign < 0 {
			rel.torn = true // one of the two is turned, and the flights don't show which
		}
		rel.sign *= of(axis)
		out[side] = rel
	}
	return out
}

// weight is how rarely a column's sign differs from the trade's habit of
// right-positive: landing places are seen by people, axes are not.
func weight(q shot.Quantity) float64 {
	switch q {
	case shot.Offline:
		return 2
	case shot.LaunchDirection, shot.Face, shot.Path, shot.SpinAxis:
		return 1
	}
	return .5 // follows from another column, whose habit it may share
}

// signAudit is the audit of a section's signs, and what it asks.
type signAudit struct {
	judged
	air   airReading
	asked []sideQuestion
}

// sideQuestion is what the audit asks, and the columns that it is about.
type sideQuestion struct {
	text message.Message
	of   []*column
}

// ask puts a question that can only be accepted as it was read, or answered by a
// correction of its column.
func (p *signAudit) ask(of []*column, text message.Message) {
	if !slices.ContainsFunc(p.asked, func(a sideQuestion) bool { return a.text.String() == text.String() }) {
		p.asked = append(p.asked, sideQuestion{text, of})
	}
}

// auditSigns turns the columns of a section that the shots contradict, and returns what
// it asks.
func auditSigns(j judged, air airReading) (asked []sideQuestion) {
	p := &signAudit{judged: j, air: air}
	if len(p.blocks.rows) > 1 && p.blocksDiffer() {
		last := 0.
		for b, rows := range p.ofOneSign() {
			c := p.cols.spinning()
			rel := p.relations(rows)[c]
			p.turn(rows, true)
			if b > 0 && rel.sign*last < 0 && !p.visit(rows[0]) && p.free(c) { // where exactly, nothing says
				p.askCurve(c, rows, p.where(rows), rel.text)
			}
			last = rel.sign
		}
	} else {
		p.turn(p.blocks.every(), false)
	}
	p.auditStretches()
	return p.asked
}

// blocksDiffer reports whether two blocks tell a column opposite ways.
func (p *signAudit) blocksDiffer() bool {
	sign := map[*column]float64{}
	for _, rows := range p.blocks.rows {
		if len(rows) < 8 || len(p.blocks.rows) > 40 {
			continue
		}
		for c, rel := range p.relations(rows) {
			if math.Abs(rel.lead) < sureLead || rel.sign == 0 {
				continue
			}
			if sign[c] != 0 && sign[c] != rel.sign {
				return true
			}
			sign[c] = rel.sign
		}
	}
	return false
}

// span is some lines of a file that a sentence is about, none = all of it.
type span struct{ from, to int }

// where are the lines of rows.
func (p *signAudit) where(rows []int) span {
	return span{p.rows[rows[0]].n, p.rows[rows[len(rows)-1]].n}
}

func (s span) said(key string, places ...any) message.Message {
	m := message.Of(key, places...)
	if s != (span{}) {
		m = message.Of("problem.in-lines", s.from, s.to, m)
	}
	return m
}

// askCurve asks which way balls curved, as they may remember, or what the column's numbers
// mean where these say neither.
func (p *signAudit) askCurve(c *column, rows []int, where span, why message.Message) {
	side := orElse(medianOf(c, rows, func(i int) float64 {
		if c.over != nil && c.over[i] {
			return -c.v[i]
		}
		return c.v[i]
	}), 0)
	switch {
	case side < 0:
		p.ask([]*column{c}, where.said("problem.curved-left", strconv.Quote(c.header)))
	case side > 0:
		p.ask([]*column{c}, where.said("problem.curved-right", strconv.Quote(c.header)))
	default:
		p.ask([]*column{c}, where.said("problem.positive-right", why, strconv.Quote(c.header)))
	}
}

// median is the middle of what is read in the rows.
func median(c *column, rows []int) float64 {
	m := medianOf(c, rows, func(i int) float64 { return c.v[i] })
	return orElse(m, 0)
}

func against(rel map[*column]relation, c *column) bool { return c != nil && rel[c].sign < 0 }

// going are the columns whose relation has the sign.
func (p *signAudit) going(rel map[*column]relation, sign float64) (cs []*column) {
	for _, c := range p.cols {
		if r, ok := rel[c]; ok && r.sign == sign {
			cs = append(cs, c)
		}
	}
	return cs
}

func names(cs []*column) string {
	var headers []string
	for _, c := range cs {
		headers = append(headers, strconv.Quote(c.header))
	}
	return strings.Join(headers, ", ")
}

// flip turns a column over in the rows. Where its header says so that is no news.
func (p *signAudit) flip(c *column, rows []int, why message.Message, where span) {
	text, id := where.said("problem.turned", strconv.Quote(c.header), why), "sides of "+c.key+" "
	if where != (span{}) {
		id += fmt.Sprintf("lines %d to %d", where.from, where.to)
	}
	if c.side < 0 {
		p.add(text)
	} else if !p.repaired(id, text) {
		return
	}
	if c.over == nil {
		c.over = make([]bool, len(c.v))
	}
	for _, i := range rows {
		c.v[i], c.over[i] = -c.v[i], !c.over[i]
		if c.v[i] == 0 {
			c.v[i] = 0 // no negative zero
		}
	}
	c.flipped = true
	if where != (span{}) {
		why = message.Of("problem.in-lines", where.from, where.to, why)
	}
	c.say("problem.turned-over", why)
}
