package shotfile

import (
	"math"
	"slices"

	"ferrule/core/robust"
	"ferrule/core/units"
)

// What a golfer's own axis says of the balls of a stretch is weighed as if its mean
// moved by ownCurve from day to day, and never more than ownMost for the way that it is
// read and ownLeast against it (common practice, no source).
const (
	ownCurve = 2 * units.Degree
	ownMost  = 4
	ownLeast = -8
)

// stretch is how many balls in a row are looked at by themselves. They are asked about
// where they say less than stretchShare of what as many others do, by stretchRoom in log
// likelihood.
const (
	stretch      = 10
	stretchShare = .3
	stretchRoom  = 3

	stretchTracks = 200 // about how many balls of a file are looked at so
)

// auditStretches looks, once the sides are settled, for balls in a row that go against
// the others, by their flights and by the golfer's own curve: another device may have
// written them, or the same one set otherwise, on a day that the file does not tell
// from the day before.
func (p *signAudit) auditStretches() {
	c := p.cols.spinning()
	if !p.free(c) {
		return
	}
	ts, _ := p.tracks(p.blocks.every(), stretchTracks)
	ts = slices.DeleteFunc(ts, func(t track) bool { return math.IsNaN(t.off + t.curve + t.carry) })
	whole, n := curveLead(ts), len(ts)
	room := stretchRoom + math.Log(math.Max(1, float64(n)/100)) // of many, more lie far off by chance
	var ways [2][]track                                         // stretches whose own curve is clearly to the left, to the right
	for from := 0; from+stretch <= n && n >= 2*stretch; from += stretch / 2 {
		if from+stretch*3/2 > n {
			from = n - stretch
		}
		in := ts[from : from+stretch]
		lead := curveLead(in)
		elsewhere := (whole - lead) * stretch / float64(n-stretch)
		own := ownLead(in, append(slices.Clone(ts[:from]), ts[from+stretch:]...))
		if lead+own < stretchShare*elsewhere-room {
			p.askStretch(c, in)
			return
		}
		if m, v := meanAxis(in); from%stretch == 0 && m*m > 9*v/stretch {
			way := 0
			if m > 0 {
				way = 1
			}
			ways[way] = append(ways[way], in...)
		}
	}
	for _, way := range ways { // a golfer who curves balls both ways, or two habits of writing
		if len(ways[0]) > 0 && len(ways[1]) > 0 && curveLead(way) < stretchRoom {
			p.askStretch(c, way)
			return
		}
	}
}

// askStretch asks which way some balls curved.
func (p *signAudit) askStretch(c *column, ts []track) {
	var rows []int
	for _, t := range ts {
		rows = append(rows, t.row)
	}
	p.askCurve(c, rows, p.where(rows), p.relations(rows)[c].text)
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
	m, v := meanAxis(in)
	o, w := meanAxis(others)
	lead := 2 * m * o / (math.Max(v, w)/float64(len(in)) + w/float64(len(others)) + ownCurve*ownCurve)
	return math.Max(ownLeast, math.Min(ownMost, lead))
}

// meanAxis is the mean of the balls' axes and the variance of one.
func meanAxis(ts []track) (m, v float64) {
	axes := make([]float64, len(ts))
	for i, t := range ts {
		axes[i] = t.axis
		m += t.axis / float64(len(ts))
	}
	sd := robust.Spread(axes)
	return m, sd * sd
}
