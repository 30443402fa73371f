package decide

import (
	"math"
	"slices"

	"ferrule/core/linear"
	"ferrule/core/report"
	"ferrule/core/units"
)

// The session's measure. Common practice, no source: about thirty balls are
// counted in an hour, and a rest after every dozen keeps them alike.
const (
	usualBalls = 30
	restEvery  = 12
	maxNew     = 5 // settings tried besides today's
)

// plan is the hitting order: what was hit, then what is worth hitting with
// the balls and minutes left.
//
// Today's setting comes first and last, new settings once, today's in the
// middle, and the new ones again in reverse order: a mirrored order cancels
// steady warming up and tiring, which one block a setting does not. Visits are
// of three balls. As balls come in, what is done stays and the rest is planned
// anew. When it is time to stop and the answer is a change, the rest is a
// check: today's setting, the choice, today's setting.
func (d *Decider) plan(c report.Choice, next []report.Next, stop report.Stop) []report.Visit {
	out := d.visits()
	done := hitIn(out)
	if stop.Stop {
		if c.Keep || len(d.cfg.Shots) >= tired || d.cfg.Aim.BallsLeft < 0 {
			return out
		}
		return d.fit(out, d.confirm(c), done)
	}
	return d.fit(out, d.ahead(out, c, next), done)
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

// ahead is the order of what is still to be hit, without regard to how many
// balls there are.
func (d *Decider) ahead(done []report.Visit, c report.Choice, next []report.Next) []report.Visit {
	ref := d.cfg.Reference
	seen := map[int]int{}
	var order []int
	for _, v := range done {
		if seen[v.Setting] == 0 && v.Setting != ref {
			order = append(order, v.Setting)
		}
		seen[v.Setting]++
	}
	var out []report.Visit
	if n := len(done); n > 0 && done[n-1].Done < visit {
		last := planned(done[n-1].Setting, "plan.finish")
		last.Balls = visit - done[n-1].Done
		out = append(out, last)
	}
	if seen[ref] == 0 {
		out = append(out, planned(ref, "plan.first"))
	}
	fresh := d.design(seen, d.room(done)-len(order))
	for _, i := range fresh {
		out = append(out, planned(i, "plan.new"))
	}
	back := append(slices.Clone(order), fresh...)
	slices.Reverse(back)
	turn := turningPoint(done, ref)
	back = slices.DeleteFunc(back, func(i int) bool { return seen[i] >= 2 || i == turn && seen[i] == 1 })
	if n := len(back); n > 0 && back[0] == lastOf(done, out) { // at the turn: today's setting stands between two visits of one
		if n > 1 && visit*(len(out)+n+2) <= d.left(hitIn(done)) {
			out = append(out, planned(ref, "plan.again"))
		} else {
			back = back[1:]
		}
	}
	for _, i := range back {
		out = append(out, planned(i, "plan.back"))
	}
	if len(fresh) == 0 {
		for _, n := range next { // all have been met twice: go where most is to be learnt
			if len(out) < 3 && n.Value > 0 && n.Setting != lastOf(done, out) {
				out = append(out, planned(n.Setting, "plan.next"))
			}
		}
	}
	if n := len(out); n == 0 || out[n-1].Setting != ref {
		out = append(out, planned(ref, "plan.again"))
	}
	return out
}

// lastOf is the setting of the last visit, planned or else done; -1 = none.
func lastOf(done, out []report.Visit) int {
	if all := append(slices.Clone(done), out...); len(all) > 0 {
		return all[len(all)-1].Setting
	}
	return -1
}

// turningPoint is the setting met between two visits of another that is not
// today's: with it the order turned, where there was no room for today's in the
// middle. -1 = none.
func turningPoint(done []report.Visit, ref int) int {
	for i := len(done) - 2; i > 0; i-- {
		if s := done[i-1].Setting; s != ref && s == done[i+1].Setting {
			return done[i].Setting
		}
	}
	return -1
}

// left is how many balls may still be hit.
func (d *Decider) left(done int) int {
	n := d.cfg.Aim.BallsLeft
	if n == 0 {
		n = max(visit*3, usualBalls-done)
	}
	return max(0, min(n, tired-len(d.cfg.Shots)))
}

// room is how many settings besides today's there is time to try twice each.
func (d *Decider) room(done []report.Visit) int {
	hit := hitIn(done)
	balls := float64(hit + d.left(hit))
	if m := d.cfg.Aim.MinutesLeft; m > 0 {
		balls = math.Min(balls, float64(hit)+m/(minutesBall+minutesSleeve/visit))
	}
	v := int(balls / visit)
	n := (v - 3) / 2 // first, middle and last with today's
	if v == 5 || v == 6 {
		n = 2 // without the middle, the second one once
	}
	return max(1, min(maxNew, n))
}

// design picks n settings that were not hit yet: the most promising one, then
// those that tell most about the effects of loft, lie and weight, among the
// better half of what is predicted. To tell most is to make the determinant of
// the information largest (D-optimal, greedily).
func (d *Decider) design(seen map[int]int, n int) []int {
	if n <= 0 || len(d.rows) < 2 {
		return nil
	}
	var pool []int
	costs := make([]float64, 0, len(d.rows))
	for i := range d.rows {
		costs = append(costs, d.rows[i].average)
	}
	sorted := slices.Clone(costs)
	slices.Sort(sorted)
	half := sorted[len(sorted)/2]
	info := [5][5]float64{}
	for k := range info {
		info[k][k] = 0.1
	}
	for i := range d.rows {
		if seen[i] > 0 {
			learn(&info, d.features(i))
		} else if i != d.cfg.Reference && (costs[i] <= half || len(d.rows) <= 8) {
			pool = append(pool, i)
		}
	}
	var out []int
	for len(out) < n && len(pool) > 0 {
		best, most := 0, math.Inf(-1)
		for k, i := range pool {
			v := leverage(info, d.features(i))
			if len(out) == 0 && len(seen) <= 1 {
				v = -costs[i]
			}
			if v > most+1e-12 {
				best, most = k, v
			}
		}
		i := pool[best]
		pool = slices.Delete(pool, best, best+1)
		learn(&info, d.features(i))
		out = append(out, i)
	}
	return out
}

// features of a setting against today's: degrees, millimetres, 5 g.
func (d *Decider) features(i int) [5]float64 {
	a, b := d.cfg.Changes[i], d.cfg.Changes[d.cfg.Reference]
	return [5]float64{(a.Lean - b.Lean) / units.Degree, (a.Upright - b.Upright) / units.Degree,
		(a.CGToe - b.CGToe) / units.Millimetre, (a.CGBack - b.CGBack) / units.Millimetre, (a.Mass - b.Mass) / (5 * units.Gram)}
}

func learn(info *[5][5]float64, x [5]float64) {
	for a := range x {
		for b := range x {
			info[a][b] += x[a] * x[b]
		}
	}
}

// leverage is x' info^-1 x.
func leverage(info [5][5]float64, x [5]float64) float64 {
	y := solve(info, x)
	return linear.Dot(x[:], y[:])
}

// fit cuts the order to the balls and minutes left, keeping the last visit,
// and puts in the rests.
func (d *Decider) fit(done, ahead []report.Visit, hit int) []report.Visit {
	balls, time := d.left(hit), d.cfg.Aim.MinutesLeft
	if time <= 0 {
		time = math.Inf(1)
	}
	out := slices.Clone(done)
	from := d.standing()
	since := hit % restEvery
	for k, v := range ahead {
		last := k == len(ahead)-1
		cost := minutes(d.cfg.Settings[from], d.cfg.Settings[v.Setting], v.Balls)
		keep, keepTime := 0, 0.0
		if end := ahead[len(ahead)-1]; !last {
			keep, keepTime = end.Balls, minutes(d.cfg.Settings[v.Setting], d.cfg.Settings[end.Setting], end.Balls)
		}
		if v.Balls+keep > balls || cost+keepTime > time {
			if !last {
				continue
			}
			if v.Balls = min(v.Balls, balls); v.Balls < 1 || cost > time {
				break
			}
		}
		if n := len(out); n > len(done) && out[n-1].Setting == v.Setting {
			continue // cutting brought two visits of one setting together
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
