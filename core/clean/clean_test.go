package clean

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/testdata/rows"
)

// fly is the flight model as the pipeline hands it over.
func fly(v shot.Values) (carry, apex float64, ok bool) {
	b, ok1 := v[shot.BallSpeed]
	l, ok2 := v[shot.Launch]
	s, ok3 := v.TotalSpin()
	if !ok1 || !ok2 || !ok3 {
		return 0, 0, false
	}
	g, err := flight.Fly(flight.Launch{Speed: b, Angle: l, Direction: v[shot.LaunchDirection], Spin: s, Axis: v[shot.SpinAxis]}, flight.Env{})
	return g.Distance(), g.Apex, err == nil
}

// player invents shots: 62 m/s, smash 1.44, spreads of a middle handicap.
type player struct {
	*rand.Rand
	drift float64 // [m/s] club speed a ball
}

func (p player) shot(i int, setting string) shot.Shot {
	clubSpeed := 42 + .7*p.NormFloat64() + p.drift*float64(i)
	ball := clubSpeed * (1.44 + .012*p.NormFloat64())
	v := shot.Values{
		shot.ClubSpeed: clubSpeed, shot.BallSpeed: ball,
		shot.Launch:          (12.5 + 1.2*p.NormFloat64()) * units.Degree,
		shot.LaunchDirection: 2 * p.NormFloat64() * units.Degree,
		shot.Spin:            (2900 + 280*p.NormFloat64()) * units.RPM,
		shot.SpinAxis:        5 * p.NormFloat64() * units.Degree,
	}
	c, a, _ := fly(v)
	v[shot.Carry], v[shot.Apex] = c*(1+.03*p.NormFloat64()), a*(1+.04*p.NormFloat64())
	return shot.Shot{ID: fmt.Sprint(i + 1), Line: i + 2, Setting: club.Setting{Sleeve: setting}, Values: v}
}

// session is the settings of order, n balls in each visit.
func (p player) session(n int, order ...string) shot.Session {
	var s shot.Session
	for _, k := range order {
		for range n {
			s.Shots = append(s.Shots, p.shot(len(s.Shots), k))
		}
	}
	return s
}

func invented(seed uint64) player { return player{Rand: rand.New(rand.NewPCG(seed, 1))} }

func kinds(r Result) map[string]int {
	m := map[string]int{}
	for _, f := range r.Findings {
		m[f.Kind]++
	}
	return m
}

func TestPlainSessionsAreLeftAlone(t *testing.T) {
	flagged, total := 0, 0
	for seed := range uint64(40) {
		s := invented(seed).session(4, "a", "b", "c", "c", "b", "a")
		r := Review(s, fly)
		for i, row := range r.Rows {
			total++
			if row.Status != report.Counted {
				flagged++
				t.Logf("seed %d shot %d: %s %v", seed, i, row.Status, row.Reasons)
			}
		}
		for _, k := range []string{"confounded", "blocks", "computed", "estimated-spin", "balls", "duplicate", "unit"} {
			if kinds(r)[k] > 0 {
				t.Errorf("seed %d: finding %q in a plain session", seed, k)
			}
		}
	}
	if flagged*50 > total {
		t.Errorf("%d of %d plain shots flagged, expected at most 2 in 100", flagged, total)
	}
}

func TestRecords(t *testing.T) {
	base := invented(3).session(6, "a", "b", "a", "b")
	for _, c := range []struct {
		name   string
		change func(shot.Values)
		want   report.Status
		key    string
	}{
		{"smash 1.58", func(v shot.Values) { v[shot.BallSpeed] = 1.58 * v[shot.ClubSpeed] }, report.Impossible, "clean.smash_impossible"},
		{"smash 1.54", func(v shot.Values) { v[shot.BallSpeed] = 1.54 * v[shot.ClubSpeed] }, report.Suspect, "clean.smash_high"},
		{"NaN", func(v shot.Values) { v[shot.Carry] = math.NaN() }, report.Impossible, "clean.not_a_number"},
		{"spin 300 rpm", func(v shot.Values) { v[shot.Spin] = 300 * units.RPM }, report.Mishit, "clean.unusual"},
		{"launch 70 deg", func(v shot.Values) { v[shot.Launch] = 70 * units.Degree }, report.Impossible, "clean.impossible"},
		{"direction 17 deg left", func(v shot.Values) { v[shot.LaunchDirection] = -17 * units.Degree }, report.Suspect, "clean.unusual"},
		{"total below carry", func(v shot.Values) { v[shot.Total] = v[shot.Carry] - 9 }, report.Suspect, "clean.identity.total"},
		{"carry 35 % too far", func(v shot.Values) { v[shot.Carry] *= 1.35 }, report.Suspect, "clean.flight"},
		{"km/h in one row", func(v shot.Values) { v[shot.BallSpeed] *= 1.609; v[shot.ClubSpeed] *= 1.609 }, report.Suspect, "clean.unit_slip"},
		{"strike 24 mm to the heel", func(v shot.Values) { v[shot.StrikeToe] = -.024 }, report.Mishit, "clean.mishit.strike"},
		{"topped", func(v shot.Values) {
			v[shot.BallSpeed] *= .8
			v[shot.Launch] = 2 * units.Degree
			v[shot.Carry] *= .5
		}, report.Mishit, "clean.mishit.smash"},
	} {
		s := tenth(base, c.change)
		row := Review(s, fly).Rows[9]
		found := false
		for _, m := range row.Reasons {
			found = found || m.Key == c.key
		}
		if row.Status != c.want || !found {
			t.Errorf("%s: %s %v, want %s with %s", c.name, row.Status, row.Reasons, c.want, c.key)
		}
		if row.Status == report.Impossible && row.Weight != 0 {
			t.Errorf("%s: weight %v, want 0", c.name, row.Weight)
		}
		s.Shots[9].Tag = shot.TagGood
		if row := Review(s, fly).Rows[9]; row.Status != report.Counted || row.Weight != 1 || !row.Vouched {
			t.Errorf("%s, vouched for: %+v, want counted in full", c.name, row)
		}
	}
}

// A wild direction is a swing, not a strike: sideways results never make a mis-hit.
func TestMishitIsNotJudgedByItsResult(t *testing.T) {
	s := invented(5).session(6, "a", "b", "a", "b")
	for i := range s.Shots {
		if i%5 == 0 {
			s.Shots[i].Values[shot.LaunchDirection] = -14 * units.Degree
			s.Shots[i].Values[shot.SpinAxis] = 40 * units.Degree
		}
	}
	for i, row := range Review(s, nil).Rows {
		if row.Status == report.Mishit {
			t.Errorf("shot %d: %v", i, row.Reasons)
		}
	}
}

// Left and right mirror: every judgement but the signs is the same.
func TestMirroredSessionIsJudgedAlike(t *testing.T) {
	s := invented(8).session(6, "a", "b", "a", "b")
	s.Shots[4].Values[shot.LaunchDirection] = 17 * units.Degree
	s.Shots[7].Values[shot.Curve] = 60
	s.Shots[7].Values[shot.Offline] = -10
	left := s
	left.Player.Hand = frame.Left
	left.Shots = append([]shot.Shot(nil), s.Shots...)
	for i := range left.Shots {
		v := shot.Values{}
		for q, x := range s.Shots[i].Values {
			if k, _ := shot.KindOf(q); k.Compass {
				x = -x
			}
			v[q] = x
		}
		left.Shots[i].Values = v
	}
	a, b := Review(s, fly), Review(left, fly)
	for i := range a.Rows {
		if a.Rows[i].Status != b.Rows[i].Status || a.Rows[i].Weight != b.Rows[i].Weight {
			t.Errorf("shot %d: %s %v, mirrored %s %v", i, a.Rows[i].Status, a.Rows[i].Weight, b.Rows[i].Status, b.Rows[i].Weight)
		}
	}
}

func TestTags(t *testing.T) {
	s := invented(3).session(4, "a", "b", "a")
	s.Shots[0].Tag, s.Shots[1].Tag, s.Shots[2].Tag, s.Shots[3].Tag = shot.TagWarmup, shot.TagOut, shot.TagHeel, shot.TagMishit
	r := Review(s, fly)
	for i, want := range []report.Status{report.LeftOut, report.LeftOut, report.Mishit, report.Mishit} {
		if row := r.Rows[i]; row.Status != want || row.Used() != (want == report.Mishit) {
			t.Errorf("shot %d tagged %s: %s", i, s.Shots[i].Tag, row.Status)
		}
	}
	for _, f := range r.Findings {
		if f.ShotID == s.Shots[0].ID || f.ShotID == s.Shots[1].ID {
			t.Errorf("a ball that was left out is found: %+v", f)
		}
	}
	if r.Mishits["a"] != 2 || r.Balls["a"] != 6 || r.Balls["b"] != 4 {
		t.Errorf("mis-hits %v of %v", r.Mishits, r.Balls)
	}
}

func TestDriftIsFound(t *testing.T) {
	found, size := 0, 0.0
	for seed := range uint64(20) {
		p := invented(100 + seed)
		p.drift = -.05 * units.MPH
		s := p.session(5, "a", "b", "c", "d", "e", "e", "d", "c", "b", "a")
		for _, f := range Review(s, fly).Findings {
			if f.Kind == "drift" && f.Text.Key == "clean.drift.fell" {
				found++
				size += f.Text.Args[1].Value / units.MPH / 49
			}
		}
	}
	if found < 15 || math.Abs(size/float64(found)-.05) > .01 {
		t.Errorf("drift of 0.050 mph a ball found in %d of 20 sessions, as %.3f", found, size/float64(found))
	}
	false_ := 0
	for seed := range uint64(40) {
		s := invented(200+seed).session(5, "a", "b", "c", "d", "d", "c", "b", "a")
		false_ += kinds(Review(s, fly))["drift"]
	}
	if false_ > 3 {
		t.Errorf("drift found in %d of 40 steady sessions", false_)
	}
}

func TestBlocks(t *testing.T) {
	for _, c := range []struct {
		order []string
		kind  string
	}{{[]string{"a", "b", "c"}, "confounded"}, {[]string{"a", "b", "c", "a"}, "blocks"}, {[]string{"a", "b", "b", "a", "b"}, ""}, {[]string{"a"}, ""}} {
		got := ""
		for _, f := range Review(invented(9).session(5, c.order...), fly).Findings {
			if f.Kind == "confounded" || f.Kind == "blocks" {
				got = f.Kind
			}
		}
		if got != c.kind {
			t.Errorf("order %v: %q, want %q", c.order, got, c.kind)
		}
	}
}

// Lie and weight changed together: told, with the setting that splits them.
func TestAliasesAreFoundByRank(t *testing.T) {
	h := club.Head{Name: "invented", Loft: 10 * units.Degree, Lie: 58 * units.Degree, Mass: .2, Sleeve: club.Sleeve{Table: []club.Position{
		{Label: "standard"}, {Label: "upright", Lie: 1.5 * units.Degree}, {Label: "up", Loft: 1 * units.Degree}}},
		Weights: []club.Weight{{Name: "slide", Mass: .012, Stops: []club.Stop{{Label: "heel", Toe: -.02}, {Label: "middle"}, {Label: "toe", Toe: .02}}}},
		Current: club.Setting{Sleeve: "standard", Weights: []string{"middle"}}}
	play := func(settings ...[2]string) Result {
		var s shot.Session
		s.Head = h
		p := invented(4)
		for _, k := range settings {
			for range 4 {
				x := p.shot(len(s.Shots), "")
				x.Setting = club.Setting{Sleeve: k[0], Weights: []string{k[1]}}
				s.Shots = append(s.Shots, x)
			}
		}
		return Review(s, nil)
	}
	r := play([2]string{"standard", "middle"}, [2]string{"upright", "heel"}, [2]string{"up", "middle"}, [2]string{"standard", "middle"})
	said := ""
	for _, f := range r.Findings {
		if f.Kind == "aliased" && f.Text.Args[0].Text == "clean.feature.upright" && f.Text.Args[1].Text == "clean.feature.toe" {
			said = f.Text.Args[2].Text
		}
	}
	if said != "standard / toe" && said != "upright / toe" && said != "upright / middle" && said != "standard / heel" && said != "up / heel" && said != "up / toe" {
		t.Errorf("lie and weight tied: said %q, want a setting that has one without the other; findings %v", said, r.Findings)
	}
	r = play([2]string{"standard", "middle"}, [2]string{"upright", "heel"}, [2]string{"upright", "middle"}, [2]string{"standard", "middle"})
	for _, f := range r.Findings {
		if f.Kind == "aliased" && strings.Contains(f.Text.Args[1].Text, "toe") {
			t.Errorf("upright was hit with and without heel: %v", f.Text)
		}
	}
}

func TestOtherBallsAreLeftOut(t *testing.T) {
	s := invented(6).session(6, "a", "a", "b", "a")
	s.Ball = "Same as on the course"
	for i := range 6 {
		s.Shots[i].Ball = "range"
	}
	r := Review(s, fly)
	for i, row := range r.Rows {
		if want := i < 6; (row.Status == report.LeftOut) != want {
			t.Errorf("shot %d: %s %v", i, row.Status, row.Reasons)
		}
	}
	if r.MainBall != "Same as on the course" || kinds(r)["balls"] != 1 {
		t.Errorf("main ball %q, findings %v", r.MainBall, kinds(r))
	}
	for i := range s.Shots {
		s.Shots[i].Ball = " RANGE"
	}
	if r := Review(s, fly); kinds(r)["balls"] != 0 || r.MainBall != "RANGE" {
		t.Errorf("one ball only: %v, main %q", kinds(r), r.MainBall)
	}
}

func TestDuplicates(t *testing.T) {
	s := invented(7).session(6, "a", "b", "a")
	for i := range s.Shots {
		s.Shots[i].Source = "one.csv"
	}
	twice := s.Shots[3]
	twice.ID, twice.Source = "x", "two.csv"
	again := s.Shots[4]
	again.ID, again.Line = "y", again.Line+100
	s.Shots = append(s.Shots, twice, again)
	r := Review(s, nil)
	if r.Rows[18].Status != report.LeftOut || r.Rows[19].Status != report.Suspect {
		t.Errorf("the same ball in two files: %s; twice in one file: %s", r.Rows[18].Status, r.Rows[19].Status)
	}
	s.Shots[3].Line, s.Shots[18].Line, s.Shots[18].Source = 5, 5, "one.csv" // the same file opened twice
	if r := Review(s, nil); r.Rows[18].Status != report.LeftOut {
		t.Errorf("the same line of one file twice: %s", r.Rows[18].Status)
	}
	s.Shots[18].Tag = shot.TagGood
	if r := Review(s, nil); r.Rows[18].Status != report.Counted || !r.Rows[18].Vouched {
		t.Errorf("vouched for by the person: %s", r.Rows[18].Status)
	}
}

func TestEstimatedSpin(t *testing.T) {
	s := invented(11).session(6, "a", "b", "a")
	for _, i := range []int{2, 7, 11} {
		s.Shots[i].Values[shot.Spin] = 2487 * units.RPM
	}
	for i := range s.Shots { // to the rpm, as a device writes it
		s.Shots[i].Values[shot.Spin] = math.Round(s.Shots[i].Values[shot.Spin]/units.RPM) * units.RPM
	}
	if kinds(Review(s, nil))["estimated-spin"] != 1 {
		t.Error("2487 rpm three times in 18 balls is not noticed")
	}
	for i := range s.Shots { // rounded to hundreds, repeats are nothing
		s.Shots[i].Values[shot.Spin] = math.Round(s.Shots[i].Values[shot.Spin]/units.RPM/100) * 100 * units.RPM
	}
	if kinds(Review(s, nil))["estimated-spin"] != 0 {
		t.Error("repeats among values rounded to 100 rpm are called estimated")
	}
}

// Computed carries are told from tracked ones: 183 tracked drives of
// testdata/measured, and the same launches with the model's own carries plus
// rounding to 0.1 yd.
func TestTrackedCarryIsNotCalledComputed(t *testing.T) {
	rows := rows.Read(t, "../../testdata/measured/drives.csv")
	var tracked, computed shot.Session
	for i, row := range rows[1:] {
		x := map[string]float64{}
		for j, h := range rows[0] {
			x[h], _ = strconv.ParseFloat(row[j], 64)
		}
		v := shot.Values{shot.BallSpeed: x["ball_speed_mph"] * units.MPH, shot.Launch: x["launch_deg"] * units.Degree,
			shot.LaunchDirection: x["launch_direction_deg"] * units.Degree, shot.Spin: x["spin_rpm"] * units.RPM,
			shot.SpinAxis: x["spin_axis_deg"] * units.Degree, shot.Carry: x["carry_yd"] * units.Yard}
		tracked.Shots = append(tracked.Shots, shot.Shot{ID: fmt.Sprint(i), Setting: club.Setting{Sleeve: row[0]}, Values: v})
		w := shot.Values{}
		maps.Copy(w, v)
		c, _, _ := fly(v)
		w[shot.Carry] = math.Round(c/units.Yard*10) / 10 * units.Yard * .97
		computed.Shots = append(computed.Shots, shot.Shot{ID: fmt.Sprint(i), Setting: club.Setting{Sleeve: row[0]}, Values: w})
	}
	if n := kinds(Review(tracked, fly))["computed"]; n != 0 {
		t.Error("tracked carries are called computed")
	}
	if n := kinds(Review(computed, fly))["computed"]; n != 1 {
		t.Error("computed carries are not noticed")
	}
}

func TestEmptyAndTiny(t *testing.T) {
	for _, n := range []int{0, 1, 2} {
		s := invented(1).session(n, "a")
		if r := Review(s, fly); len(r.Rows) != n {
			t.Errorf("%d shots: %d rows", n, len(r.Rows))
		}
	}
	s := shot.Session{Shots: []shot.Shot{{ID: "1"}, {ID: "2", Values: shot.Values{}}}}
	for _, row := range Review(s, fly).Rows {
		if row.Status != report.Counted {
			t.Errorf("a shot without numbers: %s %v", row.Status, row.Reasons)
		}
	}
}

// A ball whose setting the club does not have is left out and says so, even
// when it is called good; it is not called counted while nothing counts it.
func TestABallWithAnUnknownSettingSaysSo(t *testing.T) {
	s := invented(3).session(4, "up", "down", "pu", "")
	s.Head = club.Head{Sleeve: club.Sleeve{Table: []club.Position{{Label: "up"}, {Label: "down", Loft: -units.Degree}}}, Current: club.Setting{Sleeve: "up"}}
	s.Shots[9].Tag = shot.TagGood
	r := Review(s, fly)
	for i, row := range r.Rows {
		if left := i >= 8; left != (row.Status == report.LeftOut) {
			t.Errorf("shot %d of %q is %s", i+1, s.Shots[i].Setting.Sleeve, row.Status)
		}
	}
	if n := kinds(r)["unplaced"]; n != 8 {
		t.Errorf("%d balls say why they are not compared, want 8", n)
	}
	s.Head = club.Head{} // a club that cannot be set has room for all
	if n := kinds(Review(s, fly))["unplaced"]; n != 0 {
		t.Errorf("%d balls are left out of a club without settings", n)
	}
}

// tenth is the session with the values of its tenth ball changed.
func tenth(base shot.Session, change func(shot.Values)) shot.Session {
	base.Shots = slices.Clone(base.Shots)
	base.Shots[9].Values = maps.Clone(base.Shots[9].Values)
	change(base.Shots[9].Values)
	return base
}
