package act

import (
	"testing"
	"time"

	"ferrule/core/shot"
)

// A ball that was typed is there after a kill at any moment, also when the next
// one was begun before it could be stored, and it is there once.
func TestATypedBallOutlivesTheNextOne(t *testing.T) {
	carry := EntryField(shot.Carry)
	typed := func(r *rig, text string, v float64) {
		r.Drafts.Put(carry, text, "")
		r.Balls.AddTyped(shot.Values{shot.Carry: v}, Now(r.State()), []string{carry})
	}
	for _, rests := range []bool{false, true} {
		r := newRig(t)
		r.Sessions.New()
		r.hit(180)
		r.rest()
		id := r.State().Session.ID
		typed(r, "201", 201)
		typed(r, "202", 202)
		r.Editor.Undo()
		typed(r, "203", 203)
		r.Drafts.Put(carry, "20", "")
		if rests {
			r.rest()
		}
		again := &rig{worker: r.worker, memory: r.memory}
		again.Model = New(Deps{Worker: r.worker, Pocket: r.Loop.deps.Pocket, Open: r.Loop.deps.Open, Now: r.Loop.deps.Now,
			After: func(d time.Duration, f func()) {
				if d < 5*time.Second {
					again.timers = append(again.timers, f)
				}
			}})
		again.Boot()
		again.Loop.Settle()
		again.rest()
		again.Sessions.Open(id)
		again.rest()
		s := again.State().Session
		var got []float64
		for _, h := range s.Shots {
			got = append(got, h.Values[shot.Carry])
		}
		if len(got) != 3 || got[0] != 180 || got[1] != 201 || got[2] != 203 {
			t.Errorf("stored first %v: after the kill the balls are %v, want 180, 201, 203", rests, got)
		}
		if d := again.State().Drafts[carry].Text; d != "20" {
			t.Errorf("stored first %v: half typed is %q, want 20", rests, d)
		}
		if keys := r.Loop.deps.Pocket.Keys(ballKey(id, "")); len(keys) != 0 {
			t.Errorf("stored first %v: %v are kept for ever", rests, keys)
		}
	}
}
