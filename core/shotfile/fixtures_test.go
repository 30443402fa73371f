package shotfile

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/testdata/rows"
)

const fixtures = "../../testdata/shotfile/"

// baseShots are the drives that every fixture holds.
func baseShots(t *testing.T) []shot.Values {
	t.Helper()
	rows := rows.Read(t, fixtures+"base.csv")
	byKey := map[string]shot.Quantity{}
	for _, k := range shot.Kinds {
		byKey[k.Quantity.Key()] = k.Quantity
	}
	var out []shot.Values
	for _, row := range rows[1:] {
		v := shot.Values{}
		for i, cell := range row {
			var err error
			if v[byKey[rows[0][i]]], err = strconv.ParseFloat(cell, 64); err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, v)
	}
	return out
}

// rounding is how far a rounded number may lie from the truth: half of a tenth
// of the coarsest unit in use, in SI.
func rounding(k shot.Kind) float64 {
	switch k.Dim {
	case units.Angle:
		return .051 * units.Degree
	case units.Spin:
		return .51 * units.RPM
	case units.None:
		return .0051
	case units.Time:
		return .0051
	}
	return .051
}

func TestFixtures(t *testing.T) {
	base := baseShots(t)
	type q = shot.Quantity
	for _, c := range []struct {
		file   string
		has    []q         // columns that must be read
		note   string      // part of a note that must stand
		ask    string      // part of the question, empty = none may be asked
		shots  int         // 0 = as many as base
		absent map[q][]int // shots in which it must be missing
		check  func(shot.Table) string
	}{
		{file: "base.csv", has: []q{shot.BallSpeed, shot.Spin, shot.Offline, shot.Apex, shot.FaceToPath}},
		{file: "false-units-first-session.csv", has: []q{shot.BallSpeed, shot.ClubSpeed, shot.Carry, shot.Offline, shot.Total}, note: "lines 2-9 are in other units than their headers or the rest of the file: \"Ball Speed (MPH)\" km/h"},
		{file: "german-windows-1252.csv", has: []q{shot.ClubSpeed, shot.Spin, shot.Offline, shot.Apex, shot.Descent}, note: "4 rows of averages"},
		{file: "swedish-utf16.txt", has: []q{shot.BallSpeed, shot.LaunchDirection, shot.SpinAxis, shot.Offline, shot.Apex}},
		{file: "japanese-shift-jis.csv", has: []q{shot.Smash, shot.LaunchDirection, shot.SpinAxis, shot.Offline, shot.Apex}, note: "Shift-JIS"},
		{file: "korean-euc-kr.csv", has: []q{shot.BallSpeed, shot.LaunchDirection, shot.SpinAxis, shot.Offline, shot.Apex}, note: "EUC-KR"},
		{file: "spanish-letters.csv", has: []q{shot.LaunchDirection, shot.SpinAxis, shot.Offline}},
		{file: "french-letters.csv", has: []q{shot.LaunchDirection, shot.SpinAxis, shot.Offline, shot.Spin}},
		{file: "two-header-lines.csv", has: []q{shot.ClubSpeed, shot.Path, shot.Face, shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.Carry, shot.Offline, shot.Apex}, note: "header runs over lines"},
		{file: "units-change-between-headers.csv", has: []q{shot.BallSpeed, shot.Carry, shot.Offline}, check: func(tab shot.Table) string {
			if a, b := tab.Shots[0].Session, tab.Shots[15].Session; b != "Session 2" {
				return fmt.Sprintf("sessions %q and %q", a, b)
			}
			return ""
		}},
		{file: "sentinels.csv", has: []q{shot.BallSpeed, shot.Carry, shot.Offline}, note: "club angles are exactly zero together",
			absent: map[q][]int{shot.Spin: {2, 4, 8}, shot.SpinAxis: {2, 4}, shot.Total: {5, 7}, shot.Face: {1, 6, 9, 12}, shot.Path: {1, 6, 9, 12}},
			check: func(tab shot.Table) string {
				if len(tab.Errors) != 1 || tab.Errors[0].Line != 12 || !strings.Contains(tab.Errors[0].Message.String(), "false trigger") {
					return fmt.Sprintf("errors %v", tab.Errors)
				}
				return ""
			}},
		{file: "dates-mixed.csv", has: []q{shot.BallSpeed, shot.Offline}, check: func(tab shot.Table) string {
			if tab.Shots[10].Clock != "2025-07-12 17:35:10 PM" || tab.Shots[5].Clock != "45848.7005" {
				return fmt.Sprintf("clocks %q, %q", tab.Shots[5].Clock, tab.Shots[10].Clock)
			}
			return ""
		}},
		{file: "curve-in-feet.csv", has: []q{shot.Curve, shot.Offline}, note: "are ft, not yd"},
		{file: "sidespin-against-axis.txt", has: []q{shot.Sidespin, shot.SpinAxis, shot.Backspin, shot.Launch, shot.LaunchDirection}, note: "side spin agrees with the spin axis in 0 of"},
		{file: "no-units.csv", has: []q{shot.ClubSpeed, shot.BallSpeed, shot.Carry, shot.Apex, shot.FlightTime}},
		{file: "no-units-metric.csv", has: []q{shot.ClubSpeed, shot.BallSpeed, shot.Carry, shot.Apex, shot.FlightTime}},
		{file: "pasted.txt", has: []q{shot.BallSpeed, shot.Launch, shot.Offline}},
		{file: "open-closed-words.csv", has: []q{shot.Face, shot.Path, shot.FaceToPath, shot.Offline, shot.BallSpeed, shot.LaunchDirection}},
		{file: "settings-as-titles.csv", has: []q{shot.BallSpeed, shot.Offline}, check: func(tab shot.Table) string {
			for i, want := range map[int]string{0: "up / heel", 5: "up / heel", 6: "flat / toe", 15: "up / heel"} {
				if got := tab.Shots[i].Setting.Key(); got != want {
					return fmt.Sprintf("shot %d: setting %q, want %q", i, got, want)
				}
			}
			return ""
		}},
		{file: "clubs-mixed.csv", has: []q{shot.BallSpeed, shot.Offline}, shots: 18, note: "2 shots with another club", check: func(tab shot.Table) string {
			if tab.Shots[16].Tag != shot.TagOut || tab.Shots[3].Tag != shot.TagHeel || tab.Shots[4].Note != "a gust, I think" || tab.Shots[0].Tag != "" {
				return fmt.Sprintf("tags %q %q, note %q", tab.Shots[16].Tag, tab.Shots[3].Tag, tab.Shots[4].Note)
			}
			return ""
		}},
		{file: "contradictory.csv", ask: "disagree about left and right", has: []q{shot.BallSpeed}, check: askedOnce},
		{file: "sides-stated-in-headers.csv", has: []q{shot.LaunchDirection, shot.SpinAxis, shot.Offline}},
		{file: "bars-bom-cells.txt", has: []q{shot.BallSpeed, shot.Launch, shot.Spin, shot.SpinAxis, shot.Carry, shot.Offline, shot.Apex}},
		{file: "header-repeated-totals.csv", has: []q{shot.BallSpeed, shot.Launch, shot.Carry, shot.Offline}, note: "the header is repeated 3 times", check: func(tab shot.Table) string {
			if h := tab.Columns[5].Header; h != "Carry [m]" || tab.Columns[5].Quantity != "" || !strings.Contains(english(tab.Columns[5].Evidence), "already") {
				return fmt.Sprintf("the second carry: %+v", tab.Columns[5])
			}
			return ""
		}},
		{file: "workbook.xlsx", has: []q{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline}, note: "from a workbook", check: func(tab shot.Table) string {
			if a, b := tab.Shots[7], tab.Shots[8]; a.Setting.Key() != "up / heel" || b.Setting.Key() != "flat / toe" || a.Clock != "45848.7035" || a.Line != 11 {
				return fmt.Sprintf("%+v %+v", a, b)
			}
			return ""
		}},
		{file: "objects.json", has: []q{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline}, check: func(tab shot.Table) string {
			if a, b := tab.Shots[7].Clock, tab.Shots[8].Clock; a != "2025-07-10" || b != "2025-07-11" {
				return fmt.Sprintf("days %q, %q", a, b)
			}
			return ""
		}},
		{file: "broken-headers.csv", has: []q{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline}},
		{file: "feet.csv", has: []q{shot.BallSpeed, shot.Launch, shot.Spin, shot.Carry, shot.Offline, shot.Apex}},
		{file: "angles-left-positive.csv", has: []q{shot.LaunchDirection, shot.SpinAxis, shot.Sidespin, shot.Offline, shot.Face, shot.Path, shot.FaceToPath}, ask: "disagree about left and right", check: askedOnce},
		{file: "one-letter.csv", ask: "the letter \"D\"", shots: 3},
	} {
		t.Run(c.file, func(t *testing.T) {
			data, err := os.ReadFile(fixtures + c.file)
			if err != nil {
				t.Fatal(err)
			}
			tab, err := Read(c.file, data, Options{})
			if err != nil {
				t.Fatal(err)
			}
			n := c.shots
			if n == 0 {
				n = len(base)
			}
			if len(tab.Shots) != n {
				t.Fatalf("%d shots, want %d; notes %v errors %v", len(tab.Shots), n, tab.Notes, tab.Errors)
			}
			compareToBase(t, tab, base, c.has, c.absent, c.ask != "")
			for _, q := range tab.Questions { // repairs stand there
				tab.Notes = append(tab.Notes, q.Text)
			}
			if c.note != "" && !strings.Contains(english(tab.Notes), c.note) {
				t.Errorf("notes %q, want one with %q", tab.Notes, c.note)
			}
			if (c.ask == "") != (len(tab.Ask) == 0) || c.ask != "" && !strings.Contains(english(tab.Ask), c.ask) {
				t.Errorf("asks %q, want %q", tab.Ask, c.ask)
			}
			if c.check != nil {
				if msg := c.check(tab); msg != "" {
					t.Error(msg)
				}
			}
			if t.Failed() {
				for _, col := range tab.Columns {
					t.Logf("%+v", col)
				}
			}
		})
	}
}

// askedOnce: a file that contradicts itself brings one question.
func askedOnce(tab shot.Table) string {
	if len(tab.Ask) != 1 {
		return fmt.Sprintf("asked %d times: %q", len(tab.Ask), tab.Ask)
	}
	return ""
}

func compareToBase(t *testing.T, tab shot.Table, base []shot.Values, has []shot.Quantity, absent map[shot.Quantity][]int, asked bool) {
	t.Helper()
	if len(tab.Shots) < len(base) {
		return
	}
	missing := func(q shot.Quantity, i int) bool {
		return slices.Contains(absent[q], i)
	}
	for i, want := range base {
		for _, k := range shot.Kinds {
			got, ok := tab.Shots[i].Values[k.Quantity]
			if missing(k.Quantity, i) {
				if ok {
					t.Errorf("shot %d: %s = %v, want none", i, k.Quantity, got)
				}
				continue
			}
			if ok && !(asked && k.Compass) && math.Abs(got-want[k.Quantity]) > rounding(k) {
				t.Errorf("shot %d: %s = %.4f, want %.4f", i, k.Quantity, got, want[k.Quantity])
			}
		}
		for _, q := range has {
			if _, ok := tab.Shots[i].Values[q]; !ok && !missing(q, i) {
				t.Errorf("shot %d: no %s", i, q)
			}
		}
	}
}

// Every file of the folder is read by a test.
func TestNoFixtureIsForgotten(t *testing.T) {
	source, err := os.ReadFile("fixtures_test.go")
	if err != nil {
		t.Fatal(err)
	}
	files, _ := filepath.Glob(fixtures + "*")
	for _, f := range files {
		if name := filepath.Base(f); name != "SOURCE.md" && name != "fuzz" && !strings.Contains(string(source), `"`+name+`"`) {
			t.Errorf("%s is read by no test", name)
		}
	}
}

// A left-hander's "open" and "in-out" are the other compass side.
func TestWordsOfALeftHander(t *testing.T) {
	text := "Ball Speed (mph),Face Angle,Club Path,Offline (yd)\n150,2.0 O,1.0 IO,12.3 R\n148,1.0 C,2.0 OI,3.0 L\n"
	for hand, face := range map[frame.Hand]float64{frame.Right: 2, frame.Left: -2} {
		t.Run(string(hand)+"-handed", func(t *testing.T) {
			tab, err := Read("f", []byte(text), Options{Hand: hand})
			if err != nil {
				t.Fatal(err)
			}
			value(t, tab, 0, shot.Face, units.UnitDeg, face)
			value(t, tab, 0, shot.Path, units.UnitDeg, face/2)
			value(t, tab, 0, shot.Offline, units.UnitYd, 12.3)
		})
	}
}

// What the person says of a column stands.
func TestCorrections(t *testing.T) {
	text := "Ball Speed (mph),Strange,Axis,Side\n150,240,3,-12\n148,236,2,8\n149,230,1,4\n"
	tab, err := Read("f", []byte(text), Options{Columns: []shot.Column{
		{Header: "Strange", Quantity: shot.Carry, Unit: "m"}, {Header: "Side", Quantity: shot.Offline, Unit: "yd", Flipped: true}, {Header: "Axis", Role: "note"}}})
	if err != nil {
		t.Fatal(err)
	}
	value(t, tab, 0, shot.Carry, units.UnitM, 240)
	value(t, tab, 0, shot.Offline, units.UnitYd, 12)
	if _, ok := tab.Shots[0].Values[shot.SpinAxis]; ok || tab.Shots[0].Note != "3" {
		t.Errorf("the axis column was given to notes: %+v", tab.Shots[0])
	}
}
