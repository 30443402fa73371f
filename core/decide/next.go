package decide

import (
	"math"
	"sort"

	"ferrule/core/club"
	"ferrule/core/report"
)

// Minutes that things take at a range. Common practice, no source: a sleeve is
// unscrewed, turned and tightened to the click in about a minute, a weight in a
// minute and a half, a ball is hit every half minute.
const (
	minutesSleeve = 1.0 // [min]
	minutesWeight = 1.5 // [min] each weight
	minutesBall   = 0.5 // [min]
)

// visit is how many balls are hit before the club is changed again.
const visit = 3

// minutes that a visit of balls costs when the club stands at setting from.
func minutes(from, to club.Setting, balls int) float64 {
	t := minutesBall * float64(balls)
	if from.Sleeve != to.Sleeve {
		t += minutesSleeve
	}
	for i := range to.Weights {
		if i >= len(from.Weights) || from.Weights[i] != to.Weights[i] {
			t += minutesWeight
		}
	}
	return t
}

// standing is the setting on the club now: that of the last ball.
func (d *Decider) standing() int {
	for i := len(d.cfg.Shots) - 1; i >= 0; i-- {
		if s := d.cfg.Shots[i].Setting; s >= 0 {
			return s
		}
	}
	return d.cfg.Reference
}

// stay is a long stay with one setting. Three balls may be too few to change
// any choice where a dozen would: the value of going on is the larger of that
// of one visit and a quarter of that of four (the KG(*) rule of key
// FrazierPowell2010).
const stay = 4 * visit

// next lists what is worth hitting, best first: by expected improvement a
// minute. Every setting is a candidate, today's and the choice included; of
// many settings those that were hit and the most promising are tried.
func (d *Decider) next(c report.Choice) []report.Next {
	candidates := d.candidates()
	gains := d.gains(candidates, visit, stay)
	gain := gains[0]
	best := func(k int) float64 { return math.Max(gain[k], gains[1][k]*visit/stay) }
	from := d.cfg.Settings[d.standing()]
	rate := map[int]float64{}
	d.going = 0
	var out []report.Next
	for k, i := range candidates {
		d.going = math.Max(d.going, best(k))
		rate[i] = best(k) / minutes(from, d.cfg.Settings[i], visit)
		n := report.Next{Setting: i, Balls: visit, Value: gain[k], Minutes: minutes(from, d.cfg.Settings[i], visit)}
		if left := d.cfg.Aim.BallsLeft; left > 0 && left < n.Balls {
			n.Balls = left
		}
		out = append(out, n)
	}
	sort.SliceStable(out, func(a, b int) bool {
		x, y := rate[out[a].Setting], rate[out[b].Setting]
		if math.Abs(x-y) < 1e-9 {
			return d.distance(out[a].Setting) < d.distance(out[b].Setting)
		}
		return x > y
	})
	if len(out) > shownNext {
		out = out[:shownNext]
	}
	for k := range out {
		out[k].Why = d.whyNext(out[k], c)
	}
	return out
}

const (
	shownNext     = 5
	maxCandidates = 60
)

// candidates for the next visit.
func (d *Decider) candidates() []int {
	var out []int
	for i := range d.rows {
		if d.rows[i].out.Feasible || d.rows[i].out.Tested || i == d.cfg.Reference || len(d.rows) <= maxCandidates {
			out = append(out, i)
		}
	}
	promise := func(i int) float64 {
		if i == d.cfg.Reference || d.rows[i].out.Tested {
			return math.Inf(-1)
		}
		return d.rows[i].average - d.rows[i].scatter
	}
	sort.SliceStable(out, func(a, b int) bool { return promise(out[a]) < promise(out[b]) })
	if len(out) > maxCandidates {
		out = out[:maxCandidates]
	}
	return out
}

// stop says whether another visit is worth it. It is not when the best one,
// alone or as one of four, is expected to improve the choice by less than a
// tie, a change is likely for the better or the answer is to keep the club, and
// the shots do not contradict the textbook. A lean that more balls are hardly
// expected to settle stays a lean.
func (d *Decider) stop(c report.Choice) report.Stop {
	most := d.going
	s := report.Stop{Risk: riskMargin * d.rows[c.Setting].out.Loss}
	switch {
	case d.cfg.Aim.BallsLeft < 0 || d.cfg.Aim.MinutesLeft < 0:
		s.Stop, s.Why = true, report.Say("stop.spent")
	case d.thin():
		s.Why = report.Say("stop.thin", report.Count(leastBalls), report.Count(leastReference))
	case d.cfg.Conflict > 1.5:
		s.Why = report.Say("stop.conflict")
	case !c.Keep && c.Sure < likelyAbove && most >= hardly*d.tie():
		s.Why = report.Say("stop.unsure", sure(c.Sure))
	case most >= d.tie():
		s.Why = report.Say("stop.gain", append([]report.Arg{report.Count(visit)}, d.worth(most)...)...)
	case !c.Keep && c.Sure < likelyAbove:
		s.Stop = true
		s.Why = report.Say("stop.lean", report.Count(visit), sure(c.Sure))
	default:
		s.Stop = true
		s.Why = report.Say("stop.enough", append([]report.Arg{report.Count(visit)}, d.worth(d.tie())...)...)
	}
	if balls := len(d.cfg.Shots); balls >= tired {
		s.Stop, s.Why = true, report.Say("stop.tired", report.Count(balls))
	}
	return s
}

// hardly is how much of a tie another visit must be expected to bring for a
// lean to be looked into further.
const hardly = 0.2

// riskMargin is put on the expected loss of stopping. The plain figure was too
// small by a tenth for simulated players to whom the prior had the wrong sign
// (TestStopping); with it the stated risk holds in all three worlds.
const riskMargin = 1.25

// tired is how many full drives, counted or not, are a load. Common practice,
// no source: more than about 60 to 80 in a session.
const tired = 70
