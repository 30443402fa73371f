package decide

import (
	"math"
	"slices"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// unit is what a gain is counted in, and how many of it an amount of cost is.
func (d *Decider) unit() (u report.Unit, per float64) {
	switch d.goal {
	case shot.GoalCarry:
		return report.UnitCarry, 1
	case shot.GoalFairways:
		return report.UnitFairways, report.Drives
	case shot.GoalHeight:
		return report.UnitWindow, report.Drives
	}
	return report.UnitStrokes, d.cfg.Aim.Drives()
}

// gain is what draws of a cost against today's are worth.
func (d *Decider) gain(cost []float64) report.Worth {
	u, per := d.unit()
	v := d.interval(cost).Minus()
	for _, x := range []*float64{&v.Mean, &v.Lo50, &v.Hi50, &v.Lo80, &v.Hi80, &v.Lo95, &v.Hi95} {
		*x *= per
	}
	return report.Worth{Unit: u, Value: roundedTo(v, stepGain)}
}

// plainWorth is an amount without an interval.
func (d *Decider) plainWorth(saved float64) report.Worth {
	u, per := d.unit()
	return report.Worth{Unit: u, Value: flat(roundTo(per*saved, stepGain))}
}

// least is what a change must be worth to the player, as a cost a drive.
func (d *Decider) least() float64 {
	_, per := d.unit()
	return d.cfg.Aim.Least / per
}

// tally fills the gains and counts of a setting.
func (d *Decider) tally(r *row) {
	o := &r.out
	o.Gain = d.gain(r.ways[played])
	o.Moved, o.Still = o.Gain, o.Gain
	if share := d.cfg.Course.Reaim; share != 1 {
		o.Moved = d.gain(r.ways[moved])
	}
	if share := d.cfg.Course.Reaim; share != 0 {
		o.Still = d.gain(r.ways[still])
	}
	if a, ok := o.Of(shot.Carry); ok && d.goal == shot.GoalCarry { // the carry that the row tells
		o.Gain.Value = a.Difference
		o.Moved, o.Still = o.Gain, o.Gain
	}
	o.Counts = d.countsOf(r)
}

// countsOf is how Drives drives are expected to end, in whole drives.
func (d *Decider) countsOf(r *row) report.Counts {
	lost := math.Min(r.lost, 1-r.out.PFairway)
	whole := apportion(report.Drives, r.out.PFairway, lost, 1-r.out.PFairway-lost)
	c := report.Counts{Fairway: whole[0], Trouble: whole[1], Rough: whole[2], Window: -1, Short: -1}
	in := func(p float64) int { return int(math.Round(report.Drives * p)) }
	l := d.cfg.Course.Limits
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
func (d *Decider) answer(c report.Choice) report.Answer {
	ref := &d.rows[d.cfg.Reference]
	a := report.Answer{Setting: c.Setting, Other: c.Setting, Round: d.cfg.Aim.Drives(), Seen: d.cfg.Aim.Seen, Reaim: d.cfg.Course.Reaim, Least: d.plainWorth(d.least()),
		Meets: 1, Today: d.place(ref), Prize: d.prize()}
	a.Then = a.Today
	a.Gain, a.Moved, a.Still = ref.out.Gain, ref.out.Moved, ref.out.Still
	if c.Keep {
		a.Other = c.RunnerUp
	}
	if a.Other < 0 {
		return a
	}
	o := &d.rows[a.Other]
	a.Chance, a.Meets = o.out.PBetter, o.out.PLimits
	a.Marks = report.Marks(a.Chance)
	a.Gain, a.Moved, a.Still = o.out.Gain, o.out.Moved, o.out.Still
	a.Then = d.place(o)
	return a
}

func (d *Decider) place(r *row) report.Place {
	p := report.Place{Counts: r.out.Counts}
	for q, to := range map[shot.Quantity]*float64{shot.Carry: &p.Carry, shot.Offline: &p.Side, shot.Apex: &p.Height} {
		if a, ok := r.out.Of(q); ok {
			*to = a.Value.Mean
		}
	}
	p.Aim = roundTo(p.Carry*math.Tan(r.out.Aim), stepOf[shot.Carry])
	return p
}

// prize is what there is to win: the best setting of all, were it known, and
// what moving the aim gives with today's.
func (d *Decider) prize() report.Prize {
	ref := &d.rows[d.cfg.Reference]
	low := 0.0
	p := report.Prize{Aiming: d.plainWorth(d.ref.aiming)}
	for k := range d.draws {
		least := math.Inf(1)
		for _, i := range d.compared {
			least = math.Min(least, d.rows[i].cost[k])
		}
		low += least / float64(d.draws)
	}
	p.Gain = d.plainWorth(-low)
	for i := range d.rows {
		r := &d.rows[i]
		p.Carry += r.out.PBest * (r.mean[qCarry] - ref.mean[qCarry])
		p.Drives += report.Drives * r.out.PBest * (ref.lost - r.lost)
	}
	p.Trouble = report.Drives * d.ref.unlost
	return p
}

// own is a message that shares no places with another: a report is turned over
// place by place.
func own(m report.Message) report.Message {
	return report.Message{Key: m.Key, Args: slices.Clone(m.Args)}
}

// todo is what to hit, with one state.
func (d *Decider) todo(r *Result) report.Todo {
	t := report.Todo{State: report.GoOn, Why: own(r.Stop.Why), Left: d.plainWorth(d.going),
		Until: max(0, leastBalls-d.balls(), leastReference-d.counts[d.cfg.Reference].Balls)}
	for _, v := range r.Plan {
		if v.Done < v.Balls {
			v.Balls, v.Done, v.Why = v.Balls-v.Done, 0, own(v.Why)
			t.Visits = append(t.Visits, v)
		}
	}
	switch {
	case r.Stop.Stop && len(t.Visits) > 0:
		t.State = report.Check
	case r.Stop.Stop:
		t.State = report.Enough
	}
	return t
}
