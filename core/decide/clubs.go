package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// clubs compares each club at the setting that is best for the aim on what is
// known, the player's own first. The best setting of each is chosen by the
// mean, its gain is that of the draws: a draw's own best would promise the luck of
// the many.
func (c *comparison) clubs(hit *session) []report.Club {
	names := []string{c.list[c.reference].Club}
	at := map[string]int{names[0]: 0}
	for i := range c.list {
		if n := c.list[i].Club; at[n] == 0 && n != names[0] {
			at[n] = len(names)
			names = append(names, n)
		}
	}
	if len(names) < 2 {
		return nil
	}
	out := make([]report.Club, len(names))
	for k, n := range names {
		out[k] = report.Club{Name: n, Setting: c.bestOf(n)}
	}
	for i, n := range hit.counts {
		out[at[c.list[i].Club]].Balls += n.Balls
	}
	for k := range c.draws {
		best := 0
		for o := range out {
			if c.rows[out[o].Setting].cost[k] < c.rows[out[best].Setting].cost[k] {
				best = o
			}
		}
		out[best].PBest += 1 / float64(c.draws)
	}
	own := &c.rows[out[0].Setting]
	var by order
	for k := range out {
		o := &out[k]
		o.PBest = open(o.PBest)
		if k == 0 {
			o.Gain = c.plain(0)
			continue
		}
		r := &c.rows[o.Setting]
		o.Gain = c.gain(by.interval(less(r.ways[played], own.ways[played])))
		o.Carry = roundTo(r.mean[qCarry], stepOf[shot.Carry]) - roundTo(own.mean[qCarry], stepOf[shot.Carry]) // of what is shown of both
		o.PBetter = open(below(less(r.cost, own.cost), 0))
		o.Verdict = c.claim(o.PBetter, o.Setting)
		if o.Balls < leastReference || out[0].Balls < leastReference || hit.balls() < leastBalls {
			o.Verdict = report.CannotTell
		}
		o.Sentence = clubSentence(o, c.label(o.Setting), c.label(out[0].Setting))
	}
	return out
}

// bestOf is the setting of a club with the least expected cost, among those that
// the limits leave where they leave any of it; today's where they are equal.
func (c *comparison) bestOf(name string) int {
	at, least, allowed := -1, math.Inf(1), false
	within := make([]bool, len(c.rows))
	for _, i := range c.in {
		within[i] = true
	}
	for i := range c.rows {
		if c.list[i].Club != name || allowed && !within[i] {
			continue
		}
		if v := c.rows[i].average; v < least || within[i] && !allowed {
			at, least, allowed = i, v, within[i]
		}
	}
	if a := c.anchor(at); within[a] == within[at] && c.rows[a].average <= least+c.equal() {
		return a
	}
	return at
}

func clubSentence(c *report.Club, of, own report.Arg) report.Message {
	bare := func(v float64) report.Arg { return report.Number(v, units.None, 1) }
	if c.Gain.Unit == report.UnitCarry {
		bare = func(v float64) report.Arg { return report.Number(v, units.Length, -1) }
	}
	return report.Say("clubs.better", of, own, sure(c.PBetter),
		report.Gained(c.Gain.Value.Mean, c.Gain.Unit), bare(c.Gain.Value.Lo80), bare(c.Gain.Value.Hi80), report.Signed(c.Carry, units.Length, -1))
}

// whyClubs says how the clubs stand, each set as it is best: that of the setting
// spoken of first.
func (s *settings) whyClubs(c report.Choice, clubs []report.Club) []report.Message {
	i := c.Setting
	if c.Keep && c.RunnerUp >= 0 {
		i = c.RunnerUp
	}
	var first, rest []report.Message
	for k, o := range clubs {
		switch {
		case k == 0: // the player's own
		case o.Name == s.list[i].Club:
			first = append(first, own(o.Sentence))
		default:
			rest = append(rest, own(o.Sentence))
		}
	}
	return append(first, rest...)
}
