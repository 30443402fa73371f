package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// anchor is today's setting of the club that setting i belongs to: the first that
// is listed of it.
func (d *Decider) anchor(i int) int {
	name := d.cfg.Settings[i].Club
	if name == d.cfg.Settings[d.cfg.Reference].Club {
		return d.cfg.Reference
	}
	for j := range d.cfg.Settings {
		if d.cfg.Settings[j].Club == name {
			return j
		}
	}
	return i
}

// clubs compares each club at the setting that is best for the aim on what is
// known, the player's own first. The best setting of each is chosen by the
// mean, its gain is that of the draws: a draw's own best would promise the luck of
// the many.
func (d *Decider) clubs() []report.Club {
	names := []string{d.cfg.Settings[d.cfg.Reference].Club}
	at := map[string]int{names[0]: 0}
	for i := range d.cfg.Settings {
		if n := d.cfg.Settings[i].Club; at[n] == 0 && n != names[0] {
			at[n] = len(names)
			names = append(names, n)
		}
	}
	if len(names) < 2 {
		return nil
	}
	out := make([]report.Club, len(names))
	for k, n := range names {
		out[k] = report.Club{Name: n, Setting: d.bestOf(n)}
	}
	for i, c := range d.counts {
		out[at[d.cfg.Settings[i].Club]].Balls += c.Balls
	}
	for k := range d.draws {
		best := 0
		for c := range out {
			if d.rows[out[c].Setting].cost[k] < d.rows[out[best].Setting].cost[k] {
				best = c
			}
		}
		out[best].PBest += 1 / float64(d.draws)
	}
	own := &d.rows[out[0].Setting]
	for c := range out {
		o := &out[c]
		o.PBest = open(o.PBest)
		if c == 0 {
			o.Gain = d.plainWorth(0)
			continue
		}
		r := &d.rows[o.Setting]
		o.Gain = d.gain(less(r.ways[played], own.ways[played]))
		o.Carry = roundTo(r.mean[qCarry], stepOf[shot.Carry]) - roundTo(own.mean[qCarry], stepOf[shot.Carry]) // of what is shown of both
		o.PBetter = open(below(less(r.cost, own.cost), 0))
		o.Verdict = d.claim(o.PBetter, o.Setting)
		if o.Balls < leastReference || out[0].Balls < leastReference || d.balls() < leastBalls {
			o.Verdict = report.CannotTell
		}
		o.Sentence = d.clubSentence(o, &out[0])
	}
	return out
}

// bestOf is the setting of a club with the least expected cost, among those that
// the limits leave where they leave any of it; today's where they are equal.
func (d *Decider) bestOf(name string) int {
	at, least, allowed := -1, math.Inf(1), false
	within := make([]bool, len(d.rows))
	for _, i := range d.compared {
		within[i] = true
	}
	for i := range d.rows {
		if d.cfg.Settings[i].Club != name || allowed && !within[i] {
			continue
		}
		if v := d.rows[i].average; v < least || within[i] && !allowed {
			at, least, allowed = i, v, within[i]
		}
	}
	if a := d.anchor(at); within[a] == within[at] && d.rows[a].average <= least+d.equal() {
		return a
	}
	return at
}

func (d *Decider) clubSentence(c, own *report.Club) report.Message {
	bare := func(v float64) report.Arg { return report.Number(v, units.None, 1) }
	if c.Gain.Unit == report.UnitCarry {
		bare = func(v float64) report.Arg { return report.Number(v, units.Length, -1) }
	}
	return report.Say("clubs.better", label(d.cfg.Settings[c.Setting]), label(d.cfg.Settings[own.Setting]), sure(c.PBetter),
		report.Gained(c.Gain.Value.Mean, c.Gain.Unit), bare(c.Gain.Value.Lo80), bare(c.Gain.Value.Hi80), report.Signed(c.Carry, units.Length, -1))
}

// whyClubs says how the clubs stand, each set as it is best: that of the setting
// spoken of first.
func (d *Decider) whyClubs(c report.Choice, clubs []report.Club) []report.Message {
	i := c.Setting
	if c.Keep && c.RunnerUp >= 0 {
		i = c.RunnerUp
	}
	var first, rest []report.Message
	for k := range clubs[1:] {
		o := &clubs[k+1]
		if o.Name == d.cfg.Settings[i].Club {
			first = append(first, own(o.Sentence))
		} else {
			rest = append(rest, own(o.Sentence))
		}
	}
	return append(first, rest...)
}
