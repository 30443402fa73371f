package shotfile

import (
	"math"
	"slices"

	"ferrule/core/robust"
	"ferrule/core/units"
)

// What a golfer's own axis says of the balls of a stretch is weighed as if its mean
// moved by ownCurve from day to day, and never more than ownMost (common practice, no
// source).
const (
	ownCurve = 2 * units.Degree
	ownMost  = 4
)

// stretch is how many balls in a row are looked at by themselves. They are asked about
// where they say less than stretchShare of what as many others do, by stretchRoom in log
// likelihood.
const (
	stretch      = 10
	stretchShare = .3
	stretchRoom  = 3
)

// auditStretches looks, once the sides are settled, for balls in a row that go against
// the others, by their flights and by the golfer's own curve: another device may have
// written them, or the same one set otherwise, on a day that the file does not tell
// from the day before.
func (p *signAudit) auditStretches() {
	c := p.spinning()
	if !p.free(c) {
		return
	}
	ts, _ := p.tracks(p.every())
	ts = slices.DeleteFunc(ts, func(t track) bool { return math.IsNaN(t.off + t.curve + t.carry) })
	whole, n := curveLead(ts), len(ts)
	for from := 0; from+stretch <= n && n >= 2*stretch; from += stretch / 2 {
		if from+stretch*3/2 > n {
			from = n - stretch
		}
		in := ts[from : from+stretch]
		lead := curveLead(in)
		elsewhere := (whole - lead) * stretch / float64(n-stretch)
		own := ownLead(in, append(slices.Clone(ts[:from]), ts[from+stretch:]...))
		if lead+own < stretchShare*elsewhere-stretchRoom {
			var rows []int
			for _, t := range in {
				rows = append(rows, t.row)
			}
			p.askCurve(c, rows, p.where(rows))
			return
		}
	}
}

// curveLead is the log likelihood of the axis as it is read against the other way.
func curveLead(ts []track) float64 {
	starts := 0
	for _, t := range ts {
		if !math.IsNaN(t.start) {
			starts++
		}
	}
	started := starts*2 >= len(ts)
	start := columnOr(started)
	way := func(sign float64) float64 {
		return underWind(ts, started, func(t track) float64 { return t.off - start(t.start) - sign*t.curve })
	}
	return way(1) - way(-1)
}

// ownLead is the log likelihood that balls have the same golfer's curve as others
// against its mirror image.
func ownLead(in, others []track) float64 {
	mean := func(ts []track) (m, v float64) {
		axes := make([]float64, len(ts))
		for i, t := range ts {
			axes[i] = t.axis
			m += t.axis / float64(len(ts))
		}
		sd := robust.Spread(axes)
		return m, sd * sd
	}
	m, v := mean(in)
	o, w := mean(others)
	lead := 2 * m * o / (math.Max(v, w)/float64(len(in)) + w/float64(len(others)) + ownCurve*ownCurve)
	return math.Max(-ownMost, math.Min(ownMost, lead))
}
