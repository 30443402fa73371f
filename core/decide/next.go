package decide

import (
	"math"
	"slices"
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

// stay is a long stay with one setting. Three balls may be too few to change
// any choice where a dozen would: settings are tried in a batch by the larger of
// the value of one visit and a quarter of that of four (the KG(*) rule of key
// FrazierPowell2010).
const stay = 4 * visit

// next lists what is worth hitting, the next visit first: the settings of the
// list of visits, each once, with what another visit alone is expected to
// improve the choice by. The club stands at setting standing.
func (l *lookahead) next(visits []report.Visit, known []step, standing int, c report.Choice) []report.Next {
	var out []report.Next
	for _, v := range visits {
		if slices.ContainsFunc(out, func(n report.Next) bool { return n.Setting == v.Setting }) || len(out) == shownNext {
			continue
		}
		n := report.Next{Setting: v.Setting, Balls: v.Balls - v.Done, Value: l.alone(known, v.Setting), Minutes: minutes(l.list[standing], l.list[v.Setting], v.Balls-v.Done)}
		n.Why = l.why(n, c)
		out = append(out, n)
	}
	return out
}

// alone is what a visit to setting i is worth by itself.
func (l *lookahead) alone(known []step, i int) float64 {
	for _, s := range known {
		if s.setting == i {
			return s.single
		}
	}
	return l.gains([]int{i}, visit)[0][0]
}

// why a visit is worth it; whoever shows it names the setting and the balls.
func (l *lookahead) why(n report.Next, c report.Choice) report.Message {
	word := "next.other"
	switch {
	case n.Value < l.hitting()/20:
		word = "next.little"
	case n.Setting == l.reference:
		word = "next.today"
	case n.Setting == c.Setting:
		word = "next.choice"
	case n.Setting == c.RunnerUp:
		word = "next.rival"
	case !l.rows[n.Setting].out.Tested:
		word = "next.untested"
	}
	u, per := l.unit()
	return report.Say(word, report.Gained(per*n.Value, u))
}

const (
	shownNext     = 5
	maxCandidates = 60
)

// candidates for the next visit.
func (l *lookahead) candidates() []int {
	var out []int
	for i := range l.rows {
		if l.rows[i].out.Feasible || l.rows[i].out.Tested || i == l.reference || len(l.rows) <= maxCandidates {
			out = append(out, i)
		}
	}
	promise := func(i int) float64 {
		if i == l.reference || l.rows[i].out.Tested {
			return math.Inf(-1)
		}
		return l.rows[i].average - l.rows[i].scatter
	}
	sort.SliceStable(out, func(a, b int) bool { return promise(out[a]) < promise(out[b]) })
	if len(out) > maxCandidates {
		out = out[:maxCandidates]
	}
	return out
}
