package act

import (
	"context"
	"errors"
	"reflect"
	"strings"
	"testing"

	"ferrule/core/export"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/store/storetest"
)

// other saves the open session with one ball more, as another tab would.
func (r *rig) other(t *testing.T) {
	t.Helper()
	ctx := context.Background()
	s, rev, err := r.memory.Get(ctx, r.State().Session.ID)
	if err != nil {
		t.Fatal(err)
	}
	s.Shots = append(s.Shots, shot.Shot{ID: "theirs", Values: shot.Values{shot.Carry: 150}})
	s.Ball = "theirs" // this one the open session changes too
	if _, err := r.memory.Put(ctx, s, rev); err != nil {
		t.Fatal(err)
	}
}

// conflicted is a rig whose open session, two balls, was saved by another tab
// with a third ball in between.
func conflicted(t *testing.T) *rig {
	t.Helper()
	r := newRig(t)
	r.Sessions.New()
	r.Editor.Edit(Change{Key: "edit.title"}, func(s *shot.Session) { s.Title = "Evening" })
	r.hit(200)
	r.rest()
	r.other(t)
	r.Editor.Edit(Change{Key: "edit.ball"}, func(s *shot.Session) { s.Ball = "mine" })
	r.hit(210)
	r.rest()
	if !r.State().Saving.Conflict || r.State().Saving.Phase != Failed {
		t.Fatalf("after both saved: %+v, want a conflict", r.State().Saving)
	}
	return r
}

func (r *rig) stored(t *testing.T) map[string]int {
	t.Helper()
	list, err := r.memory.List(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]int{}
	for _, h := range list {
		out[h.Title] = h.Shots
	}
	return out
}

func TestKeepMineAsACopy(t *testing.T) {
	r := conflicted(t)
	theirs := r.State().Session.ID
	r.Keeper.KeepMine()
	r.hit(220) // and it goes on being saved
	r.rest()
	if got, want := r.stored(t), map[string]int{"Evening": 2, "Evening (2)": 3}; !reflect.DeepEqual(got, want) {
		t.Errorf("stored: %v, want %v", got, want)
	}
	s := r.State()
	if s.Saving.Conflict || s.Saving.Phase != Ready || s.Session.ID == theirs || s.Prefs.Last != s.Session.ID {
		t.Errorf("after: %+v, session %s, last %s", s.Saving, s.Session.ID, s.Prefs.Last)
	}
	r.Editor.Undo()
	if n := len(r.State().Session.Shots); n != 2 {
		t.Errorf("undo after it leaves %d balls, want 2", n)
	}
}

func TestTakeTheirsAndComeBack(t *testing.T) {
	r := conflicted(t)
	mine := *r.State().Session
	r.Keeper.TakeTheirs()
	r.rest()
	if n := len(r.State().Session.Shots); n != 2 || r.State().Session.Shots[1].ID != "theirs" || r.State().Saving.Conflict {
		t.Errorf("%d balls, %+v: want the other tab's", n, r.State().Saving)
	}
	r.Editor.Undo()
	r.rest()
	if got := r.State().Session.Shots; !reflect.DeepEqual(got, mine.Shots) {
		t.Errorf("undo gives %v, want what was here", got)
	}
	if r.State().Saving.Phase != Ready {
		t.Errorf("it is not stored: %+v", r.State().Saving)
	}
}

// Who leaves a conflict unanswered, by opening another session or by closing
// the page, has both.
func TestAConflictThatIsLeftKeepsBoth(t *testing.T) {
	for name, leave := range map[string]func(r *rig){
		"a new session": func(r *rig) { r.Sessions.New() },
		"closing":       func(r *rig) { r.Keeper.Flush() },
	} {
		t.Run(name, func(t *testing.T) {
			r := conflicted(t)
			leave(r)
			r.rest()
			if got := r.stored(t); got["Evening"] != 2 || got["Evening (2)"] != 2 {
				t.Errorf("stored: %v, want both with two balls", got)
			}
		})
	}
}

func TestRemovedInAnotherTab(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(200)
	r.rest()
	if err := r.memory.Delete(context.Background(), r.State().Session.ID); err != nil {
		t.Fatal(err)
	}
	r.hit(210)
	r.rest()
	if !r.State().Saving.Conflict {
		t.Fatalf("%+v, want a conflict", r.State().Saving)
	}
	r.Keeper.TakeTheirs() // there is nothing to take: said, and mine stays
	r.rest()
	if r.State().Notice.Key != "error.open" || len(r.State().Session.Shots) != 2 {
		t.Errorf("%+v, %d balls", r.State().Notice, len(r.State().Session.Shots))
	}
	r.Keeper.KeepMine()
	r.rest()
	if got := r.stored(t); got["(2)"] != 2 {
		t.Errorf("stored: %v", got)
	}
}

// fickle is a store that refuses saves while full is set.
type fickle struct {
	store.Store
	full bool
}

func (f *fickle) Put(ctx context.Context, s shot.Session, rev int) (int, error) {
	if f.full {
		return 0, store.ErrFull
	}
	return f.Store.Put(ctx, s, rev)
}

func TestAFullDiskLosesNothing(t *testing.T) {
	r := newRig(t)
	f := &fickle{Store: r.memory}
	r.Model.Keeper.store = f
	r.Sessions.New()
	r.hit(200)
	r.rest()
	f.full = true
	for _, v := range []float64{210, 220, 230} { // saves that overtake each other, too
		r.hit(v)
		r.Keeper.Flush()
	}
	r.rest()
	s := r.State()
	if s.Saving.Phase != Failed || s.Saving.Conflict || s.Notice.Key != "error.save" || !r.Keeper.dirty {
		t.Fatalf("%+v, notice %q, dirty %v: want it said that there is no room", s.Saving, s.Notice.Key, r.Keeper.dirty)
	}
	// leaving it: it is handed over to the person
	r.Sessions.New()
	r.rest()
	if u := r.State().Unsaved; len(u) != 1 || len(u[0].Shots) != 4 {
		t.Fatalf("unsaved: %d sessions, want the one with four balls", len(u))
	}
	f.full = false
	r.Keeper.SaveAgain()
	r.rest()
	if got := r.stored(t); got["(2)"] != 4 || len(r.State().Unsaved) != 0 {
		t.Errorf("with room again: %v, unsaved %d", got, len(r.State().Unsaved))
	}
}

func TestRoomAgainSavesTheOpenSession(t *testing.T) {
	r := newRig(t)
	f := &fickle{Store: r.memory, full: true}
	r.Model.Keeper.store = f
	r.Sessions.New()
	r.hit(200)
	r.rest()
	f.full = false
	r.Keeper.SaveAgain()
	r.rest()
	if r.State().Saving.Phase != Ready || r.stored(t)[""] != 1 {
		t.Errorf("%+v, stored %v", r.State().Saving, r.stored(t))
	}
}

func TestDamagedBlobsAreShownAndForgottenWhenAsked(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(200)
	r.rest()
	blob, err := SessionFile(*r.State().Session)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := r.memory.Import(context.Background(), storetest.FutureBlob(blob)); err != nil {
		t.Fatal(err)
	}
	r.Library.Relist()
	r.rest()
	bad := r.State().Sessions.Damaged
	if len(bad) != 1 || !errors.Is(bad[0].Reason, store.ErrNewer) || len(bad[0].Bytes) != len(blob) {
		t.Fatalf("damaged: %+v, want the newer one as it was", bad)
	}
	r.Library.Discard(bad[0].Key)
	r.rest()
	if n := len(r.State().Sessions.Damaged); n != 0 {
		t.Errorf("%d are still there", n)
	}
}

func TestAnonymousTellsNothing(t *testing.T) {
	const who = "Somebody"
	s := shot.Session{ID: who, Title: who, Player: shot.Player{Name: who}, Bench: map[string]string{"place": who},
		Aim: shot.Aim{Holes: []shot.Hole{{Name: who, Length: 300}}}}
	for _, part := range []string{"b at " + who, "a", "b at " + who} {
		s.Shots = append(s.Shots, shot.Shot{ID: "1", Session: part, Source: who, Clock: who, Note: who, Line: 3, Values: shot.Values{shot.Carry: 200}})
	}
	a := Anonymous(s)
	blob, err := SessionFile(a)
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(string(blob), who) || strings.Contains(string(export.CSV(export.File{Session: a}, "")), who) {
		t.Error("the file tells a name")
	}
	if a.Shots[0].Session != "1" || a.Shots[1].Session != "2" || a.Shots[2].Session != "1" || a.Shots[0].Values[shot.Carry] != 200 || a.Aim.Holes[0].Length != 300 {
		t.Errorf("the rest changed too: %+v", a)
	}
	if s.Title != who || s.Aim.Holes[0].Name != who {
		t.Error("the session itself was changed")
	}
}

func TestTheListFollowsTheSaves(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.rest()
	r.hit(200)
	r.hit(210)
	r.rest()
	list := r.State().Sessions.Entries
	if len(list) != 1 || list[0].Shots != 2 || list[0].Revision != r.State().Saving.Revision {
		t.Errorf("the list says %+v, want two balls of revision %d", list, r.State().Saving.Revision)
	}
}

func TestNumbered(t *testing.T) {
	for in, want := range map[string]string{"": "(2)", "Evening": "Evening (2)", "Evening (2)": "Evening (3)", "9 (12)": "9 (13)", "(a)": "(a) (2)"} {
		if got := numbered(in); got != want {
			t.Errorf("numbered(%q) = %q, want %q", in, got, want)
		}
	}
}

// What was typed into any field and could not be used is there, with its
// reason, when the session is opened again; an undo clears it.
func TestAWrongFieldSurvivesAReload(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.hit(200)
	r.rest()
	id := r.State().Session.ID
	r.Drafts.Put("loft", "ten and a half", "read “ten and a half”")
	r.Drafts.Put("lie", "58", "")
	r.Sessions.New()
	r.rest()
	r.Sessions.Open(id)
	r.rest()
	want := map[string]Draft{"loft": {"ten and a half", "read “ten and a half”"}}
	if got := r.State().Drafts; !reflect.DeepEqual(got, want) {
		t.Errorf("opened again it holds %v, want %v", got, want)
	}
	r.hit(210)
	r.Editor.Undo()
	if got := r.Drafts.ofSession(shot.Session{ID: id}); len(got) != 0 {
		t.Errorf("after an undo %v is kept", got)
	}
}
