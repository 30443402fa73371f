package decide

import (
	"math"
	"slices"

	"ferrule/core/report"
	"ferrule/core/units"
)

// The session's measure. Common practice, no source: about thirty balls are
// counted in an hour, and a rest after every dozen keeps them alike.
const (
	usualBalls = 30
	restEvery  = 12
)

// plan is the hitting order: what was hit, then what is worth hitting with the
// balls and minutes left: today's setting where it was not hit yet, and the
// visits that together are worth most, of three balls, another setting between
// two of one, so that form which comes and goes is shared. When it is time to
// stop and the answer is a change that was not hit between two visits of
// today's, the rest is a check: today's setting, the choice, today's setting.
func (d *Decider) plan(c report.Choice, stop report.Stop) []report.Visit {
	out := d.visits()
	done := hitIn(out)
	if stop.Stop {
		if c.Keep || len(d.cfg.Shots) >= tired || d.cfg.Aim.BallsLeft < 0 {
			return out
		}
		return d.fit(out, d.confirm(c), done)
	}
	return d.fit(out, d.coming(out), done)
}

// hitIn is how many balls of visits were hit.
func hitIn(vs []report.Visit) int {
	n := 0
	for _, v := range vs {
		n += v.Done
	}
	return n
}

func planned(i int, key string) report.Visit {
	return report.Visit{Setting: i, Balls: visit, Why: report.Say(key)}
}

// visits are the runs of balls hit so far; a last run of fewer than three is
// still open.
func (d *Decider) visits() []report.Visit {
	var out []report.Visit
	for _, s := range d.cfg.Shots {
		if !s.Counted || s.Setting < 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Setting == s.Setting {
			out[n-1].Balls++
			out[n-1].Done++
			continue
		}
		out = append(out, report.Visit{Setting: s.Setting, Balls: 1, Done: 1, Why: report.Say("plan.done")})
	}
	return out
}

// coming is what is still to be hit, without regard to how many balls there are.
func (d *Decider) coming(done []report.Visit) []report.Visit {
	ref := d.cfg.Reference
	var out []report.Visit
	if n := len(done); n > 0 && done[n-1].Done < visit {
		last := planned(done[n-1].Setting, "plan.finish")
		last.Balls = visit - done[n-1].Done
		out = append(out, last)
	}
	if !slices.ContainsFunc(done, func(v report.Visit) bool { return v.Setting == ref }) {
		out = append(out, planned(ref, "plan.first"))
	}
	for _, s := range d.steps {
		if n := len(out); n > 0 && out[n-1].Setting == s.setting {
			continue
		}
		word := "plan.next"
		switch {
		case s.setting == ref:
			word = "plan.again"
		case d.counts[s.setting].Balls == 0:
			word = "plan.new"
		}
		out = append(out, planned(s.setting, word))
	}
	return out
}

// left is how many balls may still be hit.
func (d *Decider) left(done int) int {
	n := d.cfg.Aim.BallsLeft
	if n == 0 {
		n = max(visit*3, usualBalls-done)
	}
	return max(0, min(n, tired-len(d.cfg.Shots)))
}

// features of a setting against its own club's today: degrees, millimetres, 5 g.
func (d *Decider) features(i int) [5]float64 {
	a, b := d.cfg.Changes[i], d.cfg.Changes[d.anchor(i)]
	return [5]float64{(a.Lean - b.Lean) / units.Degree, (a.Upright - b.Upright) / units.Degree,
		(a.CGToe - b.CGToe) / units.Millimetre, (a.CGBack - b.CGBack) / units.Millimetre, (a.Mass - b.Mass) / (5 * units.Gram)}
}

// fit cuts the order to the balls and minutes left and puts in the rests.
func (d *Decider) fit(done, ahead []report.Visit, hit int) []report.Visit {
	balls, time := d.left(hit), d.cfg.Aim.MinutesLeft
	if time <= 0 {
		time = math.Inf(1)
	}
	out := slices.Clone(done)
	from := d.standing()
	since := hit % restEvery
	for _, v := range ahead {
		v.Balls = min(v.Balls, balls)
		cost := minutes(d.cfg.Settings[from], d.cfg.Settings[v.Setting], v.Balls)
		if v.Balls < 1 || cost > time {
			break
		}
		if since += v.Balls; since > restEvery {
			since = v.Balls
			v.Why = report.Say("plan.rest", report.Key(v.Why.Key))
		}
		balls, time, from = balls-v.Balls, time-cost, v.Setting
		if n := len(out); v.Why.Key == "plan.finish" && n > 0 {
			out[n-1].Balls += v.Balls
			out[n-1].Why = v.Why
			continue
		}
		out = append(out, v)
	}
	return out
}
