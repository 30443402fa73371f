package shotfile

import (
	"fmt"
	"math"
	"strconv"

	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// evidence is what one block's rows say, worked out once a ball unit.
type evidence struct {
	ball, club                     float64 // medians as written, NaN = none
	carry, total, apex, time       map[string]float64
	n                              int
	launched                       bool // launch and spin are measured
	carryAlone, totalAlone, apexes float64
	best                           bool // flights count as if they fitted: a bound, not a score
}

// gather takes the medians of what is written; flyUnder adds the flights.
func (p *unitAudit) gather(rows []int) evidence {
	e := evidence{carry: map[string]float64{}, total: map[string]float64{}, apex: map[string]float64{}, time: map[string]float64{}}
	written := func(q shot.Quantity) float64 {
		c := p.cols.of(q)
		return medianOf(c, rows, func(i int) float64 {
			if c.si[i] { // the cell names its own unit and says nothing about the others
				return math.NaN()
			}
			return c.v[i]
		})
	}
	e.ball, e.club = written(shot.BallSpeed), written(shot.ClubSpeed)
	e.carryAlone, e.totalAlone, e.apexes = written(shot.Carry), written(shot.Total), written(shot.Apex)
	e.launched = p.cols.of(shot.Launch) != nil && (p.cols.of(shot.Spin) != nil || p.cols.of(shot.Backspin) != nil)
	return e
}

// medianOf is the median of f over the rows that column c has read, where f is
// a number; NaN when none is, or when there is no such column.
func medianOf(c *column, rows []int, f func(i int) float64) float64 {
	if c == nil {
		return math.NaN()
	}
	vs := make([]float64, 0, len(rows))
	for _, i := range rows {
		if c.read[i] == cellRead {
			if v := f(i); !math.IsNaN(v) {
				vs = append(vs, v)
			}
		}
	}
	return robust.Median(vs)
}

// flyUnder flies each ball under one unit of ball speed and takes the median of
// the written carry (total, apex, time) over the flown one [written unit per
// metre].
func (p *unitAudit) flyUnder(e *evidence, rows []int, u units.Unit) {
	ballC, launchC, spinC := p.cols.of(shot.BallSpeed), p.cols.of(shot.Launch), p.cols.of(shot.Spin)
	if spinC == nil {
		spinC = p.cols.of(shot.Backspin)
	}
	if ballC == nil {
		return
	}
	enough := max(40, 120/max(1, len(p.blocks.rows))) // a median of them tells a unit
	flown := make(map[int]flight.Landing, enough)
	for k, i := range rows {
		b := ballC.in(i, u)
		if k >= enough || !(b > 5 && b < 120) {
			continue
		}
		l, s := launchC.in(i, launchC.unitOrHabit()), spinC.in(i, spinC.unitOrHabit())
		if math.IsNaN(l) {
			l = 12.5 * units.Degree
		}
		if math.IsNaN(s) {
			s = 2700 * units.RPM
		}
		if g, err := flight.Fly(flight.Launch{Speed: b, Angle: l, Spin: math.Abs(s)}, flight.Env{}); err == nil && g.Carry > 5 {
			flown[i] = g
			e.n = max(e.n, len(flown))
		}
	}
	for _, x := range []struct {
		c    *column
		into map[string]float64
		of   func(flight.Landing) float64
	}{{p.cols.of(shot.Carry), e.carry, flight.Landing.Distance}, {p.cols.of(shot.Total), e.total, flight.Landing.TotalDistance},
		{p.cols.of(shot.Apex), e.apex, func(g flight.Landing) float64 { return g.Apex }}, {p.cols.of(shot.FlightTime), e.time, func(g flight.Landing) float64 { return g.Time }}} {
		x.into[u.Name] = math.NaN()
		if x.c != nil {
			x.into[u.Name] = medianOf(x.c, rows, func(i int) float64 {
				g, ok := flown[i]
				if !ok || x.c.v[i] <= 0 || x.c.si[i] {
					return math.NaN()
				}
				return x.c.v[i] / x.of(g)
			})
		}
	}
}

// distance settles a column headed by a word that may mean carry or total,
// when the file has neither: by the flights, or by asking.
func (p *unitAudit) distance() {
	c := p.cols.of(shot.Total)
	if c == nil || !c.weak || c.fixed || p.cols.of(shot.Carry) != nil || p.cols.of(shot.BallSpeed) == nil {
		return
	}
	every := p.blocks.every()
	kind, _ := shot.KindOf(shot.Carry)
	u := candidates(units.Length)[0]
	if c.from != "" {
		u = c.unit
	}
	c.quantity, c.kind = shot.Carry, kind
	e := p.gather(every)
	ball := p.cols.of(shot.BallSpeed)
	p.flyUnder(&e, every, ball.unitOrHabit())
	c.quantity = shot.Total
	c.kind, _ = shot.KindOf(shot.Total)
	carry := e.carry[ball.unitOrHabit().Name]
	if c.from == "" || ball.from == "" || math.IsNaN(carry) {
		p.carryOrTotal(c, "", message.Of("problem.carry-or-total", strconv.Quote(c.header)))
		return
	}
	switch ratio := carry * u.Scale; {
	case ratio < 1.02 && ratio > .85:
		c.quantity, c.kind = shot.Carry, kind
		c.say("problem.as-long")
		p.carryOrTotal(c, shot.Carry, message.Of("problem.taken-carry", strconv.Quote(c.header), fmt.Sprintf("%.0f", 100*ratio)))
	case ratio < 1.06:
		p.carryOrTotal(c, "", message.Of("problem.carry-total-share", strconv.Quote(c.header), fmt.Sprintf("%.0f", 100*ratio)))
	}
}

// carryOrTotal asks which of the two a column is, or shows what it was taken as.
func (p *unitAudit) carryOrTotal(c *column, taken shot.Quantity, text message.Message) {
	p.list(shot.Question{ID: "what " + c.key, Text: text, Answer: string(taken), Open: taken == "", Taken: taken != "", Choices: []shot.Choice{{Value: string(shot.Carry), Text: message.Of("problem.plain", message.Key("quantity.carry"))}, {Value: string(shot.Total), Text: message.Of("problem.plain", message.Key("quantity.total"))}}})
}
