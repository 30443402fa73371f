package decide

import (
	"math"
	"slices"

	"ferrule/core/report"
	"ferrule/core/score"
	"ferrule/core/shot"
)

// Verdicts go by the chance that the choice beats today's setting.
const (
	clearAbove   = 0.95
	likelyAbove  = 0.85
	leaningAbove = 0.65
)

// With fewer balls than these the answer is a plan and not a verdict. They are
// a judgement, not a law: three balls a setting say next to nothing.
const (
	leastBalls     = 15 // counted, over all settings
	leastReference = 3  // counted, with today's setting
)

// A limit is "at least p" or "at most p" of the balls, and what is known of a
// setting's share is in doubt as all else is. A setting is held to break its
// limits when the chance that it meets them all is below brokenBelow: a share
// of 49 in a hundred where 50 were asked for rules nothing out. When every
// setting breaks them, those within nearLimit of the one that comes nearest
// are still compared; how well they do what is aimed for then decides.
const (
	brokenBelow = 0.2  // [1]
	nearLimit   = 0.03 // [1], three balls in a hundred
	unlikely    = 0.5  // [1] below it nothing is more than a lean: what was asked is likely not met
)

// comparison is every setting against today's, all at once. The steps after it
// read it and change nothing of it.
type comparison struct {
	settings
	worth
	moving
	course  *score.Course
	rows    []row
	draws   int
	in      []int     // rows that the limits leave
	learned []float64 // [1] of each, nil = unknown
	doubted bool
}

// compare sets what needs all settings at once: chances, losses, limits.
func (d *Decider) compare() *comparison {
	c := &comparison{settings: d.settings, worth: d.worth, moving: d.ref.moving, course: d.cfg.Course, rows: slices.Clone(d.rows), draws: d.draws,
		learned: d.cfg.Learned, doubted: d.cfg.Doubted}
	if c.learned == nil {
		c.learned = d.cfg.Measured
	}
	for i := range c.rows {
		r := &c.rows[i]
		r.average, r.scatter = mean(r.cost), math.Sqrt(variance(r.cost))
		r.out.PLimits = meets(c.course.Limits, r, c.draws)
		r.out.Feasible = r.out.PLimits >= brokenBelow
	}
	c.in = allowed(c.course.Limits, c.rows)
	best := make([]float64, len(c.rows))
	lowest := 0.0
	for k := range c.draws {
		at, min := -1, math.Inf(1)
		for _, i := range c.in {
			if v := c.rows[i].cost[k]; v < min || v == min && i == c.reference {
				at, min = i, v
			}
		}
		best[at] += 1 / float64(c.draws)
		lowest += min / float64(c.draws)
	}
	for i := range c.rows {
		r := &c.rows[i]
		r.out.PBest = best[i]
		r.out.Loss = math.Max(0, r.average-lowest)
		r.out.PBetter = c.better(i)
	}
	return c
}

// allowed are the settings that may be chosen as far as the limits go.
func allowed(l score.Limits, rows []row) []int {
	var in []int
	least := math.Inf(1)
	for i := range rows {
		if rows[i].out.Feasible {
			in = append(in, i)
		}
		_, short := worst(l, &rows[i])
		least = math.Min(least, short)
	}
	if len(in) > 0 {
		return in
	}
	for i := range rows {
		if _, short := worst(l, &rows[i]); short <= least+nearLimit {
			in = append(in, i)
		}
	}
	return in
}

// meets is the chance that a setting meets all limits; 1 when there is none.
// The few balls of a draw give its shares in steps, so each draw meets a limit
// as far as a normal of half the draws' spread about it does, their variance
// kept: one share more or less is no landslide.
func meets(l score.Limits, r *row, draws int) float64 {
	if !l.Any() || draws == 0 {
		return 1
	}
	meets := make([]float64, draws)
	for k := range meets {
		meets[k] = 1
	}
	demand := func(limit int, most float64, sign float64) {
		at := r.limit[limit].at
		m, sd := mean(at), math.Sqrt(variance(at))
		const h = 0.5
		pull := math.Sqrt(1 - h*h)
		for k, v := range at {
			switch off := sign * (most - m - pull*(v-m)); {
			case sd > 1e-9:
				meets[k] *= phi(off / (h * sd))
			case off < 0:
				meets[k] = 0
			}
		}
	}
	if l.TroubleMax > 0 {
		demand(limitTrouble, l.TroubleMax, 1)
	}
	if l.CarryMin > 0 {
		demand(limitCarry, l.CarryShare, -1)
	}
	if l.ApexShare > 0 {
		demand(limitApex, l.ApexShare, -1)
	}
	return mean(meets)
}

// limited reports whether today's setting is out of question for a limit, so
// that a change is judged by that limit first.
func (c *comparison) limited() bool { return !slices.Contains(c.in, c.reference) }

// better is the chance that setting i beats the reference: in what is aimed
// for, or, where the reference is out of question for a limit, in the limit
// that it breaks most.
func (c *comparison) better(i int) float64 {
	if i == c.reference {
		return 0
	}
	if c.limited() {
		l, _ := worst(c.course.Limits, &c.rows[c.reference])
		diff := c.rows[i].limit[l].diff
		p := below(diff, 0)
		if l != limitTrouble { // more is better
			p = 1 - p
		}
		return open(p)
	}
	return open(below(c.rows[i].cost, 0))
}

// open keeps a chance from being none or certain, here, where all who show it
// read it.
func open(p float64) float64 { return math.Max(0.01, math.Min(0.99, roundTo(p, stepChance))) }

// worst is the limit that a setting misses most, and by how much on average;
// at most 0 when all hold.
func worst(l score.Limits, r *row) (limit int, short float64) {
	if !l.Any() {
		return 0, 0
	}
	short = math.Inf(-1)
	consider := func(k int, by float64) {
		if by > short {
			limit, short = k, by
		}
	}
	if l.TroubleMax > 0 {
		consider(limitTrouble, r.limit[limitTrouble].mean-l.TroubleMax)
	}
	if l.CarryMin > 0 {
		consider(limitCarry, l.CarryShare-r.limit[limitCarry].mean)
	}
	if l.ApexShare > 0 {
		consider(limitApex, l.ApexShare-r.limit[limitApex].mean)
	}
	return limit, short
}

// leader is the setting to choose on what is known: among those that the
// limits leave the best on average, a change charged what it must be worth to
// the player. Of those that are equal today's goes first, then those that were
// hit, then the one nearest today's.
func (c *comparison) leader(skip int) int {
	best, at := -1, -1
	for _, i := range c.in {
		if i != skip && (best < 0 || c.charged(i) < c.charged(best)) {
			best = i
		}
	}
	for _, i := range c.in {
		if i != skip && c.charged(i) <= c.charged(best)+c.equal() && (at < 0 || c.preferred(i, at)) {
			at = i
		}
	}
	return at
}

// charged is the expected cost of a setting with that of changing to it.
func (c *comparison) charged(i int) float64 {
	if i == c.reference {
		return c.rows[i].average
	}
	return c.rows[i].average + c.least()
}

// preferred reports whether setting a is to be tried before b when they tie.
func (c *comparison) preferred(a, b int) bool {
	if a == c.reference || b == c.reference {
		return a == c.reference
	}
	if x, y := c.rows[a].out.Tested, c.rows[b].out.Tested; x != y {
		return x
	}
	return c.distance(a) < c.distance(b)
}

// choose is the answer: the least expected loss. Leaving the club alone is one
// of the answers: when nothing is expected to gain what a change must be worth
// to the player, and when too little was hit.
func (c *comparison) choose(hit *session) report.Choice {
	ref := c.reference
	lead := c.leader(-1)
	rival := c.leader(lead)
	out := report.Choice{Setting: lead, RunnerUp: rival}
	if lead == ref {
		out.Keep = true
		out.Sure = 1
		if rival >= 0 {
			out.Sure = 1 - c.rows[rival].out.PBetter
		}
		out.Verdict = VerdictOf(out.Sure)
		if len(c.rows) == 1 { // nothing was compared, so nothing is clear
			out.Verdict = report.CannotTell
		}
	} else {
		out.Sure = c.rows[lead].out.PBetter
		out.Verdict = c.claim(out.Sure, lead)
	}
	if !out.Keep && c.rows[lead].out.PLimits < unlikely && (out.Verdict == report.Clear || out.Verdict == report.Likely) {
		out.Verdict = report.Leaning
	}
	if hit.thin() {
		out.Verdict = report.CannotTell
		if lead != ref {
			out.Setting, out.RunnerUp, out.Keep, out.Sure = ref, lead, true, 1-out.Sure
		}
	}
	of := &c.rows[out.Setting].out
	out.Gain = of.Difference.Minus()
	if a, ok := of.Of(shot.Carry); ok {
		out.Yards = a.Difference
	}
	return out
}

// clearOfMany is the chance that the best of as many settings, were they all alike,
// would not look as good as setting i does. The best of many looks better than
// it is; a prior that knows settings to be much alike allows for that, but a
// wide prior or many balls do not, and eight equal settings would be called
// different far too often.
//
// When the settings are alike, the means of their differences scatter with
// C K', where C is the posterior covariance, read off the draws, and K the
// share of what is known that comes from shots: max over settings of
// (mean/sd) sqrt(K) is compared with that of setting i. K unknown counts as 1,
// the strictest. Two draws' worth is taken off for the draws being few.
func (c *comparison) clearOfMany(i int) float64 {
	z := func(j int) (m, sd float64) { return c.rows[j].average, c.rows[j].scatter }
	m, sd := z(i)
	if sd <= 0 {
		return 1
	}
	seen := -m / sd
	most := make([]float64, c.draws)
	for k := range most {
		most[k] = math.Inf(-1)
	}
	for j := range c.rows {
		m, sd := z(j)
		if j == c.reference || sd <= 0 || !c.rows[j].out.Feasible && c.rows[i].out.Feasible {
			continue
		}
		share := 1.0
		if c.learned != nil {
			share = math.Sqrt(math.Max(0, math.Min(1, c.learned[j])))
		}
		for k, v := range c.rows[j].cost {
			most[k] = math.Max(most[k], share*(m-v)/sd)
		}
	}
	n := float64(c.draws)
	return below(most, seen) * n / (n + 2)
}

// claim is the verdict on a change to setting i. Clear and likely must also
// stand as the best of many; a lean is a lean either way.
func (c *comparison) claim(sure float64, i int) report.Verdict {
	v := VerdictOf(sure)
	if v != report.Clear && v != report.Likely {
		return v
	}
	many := c.clearOfMany(i)
	if v == report.Clear && many > clearAbove && !c.doubted {
		return v
	}
	if many > likelyAbove {
		return report.Likely
	}
	return report.Leaning
}

// VerdictOf is the word for a chance. Chances are told in hundredths, which are not
// exact: what is told as 95 % is not above it.
func VerdictOf(sure float64) report.Verdict {
	sure -= 1e-9
	switch {
	case sure > clearAbove:
		return report.Clear
	case sure > likelyAbove:
		return report.Likely
	case sure > leaningAbove:
		return report.Leaning
	}
	return report.CannotTell
}
