package charttest

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// drives of the invented player in a round.
const drives = 14

// answer fills the one result from the numbers of the settings.
func answer(r *report.Report) {
	for i := range r.Settings {
		s := &r.Settings[i]
		d := s.Difference.Minus()
		s.Gain = report.Worth{Unit: report.UnitStrokes, Value: report.Interval{Mean: drives * d.Mean,
			Lo50: drives * d.Lo50, Hi50: drives * d.Hi50, Lo80: drives * d.Lo80, Hi80: drives * d.Hi80, Lo95: drives * d.Lo95, Hi95: drives * d.Hi95}}
		s.Moved, s.Still = s.Gain, s.Gain
		s.Counts = counts(*s)
	}
	c := r.Choice.Setting
	then, now := r.Settings[c], r.Settings[r.Reference]
	r.Answer = report.Answer{Setting: c, Other: c, Chance: then.PBetter, Marks: int(math.Round(report.Drives * then.PBetter)), Round: drives, Reaim: 1,
		Least: report.Worth{Unit: report.UnitStrokes}, Gain: then.Gain, Moved: then.Moved, Still: then.Still,
		Prize: report.Prize{Gain: then.Gain, Aiming: then.Gain}, Meets: 1, Today: place(now), Then: place(then)}
	r.Todo = report.Todo{State: report.GoOn, Why: r.Stop.Why, Left: report.Worth{Unit: report.UnitStrokes}}
	for _, v := range r.Plan {
		if v.Done < v.Balls {
			r.Todo.Visits = append(r.Todo.Visits, v)
		}
	}
	for _, s := range []*report.Setting{&r.Settings[r.Reference], &r.Settings[c]} {
		side, _ := s.Of(shot.Offline)
		s.Differs = []report.Differs{{Quantity: shot.Offline, Balls: s.Balls, Average: side.Value.Mean + 3, Expected: side.Value.Mean, Reasons: []string{"differs.physics"},
			Text: report.Say("differs.text", report.Quantity(shot.Offline), report.Count(s.Balls), report.Side(side.Value.Mean+3), report.Key("differs.physics"), report.Side(side.Value.Mean))}}
	}
}

func counts(s report.Setting) report.Counts {
	k := report.Counts{Fairway: int(report.Drives * s.PFairway), Trouble: int(report.Drives * (s.PRight + s.PLeft)), Window: int(report.Drives * s.PApex), Short: int(report.Drives * (1 - s.PCarry))}
	k.Rough = report.Drives - k.Fairway - k.Trouble
	return k
}

func place(s report.Setting) report.Place {
	carry, _ := s.Of(shot.Carry)
	side, _ := s.Of(shot.Offline)
	apex, _ := s.Of(shot.Apex)
	return report.Place{Carry: carry.Value.Mean, Side: side.Value.Mean, Height: apex.Value.Mean, Counts: s.Counts}
}
