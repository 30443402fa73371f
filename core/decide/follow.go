package decide

import (
	"math"

	"gonum.org/v1/gonum/stat/distuv"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// When to test again. Common practice, no source.
const (
	speedChange = 4 * units.MPH    // [m/s] of club speed
	pathChange  = 2 * units.Degree // [rad] of club path
	missSide    = 5 * units.Yard   // [m] on one side then, on the other now
	compareFrom = 3                // balls with a setting in each visit
)

// FollowUp compares two visits of one player with one club: what the same
// settings did then and now, whether the advice holds, and what calls for a
// new test. Both reports are in the player's own world. The same report twice
// gives differences of nothing and an advice that holds.
func FollowUp(before, now report.Report) []report.Message {
	var out []report.Message
	same := 0
	for _, b := range before.Settings {
		n := find(now, b)
		if n < 0 || b.Balls < compareFrom || now.Settings[n].Balls < compareFrom {
			continue
		}
		same++
		for _, q := range []shot.Quantity{shot.BallSpeed, shot.Carry} {
			was, ok1 := amount(b.Raw, q)
			is, ok2 := amount(now.Settings[n].Raw, q)
			if !ok1 || !ok2 {
				continue
			}
			kind, _ := shot.KindOf(q)
			diff := is.Value.Mean - was.Value.Mean
			half := math.Hypot(is.Value.Hi80-is.Value.Lo80, was.Value.Hi80-was.Value.Lo80) / 2
			out = append(out, report.Message{Key: "follow.same.setting", Args: []report.Arg{label(b.Setting), quantity(q),
				signed(diff, kind.Dim), signed(diff-half, kind.Dim), signed(diff+half, kind.Dim)}})
		}
	}
	if same == 0 {
		out = append(out, report.Message{Key: "follow.nothing"})
	}
	for _, c := range []struct {
		q    shot.Quantity
		by   float64
		word string
	}{{shot.ClubSpeed, speedChange, "follow.speed"}, {shot.Path, pathChange, "follow.path"}} {
		was, ok1 := overall(before, c.q)
		is, ok2 := overall(now, c.q)
		if kind, _ := shot.KindOf(c.q); ok1 && ok2 && math.Abs(is-was) >= c.by {
			arg := signed(is-was, kind.Dim)
			if kind.Compass { // a turned path has a side, and no length
				arg = number(math.Abs(is-was), kind.Dim)
			}
			out = append(out, report.Message{Key: c.word, Args: []report.Arg{arg}})
		}
	}
	was, ok1 := overall(before, shot.Offline)
	is, ok2 := overall(now, shot.Offline)
	if ok1 && ok2 && was*is < 0 && math.Min(math.Abs(was), math.Abs(is)) >= missSide {
		out = append(out, report.Message{Key: "follow.side", Args: []report.Arg{side(was), side(is)}})
	}
	out = append(out, advice(before, now)...)
	return append(out, report.Message{Key: "follow.when"})
}

func advice(before, now report.Report) []report.Message {
	b, n := before.Choice.Setting, now.Choice.Setting
	if b < 0 || b >= len(before.Settings) || n < 0 || n >= len(now.Settings) {
		return nil
	}
	was, is := before.Settings[b].Setting, now.Settings[n].Setting
	if was.Equal(is) {
		return []report.Message{{Key: "follow.held"}}
	}
	return []report.Message{{Key: "follow.moved", Args: []report.Arg{label(was), label(is)}}}
}

func find(r report.Report, s report.Setting) int {
	for i := range r.Settings {
		if r.Settings[i].Setting.Equal(s.Setting) {
			return i
		}
	}
	return -1
}

func amount(as []report.Amount, q shot.Quantity) (report.Amount, bool) {
	for _, a := range as {
		if a.Quantity == q {
			return a, true
		}
	}
	return report.Amount{}, false
}

// overall is the mean of a quantity over the counted balls of a report.
func overall(r report.Report, q shot.Quantity) (float64, bool) {
	sum, n := 0.0, 0
	for _, s := range r.Settings {
		if a, ok := amount(s.Raw, q); ok && s.Balls > 0 {
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
	t := distuv.StudentsT{Sigma: 1, Nu: df}.Quantile(0.9)
	c.Gain = mean(today) - mean(candidate)
	c.Lo80, c.Hi80 = c.Gain-t*se, c.Gain+t*se
	c.Accept = c.Lo80 > 0
	return c
}

// checkNotes reads an A-B-A check off the end of the session: three visits or
// more that go to and fro between today's setting and one other.
func (d *Decider) checkNotes() []report.Message {
	visits := d.visits()
	ref, other, from := d.cfg.Reference, -1, len(visits)
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
	for _, s := range d.cfg.Shots {
		if !s.Counted || s.Setting < 0 {
			continue
		}
		if skip > 0 {
			skip--
			continue
		}
		if v, ok := d.costOf(s); ok && s.Setting == ref {
			today = append(today, v)
		} else if ok {
			fresh = append(fresh, v)
		}
	}
	c := Confirm(today, fresh)
	word := "note.check.open"
	switch {
	case !c.Possible:
		word = "note.check.few"
	case c.Accept:
		word = "note.check.held"
	case c.Hi80 < 0:
		word = "note.check.failed"
	}
	return []report.Message{{Key: word, Args: []report.Arg{label(d.cfg.Settings[other]), count(float64(c.New)), count(float64(c.Today))}}}
}

// costOf is what one ball that was hit cost, at its setting's own aim.
func (d *Decider) costOf(s Shot) (float64, bool) {
	x, ok1 := s.Values.Get(shot.Carry)
	z, ok2 := s.Values.Get(shot.Offline)
	if !ok1 || !ok2 {
		return 0, false
	}
	sin, cos := math.Sincos(d.rows[s.Setting].out.Aim)
	rx, rz := x*cos-z*sin, z*cos+x*sin
	switch d.goal {
	case shot.GoalCarry:
		return -math.Hypot(x, z), true
	case shot.GoalFairways:
		return -d.cfg.Course.Fairway(rx, rz), true
	case shot.GoalHeight:
		a, ok := s.Values.Get(shot.Apex)
		return -indicator(d.cfg.Course.Limits.InWindow(a)), ok
	}
	return d.cfg.Course.Strokes(rx, rz), true
}
