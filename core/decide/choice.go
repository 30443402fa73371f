package decide

import (
	"math"
	"slices"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
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

// tie is a difference, in the goal's own unit, that makes no other advice: 0.005
// strokes, and for the other goals half a yard of carry or half a percent of
// the balls.
func (d *Decider) tie() float64 { return Tie(d.goal) }

// Tie is that difference.
func Tie(goal shot.Goal) float64 {
	if goal == shot.GoalCarry {
		return 0.5 * units.Yard
	}
	return 0.005
}

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

// compare fills what needs all settings at once: chances, losses, limits.
func (d *Decider) compare() {
	best := make([]float64, len(d.rows))
	lowest := 0.0
	for i := range d.rows {
		r := &d.rows[i]
		r.average, r.scatter = mean(r.cost), math.Sqrt(variance(r.cost))
		r.out.PLimits = d.meets(r)
		r.out.Feasible = r.out.PLimits >= brokenBelow
	}
	d.compared = d.allowed()
	for k := range d.draws {
		at, min := -1, math.Inf(1)
		for _, i := range d.compared {
			if v := d.rows[i].cost[k]; v < min || v == min && i == d.cfg.Reference {
				at, min = i, v
			}
		}
		best[at] += 1 / float64(d.draws)
		lowest += min / float64(d.draws)
	}
	for i := range d.rows {
		r := &d.rows[i]
		r.out.PBest = best[i]
		r.out.Loss = math.Max(0, r.average-lowest)
		r.out.PBetter = d.better(i)
	}
}

// allowed are the settings that may be chosen as far as the limits go.
func (d *Decider) allowed() []int {
	var in []int
	least := math.Inf(1)
	for i := range d.rows {
		if d.rows[i].out.Feasible {
			in = append(in, i)
		}
		_, short := d.worst(&d.rows[i])
		least = math.Min(least, short)
	}
	if len(in) > 0 {
		return in
	}
	for i := range d.rows {
		if _, short := d.worst(&d.rows[i]); short <= least+nearLimit {
			in = append(in, i)
		}
	}
	return in
}

// meets is the chance that a setting meets all limits; 1 when there is none.
// The few balls of a draw give its shares in steps, so each draw meets a limit
// as far as a normal of half the draws' spread about it does, their variance
// kept: one share more or less is no landslide.
func (d *Decider) meets(r *row) float64 {
	l := d.cfg.Course.Limits
	if !l.Any() || d.draws == 0 {
		return 1
	}
	meets := make([]float64, d.draws)
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
func (d *Decider) limited() bool { return !slices.Contains(d.compared, d.cfg.Reference) }

// better is the chance that setting i beats the reference: in what is aimed
// for, or, where the reference is out of question for a limit, in the limit
// that it breaks most.
func (d *Decider) better(i int) float64 {
	if i == d.cfg.Reference {
		return 0
	}
	if d.limited() {
		l, _ := d.worst(&d.rows[d.cfg.Reference])
		diff := d.rows[i].limit[l].diff
		p := below(diff, 0)
		if l != limitTrouble { // more is better
			p = 1 - p
		}
		return open(p)
	}
	return open(below(d.rows[i].cost, 0))
}

// open keeps a chance from being none or certain, here, where all who show it
// read it.
func open(p float64) float64 { return math.Max(0.01, math.Min(0.99, roundTo(p, stepChance))) }

// worst is the limit that a setting misses most, and by how much on average;
// at most 0 when all hold.
func (d *Decider) worst(r *row) (limit int, short float64) {
	l := d.cfg.Course.Limits
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
func (d *Decider) leader(skip int) int {
	best, at := -1, -1
	for _, i := range d.compared {
		if i != skip && (best < 0 || d.charged(i) < d.charged(best)) {
			best = i
		}
	}
	for _, i := range d.compared {
		if i != skip && d.charged(i) <= d.charged(best)+d.equal() && (at < 0 || d.preferred(i, at)) {
			at = i
		}
	}
	return at
}

// equal is a difference between two settings that no count of drives can show:
// a thousandth of a stroke, a tenth of a yard, a drive in a thousand.
func (d *Decider) equal() float64 {
	if d.goal == shot.GoalCarry {
		return 0.1 * units.Yard
	}
	return 0.001
}

// charged is the expected cost of a setting with that of changing to it.
func (d *Decider) charged(i int) float64 {
	if i == d.cfg.Reference {
		return d.rows[i].average
	}
	return d.rows[i].average + d.least()
}

// preferred reports whether setting a is to be tried before b when they tie.
func (d *Decider) preferred(a, b int) bool {
	if a == d.cfg.Reference || b == d.cfg.Reference {
		return a == d.cfg.Reference
	}
	if x, y := d.counts[a].Balls > 0, d.counts[b].Balls > 0; x != y {
		return x
	}
	return d.distance(a) < d.distance(b)
}

// distance from today's setting, in moves and in what they do: a degree, a
// millimetre of the centre of mass and 5 g count alike.
func (d *Decider) distance(i int) float64 {
	a, b := d.cfg.Changes[i], d.cfg.Changes[d.anchor(i)]
	s := 0.0
	for _, v := range []float64{(a.Lean - b.Lean) / units.Degree, (a.Upright - b.Upright) / units.Degree, (a.LoftSquare - b.LoftSquare) / units.Degree,
		(a.CGToe - b.CGToe) / units.Millimetre, (a.CGBack - b.CGBack) / units.Millimetre, (a.Mass - b.Mass) / (5 * units.Gram)} {
		s += v * v
	}
	return math.Sqrt(s) + 0.5*float64(moves(d.cfg.Settings[i], d.cfg.Settings[d.cfg.Reference]))
}

// moves counts what must be changed between two settings: the sleeve is one,
// each weight is one; another club is one, however it is set.
func moves(a, b club.Setting) int {
	if a.Club != b.Club {
		return 1
	}
	n := 0
	if a.Sleeve != b.Sleeve {
		n++
	}
	for i := range a.Weights {
		if i >= len(b.Weights) || a.Weights[i] != b.Weights[i] {
			n++
		}
	}
	return n
}

// tooFewBalls reports whether too little was hit for a verdict.
func (d *Decider) tooFewBalls() bool {
	return d.balls() < leastBalls || d.counts[d.cfg.Reference].Balls < leastReference
}

// balls counted in all.
func (d *Decider) balls() int {
	n := 0
	for _, c := range d.counts {
		n += c.Balls
	}
	return n
}

// choose is the answer: the least expected loss. Leaving the club alone is one
// of the answers: when nothing is expected to gain what a change must be worth
// to the player, and when too little was hit.
func (d *Decider) choose() report.Choice {
	ref := d.cfg.Reference
	lead := d.leader(-1)
	rival := d.leader(lead)
	c := report.Choice{Setting: lead, RunnerUp: rival}
	if lead == ref {
		c.Keep = true
		c.Sure = 1
		if rival >= 0 {
			c.Sure = 1 - d.rows[rival].out.PBetter
		}
		c.Verdict = VerdictOf(c.Sure)
		if len(d.rows) == 1 { // nothing was compared, so nothing is clear
			c.Verdict = report.CannotTell
		}
	} else {
		c.Sure = d.rows[lead].out.PBetter
		c.Verdict = d.claim(c.Sure, lead)
	}
	if !c.Keep && d.rows[lead].out.PLimits < unlikely && (c.Verdict == report.Clear || c.Verdict == report.Likely) {
		c.Verdict = report.Leaning
	}
	if d.tooFewBalls() {
		c.Verdict = report.CannotTell
		if lead != ref {
			c.Setting, c.RunnerUp, c.Keep, c.Sure = ref, lead, true, 1-c.Sure
		}
	}
	out := &d.rows[c.Setting].out
	c.Gain = out.Difference.Minus()
	if a, ok := out.Of(shot.Carry); ok {
		c.Yards = a.Difference
	}
	return c
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
func (d *Decider) clearOfMany(i int) float64 {
	z := func(j int) (m, sd float64) { return d.rows[j].average, d.rows[j].scatter }
	m, sd := z(i)
	if sd <= 0 {
		return 1
	}
	seen := -m / sd
	learned := d.cfg.Learned
	if learned == nil {
		learned = d.cfg.Measured
	}
	most := make([]float64, d.draws)
	for k := range most {
		most[k] = math.Inf(-1)
	}
	for j := range d.rows {
		m, sd := z(j)
		if j == d.cfg.Reference || sd <= 0 || !d.rows[j].out.Feasible && d.rows[i].out.Feasible {
			continue
		}
		share := 1.0
		if learned != nil {
			share = math.Sqrt(math.Max(0, math.Min(1, learned[j])))
		}
		for k, v := range d.rows[j].cost {
			most[k] = math.Max(most[k], share*(m-v)/sd)
		}
	}
	n := float64(d.draws)
	return below(most, seen) * n / (n + 2)
}

// claim is the verdict on a change to setting i. Clear and likely must also
// stand as the best of many; a lean is a lean either way.
func (d *Decider) claim(sure float64, i int) report.Verdict {
	v := VerdictOf(sure)
	if v != report.Clear && v != report.Likely {
		return v
	}
	many := d.clearOfMany(i)
	if v == report.Clear && many > clearAbove && !d.cfg.Doubted {
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
