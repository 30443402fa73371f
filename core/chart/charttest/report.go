// Package charttest holds an invented report with realistic numbers, for the
// tests of charts, sheets, links and pages. It is no analysis: each number is
// written by a few plain rules so that a picture has something to show.
package charttest

import (
	"fmt"
	"math"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
)

const (
	yd  = units.Yard
	deg = units.Degree
	mph = units.MPH
	rpm = units.RPM
	ft  = units.Foot
)

var (
	sleeves = []string{"up", "up, upright", "upright", "down, upright", "down", "down, flat", "flat", "up, flat"}
	stops   = []club.Stop{
		{Label: "heel", Toe: -0.020}, {Label: "half heel", Toe: -0.010}, {Label: "middle"},
		{Label: "half toe", Toe: 0.010}, {Label: "toe", Toe: 0.020},
	}
)

// Head is the invented club of the report: eight sleeve positions, one weight
// with five stops.
func Head() club.Head {
	measured := 10.1 * deg
	return club.Head{
		Name: "my driver", Kind: "driver", Loft: 10.5 * deg, MeasuredLoft: &measured, Lie: 58 * deg,
		Face: 0, Mass: 0.198, Hold: "between",
		Sleeve:  club.Sleeve{Rings: []club.Ring{{Tilt: 1.5 * deg, Positions: 8}}, Labels: sleeves},
		Weights: []club.Weight{{Name: "slider", Mass: 0.012, Stops: stops}},
		Current: club.Setting{Sleeve: "flat", Weights: []string{"middle"}},
		Shaft:   club.Shaft{Length: 45.25 * units.Inch, Mass: 0.058, GripMass: 0.050, TotalMass: 0.312},
	}
}

// hit says how many balls were hit with which setting, in this order.
var hit = []struct {
	sleeve, weight string
	balls          int
}{
	{"flat", "middle", 12}, {"up", "middle", 10}, {"up, upright", "middle", 10},
	{"upright", "heel", 10}, {"flat", "heel", 5}, {"up, upright", "heel", 6},
}

// Report returns the invented report: 40 settings, 6 of them tested with 53
// balls, the choice likely, never hit with more than twelve balls.
func Report() report.Report {
	r := report.Report{
		Version: report.Version, Request: 0xfe44, Seed: 7, Title: "Saturday range", Hand: frame.Right,
		Goal: shot.GoalStrokes, Head: "my driver", Reference: 0, Conflict: 1.1,
		Ground: report.Ground{
			FairwayHalf: 16 * yd, TroubleAt: 25 * yd, Trouble: frame.SideRight, TroubleKind: "penalty",
			HoleLength: 400 * yd, ApexLow: 80 * ft, ApexHigh: 95 * ft, CarryMin: 200 * yd,
		},
		Resquare: around(0.45, 0.15),
		Ball: &report.Ball{Drag: 1.04, Lift: 1.02, SpinDrag: .9, Curve: 1.1, Carry: 212 * yd,
			Airs: []report.AirChange{{Key: "head", Carry: -12 * yd, Apex: 8 * ft}, {Key: "tail", Carry: 8 * yd, Apex: -7 * ft}, {Key: "right", Offline: -12 * yd}, {Key: "left", Offline: 12 * yd},
				{Key: "warm", Carry: 3 * yd, Apex: -1 * ft}, {Key: "cold", Carry: -4 * yd, Apex: 1 * ft}, {Key: "high", Carry: 9 * yd, Apex: -5 * ft}},
			Reach: &report.Reach{Launch: .24, Spin: 300, Carry: 217 * yd, Short: 5 * yd, Attack: -.026, LaunchLow: .21, LaunchHigh: .27, SpinLow: 270, SpinHigh: 330}},
	}
	for _, s := range settings() {
		r.Settings = append(r.Settings, predict(s))
	}
	ref := r.Settings[0]
	for i := range r.Settings {
		finish(&r.Settings[i], ref, i)
	}
	best, total := 0, 0.0
	for i, s := range r.Settings {
		if s.Strokes.Mean < r.Settings[best].Strokes.Mean {
			best = i
		}
		r.Settings[i].PBest = math.Exp(-60 * (s.Strokes.Mean - ref.Strokes.Mean))
		total += r.Settings[i].PBest
	}
	for i := range r.Settings {
		r.Settings[i].PBest /= total
		r.Settings[i].Loss = r.Settings[i].Strokes.Mean - r.Settings[best].Strokes.Mean + 0.004
	}
	hitShots(&r)
	choose(&r, best)
	gains(&r)
	return r
}

func settings() []club.Setting {
	list := []club.Setting{Head().Current}
	for _, s := range sleeves {
		for _, w := range stops {
			if set := (club.Setting{Sleeve: s, Weights: []string{w.Label}}); !set.Equal(list[0]) {
				list = append(list, set)
			}
		}
	}
	return list
}

// around is an interval of a bell shape with standard deviation sd.
func around(mean, sd float64) report.Interval {
	return report.Interval{Mean: mean, Lo50: mean - .674*sd, Hi50: mean + .674*sd,
		Lo80: mean - 1.282*sd, Hi80: mean + 1.282*sd, Lo95: mean - 1.96*sd, Hi95: mean + 1.96*sd}
}

// predict fills one setting by rules of thumb, before anything relative.
func predict(set club.Setting) report.Setting {
	s := report.Setting{Setting: set, PApex: 1, PCarry: 1}
	turn := 0.0
	for i, l := range sleeves {
		if l == set.Sleeve {
			turn = float64(i) * math.Pi / 4
		}
	}
	lean, upright := 1.5*math.Cos(turn), 1.5*math.Sin(turn) // [deg]
	toe := 0.0
	for _, w := range stops {
		if w.Label == set.Weights[0] {
			toe = w.Toe
		}
	}
	s.Change = club.Change{Lean: lean * deg, Upright: upright * deg, LoftSquare: lean * deg, LoftHeld: 0.4 * lean * deg,
		FaceHeld: -1.2 * lean * deg, LoftSoled: 0.1 * lean * deg, FaceSoled: -1.9 * lean * deg, CGToe: toe * 12 / 198}
	sd := 1.0
	for i, h := range hit {
		if h.sleeve == set.Sleeve && h.weight == set.Weights[0] {
			s.Tested, s.Balls, sd = true, h.balls, 0.75-0.01*float64(h.balls)
			if i == 1 || i == 2 {
				s.Mishits = 1
			}
		}
	}
	s.Measured = 1 - sd
	side := 9 - 3.2*lean - 1.4*upright + 0.22*1000*toe // [yd]
	carry := 214 + 1.1*lean - 0.05*lean*lean - 0.9*math.Abs(side-1)/6
	amount := func(q shot.Quantity, v, e, spread, unit float64) {
		s.Quantities = append(s.Quantities, report.Amount{Quantity: q, Value: around(v*unit, e*sd*unit), Spread: spread * unit, BallsMore: -1})
	}
	amount(shot.BallSpeed, 134.6-0.4*lean, 1.2, 2.6, mph)
	amount(shot.Launch, 13.1+0.75*lean, 0.7, 1.9, deg)
	amount(shot.Spin, 2840+210*lean, 150, 420, rpm)
	amount(shot.Carry, carry, 4.5, 12, yd)
	amount(shot.Offline, side, 5, 17, yd)
	amount(shot.Apex, 82+5.5*lean, 4, 11, ft)
	amount(shot.Descent, 36+1.2*lean, 1.5, 3.5, deg)
	s.PRight = 1 / (1 + math.Exp((25-side)/9))
	s.PLeft = 1 / (1 + math.Exp((25+side)/9))
	s.PFairway = 0.62 - 0.008*math.Abs(side)
	s.Strokes = around(4.30+0.9*s.PRight+0.4*s.PLeft-0.004*(carry-214), 0.05*sd)
	s.Feasible = s.PRight < 0.2
	s.Aim = -side / carry * 0.5
	s.Path = path(carry*yd, side*yd, (82+5.5*lean)*ft)
	return s
}

// path is a skewed arch that reaches apex at 60 % of the carry.
func path(carry, side, apex float64) []report.Point {
	var ps []report.Point
	const n = 24
	for i := 0; i <= n; i++ {
		t := float64(i) / n
		u := t / 0.6
		if t > 0.6 {
			u = 1 + (t-0.6)/0.4
		}
		ps = append(ps, report.Point{X: carry * t, Y: apex * u * (2 - u), Z: side * (0.3*t + 0.7*t*t)})
	}
	return ps
}

// finish fills what is relative to the reference.
func finish(s *report.Setting, ref report.Setting, i int) {
	for k := range s.Quantities {
		a, b := &s.Quantities[k], ref.Quantities[k]
		if i == 0 {
			continue
		}
		half := (a.Value.Hi80 - a.Value.Lo80) / 2 / 1.282
		a.Difference = around(a.Value.Mean-b.Value.Mean, 1.1*half)
		if s.Tested {
			if d := math.Abs(a.Difference.Mean) / a.Spread; d > 0.05 {
				a.BallsMore = int(math.Max(0, 16/d/d-float64(s.Balls)))
			}
		}
	}
	s.PBetter = 0.5
	if i != 0 {
		sd := 0.8 * (s.Strokes.Hi80 - s.Strokes.Lo80) / 2 / 1.282
		d := s.Strokes.Mean - ref.Strokes.Mean
		s.Difference = around(d, sd)
		s.PBetter = 1 / (1 + math.Exp(1.7*d/sd))
	}
}

// hitShots scatters the balls of each tested setting around its prediction.
func hitShots(r *report.Report) {
	rnd := seed.Seed(5).Stream("charttest")
	for _, h := range hit {
		for i := range r.Settings {
			s := &r.Settings[i]
			if s.Setting.Sleeve != h.sleeve || s.Setting.Weights[0] != h.weight {
				continue
			}
			carry, _ := s.Of(shot.Carry)
			side, _ := s.Of(shot.Offline)
			apex, _ := s.Of(shot.Apex)
			sum := map[shot.Quantity]float64{}
			for b := 0; b < h.balls; b++ {
				row := report.ShotRow{ID: fmt.Sprintf("s%d", len(r.Shots)+1), Line: len(r.Shots) + 3, Setting: i, Status: report.Counted, Weight: 1, Known: true,
					Carry:   carry.Value.Mean + 9*yd*rnd.NormFloat64(),
					Offline: side.Value.Mean + 15*yd*rnd.NormFloat64(),
					Apex:    apex.Value.Mean + 8*ft*rnd.NormFloat64()}
				if b == 7 && s.Mishits > 0 {
					row.Status, row.Weight, row.Carry = report.Mishit, 0.2, row.Carry-45*yd
					r.Findings = append(r.Findings, report.Finding{ShotID: row.ID, Line: row.Line, Kind: "mis-hit", Weight: 0.2,
						Text: report.Message{Key: "charttest.mishit"}})
				}
				sum[shot.Carry] += row.Carry / float64(h.balls)
				sum[shot.Offline] += row.Offline / float64(h.balls)
				r.Shots = append(r.Shots, row)
				r.Balls++
			}
			for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
				a, _ := s.Of(q)
				s.Raw = append(s.Raw, report.Amount{Quantity: q, Value: around(sum[q], a.Spread/math.Sqrt(float64(h.balls))), Spread: a.Spread, BallsMore: -1})
			}
			if h.balls >= 5 {
				s.Ellipse = report.Ellipse{Kind: "next-shot-80", X: sum[shot.Carry], Z: sum[shot.Offline], A: 18 * yd, B: 28 * yd, Turn: 0.12, BallsUsed: h.balls}
			}
		}
	}
	r.Shots = append(r.Shots, report.ShotRow{ID: "s54", Line: 56, Setting: 0, Status: report.Impossible, Known: false})
}

// choose fills the answer.
func choose(r *report.Report, best int) {
	s := r.Settings[best]
	d := s.Difference
	carry, _ := s.Of(shot.Carry)
	verdict := report.CannotTell
	switch {
	case s.PBetter > .95:
		verdict = report.Clear
	case s.PBetter > .85:
		verdict = report.Likely
	case s.PBetter > .65:
		verdict = report.Leaning
	}
	r.Choice = report.Choice{Setting: best, Verdict: verdict, Sure: s.PBetter, RunnerUp: 2, Yards: carry.Difference,
		Gain:     report.Interval{Mean: -d.Mean, Lo50: -d.Hi50, Hi50: -d.Lo50, Lo80: -d.Hi80, Hi80: -d.Lo80, Lo95: -d.Hi95, Hi95: -d.Lo95},
		Headline: report.Message{Key: "charttest.headline", Args: []report.Arg{{Form: message.FormText, Text: s.Setting.Key()}}},
		Why:      []report.Message{{Key: "charttest.why.sleeve"}, {Key: "charttest.why.weight"}},
		Flips:    []report.Message{{Key: "charttest.flip"}}}
	r.Next = []report.Next{{Setting: best, Balls: 5, Value: 0.006, Minutes: 6, Why: report.Message{Key: "charttest.next"}}}
	r.Plan = []report.Visit{{Setting: 0, Balls: 3, Why: report.Message{Key: "charttest.next"}}, {Setting: best, Balls: 5, Why: report.Message{Key: "charttest.next"}}}
	r.Stop = report.Stop{Risk: 0.01, Why: report.Message{Key: "charttest.next"}}
	const round = 14
	gain := r.Choice.Gain
	for _, v := range []*float64{&gain.Mean, &gain.Lo50, &gain.Hi50, &gain.Lo80, &gain.Hi80, &gain.Lo95, &gain.Hi95} {
		*v *= round
	}
	worth := report.Worth{Unit: report.UnitStrokes, Value: gain}
	r.Answer = report.Answer{Setting: best, Other: best, Chance: s.PBetter, Marks: int(math.Round(report.Drives * s.PBetter)), Round: round, Reaim: 1, Meets: s.PLimits,
		Gain: worth, Moved: worth, Still: worth, Today: place(r.Settings[r.Reference]), Then: place(s)}
	r.Todo = report.Todo{State: report.Check, Visits: r.Plan, Why: r.Stop.Why}
}

// place is where a setting's balls are expected and how twenty drives end.
func place(s report.Setting) report.Place {
	carry, _ := s.Of(shot.Carry)
	side, _ := s.Of(shot.Offline)
	apex, _ := s.Of(shot.Apex)
	c := report.Counts{Fairway: int(report.Drives * s.PFairway), Trouble: int(report.Drives * (s.PRight + s.PLeft)), Window: int(report.Drives * s.PApex), Short: int(report.Drives * (1 - s.PCarry))}
	c.Rough = report.Drives - c.Fairway - c.Trouble
	return report.Place{Carry: carry.Value.Mean, Side: side.Value.Mean, Height: apex.Value.Mean, Aim: carry.Value.Mean * math.Tan(s.Aim), Counts: c}
}

// Mirrored returns the report of the same golfer playing left-handed: every
// compass number changes side, the club's own terms stay.
func Mirrored() report.Report {
	r := Report()
	r.Hand = frame.Left
	r.Ground.Trouble = frame.SideLeft
	flip := func(i report.Interval) report.Interval {
		return report.Interval{Mean: -i.Mean, Lo50: -i.Hi50, Hi50: -i.Lo50, Lo80: -i.Hi80, Hi80: -i.Lo80, Lo95: -i.Hi95, Hi95: -i.Lo95}
	}
	amounts := func(as []report.Amount) {
		for k := range as {
			if kind, _ := shot.KindOf(as[k].Quantity); kind.Compass {
				as[k].Value, as[k].Difference = flip(as[k].Value), flip(as[k].Difference)
			}
		}
	}
	for _, p := range []*report.Place{&r.Answer.Today, &r.Answer.Then} {
		p.Side, p.Aim = -p.Side, -p.Aim
	}
	for i := range r.Shots {
		r.Shots[i].Offline = -r.Shots[i].Offline
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		s.Aim, s.Ellipse.Z, s.Ellipse.Turn = -s.Aim, -s.Ellipse.Z, -s.Ellipse.Turn
		s.PLeft, s.PRight = s.PRight, s.PLeft
		amounts(s.Quantities)
		amounts(s.Raw)
		for k := range s.Path {
			s.Path[k].Z = -s.Path[k].Z
		}
	}
	return r
}
