package export

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/rand/v2"
	"reflect"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// anySession invents a session with awkward texts and numbers.
func anySession(r *rand.Rand) shot.Session {
	texts := []string{"", "up", "heel 20", "=1+1", "-5", "'tis", "a,b", `quo"te`, "line\nend", `back\slash`, "öffnen", "左", " spaced ", "#1", `\e`, "\r\n", "@x",
		" =1+1", "＝1+1", "\u200b＋2", "a;=1+1", "a\t@x", ";'=1", "\t=1", "\t", "a; ; -1", `\q`, `;\q=`, "' =1", "|x", "\ufeff=1", "\n=1"}
	text := func() string { return texts[r.IntN(len(texts))] }
	handicap := 14.2
	t := 291.3
	s := shot.Session{ID: "s1", Title: text(), Created: 1760000000, Changed: 1760000001, Player: shot.Player{Name: text(), Hand: frame.Left, Handicap: &handicap},
		Aim: shot.Aim{Goal: shot.GoalCarry, Trouble: frame.SideRight, TroubleAt: 22.86, BallsLeft: 12}, Conditions: shot.Conditions{Temperature: &t, Wind: 2.5, WindFrom: -.3}, Ball: text(),
		Head: club.Head{Name: text(), Kind: "driver", Loft: 10.5 * units.Degree, Lie: 58 * units.Degree, Mass: .198, Sleeve: club.Sleeve{Rings: []club.Ring{{Tilt: .02, Positions: 8}}},
			Weights: []club.Weight{{Name: "slide", Mass: .012, Stops: []club.Stop{{Label: "heel", Toe: -.02}, {Label: "toe", Toe: .02}}}}, Current: club.Setting{Sleeve: "up", Weights: []string{"heel"}}}}
	if r.IntN(2) == 0 {
		s.Airs, s.Aim.Home = []shot.Air{{Altitude: &t, Wind: 4.25, WindFrom: 1}}, &shot.Home{Wind: 3}
	}
	for i := range 1 + r.IntN(12) {
		x := shot.Shot{ID: fmt.Sprint(i), Line: r.IntN(50), Source: text(), Ball: text(), Session: text(), Clock: text(), Note: text(), Values: shot.Values{},
			Tag: []shot.Tag{"", shot.TagHeel, shot.TagGood}[r.IntN(3)], Setting: club.Setting{Sleeve: text()}}
		for range r.IntN(4) {
			x.Setting.Weights = append(x.Setting.Weights, text())
		}
		for _, k := range shot.Kinds {
			switch r.IntN(4) {
			case 0:
			case 1: // any float
				x.Values[k.Quantity] = math.Float64frombits(r.Uint64()&^(0x7ff<<52) | uint64(1000+r.IntN(42))<<52) // up to half a million
			default: // as a device writes it
				u := units.Imperial.Unit(k.Dim)
				x.Values[k.Quantity] = u.SI(math.Round((r.Float64()-.4)*2000) / 10)
			}
		}
		if r.IntN(2) == 0 {
			x.Assumed = []shot.Quantity{shot.Spin, shot.SpinAxis}
		}
		if len(s.Airs) > 0 {
			x.Air = r.IntN(2)
		}
		s.Shots = append(s.Shots, x)
	}
	if r.IntN(3) == 0 {
		s.AddClub(club.Head{Name: "=new; head", Loft: .18, Model: "b", Shaft: club.Shaft{Name: "c"}}, "old")
		for i := range s.Shots {
			if r.IntN(2) == 0 {
				s.Shots[i].Setting.Club = s.Clubs[0].Name
			}
		}
		s.Own = s.Clubs[0].Name
	}
	return s
}

func TestExportsComeBackExactly(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for i := range 60 {
		s := anySession(r)
		j, err := JSON(File{Session: s})
		if err != nil {
			t.Fatal(err)
		}
		for name, data := range map[string][]byte{"json": j, "csv imperial": CSV(File{Session: s}, units.Imperial), "csv metric": CSV(File{Session: s}, units.Metric), "csv m/s": CSV(File{Session: s}, units.MetricMPS)} {
			f, ours, err := Read(data)
			got := f.Session
			if err != nil || !ours {
				t.Fatalf("%d %s: ours %v, %v\n%s", i, name, ours, err, data)
			}
			if !reflect.DeepEqual(got, s) {
				for k := range s.Shots {
					if k < len(got.Shots) && !reflect.DeepEqual(got.Shots[k], s.Shots[k]) {
						t.Errorf("shot %d\n got %+v\nwant %+v", k, got.Shots[k], s.Shots[k])
					}
				}
				t.Fatalf("%d %s came back otherwise\n got %+v\nwant %+v", i, name, got, s)
			}
		}
	}
}

func TestDamagedExportsSayWhy(t *testing.T) {
	j, _ := JSON(File{Session: shot.Session{Title: "x"}})
	for text, want := range map[string]string{
		string(j[:len(j)/2]): "cut off",
		strings.Replace(string(j), `"version": 1`, `"version": 9`, 1): "update",
		`{"ferrule":"something","version":1}`:                         "expected a session",
	} {
		if _, ours, err := Read([]byte(text)); !ours || err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%.60q: ours %v, error %v, want one with %q", text, ours, err, want)
		}
	}
	if _, ours, err := Read([]byte("Ball Speed,Carry\n1,2\n")); ours || err != nil {
		t.Errorf("a plain table: ours %v, error %v", ours, err)
	}
}

// TestNothingInACSVRuns writes formulas into every text of a session, the names
// of quantities included, and looks at each cell as spreadsheets do: split at
// commas, semicolons or tabs, with what is not seen before the text left away.
func TestNothingInACSVRuns(t *testing.T) {
	for _, f := range []string{`=HYPERLINK("http://evil.example","x")`, " =1+1", "\u00a0=1", "\ufeff=1", "\u200b=1", "＝1+1", "＋1", "－1", "＠x", "+1", "-1+cmd", "@x", "\t=1",
		"x;=1", "x\t=1", "x;;  =1", "a\n=1", "a\r=1", "|x", "%0"} {
		s := shot.Session{ID: f, Title: f, Player: shot.Player{Name: f}, Ball: f, Head: club.Head{Name: f, Kind: f}, Bench: map[string]string{f: f}}
		x := shot.Shot{ID: f, Setting: club.Setting{Sleeve: f, Weights: []string{f, f}}, Ball: f, Session: f, Clock: f, Tag: shot.Tag(f), Note: f, Source: f,
			Values: shot.Values{shot.Carry: -5, shot.Quantity(f): 1}, Assumed: []shot.Quantity{shot.Quantity(f)}}
		s.Shots = []shot.Shot{x}
		for _, system := range []units.System{units.Imperial, units.Metric, units.MetricMPS} {
			text := string(CSV(File{Session: s}, system))
			for _, sep := range ",;\t" {
				r := csv.NewReader(strings.NewReader(text))
				r.Comma, r.FieldsPerRecord, r.LazyQuotes = sep, -1, true
				rows, err := r.ReadAll()
				if err != nil {
					t.Fatal(err)
				}
				for _, row := range rows {
					for _, cell := range row {
						plain := strings.TrimLeft(cell, " \t\r\n\u00a0\u200b\ufeff\u3000")
						if _, err := strconv.ParseFloat(plain, 64); err == nil || plain == "" {
							continue // a number
						}
						if r := []rune(plain)[0]; strings.ContainsRune("=+-@|%＝＋－＠", r) {
							t.Errorf("%q, split at %q: a cell reads %q", f, sep, cell)
						}
					}
				}
			}
		}
	}
}

// Cells as earlier versions wrote them read as they did.
func TestCellsOfEarlierVersions(t *testing.T) {
	for cell, want := range map[string]string{"'=1": "=1", "''x": "'x", "'\tx": "\tx", "'#1": "#1", "a;=1": "a;=1", " =1": " =1", `a\\b`: `a\b`, "x'y": "x'y", "'-": "-"} {
		if got := unescape(cell); got != want {
			t.Errorf("unescape(%q) = %q, want %q", cell, got, want)
		}
	}
}
