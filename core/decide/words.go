package decide

import (
	"math"

	"ferrule/core/club"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/score"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// A side of the line goes out only as report.Side, so that a left-hander's
// report can be turned over.

// sure is a chance in words.
func sure(p float64) report.Arg { return report.Chance(p) }

// label names a setting; a club that cannot be set has one without a name.
func label(s club.Setting) report.Arg {
	if s.Key() == "" {
		return message.Key("setting.as-is")
	}
	return report.Label(s.Key())
}

// words says what was decided.
type words struct {
	*comparison
	hit      *session
	measured bool // whether it is known how much of a setting comes from shots
}

// headline is the answer in a sentence, no surer than it is.
func (w *words) headline(c report.Choice) report.Message {
	own := w.label(c.Setting)
	say := func(k string, args ...report.Arg) report.Message { return report.Message{Key: k, Args: args} }
	if c.Keep {
		if c.RunnerUp < 0 {
			return say("choice.keep.only", own)
		}
		rival := w.label(c.RunnerUp)
		if g := w.rows[c.RunnerUp].out.Gain; g.Value.Mean > 0 && w.least() > 0 && !w.hit.thin() {
			return say("choice.least", own, rival, report.Gained(g.Value.Mean, g.Unit), report.Gained(w.plain(w.least()).Value.Mean, g.Unit), sure(1-c.Sure))
		}
		switch {
		case w.hit.thin():
			return say("choice.thin", report.Count(w.hit.balls()), own)
		case c.Verdict == report.CannotTell:
			return say("choice.cannot", own, rival, sure(w.rows[c.RunnerUp].out.PBetter))
		}
		return say("choice.keep."+string(c.Verdict), own, rival, sure(1-c.Sure))
	}
	args := append([]report.Arg{own, sure(c.Sure)}, w.gainArgs(c)...)
	if c.Verdict == report.CannotTell {
		return say("choice.toss", own, sure(c.Sure))
	}
	if w.limited() {
		l, _ := worst(w.course.Limits, &w.rows[w.reference])
		return say("choice.limit."+string(c.Verdict), own, sure(c.Sure),
			report.Percent(w.rows[c.Setting].limit[l].mean), report.Percent(w.rows[w.reference].limit[l].mean), message.Key(limitWord[l]))
	}
	return say("choice."+string(c.Verdict)+"."+string(w.goal), args...)
}

var limitWord = [limits]string{"limit.trouble", "limit.carry", "limit.apex"}

// gainArgs is what the choice gains: mean and 80 % interval in the aim's own
// unit, which the mean names.
func (w *words) gainArgs(c report.Choice) []report.Arg {
	g := w.rows[c.Setting].out.Gain
	bare := func(v float64) report.Arg { return report.Number(v, units.None, 1) }
	if g.Unit == report.UnitCarry {
		bare = func(v float64) report.Arg { return report.Number(v, units.Length, -1) }
	}
	return []report.Arg{report.Gained(g.Value.Mean, g.Unit), bare(g.Value.Lo80), bare(g.Value.Hi80)}
}

// why says what each move of the sleeve and of the weights does for this
// player, then what it comes to, how it stands with the limits, how to aim, and
// how much of it was measured. Of the runner-up, when the answer is to keep.
func (w *words) why(c report.Choice) []report.Message {
	i := c.Setting
	if c.Keep {
		if i = c.RunnerUp; i < 0 {
			return nil
		}
	}
	var out []report.Message
	if c.Keep {
		out = append(out, report.Say("why.rival", w.label(i)))
	}
	slopes, ok := w.slopes()
	x := w.features(i)
	loft := w.changes[i].LoftSquare - w.changes[w.anchor(i)].LoftSquare
	if ok {
		for _, p := range parts {
			if m, ok := p.says(x, loft, slopes); ok {
				out = append(out, m)
			}
		}
	}
	r := &w.rows[i]
	if a, ok := r.out.Of(shot.Carry); ok {
		if o, ok := r.out.Of(shot.Offline); ok {
			out = append(out, report.Say("why.total", report.Signed(a.Difference.Mean, units.Length, -1), report.Signed(a.Difference.Lo80, units.Length, -1), report.Signed(a.Difference.Hi80, units.Length, -1), report.Side(o.Difference.Mean)))
		}
	}
	out = append(out, w.limits(i)...)
	out = append(out, w.whereToAim(i)...)
	if w.measured {
		word := "why.measured"
		if !r.out.Tested {
			word = "why.predicted"
			if r.out.Measured < 0.05 {
				word = "why.physics"
			}
		}
		if r.out.Change.Unknown {
			word = "why.balls"
		}
		out = append(out, report.Say(word, report.Percent(r.out.Measured), report.Count(r.out.Balls), w.label(i)))
	}
	if !c.Keep && VerdictOf(c.Sure) != c.Verdict {
		out = append(out, report.Say("why.many", report.Count(len(w.rows))))
	}
	return out
}

// limits says how a setting stands with each limit that the player set, unless
// every setting surely meets them.
func (w *words) limits(i int) []report.Message {
	l := w.course.Limits
	ruled, sureOf := 0, 1.0
	for _, r := range w.rows {
		ruled += int(indicator(!r.out.Feasible))
		sureOf = math.Min(sureOf, r.out.PLimits)
	}
	if !l.Any() || sureOf > 0.95 {
		return nil
	}
	var out []report.Message
	say := func(k int, word string, asked float64, more ...report.Arg) {
		out = append(out, report.Say(word, append([]report.Arg{report.Percent(asked), w.label(i), report.Percent(w.rows[i].limit[k].mean)}, more...)...))
	}
	if l.TroubleMax > 0 {
		word := "why.limit.trouble"
		if w.course.Reaim == 0 {
			word += ".middle"
		}
		say(limitTrouble, word, l.TroubleMax)
	}
	if l.CarryMin > 0 {
		say(limitCarry, "why.limit.carry", l.CarryShare, report.Number(l.CarryMin, units.Length, -1))
	}
	if l.ApexShare > 0 {
		say(limitApex, "why.limit.apex", l.ApexShare)
	}
	if ruled == len(w.rows) {
		return append(out, report.Say("why.limit.none", sure(w.rows[i].out.PLimits), report.Count(ruled)))
	}
	return append(out, report.Say("why.limit.all", sure(w.rows[i].out.PLimits), report.Count(ruled), report.Count(len(w.rows))))
}

// turns is how far a setting must move the ball sideways [m] for it to be said
// that aiming does the same.
const turns = 3 * units.Yard

// whereToAim says it, and what aiming does that no setting need do.
func (w *words) whereToAim(i int) []report.Message {
	r, ref := &w.rows[i], &w.rows[w.reference]
	at := place(&r.out)
	carry := at.Carry
	var out []report.Message
	if off := at.Aim; math.Abs(off) > 2*units.Yard {
		out = append(out, report.Say("why.aim", w.label(i), report.Side(off), report.Number(carry, units.Length, -1)))
	}
	if o, ok := r.out.Of(shot.Offline); ok && w.course.Reaim > 0 && w.goal != shot.GoalCarry && w.goal != shot.GoalHeight && math.Abs(o.Difference.Mean) > turns {
		out = append(out, report.Say("why.turn", report.Side(o.Difference.Mean)))
	}
	line := w.course.Line
	for k, s := range []float64{line, -line} {
		straight := ref.straight[k]
		aimed := []float64{ref.out.PRight, ref.out.PLeft}[k]
		chosen := []float64{r.out.PRight, r.out.PLeft}[k]
		switch {
		case !feared(w.course, s) || straight <= 0.02:
		case w.course.Reaim == 0:
			off := ref.mean[qCarry] * math.Tan(w.turned)
			out = append(out, report.Say("why.line.middle", report.Side(s), report.Percent(straight), report.Percent(chosen), report.Side(off), report.Percent(w.lost)))
		default:
			out = append(out, report.Say("why.line", report.Side(s), report.Percent(straight), report.Percent(aimed), report.Percent(chosen)))
		}
	}
	return out
}

// feared reports whether the player fears the side of s.
func feared(c *score.Course, s float64) bool {
	return onSide(c.Limits.Side, indicator(s > 0), indicator(s < 0)) > 0 && c.Limits.Side != ""
}

// part is one move of the club.
type part struct {
	feature int
	unit    float64 // [SI] of one step of the feature
	dim     units.Dimension
	least   float64 // smaller moves are not worth a sentence
	more    string
	less    string
}

// parts in the order of package club's Change; loft and upright come by the
// sleeve, the centre of mass by the weights.
var parts = []part{
	{0, units.Degree, units.Angle, 0.1, "why.lean.more", "why.lean.less"},
	{1, units.Degree, units.Angle, 0.1, "why.upright.more", "why.upright.less"},
	{2, units.Millimetre, units.Small, 0.1, "why.toe.more", "why.toe.less"},
	{3, units.Millimetre, units.Small, 0.1, "why.back.more", "why.back.less"},
	{4, 5 * units.Gram, units.Mass, 0.1, "why.mass.more", "why.mass.less"},
}

// says is what one move does on average to carry, side, height and spin;
// false when it moves too little to be worth a sentence.
func (p part) says(x [5]float64, loft float64, slopes [quantities][5]float64) (report.Message, bool) {
	if math.Abs(x[p.feature]) < p.least {
		return report.Message{}, false
	}
	word := p.more
	if x[p.feature] < 0 {
		word = p.less
	}
	size := math.Abs(x[p.feature]) * p.unit
	if p.feature == 0 && loft*x[0] > 0 { // as the setting itself is told: with the face square
		size = math.Abs(loft)
	}
	effect := func(q int) float64 { return slopes[q][p.feature] * x[p.feature] }
	return report.Say(word, report.Number(size, p.dim, -1),
		report.Signed(effect(qCarry), units.Length, -1), report.Side(effect(qOffline)), report.Signed(effect(qApex), units.Height, -1), report.Signed(effect(qSpin), units.Spin, -1)), true
}

// slopes are the mean changes of each quantity for one step of each feature,
// by least squares over all settings against the reference. ok is false when
// the head has nothing that could be told apart.
func (c *comparison) slopes() (out [quantities][5]float64, ok bool) {
	var info [5][5]float64
	used := [5]bool{}
	for i := range c.rows {
		if c.changes[i].Unknown {
			continue
		}
		x := c.features(i)
		for a := range x {
			for b := range x {
				info[a][b] += x[a] * x[b]
			}
		}
		for k := range x {
			used[k] = used[k] || x[k] != 0
		}
	}
	if used == [5]bool{} {
		return out, false
	}
	for k := range info {
		info[k][k] += 1e-9 * (1 + info[k][k])
	}
	for q := range quantities {
		var b [5]float64
		for i := range c.rows {
			if c.changes[i].Unknown {
				continue
			}
			x := c.features(i)
			for k := range x {
				b[k] += x[k] * (c.rows[i].mean[q] - c.rows[c.anchor(i)].mean[q])
			}
		}
		out[q] = solve(info, b)
	}
	return out, true
}

// solve info x = b by elimination; info is positive definite.
func solve(info [5][5]float64, b [5]float64) [5]float64 {
	for k := range b {
		for r := k + 1; r < len(b); r++ {
			f := info[r][k] / info[k][k]
			for c := k; c < len(b); c++ {
				info[r][c] -= f * info[k][c]
			}
			b[r] -= f * b[k]
		}
	}
	for k := len(b) - 1; k >= 0; k-- {
		for c := k + 1; c < len(b); c++ {
			b[k] -= info[k][c] * b[c]
		}
		b[k] /= info[k][k]
	}
	return b
}
