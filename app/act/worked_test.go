package act

import (
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// carried is an example with an answer that says 7 balls, as the site carries it;
// the worker's says 1.
func carried(t *testing.T, version int) func(string) []byte {
	t.Helper()
	s := shot.Session{ID: "example", Title: "Example", Head: club.Example(), Player: shot.Player{Name: "Sam"},
		Shots: []shot.Shot{{ID: "1", Setting: club.Example().Current, Values: shot.Values{shot.Carry: 200}}}}
	m, err := wire.Result{Version: version, Session: &s, Report: &report.Report{Balls: 7}}.Pack()
	if err != nil {
		t.Fatal(err)
	}
	return func(string) []byte { return m }
}

// An example's answer is the site's where it is the one that the worker would
// give: of this version, and with nothing learned before.
func TestTheExamplesAnswerIsCarried(t *testing.T) {
	open := func(worked func(string) []byte, before func(r *rig)) *rig {
		r := newRig(t)
		r.Loop.deps.Worked = worked
		if before != nil {
			before(r)
		}
		r.worker.asked = 0
		r.Sessions.Example("demo")
		r.rest()
		return r
	}
	named := func(r *rig) { // an earlier visit of the example's player
		r.Sessions.Example("demo")
		r.Keeper.Flush()
		r.Loop.Settle()
		r.clock++
	}
	for _, c := range []struct {
		name         string
		worked       func(string) []byte
		before       func(r *rig)
		balls, asked int
	}{
		{"as it stands", carried(t, wire.Version), nil, 7, 0},
		{"none", func(string) []byte { return nil }, nil, 1, 2},
		{"of another version", carried(t, wire.Version+1), nil, 1, 2},
		{"half a file", func(string) []byte { return carried(t, wire.Version)("")[:40] }, nil, 1, 2},
		{"with an earlier visit", carried(t, wire.Version), named, 1, 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := open(c.worked, c.before)
			s := r.State()
			if s.Answer.Phase != Ready || s.Answer.Value.Balls != c.balls || r.worker.asked != c.asked || r.Answers.stale() {
				t.Fatalf("%+v, the worker was asked %d times; want %d balls, %d times", s.Answer, r.worker.asked, c.balls, c.asked)
			}
			if c.asked == 0 && s.Answer.Value.Made != s.Session.Changed {
				t.Errorf("made %d, the session is of %d", s.Answer.Value.Made, s.Session.Changed)
			}
			r.hit(210)
			r.rest()
			if s := r.State(); s.Answer.Value.Balls != 2 {
				t.Errorf("another ball is not answered anew: %+v", s.Answer.Value)
			}
		})
	}
}
