package share

import (
	"errors"
	"flag"
	"math"
	"os"
	"path/filepath"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/testdata/rows"
)

var update = flag.Bool("update", false, "write golden links that are missing; never rewrites one that is there")

// twelve are the columns of a usual export: the benchmark of a link's length.
var twelve = []struct {
	q        shot.Quantity
	mean, sd float64
	unit     float64
}{
	{shot.ClubSpeed, 93, 1.8, units.MPH}, {shot.BallSpeed, 132, 4, units.MPH}, {shot.Launch, 13, 1.6, units.Degree},
	{shot.LaunchDirection, 0.5, 2.2, units.Degree}, {shot.Spin, 2900, 500, units.RPM}, {shot.SpinAxis, 5, 7, units.Degree},
	{shot.Attack, -1.2, 1.1, units.Degree}, {shot.Path, -3.2, 1.8, units.Degree}, {shot.Face, 0.9, 2.2, units.Degree},
	{shot.Carry, 212, 12, units.Yard}, {shot.Offline, 8, 17, units.Yard}, {shot.Apex, 82, 13, units.Foot},
}

// invented is a session of n shots whose columns have nothing to do with each
// other: the worst case for foretelling one by another.
func invented(n int) shot.Session {
	rnd := seed.Seed(11).Stream("share")
	handicap, low, high, carry := 16.0, 80*units.Foot, 95*units.Foot, 210*units.Yard
	temperature, altitude := units.ZeroC+14, 60.0
	s := shot.Session{Title: "Saturday", Created: 1_780_000_000, Ball: "own ball", Head: charttest.Head(),
		Player: shot.Player{Name: "Somebody", Hand: frame.Left, Handicap: &handicap},
		Aim: shot.Aim{Goal: shot.GoalStrokes, Trouble: frame.SideRight, TroubleAt: 25 * units.Yard, TroublePMax: .1, TroubleKind: "out",
			FairwayWidth: 32 * units.Yard, HoleLength: 400 * units.Yard, ApexLow: &low, ApexHigh: &high, CarryMin: &carry, BallsLeft: 2},
		Conditions: shot.Conditions{Temperature: &temperature, Altitude: &altitude, Wind: 2, WindFrom: .5, Firmness: -.5}}
	set := []club.Setting{{Sleeve: "flat", Weights: []string{"middle"}}, {Sleeve: "up", Weights: []string{"middle"}},
		{Sleeve: "up, upright", Weights: []string{"middle"}}, {Sleeve: "upright", Weights: []string{"heel"}}}
	for i := range n {
		x := shot.Shot{ID: shotID(i), Setting: set[i/5%4], Values: shot.Values{}}
		for _, c := range twelve {
			x.Values[c.q] = (c.mean + c.sd*rnd.NormFloat64()) * c.unit
		}
		if i == 7 {
			x.Tag = shot.TagHeel
		}
		if i == 9 {
			delete(x.Values, shot.Spin)
		}
		s.Shots = append(s.Shots, x)
	}
	return s
}

// turned is a session in which the wind turned at the fifth ball, for a course
// in the hills.
func turned() shot.Session {
	s := invented(9)
	height := 1200.0
	s.Airs = []shot.Air{{Altitude: &height, Wind: 6, WindFrom: -1.5}, {Wind: 3}}
	s.Aim.Home = &shot.Home{Altitude: &height, Wind: 4}
	s.BeginAir(4)
	s.Shots[8].Air = 1
	return s
}

func TestAirsComeBack(t *testing.T) {
	s := turned()
	got := decode(t, encode(t, s, nil, Options{})).Session
	if len(got.Airs) != 2 || math.Abs(got.Airs[0].Wind-6) > stepWind || math.Abs(got.Airs[0].WindFrom+1.5) > stepTurn || *got.Airs[0].Altitude != 1200 ||
		got.Aim.Home == nil || *got.Aim.Home.Altitude != 1200 || math.Abs(got.Aim.Home.Wind-4) > stepWind {
		t.Errorf("airs %+v, home %+v", got.Airs, got.Aim.Home)
	}
	for i, x := range got.Shots {
		if x.Air != s.Shots[i].Air {
			t.Errorf("ball %d is in air %d, want %d", i+1, x.Air, s.Shots[i].Air)
		}
	}
}

// demo is the demonstration session read in the plainest way.
func demo(t testing.TB) shot.Session {
	rows := rows.Read(t, "../../testdata/demo/demo.csv")
	column := map[string]struct {
		q    shot.Quantity
		unit float64
	}{
		"Club Speed (mph)": {shot.ClubSpeed, units.MPH}, "Ball Speed (mph)": {shot.BallSpeed, units.MPH}, "Smash Factor": {shot.Smash, 1},
		"Attack Angle (deg)": {shot.Attack, units.Degree}, "Club Path (deg)": {shot.Path, units.Degree}, "Face Angle (deg)": {shot.Face, units.Degree},
		"Dynamic Loft (deg)": {shot.DynamicLoft, units.Degree}, "Launch Angle (deg)": {shot.Launch, units.Degree},
		"Launch Direction (deg)": {shot.LaunchDirection, units.Degree}, "Spin Rate (rpm)": {shot.Spin, units.RPM}, "Spin Axis (deg)": {shot.SpinAxis, units.Degree},
		"Carry (yd)": {shot.Carry, units.Yard}, "Total (yd)": {shot.Total, units.Yard}, "Side (yd)": {shot.Offline, units.Yard},
		"Apex (ft)": {shot.Apex, units.Foot}, "Descent Angle (deg)": {shot.Descent, units.Degree}, "Hang Time (s)": {shot.FlightTime, 1},
	}
	s := invented(0)
	s.Head = club.Example()
	for i, row := range rows[1:] {
		x := shot.Shot{ID: shotID(i), Setting: club.Setting{Sleeve: row[2], Weights: []string{row[3]}}, Ball: row[4], Values: shot.Values{}}
		for j, h := range rows[0] {
			if c, ok := column[h]; ok && row[j] != "" {
				v, err := strconv.ParseFloat(row[j], 64)
				if err != nil {
					t.Fatal(err)
				}
				x.Values[c.q] = v * c.unit
			}
		}
		s.Shots = append(s.Shots, x)
	}
	return s
}

// encode packs a session with the answer of a report, as it is sent.
func encode(t testing.TB, s shot.Session, r *report.Report, o Options) string {
	t.Helper()
	var g *Given
	if r != nil {
		g = give(t, *r)
	}
	text, err := Encode(s, g, o)
	if err != nil {
		t.Fatal(err)
	}
	return text
}

// give settles the answer of a report. The invented report has no more than
// fifty-three balls, and no session of these tests has as many.
func give(t testing.TB, r report.Report) *Given {
	t.Helper()
	g, err := Settle(&r)
	if err != nil {
		t.Fatal(err)
	}
	return g
}

func decode(t testing.TB, text string) Link {
	t.Helper()
	l, err := Decode(text)
	if err != nil {
		t.Fatal(err)
	}
	return l
}

// A link of 60 shots with twelve columns, club, aim, air and answer has at
// most 900 characters.
func TestLength(t *testing.T) {
	r := answered(charttest.Report())
	r.Shots = make([]report.ShotRow, 60)
	for i := range r.Shots {
		r.Shots[i].Status = report.Counted
	}
	text := encode(t, invented(60), &r, Options{})
	real := encode(t, demo(t), &r, Options{})
	bare := encode(t, invented(0), &r, Options{})
	some := demo(t)
	for _, x := range some.Shots {
		for _, q := range []shot.Quantity{shot.Smash, shot.DynamicLoft, shot.Total, shot.Descent, shot.FlightTime} {
			delete(x.Values, q)
		}
	}
	t.Logf("60 invented shots, 12 unrelated columns: %d characters; demonstration, %d shots: %d with 12 columns, %d with 17; without shots: %d",
		len(text), len(some.Shots), len(encode(t, some, &r, Options{})), len(real), len(bare))
	for _, n := range []int{10, 20, 30, 40, 50} {
		t.Logf("%d unrelated shots: %d characters", n, len(encode(t, invented(n), &r, Options{})))
	}
	if len(text) > 1000 {
		t.Errorf("60 shots take %d characters, at most 1000", len(text))
	}
}

// Each number comes back within half a step, each word as it was.
func TestRoundTrip(t *testing.T) {
	for name, s := range map[string]shot.Session{"invented": invented(60), "demo": demo(t), "empty": {}, "one": invented(1)} {
		t.Run(name, func(t *testing.T) {
			l := decode(t, encode(t, s, nil, Options{Names: true}))
			got := l.Session
			if got.Player.Name != s.Player.Name || got.Title != s.Title || l.Given != nil || !l.Names {
				t.Errorf("name %q, title %q, answer %v", got.Player.Name, got.Title, l.Given)
			}
			if s.Player.Hand == "" {
				s.Player.Hand = frame.Right
			}
			if got.Player.Hand != s.Player.Hand || got.Ball != s.Ball || len(got.Shots) != len(s.Shots) {
				t.Fatalf("hand %q, ball %q, %d shots", got.Player.Hand, got.Ball, len(got.Shots))
			}
			for i, x := range s.Shots {
				y := got.Shots[i]
				if !x.Setting.Equal(y.Setting) || x.Ball != y.Ball || x.Tag != y.Tag || len(x.Values) != len(y.Values) {
					t.Errorf("shot %d: %+v became %+v", i, x, y)
				}
				for _, c := range columns1 {
					a, ok1 := x.Values[c.quantity]
					b, ok2 := y.Values[c.quantity]
					if ok1 != ok2 || math.Abs(a-b) > c.coarse/2*1.000001 {
						t.Errorf("shot %d: %s = %g (%v) became %g (%v)", i, c.quantity, a, ok1, b, ok2)
					}
				}
			}
			near := func(what string, a, b, step float64) {
				t.Helper()
				if math.Abs(a-b) > step/2*1.000001 {
					t.Errorf("%s = %g became %g", what, a, b)
				}
			}
			near("loft", s.Head.Loft, got.Head.Loft, stepLoft)
			near("lie", s.Head.Lie, got.Head.Lie, stepLoft)
			near("mass", s.Head.Mass, got.Head.Mass, stepMass)
			near("length", s.Head.Shaft.Length, got.Head.Shaft.Length, stepSmall)
			near("fairway", s.Aim.FairwayWidth, got.Aim.FairwayWidth, 1e-9)
			near("wind", s.Conditions.Wind, got.Conditions.Wind, stepWind)
			near("firmness", s.Conditions.Firmness, got.Conditions.Firmness, stepShare)
			if !reflect.DeepEqual(got.Head.Sleeve.Labels, s.Head.Sleeve.Labels) || got.Head.Current.Key() != s.Head.Current.Key() || got.Head.Name != s.Head.Name {
				t.Errorf("head %+v became %+v", s.Head, got.Head)
			}
			if a, b := got.Head.Settings(), s.Head.Settings(); len(a) != len(b) {
				t.Errorf("%d settings became %d", len(b), len(a))
			}
			// Packed again, an opened link is the same text: nothing creeps.
			if again := encode(t, got, nil, Options{Names: true}); again != encode(t, decode(t, again).Session, nil, Options{Names: true}) {
				t.Error("packing twice differs")
			}
		})
	}
}

// clubbed is a session of two clubs, of which the second is the player's own.
func clubbed() shot.Session {
	s := invented(4)
	h := club.Example()
	h.Name, h.Model, h.Shaft.Name = "the other", "head b", "shaft c"
	s.Head.Exclude, h.Exclude = nil, nil
	s.AddClub(h, "the first")
	s.Own = "the other"
	s.Shots[3].Setting = club.Setting{Sleeve: "up-flat", Weights: []string{"toe 10"}, Club: "the other"}
	return s
}

func TestClubsComeBack(t *testing.T) {
	s := clubbed()
	got := decode(t, encode(t, s, nil, Options{})).Session
	if err := got.CheckClubs(); err != nil || len(got.Clubs) != 1 || got.Own != s.Own || got.Clubs[0].Name != "the other" || got.Clubs[0].Model != "head b" ||
		got.Clubs[0].Shaft.Name != "shaft c" || len(got.Settings()) != len(s.Settings()) {
		t.Errorf("%v: %+v", err, got.Clubs)
	}
	for i, x := range s.Shots {
		if y := got.Shots[i].Setting; !y.Equal(x.Setting) {
			t.Errorf("shot %d: %q became %q", i, x.Setting.Key(), y.Key())
		}
	}
	one := invented(60)
	with := len(encode(t, one, nil, Options{}))
	one.Head.Shaft.Name = ""
	if with > len(encode(t, one, nil, Options{}))+1 {
		t.Error("a session of one club pays for several")
	}
}

// A session that fits is kept as fine as the device printed it: nothing is lost.
func TestShortLinksLoseNothing(t *testing.T) {
	s := demo(t)
	s.Shots = s.Shots[:24]
	text := encode(t, s, nil, Options{})
	if len(text) > short {
		t.Fatalf("24 shots of 17 columns take %d characters", len(text))
	}
	for i, x := range decode(t, text).Session.Shots {
		for q, v := range s.Shots[i].Values {
			if math.Abs(x.Values[q]-v) > 1e-9*math.Max(1, math.Abs(v)) {
				t.Errorf("shot %d: %s = %.9g became %.9g", i, q, v, x.Values[q])
			}
		}
	}
}

// The rare parts: printed tables, undescribed positions, two rings, settings
// that name no label of the head, every tag, estimated spin, other texts.
func TestRareParts(t *testing.T) {
	s := invented(9)
	s.Head.Sleeve = club.Sleeve{Table: []club.Position{{Label: "tief – 低い", Loft: .01, Lie: -.02, Face: .03}, {Label: "?", Unknown: true}}}
	s.Head.Weights = append(s.Head.Weights, club.Weight{Name: "back", Stops: []club.Stop{{Label: "a", Back: .03, Mass: .004}, {Label: "b"}}})
	s.Head.Exclude = []club.Setting{{Sleeve: "?", Weights: []string{"heel", "b"}}}
	s.Aim.Holes = []shot.Hole{{Name: "by the house", Length: 380 * units.Yard, Trouble: frame.SideLeft, TroubleAt: 20 * units.Yard, TroubleKind: "trees", BendAt: 220 * units.Yard, Bend: -20 * units.Degree, Weight: .5}, {}}
	s.Head.Kind, s.Head.Hold, s.Aim.TroubleKind, s.Aim.Goal = "hybrid", "square", "trees", shot.GoalHeight
	for i := range s.Shots {
		s.Shots[i].Tag = tags[i]
		s.Shots[i].Setting = []club.Setting{{}, {Sleeve: "?", Weights: []string{"heel", "b"}}, {Sleeve: "no such", Weights: []string{"toe"}}}[i%3]
		s.Shots[i].Session = []string{"", "at Bob's", "b"}[i/3]
		if i%2 == 0 {
			s.Shots[i].Assumed = []shot.Quantity{shot.BallSpeed}
		}
	}
	text := encode(t, s, nil, Options{})
	got := decode(t, text).Session
	if !reflect.DeepEqual(got.Head.Exclude, s.Head.Exclude) || got.Head.Sleeve.Table[0].Label != s.Head.Sleeve.Table[0].Label || !got.Head.Sleeve.Table[1].Unknown ||
		got.Head.Kind != "hybrid" || got.Head.Hold != "square" || got.Aim.TroubleKind != "trees" || got.Aim.Goal != shot.GoalHeight {
		t.Errorf("head and aim became %+v %+v", got.Head, got.Aim)
	}
	for i, h := range s.Aim.Holes {
		g := got.Aim.Holes[i]
		if g.Name != "" || g.Trouble != h.Trouble || g.TroubleKind != h.TroubleKind || math.Abs(g.Length-h.Length)+math.Abs(g.BendAt-h.BendAt)+math.Abs(g.Bend-h.Bend)+math.Abs(g.Weight-h.Weight) > 1e-6 {
			t.Errorf("hole %+v became %+v", h, g)
		}
	}
	for i, x := range s.Shots {
		y := got.Shots[i]
		if x.Tag != y.Tag || x.Setting.Key() != y.Setting.Key() || len(x.Assumed) != len(y.Assumed) {
			t.Errorf("shot %d: %+v became %+v", i, x, y)
		}
		if want := []string{"", "2", "3"}[i/3]; y.Session != want {
			t.Errorf("shot %d: part %q became %q, want %q", i, x.Session, y.Session, want)
		}
	}
	two := invented(1)
	two.Head.Sleeve = club.Sleeve{Rings: []club.Ring{{Tilt: .02, Positions: 4}, {Tilt: .01, Positions: 4, Offset: .5}}}
	if got := decode(t, encode(t, two, nil, Options{})).Session.Head; len(got.Sleeve.Rings) != 2 || got.Sleeve.Rings[1].Positions != 4 {
		t.Errorf("two rings became %+v", got.Sleeve)
	}
}

// Nothing that names a person is in a link unless it was asked for.
func TestNamesStayHome(t *testing.T) {
	s := invented(3)
	s.Title, s.Bench = "Round with Somebody", map[string]string{"place": "Somebody's"}
	for i := range s.Shots {
		s.Shots[i].Note, s.Shots[i].Session, s.Shots[i].Source, s.Shots[i].Clock = "Somebody said", "Somebody's", "somebody.csv", "14:05"
	}
	r := charttest.Report()
	r.Title = s.Title
	l := decode(t, encode(t, s, &r, Options{}))
	if l.Session.Player.Name != "" || l.Session.Title != "" || l.Names {
		t.Errorf("name %q, title %q", l.Session.Player.Name, l.Session.Title)
	}
	for _, x := range l.Session.Shots {
		if x.Note+x.Source+x.Clock != "" || x.Session != "1" {
			t.Errorf("shot tells %q %q %q %q", x.Note, x.Source, x.Clock, x.Session)
		}
	}
	if l.Session.Bench != nil {
		t.Error("the sheet's notes are in the link")
	}
}

// The answer that a report shows is what a link carries, to the last bit: a
// settled report sent, opened and applied to the same settings is the same.
func TestTheAnswerIsAsItWasGiven(t *testing.T) {
	for name, r := range map[string]report.Report{"right": answered(charttest.Report()), "left": answered(charttest.Mirrored())} {
		t.Run(name, func(t *testing.T) {
			sent, err := Settle(&r)
			if err != nil {
				t.Fatal(err)
			}
			s := invented(2)
			got := decode(t, encode(t, s, &r, Options{})).Given
			got.Status = sent.Status // of 53 balls, which this session has not
			if !reflect.DeepEqual(got, sent) {
				t.Error("the answer opened is not the one sent")
			}
			if got.Tested != 6 || got.Settings != 40 || got.Left != (r.Hand == frame.Left) || got.Day != 20_425 || got.Today.Label != "flat / middle" {
				t.Errorf("%+v", got)
			}
			bare := report.Report{Settings: make([]report.Setting, len(r.Settings)), Reference: r.Reference, Answer: report.Answer{Setting: r.Answer.Setting, Other: r.Answer.Other}}
			got.Apply(&bare)
			a, b := bare.Answer, r.Answer
			if a.Chance != b.Chance || a.Today != b.Today || a.Then != b.Then || a.Gain.Value.Mean != b.Gain.Value.Mean || a.Gain.Value.Lo80 != b.Gain.Value.Lo80 || a.Setting != b.Setting || a.Marks != b.Marks {
				t.Errorf("shown %+v, opened %+v", b, a)
			}
			for _, k := range []int{r.Reference, r.Answer.Other} {
				for _, q := range given {
					x, _ := r.Settings[k].Of(q.quantity)
					y, _ := bare.Settings[k].Of(q.quantity)
					if x.Value.Mean != y.Value.Mean || x.Value.Lo80 != y.Value.Lo80 || x.Value.Hi80 != y.Value.Hi80 || x.Spread != y.Spread || x.Difference.Mean != y.Difference.Mean {
						t.Errorf("setting %d, %s: shown %+v, opened %+v", k, q.quantity, x, y)
					}
				}
			}
		})
	}
	if _, err := GiveOf(report.Report{}); err == nil {
		t.Error("a report without settings gave an answer")
	}
}

// answered is a report with every number of its answer set to another.
func answered(r report.Report) report.Report {
	n := 0.0
	next := func() float64 { n++; return math.Sqrt(n)/3 - 1 }
	worth := func() report.Worth {
		m := next()
		return report.Worth{Unit: report.UnitStrokes, Value: report.Interval{Mean: m, Lo80: m - 1, Hi80: m + 1.5}}
	}
	place := func(f, x, window int) report.Place {
		return report.Place{Carry: 200 + next(), Side: 5 * next(), Height: 25 + next(), Aim: next(),
			Counts: report.Counts{Fairway: f, Trouble: x, Rough: report.Drives - f - x, Window: window, Short: 3}}
	}
	other := r.Choice.Setting
	if other == r.Reference {
		other = 1
	}
	r.Answer = report.Answer{Setting: r.Choice.Setting, Other: other, Chance: .873, Marks: 17, Round: 14, Reaim: .5, Meets: .62,
		Least: worth(), Gain: worth(), Moved: worth(), Still: worth(),
		Prize: report.Prize{Gain: worth(), Carry: next(), Drives: next(), Aiming: worth(), Trouble: next()},
		Today: place(9, 6, -1), Then: place(12, 3, 11)}
	r.Made = 20_425 * Day
	r.Todo = report.Todo{State: report.Check, Visits: []report.Visit{{Setting: 2, Balls: 3}, {Setting: 0, Balls: 4, Done: 1}}}
	return r
}

// An answer that could not tell and says another setting anew is explained by
// that, one that was surer by what was rounded; the same answer is not explained.
func TestWhatDiffersAnew(t *testing.T) {
	r := answered(charttest.Report())
	g, err := GiveOf(r)
	if err != nil {
		t.Fatal(err)
	}
	if got := g.Differs(r, false); len(got) != 0 {
		t.Errorf("the same answer differs by %v", got)
	}
	for verdict, why := range map[report.Verdict]string{report.CannotTell: "shared.why.even", report.Likely: "shared.why.rounded"} {
		g, r := g, r
		g.Verdict, r.Choice.Verdict = verdict, verdict
		g.Answer.Setting = 1 - g.Answer.Setting
		got := g.Differs(r, false)
		if len(got) < 2 || got[0].Key != "shared.differs" || got[len(got)-1].Key != why {
			t.Errorf("%s: %v, want both settings and %s", verdict, got, why)
		}
	}
}

// Fields that a later version adds stand behind those known here and are
// passed over; so are whole sections, and what a later level adds to a session.
func TestLaterFieldsAreSkipped(t *testing.T) {
	r := answered(charttest.Report())
	g := give(t, r)
	later := 77.5
	more := append(answerFields(), field{name: "later", form: formNumber, step: .5, order: 3, at: func(*Given) any { return &later }},
		field{name: "later.flag", form: formFlag, at: func(*Given) any { return new(bool) }})
	b, err := g.bytes(more)
	if err != nil {
		t.Fatal(err)
	}
	got, err := readGiven(b, answerFields())
	if err != nil {
		t.Fatal(err)
	}
	got.Status = g.Status
	if !reflect.DeepEqual(got, g) {
		t.Error("with later fields behind it the answer reads otherwise")
	}

	s := invented(5)
	f := &flow{w: newRangeWriter(), version: level}
	next := level + 1
	f.int(&next, 2)
	f.session(&s, false)
	word := "what a later level adds"
	f.text(&word)
	body := section([]byte{Version}, 99, []byte("a section of a later version"))
	body = section(body, sectionAnswer, b)
	body = section(body, sectionSession, f.w.end())
	l, err := Decode(seal(body))
	if err != nil || len(l.Session.Shots) != 5 || l.Given == nil || l.Given.Today.Label != g.Today.Label {
		t.Errorf("a link of a later level opens as %d shots, %v, %v", len(l.Session.Shots), l.Given, err)
	}
}

// An answer of an earlier version ends sooner: what it did not say is zero.
func TestEarlierLinksEndSooner(t *testing.T) {
	g := give(t, answered(charttest.Report()))
	all := answerFields()
	for n := range all {
		b, err := g.bytes(all[:n])
		if err != nil {
			t.Fatal(err)
		}
		got, err := readGiven(b, all)
		if err != nil {
			t.Fatalf("the first %d fields: %v", n, err)
		}
		if n >= len(shownFields()) && (got.Today.Label != g.Today.Label || got.Answer.Chance != g.Answer.Chance || got.Answer.Then.Counts != g.Answer.Then.Counts) {
			t.Fatalf("the first %d fields read as %+v", n, got)
		}
	}
}

// How each shot was judged comes back: what the analysis left out stays out.
func TestJudgementsComeBack(t *testing.T) {
	s := invented(9)
	r := answered(charttest.Report())
	r.Shots = make([]report.ShotRow, len(s.Shots))
	for i := range r.Shots {
		r.Shots[i].Status = statuses[i%len(statuses)]
	}
	got := decode(t, encode(t, s, &r, Options{})).Given.Status
	for i := range r.Shots {
		if got[i] != r.Shots[i].Status {
			t.Errorf("shot %d: %s became %s", i+1, r.Shots[i].Status, got[i])
		}
	}
}

// Every character changed to every other one, and every cut, is noticed.
func TestEveryDamageIsNoticed(t *testing.T) {
	r := charttest.Report()
	text := encode(t, invented(12), &r, Options{})
	const alphabet = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_"
	for i := range text {
		for _, c := range alphabet + "!= " {
			if byte(c) == text[i] {
				continue
			}
			if _, err := Decode(text[:i] + string(c) + text[i+1:]); err == nil {
				t.Fatalf("character %d changed from %q to %q went unnoticed", i, text[i], c)
			}
		}
		if _, err := Decode(text[:i]); err == nil {
			t.Fatalf("cut at %d went unnoticed", i)
		}
		if i > 0 && text[i] != text[i-1] {
			if _, err := Decode(text[:i-1] + text[i:i+1] + text[i-1:i] + text[i+1:]); err == nil {
				t.Fatalf("characters %d and %d changed places unnoticed", i-1, i)
			}
		}
	}
	if _, err := Decode(text + "A"); err == nil {
		t.Error("a character too many went unnoticed")
	}
	if _, err := Decode("#s=" + text); err != nil {
		t.Errorf("the fragment as it stands: %v", err)
	}
}

func TestWhatIsNoLink(t *testing.T) {
	for _, text := range []string{"", "AA", "s=", "#", strings.Repeat("A", maxLink+1), "ÄÖÜ", "\x00"} {
		if _, err := Decode(text); !errors.Is(err, errDamaged) {
			t.Errorf("Decode(%.20q) = %v", text, err)
		}
	}
	if _, err := Decode(seal([]byte{Version + 1, 0, 0, 0})); !errors.Is(err, errNewer) {
		t.Errorf("a newer version: %v", err)
	}
	if _, err := Decode(seal([]byte{0, 0, 0, 0})); !errors.Is(err, errDamaged) {
		t.Errorf("version 0: %v", err)
	}
}

func TestNumbersThatCannotBeWritten(t *testing.T) {
	for _, bad := range []float64{math.NaN(), math.Inf(1), 1e300} {
		s := invented(2)
		s.Shots[1].Values[shot.Carry] = bad
		if _, err := Encode(s, nil, Options{}); err == nil || !strings.Contains(err.Error(), "shot 2") {
			t.Errorf("carry %g: %v", bad, err)
		}
		s = invented(2)
		s.Head.Loft = bad
		if _, err := Encode(s, nil, Options{}); err == nil {
			t.Errorf("loft %g was written", bad)
		}
	}
	if _, err := Encode(shot.Session{Shots: make([]shot.Shot, maxShots+1)}, nil, Options{}); err == nil {
		t.Error("too many shots were written")
	}
}

// TestOldLinksOpen reads the golden links of every version. A golden is
// written once and never again: a link that somebody keeps must open for ever.
func TestOldLinksOpen(t *testing.T) {
	r := answered(charttest.Report())
	still := invented(4)
	still.Aim.Fixed = true
	partly, share := invented(4), .4
	partly.Aim.Reaim, partly.Aim.Least = &share, .5
	for name, s := range map[string]shot.Session{"v1-sixty": invented(60), "v1-demo": demo(t), "v1-thin": invented(3), "v2-still": still, "v2-sixty": invented(60), "v3-sixty": invented(60), "v3-turned": turned(), "v4-partly": partly, "v5-sixty": invented(60), "v5-partly": partly, "v5-clubs": clubbed()} {
		t.Run(name, func(t *testing.T) {
			path := filepath.Join("../../testdata/share", name+".txt")
			present := strings.HasPrefix(name, "v"+strconv.Itoa(Version)+"-") // earlier versions can't be written any more
			if _, err := os.Stat(path); err != nil && *update && present {
				if err := os.WriteFile(path, []byte(encode(t, s, &r, Options{})+"\n"), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			raw, err := os.ReadFile(path)
			if err != nil {
				t.Fatal(err)
			}
			l := decode(t, string(raw))
			if len(l.Session.Shots) != len(s.Shots) || l.Given.Other.Label != "up / heel" || l.Session.Head.Name != s.Head.Name ||
				l.Session.Aim.Fixed != s.Aim.Fixed || math.Abs(l.Session.Aim.Share()-s.Aim.Share()) > .005 || math.Abs(l.Session.Aim.Least-s.Aim.Least) > .03 || len(l.Session.Airs) != len(s.Airs) || (l.Session.Aim.Home == nil) != (s.Aim.Home == nil) || !strings.HasPrefix(name, "v"+strconv.Itoa(l.Version)+"-") {
				t.Errorf("%s opens as %d shots, advised %q", name, len(l.Session.Shots), l.Given.Other.Label)
			}
			for i, x := range l.Session.Shots {
				if d := math.Abs(x.Values[shot.Carry] - s.Shots[i].Values[shot.Carry]); d > .25*units.Yard*1.00001 {
					t.Errorf("carry of shot %d is %g m off", i, d)
				}
			}
		})
	}
}

func FuzzDecode(f *testing.F) {
	r := charttest.Report()
	f.Add([]byte(encode(f, invented(5), &r, Options{Names: true})), false)
	f.Add(append([]byte{Version}, 0x55, 0xaa, 0xff, 0x12), true)
	for _, s := range []shot.Session{invented(4), demo(f)} {
		raw, _ := encoding.DecodeString(encode(f, s, &r, Options{}))
		f.Add(raw[:len(raw)-4], true)
	}
	f.Fuzz(func(t *testing.T, data []byte, body bool) {
		text := string(data)
		if body { // with a true checksum, so that damage reaches the readers
			text = seal(data)
		}
		var l Link
		var err error
		if n := allocated(func() { l, err = Decode(text) }); n > maxAllocated {
			t.Fatalf("%d bytes of memory for %d characters", n, len(text))
		}
		if err != nil {
			return
		}
		if len(l.Session.Shots) > maxShots {
			t.Fatalf("%d shots out of %d characters", len(l.Session.Shots), len(text))
		}
		for _, s := range l.Session.Shots {
			for q, v := range s.Values {
				if math.IsNaN(v) || math.IsInf(v, 0) {
					t.Fatalf("%s = %g", q, v)
				}
			}
		}
	})
}

// A field that somebody adds to the vocabulary must be decided on: in the
// link, or left out with a reason.
func TestEveryFieldIsDecidedOn(t *testing.T) {
	for _, x := range []struct {
		of           any
		carried, out string // names
	}{
		{shot.Session{}, "Title Created Player Aim Conditions Airs Ball Head Shots Clubs Own", "ID Changed Bench Adopted"}, // a link has no identity, no notes and no history
		{shot.Player{}, "Name Hand Handicap", ""},
		{shot.Aim{}, "Goal Trouble TroubleAt TroublePMax TroubleKind FairwayWidth HoleLength ApexLow ApexHigh CarryMin BallsPerRound MinutesLeft BallsLeft CarryPMin ApexPMin Fixed Reaim Least Holes Home", "SetAt Seen"}, // the answer tells how many balls were seen
		{shot.Hole{}, "Name Length FairwayWidth Trouble TroubleAt TroubleKind BendAt Bend Weight", ""},
		{shot.Home{}, "Altitude Wind", ""},
		{shot.Air{}, "Temperature Pressure Humidity Altitude Wind WindFrom", ""},
		{shot.Conditions{}, "Temperature Pressure Humidity Altitude Wind WindFrom Indoors Firmness", ""},
		{shot.Shot{}, "Setting Ball Session Air Tag Values Assumed", "ID Line Source Clock Note"}, // may tell who and where
		{club.Head{}, "Name Kind Loft MeasuredLoft Lie Face Mass Hold Sleeve Weights Exclude Current Shaft Model", ""},
		{club.Shaft{}, "Length Mass GripMass Balance TotalMass Name", ""},
		{club.Sleeve{}, "Rings Labels Table", ""},
		{club.Ring{}, "Tilt Positions Offset", ""},
		{club.Position{}, "Label Loft Lie Face Unknown", ""},
		{club.Weight{}, "Name Mass Stops", ""},
		{club.Stop{}, "Label Toe Back Mass", ""},
		{club.Setting{}, "Sleeve Weights Club", ""},
	} {
		known := map[string]bool{}
		for _, n := range strings.Fields(x.carried + " " + x.out) {
			known[n] = true
		}
		typ := reflect.TypeOf(x.of)
		for i := range typ.NumField() {
			if n := typ.Field(i).Name; !known[n] {
				t.Errorf("%s.%s is neither carried by links nor left out on purpose: decide, and raise level if it is carried", typ, n)
			}
		}
	}
	for _, k := range shot.Kinds {
		found := false
		for _, c := range columns1 {
			found = found || c.quantity == k.Quantity
		}
		if !found {
			t.Errorf("quantity %s has no column in links", k.Quantity)
		}
	}
}
