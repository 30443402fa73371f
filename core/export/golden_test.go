package export

import (
	"os"
	"path/filepath"
	"reflect"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
)

// golden is the session of testdata/export, with what the form of a name had.
func golden(form string) shot.Session {
	handicap := 14.25
	s := shot.Session{ID: "s1", Title: "öffnen; =1+1", Created: 1760000000, Changed: 1760000001, Ball: "soft, \"two\"",
		Player:     shot.Player{Name: " spaced ", Hand: frame.Left, Handicap: &handicap},
		Aim:        shot.Aim{Goal: shot.GoalCarry, Trouble: frame.SideRight, TroubleAt: 22.86, BallsLeft: 12},
		Conditions: shot.Conditions{Temperature: &handicap, Wind: 2.5, WindFrom: -.3},
		Head: club.Head{Name: "own", Kind: "driver", Loft: .18, Lie: 1.01, Mass: .198, Sleeve: club.Sleeve{Rings: []club.Ring{{Tilt: .02, Positions: 8}}},
			Weights: []club.Weight{{Name: "slide", Mass: .012, Stops: []club.Stop{{Label: "heel", Toe: -.02}, {Label: "toe", Toe: .02}}}}, Current: club.Setting{Sleeve: "up", Weights: []string{"heel"}}}}
	for i, text := range []string{"", "=1+1", "-5", "'tis", "line\nend", `back\slash`, "a; =2", "左"} {
		x := shot.Shot{ID: string(rune('a' + i)), Line: i, Source: text, Ball: text, Session: text, Clock: text, Note: text, Setting: club.Setting{Sleeve: "up", Weights: []string{"toe"}},
			Values: shot.Values{shot.Carry: 200.5 + float64(i)/7, shot.Offline: -3.25 * float64(i), shot.Spin: 260.1, shot.Launch: .2}, Assumed: []shot.Quantity{shot.Spin}}
		if i == 2 {
			x.Tag = shot.TagHeel
		}
		s.Shots = append(s.Shots, x)
	}
	if form == "v1-first" {
		return s
	}
	height := 300.0
	s.Airs, s.Aim.Home = []shot.Air{{Altitude: &height, Wind: 4.25, WindFrom: 1}}, &shot.Home{Wind: 3}
	s.Shots[7].Air = 1
	if form == "v2-clubs" {
		s.AddClub(club.Head{Name: "new; head", Loft: .18, Model: "b", Shaft: club.Shaft{Name: "c"}}, "old")
		s.Shots[6].Setting.Club = s.Clubs[0].Name
		s.Own = s.Clubs[0].Name
	}
	return s
}

// TestGoldenExportsAreReadForEver reads what earlier versions wrote: the session
// is as it was, to the last bit.
func TestGoldenExportsAreReadForEver(t *testing.T) {
	names, _ := filepath.Glob("../../testdata/export/v*")
	newest := 0
	for _, name := range names {
		data, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		form := strings.TrimSuffix(filepath.Base(name), filepath.Ext(name))
		newest = max(newest, int(form[1]-'0'))
		f, ours, err := Read(data)
		if err != nil || !ours {
			t.Errorf("%s: ours %v, %v", name, ours, err)
			continue
		}
		if want := golden(form); !reflect.DeepEqual(f.Session, want) {
			t.Errorf("%s reads as\n%+v\nwant\n%+v", name, f.Session, want)
		}
	}
	if len(names) != 8 || newest != version {
		t.Errorf("%d exports, of version %d at most: one is missing that the program writes today (%d)", len(names), newest, version)
	}
}
