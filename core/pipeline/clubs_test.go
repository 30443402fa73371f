package pipeline

import (
	"fmt"
	"maps"
	"math"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// compared is the demo with a second club that cannot be set: every ball of the
// first repeated with it, faster and farther.
func compared(t testing.TB, faster float64) shot.Session {
	t.Helper()
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	n := len(s.Shots)
	s.AddClub(club.Head{Name: "new head", Loft: s.Head.Loft, Lie: s.Head.Lie, Mass: s.Head.Mass}, "mine")
	for i := range n {
		x := s.Shots[i]
		if x.Setting.Sleeve != s.Shots[0].Setting.Sleeve {
			continue
		}
		x.ID, x.Values = fmt.Sprint("n", i), maps.Clone(x.Values)
		x.Setting = club.Setting{Club: "new head"}
		x.Values[shot.BallSpeed] += faster
		x.Values[shot.Carry] += 4 * faster
		s.Shots = append(s.Shots, x)
	}
	return s
}

func doubts(r report.Report, key string) (n int) {
	for _, d := range r.Doubts {
		if d.Text.Key == key {
			n++
		}
	}
	return n
}

func TestClubsAreComparedEachAtItsBest(t *testing.T) {
	s := compared(t, 2.5)
	r, err := Analyse(s, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Clubs) != 2 || len(r.Settings) != 41 || r.Settings[40].Setting.Key() != "new head" {
		t.Fatalf("%d clubs, %d settings", len(r.Clubs), len(r.Settings))
	}
	own, other := r.Clubs[0], r.Clubs[1]
	if own.Name != s.Head.Name || !strings.HasPrefix(r.Settings[own.Setting].Setting.Key(), s.Head.Name+": ") || other.Setting != 40 || other.Balls == 0 {
		t.Errorf("own %+v, other %+v", own, other)
	}
	for i := range r.Settings { // no setting of a club is better than its best
		if c := r.Settings[i]; c.Setting.Club == own.Name && c.Feasible && c.Difference.Mean < r.Settings[own.Setting].Difference.Mean-.01 {
			t.Errorf("%s (%.3f) is better than %s, the best of its club (%.3f)", c.Setting.Key(), c.Difference.Mean, r.Settings[own.Setting].Setting.Key(), r.Settings[own.Setting].Difference.Mean)
		}
	}
	if a, ok := r.Settings[40].Of(shot.BallSpeed); !ok || a.Difference.Mean < 1 || a.Difference.Mean > 3 {
		t.Errorf("the other club is %+.2f m/s faster, want nearly 2.5", a.Difference.Mean)
	}
	if doubts(r, "clubs.together") != 1 {
		t.Errorf("head and shaft were changed together and nobody says so: %v", r.Doubts)
	}
	if len(r.Choice.Why) == 0 || r.Choice.Why[0].Key != "clubs.better" {
		t.Errorf("the reasons begin with %+v", r.Choice.Why)
	}
	slower, err := Analyse(compared(t, -2.5), 1, nil)
	if err != nil || slower.Clubs[1].PBetter >= other.PBetter {
		t.Errorf("a club 5 m/s slower is better with %.2f, the faster one with %.2f; %v", slower.Clubs[1].PBetter, other.PBetter, err)
	}
}

func TestASharedShaftIsNoDoubt(t *testing.T) {
	s := compared(t, 1)
	s.Head.Shaft.Name, s.Clubs[0].Shaft = "black 60", s.Head.Shaft
	s.Clubs[0].Shaft.Name = "Black  60"
	r, err := Analyse(s, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	if doubts(r, "clubs.together") != 0 {
		t.Errorf("one shaft in both clubs, and %v", r.Doubts)
	}
}

func TestTheOwnClubIsTheReference(t *testing.T) {
	s := compared(t, 1)
	s.Own = "new head"
	r, err := Analyse(s, 1, nil)
	if err != nil || r.Settings[r.Reference].Setting.Key() != "new head" || r.Clubs[0].Name != "new head" {
		t.Errorf("%v: the reference is %q", err, r.Settings[r.Reference].Setting.Key())
	}
}

func TestABallOfAnUnknownClubIsAnError(t *testing.T) {
	s := compared(t, 1)
	s.Shots[3].Setting.Club = "his"
	if _, err := Analyse(s, 1, nil); err == nil || !strings.Contains(err.Error(), `"Shots[3].Setting.Club": read "his"`) {
		t.Errorf("%v", err)
	}
}

// The carry by which clubs differ is what a reader works out of the two that are
// shown.
func TestCarryOfClubsIsThatOfBothShown(t *testing.T) {
	for name, faster := range map[string]float64{"the other is slower": -.7, "the other is faster": 1.7} {
		t.Run(name, func(t *testing.T) {
			r, err := Analyse(compared(t, faster), 1, nil)
			if err != nil {
				t.Fatal(err)
			}
			mine, _ := r.Settings[r.Clubs[0].Setting].Of(shot.Carry)
			theirs, _ := r.Settings[r.Clubs[1].Setting].Of(shot.Carry)
			if c := r.Clubs[1].Carry; math.Abs(c-(theirs.Value.Mean-mine.Value.Mean)) > 1e-9 {
				t.Errorf("%+.3f m, of %.3f and %.3f", c, theirs.Value.Mean, mine.Value.Mean)
			}
		})
	}
}
