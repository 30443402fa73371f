package decide

import (
	"math"
	"slices"

	"ferrule/core/report"
	"ferrule/core/score"
	"ferrule/core/shot"
)

// tally fills the gains and counts of a setting.
func (d *Decider) tally(r *row) {
	o := &r.out
	o.Gain = d.gain(d.order.interval(r.ways[played]))
	o.Moved, o.Still = o.Gain, o.Gain
	if share := d.cfg.Course.Reaim; share != 1 {
		o.Moved = d.gain(d.order.interval(r.ways[moved]))
	}
	if share := d.cfg.Course.Reaim; share != 0 {
		o.Still = d.gain(d.order.interval(r.ways[still]))
	}
	if a, ok := o.Of(shot.Carry); ok && d.goal == shot.GoalCarry { // the carry that the row tells
		o.Gain.Value = a.Difference
		o.Moved, o.Still = o.Gain, o.Gain
	}
	o.Counts = countsOf(r, d.cfg.Course.Limits)
}

// countsOf is how Drives drives are expected to end, in whole drives.
func countsOf(r *row, l score.Limits) report.Counts {
	lost := math.Min(r.lost, 1-r.out.PFairway)
	whole := apportion(report.Drives, r.out.PFairway, lost, 1-r.out.PFairway-lost)
	c := report.Counts{Fairway: whole[0], Trouble: whole[1], Rough: whole[2], Window: -1, Short: -1}
	in := func(p float64) int { return int(math.Round(report.Drives * p)) }
	if l.ApexLow > 0 || l.ApexHigh > 0 {
		c.Window = in(r.out.PApex)
	}
	if l.CarryMin > 0 {
		c.Short = in(1 - r.out.PCarry)
	}
	return c
}

// apportion is shares of n as whole numbers that add up to it: each rounded
// down, what is left to those that lost most (largest remainders).
func apportion(n int, shares ...float64) []int {
	out, left := make([]int, len(shares)), n
	for i, s := range shares {
		out[i] = int(float64(n) * math.Max(0, s))
		left -= out[i]
	}
	for ; left > 0; left-- {
		at, most := 0, math.Inf(-1)
		for i, s := range shares {
			if r := float64(n)*s - float64(out[i]); r > most {
				at, most = i, r
			}
		}
		out[at]++
	}
	return out
}

// answer gathers the one result from what was decided.
func (c *comparison) answer(choice report.Choice) report.Answer {
	ref := &c.rows[c.reference].out
	a := report.Answer{Setting: choice.Setting, Other: choice.Setting, Round: c.aim.Drives(), Seen: c.aim.Seen, Reaim: c.course.Reaim, Least: c.plain(c.least()),
		Meets: 1, Today: place(ref), Prize: c.prize()}
	a.Then = a.Today
	a.Gain, a.Moved, a.Still = ref.Gain, ref.Moved, ref.Still
	if choice.Keep {
		a.Other = choice.RunnerUp
	}
	if a.Other < 0 {
		return a
	}
	o := &c.rows[a.Other].out
	a.Chance, a.Meets = o.PBetter, o.PLimits
	a.Marks = report.Marks(a.Chance)
	a.Gain, a.Moved, a.Still = o.Gain, o.Moved, o.Still
	a.Then = place(o)
	return a
}

// place is where the balls of a setting come down.
func place(o *report.Setting) report.Place {
	p := report.Place{Counts: o.Counts}
	for q, to := range map[shot.Quantity]*float64{shot.Carry: &p.Carry, shot.Offline: &p.Side, shot.Apex: &p.Height} {
		if a, ok := o.Of(q); ok {
			*to = a.Value.Mean
		}
	}
	p.Aim = roundTo(p.Carry*math.Tan(o.Aim), stepOf[shot.Carry])
	return p
}

// prize is what there is to win: the best setting of all, were it known, and
// what moving the aim gives with today's.
func (c *comparison) prize() report.Prize {
	ref := &c.rows[c.reference]
	low := 0.0
	p := report.Prize{Aiming: c.plain(c.aiming)}
	for k := range c.draws {
		least := math.Inf(1)
		for _, i := range c.in {
			least = math.Min(least, c.rows[i].cost[k])
		}
		low += least / float64(c.draws)
	}
	p.Gain = c.plain(-low)
	for i := range c.rows {
		r := &c.rows[i]
		p.Carry += r.out.PBest * (r.mean[qCarry] - ref.mean[qCarry])
		p.Drives += report.Drives * r.out.PBest * (ref.lost - r.lost)
	}
	p.Trouble = report.Drives * c.unlost
	return p
}

// own is a message that shares no places with another: a report is turned over
// place by place.
func own(m report.Message) report.Message {
	return report.Message{Key: m.Key, Args: slices.Clone(m.Args)}
}

// todo is what to hit, with one state. left is what all that could still be hit
// is worth.
func (s *session) todo(plan []report.Visit, stop report.Stop, left report.Worth) report.Todo {
	t := report.Todo{State: report.GoOn, Why: own(stop.Why), Left: left,
		Until: max(0, leastBalls-s.balls(), leastReference-s.counts[s.today].Balls)}
	for _, v := range plan {
		if v.Done < v.Balls {
			v.Balls, v.Done, v.Why = v.Balls-v.Done, 0, own(v.Why)
			t.Visits = append(t.Visits, v)
		}
	}
	switch {
	case stop.Stop && len(t.Visits) > 0:
		t.State = report.Check
	case stop.Stop:
		t.State = report.Enough
	}
	return t
}
