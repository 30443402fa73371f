package decide

import (
	"math"
	"slices"
	"sort"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/units"
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
	if from.Club != to.Club { // the other club is taken up
		return t
	}
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
// any choice where a dozen would: settings are tried in a batch by the larger of
// the value of one visit and a quarter of that of four (the KG(*) rule of key
// FrazierPowell2010).
const stay = 4 * visit

// ahead is how many visits there are balls for, and no more than can be told
// apart from what is known now.
func (d *Decider) ahead() int {
	return max(1, min(mostAhead, (d.left(hitIn(d.visits()))+visit-1)/visit))
}

const mostAhead = 7 // visits

// next lists what is worth hitting, the next visit first: the settings of the
// list of visits, each once, with what another visit alone is expected to
// improve the choice by.
func (d *Decider) next(todo report.Todo, c report.Choice) []report.Next {
	var out []report.Next
	from := d.cfg.Settings[d.standing()]
	for _, v := range todo.Visits {
		if slices.ContainsFunc(out, func(n report.Next) bool { return n.Setting == v.Setting }) || len(out) == shownNext {
			continue
		}
		n := report.Next{Setting: v.Setting, Balls: v.Balls - v.Done, Value: d.alone(v.Setting), Minutes: minutes(from, d.cfg.Settings[v.Setting], v.Balls-v.Done)}
		n.Why = d.whyNext(n, c)
		out = append(out, n)
	}
	return out
}

// alone is what a visit to setting i is worth by itself.
func (d *Decider) alone(i int) float64 {
	for _, s := range d.steps {
		if s.setting == i {
			return s.single
		}
	}
	return d.gains([]int{i}, visit)[0][0]
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

// stop says whether to go on. It is time to stop when all the balls that are
// left are together expected to improve the choice by less than is worth
// hitting for. A lean that they are hardly expected to settle stays a lean.
func (d *Decider) stop(c report.Choice) report.Stop {
	d.steps, d.going = d.batch(d.ahead())
	balls := visit * d.ahead()
	s := report.Stop{Risk: riskMargin * d.rows[c.Setting].out.Loss}
	u, per := d.unit()
	worth := report.Gained(per*d.worthHitting(), u)
	switch {
	case d.cfg.Aim.BallsLeft < 0 || d.cfg.Aim.MinutesLeft < 0:
		s.Stop, s.Why = true, report.Say("stop.spent")
	case d.tooFewBalls():
		s.Why = report.Say("stop.thin", report.Count(leastBalls), report.Count(leastReference))
	case d.going >= d.worthHitting():
		s.Why = report.Say("stop.gain", report.Count(balls), report.Gained(per*d.going, u))
	case !c.Keep && c.Verdict != report.Clear && c.Verdict != report.Likely:
		s.Stop, s.Why = true, report.Say("stop.lean", report.Count(balls), worth)
	default:
		s.Stop, s.Why = true, report.Say("stop.enough", report.Count(balls), worth)
	}
	if balls := len(d.cfg.Shots); balls >= tired {
		s.Stop, s.Why = true, report.Say("stop.tired", report.Count(balls))
	}
	return s
}

// worthHitting is what balls must be expected to bring to be hit: what the
// player says a change must be worth, or else the least that is shown: a tenth
// of a stroke a round, half a yard of carry, a tenth of a drive in twenty.
func (d *Decider) worthHitting() float64 {
	u, per := d.unit()
	if d.cfg.Aim.Least > 0 {
		return d.least()
	}
	if u == report.UnitCarry {
		return 0.5 * units.Yard
	}
	return 0.1 / per
}

// riskMargin is put on the expected loss of stopping. The plain figure was too
// small by a tenth for simulated players to whom the prior had the wrong sign
// (TestStopping); with it the stated risk holds in all three worlds.
const riskMargin = 1.25

// tired is how many full drives, counted or not, are a load. Common practice,
// no source: more than about 60 to 80 in a session.
const tired = 70
