package act

import (
	"testing"

	"ferrule/core/shot"
	"ferrule/core/units"
)

// TestARefusedNumberIsNotUsedInPart: of 95, which no loft is, the 9 that was a
// loft for a moment goes too, and the loft that stood before is back; what was
// typed and left before that stays.
func TestARefusedNumberIsNotUsedInPart(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	loft := func(deg float64) {
		r.Drafts.Put("loft", "x", "")
		r.Editor.Edit(Change{Key: "edit.head", Field: "loft"}, func(s *shot.Session) { s.Head.Loft = deg * units.Degree })
	}
	left := func() { r.Drafts.Drop("loft") }
	is := func(what string, deg float64) {
		t.Helper()
		if got := r.State().Session.Head.Loft / units.Degree; got != deg {
			t.Errorf("%s: the loft is %g, want %g", what, got, deg)
		}
	}
	was := r.State().Session.Head.Loft / units.Degree
	loft(9)
	r.Drafts.Refuse("loft", "95", "too much")
	is("the first number typed is refused", was)
	if d := r.State().Drafts["loft"]; d.Text != "95" || d.Error == "" {
		t.Errorf("the field holds %+v", d)
	}
	loft(9) // the 5 is taken back
	is("mended", 9)
	left()
	loft(1)
	loft(10)
	left()
	loft(1)
	r.Drafts.Refuse("loft", "1x", "no number")
	is("refused after a good one was left", 10)
	r.Editor.Undo()
	is("undone", 9)
}

// TestTheAimIsStamped: what is wanted bears the time it was set and the balls
// seen by then; balls and minutes left, and what is undone, change no stamp.
func TestTheAimIsStamped(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	aim := func(edit func(a *shot.Aim)) {
		r.clock += 60
		r.Editor.Edit(Change{Key: "edit.aim"}, func(s *shot.Session) { edit(&s.Aim) })
	}
	is := func(what string, at int64, seen int) {
		t.Helper()
		if a := r.State().Session.Aim; a.SetAt != at || a.Seen != seen {
			t.Errorf("%s: set at %d after %d balls, want %d and %d", what, a.SetAt, a.Seen, at, seen)
		}
	}
	is("never set", 0, 0)
	aim(func(a *shot.Aim) { a.Goal = shot.GoalCarry })
	first := r.clock
	is("set before the first ball", first, 0)
	r.hit(200)
	r.hit(201)
	is("balls hit", first, 0)
	aim(func(a *shot.Aim) { a.BallsLeft = 20 })
	is("balls left", first, 0)
	aim(func(a *shot.Aim) { a.Goal = shot.GoalFairways })
	is("changed after two balls", r.clock, 2)
	set := r.clock
	r.rest()
	r.Sessions.New()
	r.Loop.Settle()
	is("the next session, of which no ball was seen", set, 0)
}
