package act

import (
	"fmt"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// kept stores a session of a player with a club.
func (r *rig) keeps(player, title, head string) string {
	r.clock += 86400
	h := club.Example()
	h.Name = head
	r.Sessions.begin(shot.Session{Player: shot.Player{Name: player}, Title: title, Head: h, Aim: shot.Aim{FairwayWidth: 25}})
	r.hit(200)
	r.rest()
	return r.State().Session.ID
}

func TestOneIsFoundByNameTitleAndClub(t *testing.T) {
	r := newRig(t)
	r.keeps("Ann", "spring", "red")
	second := r.keeps("ann", "autumn", "red")
	r.keeps("Ben", "spring", "blue")
	for what, n := range map[string]int{"": 3, "ANN": 2, "spring": 2, "blue": 1, "nobody": 0} {
		if got := r.Library.Found(what); len(got) != n {
			t.Errorf("%q: %d sessions, want %d", what, len(got), n)
		}
	}
	r.Sessions.NextVisit(second)
	r.Loop.Settle()
	r.rest()
	s := r.State().Session
	if s.Player.Name != "ann" || s.Head.Name != "red" || s.Aim.FairwayWidth != 25 || len(s.Shots) != 0 || s.ID == second {
		t.Errorf("the next visit: %+v", s)
	}
}

// A club is described once: it takes the place of one that nobody has described, or
// stands beside those that are there, and is offered no more then. Whose it was is
// not said.
func TestAClubIsDescribedOnce(t *testing.T) {
	r := newRig(t)
	r.keeps("Ann", "spring", "red")
	r.keeps("Ben", "autumn", "blue")
	r.Sessions.NewPlayer()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) { s.Head = club.Head{Kind: "driver", Loft: .18, Lie: 1, Mass: .2} })
	r.rest()
	all := r.Library.KnownClubs()
	if len(all) != 2 || all[0].Name != "blue" || all[1].Name != "red" || strings.Contains(fmt.Sprint(all), "Ann") {
		t.Fatalf("known: %+v", all)
	}
	r.Library.TakeClub(all[1], "mine")
	r.Loop.Settle()
	if s := r.State().Session; s.Head.Name != "red" || s.Several() || len(s.Head.Settings()) != len(club.Example().Settings()) {
		t.Errorf("in place of an empty one: %q, %d more", s.Head.Name, len(s.Clubs))
	}
	r.Library.TakeClub(all[0], "mine")
	r.Loop.Settle()
	if s := r.State().Session; len(s.Clubs) != 1 || s.Head.Name != "blue" || s.Own != "red" {
		t.Errorf("beside it: %q, %d more, own %q", s.Head.Name, len(s.Clubs), s.Own)
	}
	if all := r.Library.KnownClubs(); len(all) != 0 {
		t.Errorf("offered though they are here: %+v", all)
	}
	r.Editor.Undo()
	if s := r.State().Session; s.Several() || s.Head.Name != "red" {
		t.Error("undone, and it is still there")
	}
}

// TestUnbackedSessionsAreSaid: ten sessions that no backup holds, or one that is
// older than a week, ask for a backup; a backup answers.
func TestUnbackedSessionsAreSaid(t *testing.T) {
	r := newRig(t)
	write := func() {
		r.Sessions.New()
		r.hit(180)
		r.rest()
	}
	unbacked := func(want int, when string) {
		t.Helper()
		r.Library.Relist()
		r.Loop.Settle()
		if n := r.State().Sessions.Unbacked; n != want {
			t.Errorf("%s: %d sessions are said to be in no backup, want %d", when, n, want)
		}
	}
	for range 9 {
		write()
	}
	unbacked(0, "nine sessions of today")
	r.clock += 8 * 86400
	unbacked(9, "nine sessions of last week")
	r.Library.Backup(func([]byte) {})
	r.rest()
	unbacked(0, "after a backup")
	r.clock++
	for range 10 {
		write()
	}
	unbacked(10, "ten more")
	fresh := newRig(t)
	fresh.Library.Relist()
	fresh.Loop.Settle()
	if n := fresh.State().Sessions.Unbacked; n != 0 {
		t.Errorf("nothing stored: %d", n)
	}
}
