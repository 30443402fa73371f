package act

import (
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// answerOf has the open session answered: the second of its settings is better.
func (r *rig) answerOf(chance float64) (today, fresh club.Setting) {
	all := r.State().Session.Settings()
	rep := report.Report{Goal: shot.GoalCarry, Reference: 0, Answer: report.Answer{Setting: 1, Other: 1, Chance: chance}}
	for i, s := range all[:3] {
		rep.Settings = append(rep.Settings, report.Setting{Setting: s, Quantities: []report.Amount{
			{Quantity: shot.Carry, Value: report.Interval{Mean: 200 + float64(i), Lo80: 190, Hi80: 210}}}})
	}
	r.Answers.state = Answer{Phase: Ready, Value: &rep, Edition: r.Editor.edition}
	return all[0], all[1]
}

// Three of today's, three of the new, three of today's; what is hit between with
// another setting, or is left out, moves nothing, and a reload goes on.
func TestAChangeIsHitInTurn(t *testing.T) {
	r := newRig(t)
	r.Sessions.begin(shot.Session{Head: club.Example()})
	r.hit(200)
	r.rest()
	today, fresh := r.answerOf(.8)
	r.Bay.StartTurns(today, fresh)
	other := r.State().Session.Settings()[7]
	want := func(set club.Setting, left int) {
		t.Helper()
		if got, n := r.State().Turn(); !got.Equal(set) || n != left {
			t.Fatalf("to hit: %s, %d balls; want %s, %d", got.Key(), n, set.Key(), left)
		}
	}
	hit := func(set club.Setting) { r.Balls.add(shot.Values{shot.Carry: 200, shot.Offline: 1}, set) }
	want(today, 3)
	hit(today)
	hit(other)
	hit(fresh)
	want(today, 2)
	hit(today)
	hit(today)
	want(fresh, 3)
	hit(fresh)
	r.Balls.Tag(r.State().Session.Shots[len(r.State().Session.Shots)-1].ID, shot.TagOut)
	want(fresh, 3)
	id := r.State().Session.ID
	r.rest()
	r.Sessions.New()
	if r.State().Turns != nil {
		t.Error("another session is hit in turn too")
	}
	r.rest()
	r.Sessions.Open(id)
	r.Loop.Settle()
	for range 3 {
		hit(fresh)
	}
	for range 3 {
		hit(today)
	}
	want(fresh, 0)
	r.Bay.StopTurns()
	if r.Bay.storedTurns(id) != nil {
		t.Error("it is stopped and goes on after a reload")
	}
}

// What is taken up is kept with its chance and what is expected of it, can be
// undone, and is today's setting of the next session, with the history.
func TestWhatIsTakenUpIsTodaysNextTime(t *testing.T) {
	r := newRig(t)
	r.Sessions.begin(shot.Session{Head: club.Example()})
	r.hit(200)
	r.rest()
	today, fresh := r.answerOf(.8)
	r.Bay.Adopt(fresh)
	d := r.State().Session.Adopted
	if d == nil || !d.Setting.Equal(fresh) || d.Chance != .8 || d.Goal != shot.GoalCarry || d.Carry != (shot.Expected{Mean: 201, Lo: 190, Hi: 210}) || d.Side != (shot.Expected{}) {
		t.Fatalf("taken up: %+v", d)
	}
	if r.State().Stale() || !r.State().Session.Head.Current.Equal(club.Example().Current) {
		t.Error("the answer of today's session is another by it")
	}
	r.Editor.Undo()
	if r.State().Session.Adopted != nil {
		t.Error("undone, and it is still there")
	}
	r.answerOf(.8)
	r.Bay.Adopt(today)
	if d := r.State().Session.Adopted; d.Chance < .199 || d.Chance > .201 {
		t.Errorf("kept with a chance of %g, want 1 - .8", d.Chance)
	}
	r.answerOf(.8)
	r.Bay.Adopt(fresh)
	r.rest()
	r.clock += 86400
	r.Sessions.New()
	s := r.State().Session
	if !s.Head.Current.Equal(fresh) || !s.Adopted.Before(*s) {
		t.Errorf("the next session begins with %s, adopted %+v", s.Head.Current.Key(), s.Adopted)
	}
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) { s.Head.Current = today })
	r.rest()
	r.clock += 86400
	r.Sessions.New() // what was set by hand since stands
	if s := r.State().Session; !s.Head.Current.Equal(today) || s.Adopted == nil {
		t.Errorf("the third begins with %s, want %s", s.Head.Current.Key(), today.Key())
	}
	r.Sessions.NewPlayer()
	if r.State().Session.Adopted != nil {
		t.Error("somebody else's decision is carried along")
	}
}
