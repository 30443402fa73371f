package decide

import (
	"cmp"
	"math"
	"slices"

	"ferrule/core/message"
	"ferrule/core/report"
)

// The session's measure. Common practice, no source: about thirty balls are
// counted in an hour, and a rest after every dozen keeps them alike.
const (
	usualBalls = 30
	restEvery  = 12
)

// schedule is what the order of hitting rests on.
type schedule struct {
	*settings
	*session
	*worth
}

// plan is the hitting order: what was hit, then what is worth hitting with the
// balls and minutes left: today's setting where it was not hit yet, and the
// visits that together are worth most, of three balls, another setting between
// two of one, so that form which comes and goes is shared. When it is time to
// stop and the answer is a change that was not hit between two visits of
// today's, the rest is a check: today's setting, the choice, today's setting.
func (s *schedule) plan(c report.Choice, stop report.Stop, worth []step) []report.Visit {
	out := s.visits()
	done := hitIn(out)
	if stop.Stop {
		if c.Keep || len(s.shots) >= tired || s.aim.BallsLeft < 0 {
			return out
		}
		return s.fit(out, confirm(c, s.today), done)
	}
	return s.fit(out, s.coming(out, worth), done)
}

// confirm is the check of a change: today's setting, the other, today's again.
// The other is the choice, or the nearest rival when the choice is to keep.
func confirm(c report.Choice, today int) []report.Visit {
	other := c.Setting
	if c.Keep || other == today {
		other = c.RunnerUp
	}
	if other < 0 || other == today {
		return nil
	}
	return []report.Visit{planned(today, "plan.check.today"), planned(other, "plan.check.new"), planned(today, "plan.check.today")}
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

// coming is what is still to be hit, without regard to how many balls there are.
func (s *schedule) coming(done []report.Visit, steps []step) []report.Visit {
	var out []report.Visit
	if n := len(done); n > 0 && done[n-1].Done < visit {
		last := planned(done[n-1].Setting, "plan.finish")
		last.Balls = visit - done[n-1].Done
		out = append(out, last)
	}
	if !slices.ContainsFunc(done, func(v report.Visit) bool { return v.Setting == s.today }) {
		out = append(out, planned(s.today, "plan.first"))
	}
	for _, next := range steps {
		if n := len(out); n > 0 && out[n-1].Setting == next.setting {
			continue
		}
		word := "plan.next"
		switch {
		case next.setting == s.today:
			word = "plan.again"
		case s.counts[next.setting].Balls == 0:
			word = "plan.new"
		}
		out = append(out, planned(next.setting, word))
	}
	return out
}

// left is how many balls may still be hit.
func (s *schedule) left(done int) int {
	n := cmp.Or(s.aim.BallsLeft, max(visit*3, usualBalls-done))
	return max(0, min(n, tired-len(s.shots)))
}

// ahead is how many visits there are balls for, and no more than can be told
// apart from what is known now.
func (s *schedule) ahead() int {
	return max(1, min(mostAhead, (s.left(hitIn(s.visits()))+visit-1)/visit))
}

const mostAhead = 7 // visits

// fit cuts the order to the balls and minutes left and puts in the rests.
func (s *schedule) fit(done, ahead []report.Visit, hit int) []report.Visit {
	balls, time := s.left(hit), s.aim.MinutesLeft
	if time <= 0 {
		time = math.Inf(1)
	}
	out := slices.Clone(done)
	from := s.standing()
	since := hit % restEvery
	for _, v := range ahead {
		v.Balls = min(v.Balls, balls)
		cost := minutes(s.list[from], s.list[v.Setting], v.Balls)
		if v.Balls < 1 || cost > time {
			break
		}
		if since += v.Balls; since > restEvery {
			since = v.Balls
			v.Why = report.Say("plan.rest", message.Key(v.Why.Key))
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

// stop says whether to go on. It is time to stop when all the balls that are
// left are together expected to improve the choice by less than is worth
// hitting for. A lean that they are hardly expected to settle stays a lean.
func (s *schedule) stop(c report.Choice, loss, going float64) report.Stop {
	balls := visit * s.ahead()
	out := report.Stop{Risk: riskMargin * loss}
	u, per := s.unit()
	worth := report.Gained(per*s.hitting(), u)
	switch {
	case s.aim.BallsLeft < 0 || s.aim.MinutesLeft < 0:
		out.Stop, out.Why = true, report.Say("stop.spent")
	case s.thin():
		out.Why = report.Say("stop.thin", report.Count(leastBalls), report.Count(leastReference))
	case going >= s.hitting():
		out.Why = report.Say("stop.gain", report.Count(balls), report.Gained(per*going, u))
	case !c.Keep && c.Verdict != report.Clear && c.Verdict != report.Likely:
		out.Stop, out.Why = true, report.Say("stop.lean", report.Count(balls), worth)
	default:
		out.Stop, out.Why = true, report.Say("stop.enough", report.Count(balls), worth)
	}
	if balls := len(s.shots); balls >= tired {
		out.Stop, out.Why = true, report.Say("stop.tired", report.Count(balls))
	}
	return out
}

// riskMargin is put on the expected loss of stopping. The plain figure was too
// small by a tenth for simulated players to whom the prior had the wrong sign
// (TestStopping); with it the stated risk holds in all three worlds.
const riskMargin = 1.25

// tired is how many full drives, counted or not, are a load. Common practice,
// no source: more than about 60 to 80 in a session.
const tired = 70
