package shot_test

import (
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// two is an own club that cannot be set and a new one that can.
func two() shot.Session {
	s := shot.Session{Head: club.Head{Name: "mine", Loft: .18, Lie: 1.01, Mass: .2}, Shots: []shot.Shot{{ID: "a"}, {ID: "b"}}}
	h := club.Example()
	h.Name = "new head"
	s.AddClub(h, "")
	s.Shots = append(s.Shots, shot.Shot{ID: "c", Setting: club.Setting{Sleeve: "up", Weights: []string{"middle"}, Club: "new head"}})
	return s
}

func TestClubsOfASession(t *testing.T) {
	s := two()
	if err := s.CheckClubs(); err != nil {
		t.Fatal(err)
	}
	all := s.Settings()
	if len(all) != 41 || all[0].Key() != "mine" || all[1].Key() != "new head: flat / middle" {
		t.Fatalf("%d settings, the first %q and %q; want 1 + 40", len(all), all[0].Key(), all[1].Key())
	}
	if s.Front(1); s.Head.Name != "new head" || s.Clubs[0].Name != "mine" || s.Settings()[0].Key() != "mine" || s.CheckClubs() != nil {
		t.Errorf("with the other club in front the reference is %q", s.Settings()[0].Key())
	}
	s.Front(1)
	if s.Own = "new head"; s.Settings()[0].Key() != "new head: flat / middle" {
		t.Errorf("the reference is %q, want the own club's today", s.Settings()[0].Key())
	}
	for text, want := range map[string]string{"mine": "mine", "New Head: up / heel 20": "new head: up / heel 20", "new head": "new head: flat / middle", "new head:toe 10": "new head: flat / toe 10"} {
		if got, err := s.Find(text); err != nil || got.Key() != want {
			t.Errorf("%q is read as %q, %v; want %q", text, got.Key(), err, want)
		}
	}
	for _, text := range []string{"up / heel 20", "old head: up", ""} {
		if _, err := s.Find(text); err == nil || !strings.Contains(err.Error(), `"mine", "new head"`) {
			t.Errorf("%q: %v; want the clubs listed", text, err)
		}
	}
	if _, err := s.Find("new head: sideways"); err == nil || !strings.Contains(err.Error(), "new head") {
		t.Errorf("an unknown label: %v", err)
	}
}

func TestTwoClubsOfOneNameAreToldApart(t *testing.T) {
	s := two()
	at := s.AddClub(club.Head{Name: "New  head", Loft: .2}, "")
	if got := s.Club(at).Name; got != "New  head (2)" {
		t.Errorf("the third club is called %q", got)
	}
	if s.RenameClub(at, "NEW HEAD") || s.RenameClub(at, " ") || !s.RenameClub(1, "other") {
		t.Error("a name that is taken, or none, was given; or a free one was not")
	}
	if got := s.Shots[2].Setting.Club; got != "other" {
		t.Errorf("the ball went with %q, want the new name", got)
	}
	s.Clubs[1].Name = "other"
	if err := s.CheckClubs(); err == nil || !strings.Contains(err.Error(), "Clubs[1].Name: read \"other\"") {
		t.Errorf("two of one name: %v", err)
	}
}

func TestABallOfAnUnknownClubIsAskedFor(t *testing.T) {
	s := two()
	s.Shots[1].Setting.Club = "his"
	s.Own = "hers"
	err := s.CheckClubs()
	for _, want := range []string{`Shots[1].Setting.Club: read "his", expected one of "mine", "new head"`, `Own: read "hers"`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v; want %s", err, want)
		}
	}
}

func TestAClubWithBallsStays(t *testing.T) {
	s := two()
	if s.RemoveClub(0) || s.RemoveClub(1) {
		t.Error("a club with balls went")
	}
	s.Shots = s.Shots[2:]
	if !s.RemoveClub(0) || s.Several() || s.Head.Name != "new head" || s.Shots[0].Setting.Key() != "up / middle" {
		t.Errorf("left: %q with %q", s.Head.Name, s.Shots[0].Setting.Key())
	}
}

func TestTooManyClubsAreRefused(t *testing.T) {
	s := two()
	s.Clubs = make([]club.Head, shot.MaxClubs)
	if err := s.Bounded(); err == nil || !strings.HasPrefix(err.Error(), "Clubs: read 12, expected at most 11") {
		t.Errorf("%v", err)
	}
	s = two()
	s.Clubs[0] = huge()
	if err := s.Bounded(); err == nil || !strings.HasPrefix(err.Error(), "Clubs[0].Weights") {
		t.Errorf("%v", err)
	}
}
