package decide

import (
	"math"
	"slices"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// When to test again. Common practice, no source.
const (
	speedChange = 4 * units.MPH    // [m/s] of club speed
	pathChange  = 2 * units.Degree // [rad] of club path
	missSide    = 5 * units.Yard   // [m] on one side then, on the other now
	carryChange = 5 * units.Yard   // [m] of carry with the same settings, when the balls vouch for it
	otherAngle  = 0.15 * units.Degree
	otherPlace  = 0.2 * units.Millimetre
	compareFrom = 3 // balls with a setting in each visit
)

// Shift is by how much a quantity differs on the second visit for reasons that
// are known and not the player's: another temperature, altitude or wind. [SI]
type Shift map[shot.Quantity]float64

// followed are the quantities that are followed from visit to visit.
var followed = []shot.Quantity{shot.ClubSpeed, shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline, shot.Apex}

// FollowUp compares two visits of one player with one club: what the same
// settings did then and now, what changed over all of them, whether the advice
// holds, and what calls for a new test. Both reports are in the player's own
// world. The same report twice gives differences of nothing and an advice that
// holds.
func FollowUp(before, now report.Report, air Shift) report.FollowUp {
	f := report.FollowUp{Before: before.Title, Now: now.Title}
	say := func(key string, args ...report.Arg) report.Message { return report.Message{Key: key, Args: args} }
	same := 0
	for _, b := range before.Settings {
		n := find(now, b)
		if n < 0 || b.Balls < compareFrom || now.Settings[n].Balls < compareFrom {
			continue
		}
		same++
		for _, q := range followed {
			was, ok1 := report.AmountOf(b.Raw, q)
			is, ok2 := report.AmountOf(now.Settings[n].Raw, q)
			if ok1 && ok2 {
				f.Rows = append(f.Rows, report.FollowRow{Setting: b.Setting, Quantity: q, Then: was.Value, Now: is.Value,
					Balls: [2]int{b.Balls, now.Settings[n].Balls}, Air: air[q], Change: since(was.Value, is.Value, air[q])})
			}
		}
	}
	f.Common = common(f.Rows)
	if same == 0 {
		f.Said = append(f.Said, say("follow.nothing"))
	}
	for _, c := range f.Common {
		f.Said = append(f.Said, changeText("follow.common", report.Quantity(c.Quantity), c))
	}
	if a := air[shot.Carry]; math.Abs(a) > units.Yard {
		f.Said = append(f.Said, say("follow.air", report.Signed(a, units.Length, -1)))
	}
	f.Retest = triggers(before, now, f.Common)
	f.Said = append(f.Said, f.Retest...)
	if len(f.Retest) == 0 && same > 0 {
		f.Said = append(f.Said, say("follow.same"))
	}
	advice(&f, before, now)
	f.Said = append(f.Said, say("follow.day"), say("follow.when"))
	return f
}

// since is the interval of is - was, less what the air does. The two visits
// are of different balls, so their doubts add as squares.
func since(was, is report.Interval, air float64) report.Interval {
	d := is.Mean - was.Mean - air
	half := func(lo1, hi1, lo2, hi2 float64) float64 { return math.Hypot(hi1-lo1, hi2-lo2) / 2 }
	a, b, c := half(was.Lo50, was.Hi50, is.Lo50, is.Hi50), half(was.Lo80, was.Hi80, is.Lo80, is.Hi80), half(was.Lo95, was.Hi95, is.Lo95, is.Hi95)
	return report.Interval{Mean: d, Lo50: d - a, Hi50: d + a, Lo80: d - b, Hi80: d + b, Lo95: d - c, Hi95: d + c}
}

// common is the change of each quantity over all settings that were hit both
// times: their mean, each weighed by one over the square of its doubt.
func common(rows []report.FollowRow) []report.FollowRow {
	var out []report.FollowRow
	for _, q := range followed {
		var all, then, now report.Interval
		weight := 0.0
		row := report.FollowRow{Quantity: q}
		for _, r := range rows {
			half := (r.Change.Hi80 - r.Change.Lo80) / 2
			if r.Quantity != q || !(half > 0) {
				continue
			}
			w := 1 / half / half
			weight += w
			all.Mean, then.Mean, now.Mean = all.Mean+w*r.Change.Mean, then.Mean+w*r.Then.Mean, now.Mean+w*r.Now.Mean
			row.Balls[0], row.Balls[1], row.Air = row.Balls[0]+r.Balls[0], row.Balls[1]+r.Balls[1], r.Air
		}
		if weight == 0 {
			continue
		}
		h := 1 / math.Sqrt(weight)
		row.Then, row.Now = flat(then.Mean/weight), flat(now.Mean/weight)
		row.Change = around(all.Mean/weight, h/1.2816, [3]float64{.6745, 1.2816, 1.9600})
		out = append(out, row)
	}
	return out
}

// changeText says a change with its 80 % interval; a side in words.
func changeText(key string, what report.Arg, r report.FollowRow) report.Message {
	kind, _ := shot.KindOf(r.Quantity)
	m := report.Say(key, what)
	for _, v := range []float64{r.Change.Mean, r.Change.Lo80, r.Change.Hi80} {
		a := report.Signed(v, kind.Dim, -1)
		if kind.Compass {
			a.Form = message.FormSide
		}
		if kind.Dim == units.Speed {
			a.Digits = 1
		}
		m.Args = append(m.Args, a)
	}
	return m
}

// triggers are what calls for a new test, and not only for a look.
func triggers(before, now report.Report, common []report.FollowRow) []report.Message {
	var out []report.Message
	for _, c := range []struct {
		q    shot.Quantity
		by   float64
		word string
	}{{shot.ClubSpeed, speedChange, "follow.speed"}, {shot.Path, pathChange, "follow.path"}} {
		was, ok1 := overall(before, c.q)
		is, ok2 := overall(now, c.q)
		if kind, _ := shot.KindOf(c.q); ok1 && ok2 && math.Abs(is-was) >= c.by {
			arg := report.Signed(is-was, kind.Dim, -1)
			if kind.Compass {
				arg.Form = message.FormSide
			}
			out = append(out, report.Say(c.word, arg))
		}
	}
	was, ok1 := overall(before, shot.Offline)
	is, ok2 := overall(now, shot.Offline)
	if ok1 && ok2 && was*is < 0 && math.Min(math.Abs(was), math.Abs(is)) >= missSide {
		out = append(out, report.Say("follow.side", report.Side(was), report.Side(is)))
	}
	for _, c := range common {
		if c.Quantity == shot.Carry && math.Abs(c.Change.Mean) >= carryChange && c.Change.Lo95*c.Change.Hi95 > 0 {
			out = append(out, changeText("follow.carry", report.Quantity(c.Quantity), c))
		}
	}
	if b, n := before.Settings, now.Settings; len(b) > 0 && len(n) > 0 && otherClub(before, now) {
		out = append(out, report.Say("follow.club"))
	}
	return out
}

// otherClub reports whether a setting of the same name does something else on
// the two visits, against that visit's reference or by itself.
func otherClub(before, now report.Report) bool {
	for _, b := range before.Settings {
		n := find(now, b)
		if n < 0 {
			continue
		}
		c, d := b.Change, now.Settings[n].Change
		if math.Abs(c.Lean-d.Lean) > otherAngle || math.Abs(c.Upright-d.Upright) > otherAngle || math.Abs(c.FaceSoled-d.FaceSoled) > otherAngle ||
			math.Abs(c.CGToe-d.CGToe) > otherPlace || math.Abs(c.CGBack-d.CGBack) > otherPlace || c.Unknown != d.Unknown {
			return true
		}
	}
	return false
}

// advice says whether the choice of last time is still the choice.
func advice(f *report.FollowUp, before, now report.Report) {
	b, n := before.Choice.Setting, now.Choice.Setting
	if b < 0 || b >= len(before.Settings) || n < 0 || n >= len(now.Settings) {
		return
	}
	was, is := before.Settings[b].Setting, now.Settings[n].Setting
	if was.Equal(is) {
		f.Said = append(f.Said, report.Say("follow.held"))
		return
	}
	f.Said = append(f.Said, report.Say("follow.moved", label(was), label(is)))
}

func find(r report.Report, s report.Setting) int {
	return slices.IndexFunc(r.Settings, func(x report.Setting) bool { return x.Setting.Equal(s.Setting) })
}

// overall is the mean of a quantity over the counted balls of a report.
func overall(r report.Report, q shot.Quantity) (float64, bool) {
	sum, n := 0.0, 0
	for _, s := range r.Settings {
		if a, ok := report.AmountOf(s.Raw, q); ok && s.Balls > 0 {
			sum, n = sum+float64(s.Balls)*a.Value.Mean, n+s.Balls
		}
	}
	return sum / float64(n), n > 0
}

// Check is the result of hitting a candidate and today's setting in turn.
type Check struct {
	Accept   bool
	Today    int     // balls
	New      int     // balls
	Gain     float64 // [of the costs] mean saved
	Lo80     float64 // [of the costs] its 80 % interval: the lower end is the one-sided 90 % bound
	Hi80     float64 // [of the costs]
	Possible bool    // three balls of each at least
}

// Confirm judges an A-B-A check by the costs of its balls (smaller is better)
// and nothing else: the new setting is accepted when it is better with 90 %
// confidence, one-sided, by the t interval of the pooled spread. A setting
// that does nothing is thus accepted one time in ten; one that does little
// will often not be proved by so few balls, and the note says so.
func Confirm(today, candidate []float64) Check {
	c := Check{Today: len(today), New: len(candidate)}
	if c.Today < compareFrom || c.New < compareFrom {
		return c
	}
	c.Possible = true
	df := float64(c.Today + c.New - 2)
	sp := math.Sqrt((variance(today)*float64(c.Today-1) + variance(candidate)*float64(c.New-1)) / df)
	se := sp * math.Sqrt(1/float64(c.Today)+1/float64(c.New))
	t := student(df, .9)
	c.Gain = mean(today) - mean(candidate)
	c.Lo80, c.Hi80 = c.Gain-t*se, c.Gain+t*se
	c.Accept = c.Lo80 > 0
	return c
}

// checkNotes reads an A-B-A check off the end of the session: three visits or
// more that go to and fro between today's setting and one other.
func (c *comparison) checkNotes(hit *session) []report.Message {
	visits := hit.visits()
	ref, other, from := c.reference, -1, len(visits)
	for from > 0 {
		s := visits[from-1].Setting
		if s != ref && other >= 0 && s != other {
			break
		}
		if s != ref {
			other = s
		}
		from--
	}
	if other < 0 || len(visits)-from < 3 {
		return nil
	}
	skip := 0
	for _, v := range visits[:from] {
		skip += v.Done
	}
	var today, fresh []float64
	for _, s := range hit.shots {
		if !s.Counted || s.Setting < 0 {
			continue
		}
		if skip > 0 {
			skip--
			continue
		}
		if v, ok := c.costOf(s); ok && s.Setting == ref {
			today = append(today, v)
		} else if ok {
			fresh = append(fresh, v)
		}
	}
	check := Confirm(today, fresh)
	word := "note.check.open"
	switch {
	case !check.Possible:
		word = "note.check.few"
	case check.Accept:
		word = "note.check.held"
	case check.Hi80 < 0:
		word = "note.check.failed"
	}
	out := []report.Message{{Key: word, Args: []report.Arg{c.label(other), report.Count(check.New), report.Count(check.Today)}}}
	if check.Possible { // the check looks at its own balls alone; the answer does not
		out = append(out, report.Say("note.check.weighed", c.label(other), sure(c.rows[other].out.PBetter)))
	}
	return out
}

// costOf is what one ball that was hit cost, at its setting's own aim.
func (c *comparison) costOf(s Shot) (float64, bool) {
	x, ok1 := s.Values.Get(shot.Carry)
	z, ok2 := s.Values.Get(shot.Offline)
	if !ok1 || !ok2 {
		return 0, false
	}
	sin, cos := math.Sincos(c.rows[s.Setting].out.Aim)
	rx, rz := x*cos-z*sin, z*cos+x*sin
	switch c.goal {
	case shot.GoalCarry:
		return -math.Hypot(x, z), true
	case shot.GoalFairways:
		return -c.course.Fairway(rx, rz), true
	case shot.GoalHeight:
		a, ok := s.Values.Get(shot.Apex)
		return -indicator(c.course.Limits.InWindow(a)), ok
	}
	return c.course.Strokes(rx, rz), true
}
