package shotfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// candidates are the units in which devices write a dimension, likeliest first.
func candidates(d units.Dimension) []units.Unit {
	switch d {
	case units.Speed:
		return []units.Unit{units.UnitMPH, units.UnitKMH, units.UnitMPS, units.UnitFPS}
	case units.Length:
		return []units.Unit{units.UnitYd, units.UnitM, units.UnitFt}
	case units.Height:
		return []units.Unit{units.UnitFt, units.UnitM, units.UnitYd}
	case units.Small:
		return []units.Unit{units.UnitMm, units.UnitIn, typed.UnitCm, units.UnitM}
	case units.Angle:
		return []units.Unit{units.UnitDeg, units.UnitRad}
	case units.Spin:
		return []units.Unit{units.UnitRPM, units.UnitRadS}
	case units.Time:
		return []units.Unit{units.UnitSec}
	}
	return []units.Unit{units.UnitOne}
}

// The weights of the unit audit, in natural logarithms of odds (our choice,
// tested by TestRandomDialects): a written unit is believed at e^10 to one,
// once the speed unit of the same block is proven false at e^2 to one; an
// answer e^1.5 times likelier than the next is taken without a question.
const (
	trustWritten = 10.0
	trustDoubted = 2.0
	sure         = 1.5
	floorOf      = -40.0 // no single number speaks louder than this
)

// The habits are how usual it is to write speeds in s, distances in d beside
// them, and heights in h beside those distances, in natural logarithms (common
// practice, no source).
func habitSpeed(s units.Unit) float64 { return speedHabits[s.Name] }

var (
	speedHabits  = map[string]float64{"mph": 0, "mps": -.5, "kmh": -.7, "fps": -5}
	lengthHabits = map[string]map[string]float64{
		"mph": {"yd": 0, "m": -1.7, "ft": -6}, "kmh": {"m": 0, "yd": -3, "ft": -8},
		"mps": {"m": 0, "yd": -1.2, "ft": -8}, "fps": {"yd": -.5, "ft": -2, "m": -3}}
	heightHabits = map[string]map[string]float64{
		"yd": {"ft": 0, "yd": -1.5, "m": -2.5}, "m": {"m": 0, "ft": -2, "yd": -4}, "ft": {"ft": 0, "yd": -3, "m": -4}}
)

func (p *unitAudit) habitLength(s, d units.Unit) float64 {
	if p.language == "ja" && s.Name == "mps" && d.Name == "yd" {
		return 0
	}
	return lengthHabits[s.Name][d.Name]
}

func habitHeight(d, h units.Unit) float64 { return heightHabits[d.Name][h.Name] }

// norm is the log density of x around m with spread s, without its constant.
func norm(x, m, s float64) float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return floorOf
	}
	z := (x - m) / s
	return math.Max(floorOf, -z*z/2)
}

// guess is one assignment of units to the columns of a block.
type guess struct{ ball, club, length, height units.Unit }

// scored is a guess and how well it explains a block.
type scored struct {
	guess
	score float64
}

func scoreOf(all []scored, g guess) (float64, bool) {
	if i := slices.IndexFunc(all, func(x scored) bool { return x.guess == g }); i >= 0 {
		return all[i].score, true
	}
	return 0, false
}

// in is a column's number in unit u for row i, NaN when not read.
func (c *column) in(i int, u units.Unit) float64 {
	if c == nil || c.read == nil || c.read[i] != cellRead {
		return math.NaN()
	}
	if c.si[i] {
		return c.v[i]
	}
	return u.SI(c.v[i])
}

// options are the units to consider for a column: all of its dimension, or
// only the one that the person gave.
func options(c *column, d units.Dimension) []units.Unit {
	if c == nil {
		return candidates(d)[:1]
	}
	if c.fixed && c.from == "correction" {
		return []units.Unit{c.unit}
	}
	list := candidates(d)
	if c.from != "" {
		if !slices.ContainsFunc(list, func(u units.Unit) bool { return u.Name == c.unit.Name }) {
			list = append([]units.Unit{c.unit}, list...)
		}
	}
	return list
}

// refusedUnder weighs a guess under which most numbers would be refused, ball for
// ball: it explains nothing.
func refusedUnder(e evidence, g guess) (total float64) {
	for _, x := range [...]struct {
		q  shot.Quantity
		at float64
	}{{shot.BallSpeed, g.ball.SI(e.ball)}, {shot.ClubSpeed, g.club.SI(e.club)}, {shot.Carry, g.length.SI(e.carryAlone)}, {shot.Apex, g.height.SI(e.apexes)}} {
		if lo, hi := typed.Limits(x.q); x.at < lo || x.at > hi {
			total += floorOf
		}
	}
	return total
}

// score is how well a guess explains a block.
func (p *unitAudit) score(e evidence, g guess) float64 {
	ballC, clubC, carryC, totalC, apexC := p.cols.of(shot.BallSpeed), p.cols.of(shot.ClubSpeed), p.cols.of(shot.Carry), p.cols.of(shot.Total), p.cols.of(shot.Apex)
	few := .06 * .06 / math.Max(1, float64(e.n))
	wide := func(s float64) float64 { return math.Sqrt(s*s + few) }
	written := func(c *column, u units.Unit, doubt bool) float64 {
		switch {
		case c == nil || c.from == "" || c.unit.Name == u.Name:
			return 0
		case doubt:
			return -trustDoubted
		}
		return -trustWritten
	}
	flown := func(per map[string]float64, scale, spread float64) (float64, bool) {
		if e.best {
			return 0, ballC != nil
		}
		r, ok := per[g.ball.Name]
		return norm(math.Log(r*scale), 0, wide(spread)), ok && ballC != nil && !math.IsNaN(r)
	}
	total := refusedUnder(e, g)
	doubt := ballC != nil && ballC.from != "" && ballC.unit.Name != g.ball.Name
	if ballC != nil && !math.IsNaN(e.ball) {
		if ballC.from == "" {
			total += habitSpeed(g.ball)
		}
		total += written(ballC, g.ball, false) + norm(math.Log(g.ball.SI(e.ball)), math.Log(60), .2)
	}
	if clubC != nil && !math.IsNaN(e.club) {
		total += written(clubC, g.club, doubt)
		if ballC != nil && clubC.from == "" && g.club.Name != g.ball.Name {
			total -= 4
		}
		if ballC != nil && !math.IsNaN(e.ball) {
			total += norm(g.ball.SI(e.ball)/g.club.SI(e.club), 1.42, .07)
		} else {
			total += norm(math.Log(g.club.SI(e.club)), math.Log(42), .2)
		}
	}
	carrySpread, apexSpread := .05, .15
	if !e.launched {
		carrySpread, apexSpread = .10, .35
	}
	speed := g.ball
	if ballC == nil {
		speed = g.club
	}
	hasSpeed := ballC != nil || clubC != nil
	lengthC := p.cols.length()
	if lengthC != nil {
		total += written(lengthC, g.length, doubt) * together(doubt)
		if hasSpeed && (lengthC.from == "" || doubt) {
			total += p.habitLength(speed, g.length)
		}
		carry, hasCarry := flown(e.carry, g.length.Scale, carrySpread)
		run, hasTotal := flown(e.total, g.length.Scale, carrySpread+.04)
		switch {
		case carryC != nil && hasCarry:
			total += carry
		case carryC != nil && !math.IsNaN(e.carryAlone):
			total += norm(math.Log(e.carryAlone*g.length.Scale), math.Log(195), .22)
		case totalC != nil && hasTotal:
			total += run
		case !math.IsNaN(e.totalAlone):
			total += norm(math.Log(e.totalAlone*g.length.Scale), math.Log(215), .22)
		}
	}
	if apexC != nil {
		total += written(apexC, g.height, doubt) * together(doubt)
		if apexC.from == "" || doubt {
			beside := g.length
			if lengthC == nil && (speed.Name == "kmh" || speed.Name == "mps") {
				beside = units.UnitM
			}
			total += habitHeight(beside, g.height)
		}
		if apex, ok := flown(e.apex, g.height.Scale, apexSpread); ok {
			total += apex
		} else if !math.IsNaN(e.apexes) {
			total += norm(math.Log(e.apexes*g.height.Scale), math.Log(25), .35)
		}
	}
	if t, ok := flown(e.time, 1, .12); ok {
		total += t
	}
	return total
}

// together is how much less a written length is believed once the speeds are proven
// to be in another system: devices change both at once.
func together(doubt bool) float64 {
	if doubt {
		return .25
	}
	return 1
}

// solve finds the best guess for the rows, how much better it is than any that
// differs in ball, club, length and height unit, and all with their scores.
// Flights cost most of a reading: a ball unit that even flights that fit would
// leave hopeless is scored by that bound and flown under no more.
func (p *unitAudit) solve(rows []int) (best guess, lead [4]float64, all []scored, e evidence) {
	const hopeless = 8 // more than any lead that is asked for
	e = p.gather(rows)
	e.best = true
	all = p.guess(e, options(p.cols.of(shot.BallSpeed), units.Speed))
	flown := map[string]bool{}
	top := math.Inf(-1)
	for {
		bound, next := math.Inf(-1), units.Unit{}
		for _, x := range all {
			if !flown[x.ball.Name] && x.score > bound {
				bound, next = x.score, x.ball
			}
		}
		if next.Name == "" || bound < top-hopeless {
			break
		}
		p.flyUnder(&e, rows, next)
		e.best, flown[next.Name] = false, true
		for _, x := range p.guess(e, []units.Unit{next}) {
			top = math.Max(top, x.score)
			for i := range all {
				if all[i].guess == x.guess {
					all[i] = x
				}
			}
		}
	}
	top = math.Inf(-1)
	for _, x := range all {
		if x.score > top {
			best, top = x.guess, x.score
		}
	}
	for k := range lead {
		lead[k] = math.Inf(1)
	}
	for _, x := range all {
		g, d := x.guess, top-x.score
		for k, other := range [4]bool{g.ball.Name != best.ball.Name, g.club.Name != best.club.Name, g.length.Name != best.length.Name, g.height.Name != best.height.Name} {
			if other {
				lead[k] = math.Min(lead[k], d)
			}
		}
	}
	return best, lead, all, e
}

// guess scores every assignment of units with one of the given to the ball.
func (p *unitAudit) guess(e evidence, ball []units.Unit) (all []scored) {
	club, length, height := options(p.cols.of(shot.ClubSpeed), units.Speed), options(p.cols.length(), units.Length), options(p.cols.of(shot.Apex), units.Height)
	for _, b := range ball {
		for _, c := range club {
			for _, l := range length {
				for _, h := range height {
					g := guess{b, c, l, h}
					all = append(all, scored{g, p.score(e, g)})
				}
			}
		}
	}
	return all
}

// unitAudit decides the units of a section.
type unitAudit struct {
	judged
	words    []rowWords // by row
	language string     // of the headers
	guesses  []guess    // by block
}

// auditUnits gives every column its units, and the balls that are in others theirs.
func auditUnits(j judged, words []rowWords, language string) {
	p := &unitAudit{judged: j, words: words, language: language}
	p.plainUnits()
	p.distance()
	p.decideUnits()
	p.strayRows()
	p.oddRows()
}

// decideUnits finds the unit of every column, block by block: written units
// are believed unless the shots contradict them overwhelmingly, unwritten ones
// follow from speeds, flights and habit; what stays open is asked.
func (p *unitAudit) decideUnits() {
	whole, lead, _, _ := p.solve(p.mine(p.blocks.every()))
	p.askUnits(whole, lead)
	p.guesses = make([]guess, len(p.blocks.rows))
	flown := make([]float64, len(p.blocks.rows))
	for b, rows := range p.blocks.rows {
		p.guesses[b], flown[b] = whole, math.NaN()
		if b > 0 && len(rows) < 3 && p.blocks.why[rows[0]] == "title" { // a page goes on as the one before; p.strayRows looks at each ball
			p.guesses[b] = p.guesses[b-1]
		}
		if len(p.blocks.rows) == 1 || len(rows) < 3 {
			continue
		}
		own, lead, all, e := p.solve(p.mine(rows))
		top, _ := scoreOf(all, own)
		if s, ok := scoreOf(all, whole); !ok || top-s > 6 {
			p.guesses[b] = p.askBlock(rows, own, lead[2])
		}
		flown[b] = p.flownShare(e, p.guesses[b])
	}
	p.askLengths(flown)
	p.settleUnits()
}

// askUnits asks where the numbers leave a unit open.
func (p *unitAudit) askUnits(g guess, lead [4]float64) {
	say := func(c *column, k int, u units.Unit, what message.Message) {
		enough := sure
		if k == 2 && p.cols.of(shot.BallSpeed) != nil && p.habitLength(g.ball, u) < -1 {
			enough = 3 * sure // a head wind makes yards look like metres
		}
		if c == nil || c.from != "" && c.unit.Name == u.Name && lead[k] > 0 || lead[k] >= enough || c.fixed {
			return
		}
		if c.from != "" {
			p.unitQuestion(c.key, message.Of("problem.not-the-unit", what, strconv.Quote(c.header), c.unit.Symbol, u.Symbol), options(c, c.kind.Dim))
			return
		}
		p.unitQuestion(c.key, message.Of("problem.no-unit", what, strconv.Quote(c.header), u.Symbol), options(c, c.kind.Dim))
	}
	say(p.cols.of(shot.BallSpeed), 0, g.ball, message.Of("problem.ball-speeds"))
	if p.cols.of(shot.BallSpeed) == nil {
		say(p.cols.of(shot.ClubSpeed), 1, g.club, message.Of("problem.club-speeds"))
	}
	lengthC := p.cols.length()
	say(lengthC, 2, g.length, message.Of("problem.distances"))
	say(p.cols.of(shot.Apex), 3, g.height, message.Of("problem.heights"))
}

// plainUnits settles what each column shows by itself: angles, spins, times,
// places on the face.
func (p *unitAudit) plainUnits() {
	angle := ""
	for _, q := range []shot.Quantity{shot.Launch, shot.DynamicLoft, shot.Descent, shot.SpinLoft, shot.SpinAxis, shot.LaunchDirection, shot.Face, shot.Path} {
		if c := p.cols.of(q); c != nil && c.from == "" && angle == "" {
			if m := robust.Median(p.sizes(c)); !math.IsNaN(m) {
				angle = "deg"
				if farFrom(q, m) < farFrom(q, units.UnitDeg.SI(m)) {
					angle = "rad"
				}
			}
		}
	}
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		m := robust.Median(p.sizes(c))
		switch c.kind.Dim {
		case units.None:
			c.unit, c.from = units.UnitOne, "none"
		case units.Time:
			if c.from == "" {
				c.unit, c.from = units.UnitSec, "habit"
			}
		case units.Angle:
			if c.from == "" {
				c.unit, c.from = units.UnitDeg, "habit"
				if angle == "rad" {
					c.unit, c.from = units.UnitRad, "values"
				}
			} else if c.unit == units.UnitDeg && (c.quantity == shot.Launch || c.quantity == shot.Descent || c.quantity == shot.DynamicLoft) && m < .8 && m > .05 && len(p.sizes(c)) >= 3 && c.from != "correction" {
				if p.repaired("unit of "+c.key, message.Of("problem.radians", strconv.Quote(c.header), fmt.Sprintf("%.2f", m))) {
					c.unit, c.from = units.UnitRad, "values, against its header"
				} else {
					c.from = "correction"
				}
			}
		case units.Spin:
			if c.from == "" {
				c.unit, c.from = units.UnitRPM, "habit"
				switch {
				case c.quantity != shot.Spin && c.quantity != shot.Backspin:
				case m < 110: // a drive turns 25 to 75 times a second, 150 to 480 rad/s
					c.unit, c.from = typed.UnitRPS, "values"
				case m < 700:
					c.unit, c.from = units.UnitRadS, "values"
				}
			}
		case units.Small:
			if c.from == "" {
				c.unit, c.from = units.UnitMm, "habit"
				if m > 0 && m < .08 {
					c.unit, c.from = units.UnitM, "values"
				} else if vs := p.sizes(c); len(vs) > 0 && slices.Max(vs) < 2.5 {
					c.unit, c.from = units.UnitIn, "values"
					p.unitQuestion(c.key, message.Of("problem.face-inches", strconv.Quote(c.header)), []units.Unit{units.UnitIn, typed.UnitCm})
				}
			}
		}
	}
	// Spins without a unit speak together: side spin alone is too spread to judge.
	if c := p.cols.of(shot.Sidespin); c != nil && c.from == "habit" {
		for _, q := range []shot.Quantity{shot.Spin, shot.Backspin} {
			if o := p.cols.of(q); o != nil && o.from == "values" {
				c.unit, c.from = o.unit, "values"
			}
		}
	}
}

func (p *unitAudit) sizes(c *column) []float64 {
	vs := make([]float64, 0, len(c.v))
	for i := range c.v {
		if c.read[i] == cellRead && !c.si[i] {
			vs = append(vs, math.Abs(c.v[i]))
		}
	}
	return vs
}

// unitOf is the unit of a column under a guess, length that of a length; otherwise
// is that of what is guessed nothing of.
func (g guess) unitOf(c *column, length, otherwise units.Unit) units.Unit {
	switch {
	case c.quantity == shot.BallSpeed:
		return g.ball
	case c.quantity == shot.ClubSpeed:
		return g.club
	case c.kind.Dim == units.Length:
		return length
	case c.kind.Dim == units.Height:
		return g.height
	}
	return otherwise
}

// settleUnits gives every column of speed, length and height its unit in each
// block and says why. Blocks in other units than their headers or the rest of the
// file are shown.
func (p *unitAudit) settleUnits() {
	for _, c := range p.cols {
		if c.quantity == "" {
			continue
		}
		c.byBlock, c.asRead, c.blockOf = make([]units.Unit, len(p.blocks.rows)), make([]bool, len(p.blocks.rows)), p.blocks.of
		rows, most := map[units.Unit]int{}, 0
		for b := range p.blocks.rows {
			g := p.guesses[b]
			length := g.length
			if c.kind.Dim == units.Length {
				length = p.lengthUnit(c, g)
			}
			u := g.unitOf(c, length, c.unit)
			c.byBlock[b] = u
			if rows[u] += len(p.blocks.rows[b]); c.from == "" && rows[u] > most {
				c.usual, most = u, rows[u]
			}
		}
		if c.from != "" {
			c.usual = c.unit
		}
	}
	p.otherUnits()
	for _, c := range p.cols {
		switch {
		case c.quantity == "" || c.from == "none":
		case c.from == "":
			if c.unit = c.usual; c.unit.Symbol != "" {
				c.say("problem.unit-from-values", c.unit.Symbol)
			}
		case c.unit.Symbol == "", c.from == "correction", c.from == "guess": // a plain number has no unit, and what the person said is told
		case c.from == "habit":
			c.say("problem.unit-usual", c.unit.Symbol)
		default:
			c.say(cameFrom[c.from], c.unit.Symbol)
		}
	}
	p.curveUnit()
}

// lengthUnit is the unit of a distance column under a guess: its own when
// written, unless the written unit of carry was found false with it.
func (p *unitAudit) lengthUnit(c *column, g guess) units.Unit {
	if c.from == "correction" {
		return c.unit
	}
	main := p.cols.length()
	if c.from == "" || main == c {
		return g.length
	}
	if main != nil && main.from != "" && main.unit.Name == c.unit.Name && g.length.Name != main.unit.Name {
		if p.asWritten(c, main, g.length) {
			return c.unit
		}
		return g.length
	}
	return c.unit
}

// curveUnit checks curve, and offline at rest, against landing less start
// line, an identity: curve in feet beside carry in yards occurs.
func (p *unitAudit) curveUnit() {
	c, off, dir, carry := p.cols.of(shot.Curve), p.cols.of(shot.Offline), p.cols.of(shot.LaunchDirection), p.cols.of(shot.Carry)
	if c == nil || off == nil || dir == nil || carry == nil || c.from == "correction" {
		return
	}
	var ratios []float64
	for i := range p.rows {
		x, o, d, l := c.value(i), off.value(i), dir.value(i), carry.value(i)
		if want := math.Abs(o - l*math.Tan(d)); !math.IsNaN(want) && !math.IsNaN(x) && want > 4 {
			ratios = append(ratios, math.Abs(x)/want)
		}
	}
	if m := robust.Median(ratios); len(ratios) >= 5 && (m > 2 || m < .5) {
		for _, u := range candidates(units.Length) {
			if f := m / c.byBlock[0].Scale * u.Scale; f > .75 && f < 1.33 {
				was := c.byBlock[0]
				if c.from != "" && !p.repaired("unit of "+c.key, message.Of("problem.curve-unit", strconv.Quote(c.header), u.Symbol, was.Symbol)) {
					return
				}
				for b := range c.byBlock {
					c.byBlock[b] = u
				}
				c.unit = u
				c.say("problem.curve-times", u.Symbol, was.Symbol, fmt.Sprintf("%.1f", m))
				return
			}
		}
	}
}
