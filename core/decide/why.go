package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

func label(text string) report.Arg { return report.Arg{Form: report.FormText, Text: text} }
func strokes(v float64) report.Arg { return report.Arg{Form: report.FormStrokes, Value: v} }
func percent(v float64) report.Arg { return report.Arg{Form: report.FormPercent, Value: v} }
func count(n int) report.Arg       { return report.Arg{Form: report.FormCount, Value: float64(n)} }
func side(v float64) report.Arg    { return report.Arg{Form: report.FormSide, Value: v, Digits: 0} }
func number(v float64, d units.Dimension, digits int) report.Arg {
	return report.Arg{Form: report.FormNumber, Value: v, Dim: d, Digits: digits}
}
func signed(v float64, d units.Dimension, digits int) report.Arg {
	return report.Arg{Form: report.FormSigned, Value: v, Dim: d, Digits: digits}
}

func (d *Decider) name(s int) report.Arg {
	if key := d.cfg.Settings[s].Key(); key != "" {
		return label(key)
	}
	return report.Arg{Form: report.FormKey, Text: "decide.only"}
}

// answer is the choice in words and numbers.
func (d *Decider) answer(choice int) report.Choice {
	row := d.kept[choice].row
	c := report.Choice{Setting: choice, Keep: choice == d.cfg.Reference, Sure: row.PBetter, RunnerUp: -1}
	c.Gain = report.Interval{Mean: -row.Difference.Mean, Lo50: -row.Difference.Hi50, Hi50: -row.Difference.Lo50, Lo80: -row.Difference.Hi80,
		Hi80: -row.Difference.Lo80, Lo95: -row.Difference.Hi95, Hi95: -row.Difference.Lo95}
	if a, ok := row.Of(shot.Carry); ok {
		c.Yards = a.Difference
	}
	best := math.Inf(1)
	for s := range d.kept {
		if s != choice && d.kept[s].row.Difference.Mean < best {
			best, c.RunnerUp = d.kept[s].row.Difference.Mean, s
		}
	}
	tested := 0
	for _, n := range d.cfg.Counts {
		if n.Balls > 0 {
			tested++
		}
	}
	switch {
	case c.Keep && c.RunnerUp >= 0:
		// how sure that today's setting is as good as any: against the runner-up
		c.Sure = 1 - d.kept[c.RunnerUp].row.PBetter
		c.Verdict = verdictOf(c.Sure)
		c.Headline = report.Message{Key: "decide.keep", Args: []report.Arg{d.name(choice)}}
	default:
		c.Verdict = verdictOf(row.PBetter)
		c.Headline = report.Message{Key: "decide.head." + keyOf(c.Verdict), Args: []report.Arg{d.name(choice), percent(row.PBetter)}}
		if !row.Tested && c.Verdict != report.CannotTell {
			c.Headline.Key = "decide.try." + keyOf(c.Verdict)
		}
	}
	if tested < 2 && !c.Keep {
		c.Headline.Key = "decide.try." + keyOf(c.Verdict)
	}
	c.Why = d.why(choice)
	c.Flips = d.flips(choice, c)
	return c
}

func keyOf(v report.Verdict) string {
	if v == report.CannotTell {
		return "cannot"
	}
	return string(v)
}

// why says what the choice does in the quantities that matter, how sure, and
// how much of it was measured.
func (d *Decider) why(choice int) (out []report.Message) {
	row, ref := d.kept[choice].row, d.kept[d.cfg.Reference].row
	say := func(key string, args ...report.Arg) { out = append(out, report.Message{Key: key, Args: args}) }
	if choice == d.cfg.Reference {
		if rival := d.rival(); rival >= 0 {
			k := d.kept[rival].row
			say("decide.why.keep", d.name(rival), strokes(math.Max(0, -k.Difference.Mean)), percent(k.PBetter))
		}
		say("decide.why.now", percent(ref.PFairway), side(d.cfg.Course.Line), percent(ref.PRight), side(-d.cfg.Course.Line), percent(ref.PLeft))
		return out
	}
	say("decide.why.gain", strokes(-row.Difference.Mean), strokes(-row.Difference.Hi80), strokes(-row.Difference.Lo80), strokes(-row.Difference.Mean*d.rounds()))
	change := d.cfg.Changes[choice]
	from := d.cfg.Changes[d.cfg.Reference]
	if !change.Unknown {
		say("decide.why.move", signed(change.Lean-from.Lean, units.Angle, 1), signed(change.Upright-from.Upright, units.Angle, 1), signed(change.CGToe-from.CGToe, units.Small, 1))
	}
	of := func(q shot.Quantity) report.Interval { a, _ := row.Of(q); return a.Difference }
	off, carry, apex, launch, spin := of(shot.Offline), of(shot.Carry), of(shot.Apex), of(shot.Launch), of(shot.Spin)
	say("decide.why.side", side(off.Mean), side(off.Lo80), side(off.Hi80))
	say("decide.why.carry", signed(carry.Mean, units.Length, 0), signed(carry.Lo80, units.Length, 0), signed(carry.Hi80, units.Length, 0))
	say("decide.why.height", signed(launch.Mean, units.Angle, 1), signed(spin.Mean, units.Spin, 0), signed(apex.Mean, units.Height, 0))
	say("decide.why.chances", side(d.cfg.Course.Line), percent(ref.PRight), percent(row.PRight), side(-d.cfg.Course.Line), percent(ref.PLeft), percent(row.PLeft))
	if row.Tested {
		say("decide.why.tested", count(row.Balls), percent(row.Measured))
	} else {
		say("decide.why.untested", percent(row.Measured))
	}
	if !row.Feasible {
		say("decide.why.limits")
	}
	return out
}

// rival is the best setting other than today's.
func (d *Decider) rival() int {
	best, at := math.Inf(1), -1
	for s := range d.kept {
		if s != d.cfg.Reference && d.kept[s].row.Difference.Mean < best {
			best, at = d.kept[s].row.Difference.Mean, s
		}
	}
	return at
}

func (d *Decider) rounds() float64 {
	if d.cfg.Aim.BallsPerRound > 0 {
		return d.cfg.Aim.BallsPerRound
	}
	return 14
}

// flips lists what would change the advice.
func (d *Decider) flips(choice int, c report.Choice) (out []report.Message) {
	longest, straightest := choice, choice
	for s := range d.kept {
		if v := d.kept[s].row; mean(v, shot.Carry) > mean(d.kept[longest].row, shot.Carry)+units.Yard {
			longest = s
		}
		if v := d.kept[s].row; v.PFairway > d.kept[straightest].row.PFairway+.01 {
			straightest = s
		}
	}
	if longest != choice && d.cfg.Course.Goal != shot.GoalCarry {
		out = append(out, report.Message{Key: "decide.flip.carry", Args: []report.Arg{d.name(longest), number(mean(d.kept[longest].row, shot.Carry)-mean(d.kept[choice].row, shot.Carry), units.Length, 0)}})
	}
	if straightest != choice && d.cfg.Course.Goal != shot.GoalFairways {
		out = append(out, report.Message{Key: "decide.flip.fairway", Args: []report.Arg{d.name(straightest), percent(d.kept[straightest].row.PFairway), percent(d.kept[choice].row.PFairway)}})
	}
	if c.RunnerUp >= 0 {
		gap := d.kept[c.RunnerUp].row.Difference.Mean - d.kept[choice].row.Difference.Mean
		if math.Abs(gap) < 2*Tie {
			out = append(out, report.Message{Key: "decide.flip.close", Args: []report.Arg{d.name(c.RunnerUp)}})
		}
	}
	return append(out, report.Message{Key: "decide.flip.wind"})
}

func mean(r report.Setting, q shot.Quantity) float64 {
	a, _ := r.Of(q)
	return a.Value.Mean
}

func (d *Decider) whyNext(n report.Next) report.Message {
	key := "decide.next.new"
	if n.Setting == d.cfg.Reference {
		key = "decide.next.reference"
	} else if d.kept[n.Setting].row.Tested {
		key = "decide.next.again"
	}
	return report.Message{Key: key, Args: []report.Arg{count(n.Balls), d.name(n.Setting), {Form: report.FormNumber, Value: n.Value, Dim: units.None, Digits: 3}, {Form: report.FormCount, Value: math.Ceil(n.Minutes)}}}
}

func (d *Decider) whyStop(s report.Stop, most float64) report.Message {
	key := "decide.stop.go"
	switch {
	case s.Stop:
		key = "decide.stop.enough"
	case d.cfg.Conflict > 1.5:
		key = "decide.stop.conflict"
	}
	return report.Message{Key: key, Args: []report.Arg{{Form: report.FormNumber, Value: most, Dim: units.None, Digits: 3}}}
}

func (d *Decider) whyVisit(i, n, s int) report.Message {
	switch {
	case i == 0:
		return report.Message{Key: "decide.plan.first", Args: []report.Arg{d.name(s)}}
	case i == n-1:
		return report.Message{Key: "decide.plan.last", Args: []report.Arg{d.name(s)}}
	case i < n/2:
		return report.Message{Key: "decide.plan.out", Args: []report.Arg{d.name(s)}}
	}
	return report.Message{Key: "decide.plan.back", Args: []report.Arg{d.name(s)}}
}
