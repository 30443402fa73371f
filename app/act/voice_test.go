package act

import (
	"context"
	"errors"
	"reflect"
	"testing"

	"ferrule/core/wire"
)

// What was heard goes to the analysis in the person's language, and comes back to who
// asked; nothing is entered by that, and where the analysis fails it is said.
func TestHear(t *testing.T) {
	r := newRig(t)
	r.Sessions.New()
	r.Preferences.Set(func(p *Prefs) { p.Language = "de" })
	r.rest()
	var asked *wire.Hear
	r.Loop.deps.Worker = ears(func(q wire.Request) (wire.Result, error) {
		asked = q.Hear
		return wire.Result{Heard: []string{"245", "12 R"}}, nil
	})
	var got []string
	r.Voice.Hear("zwei vier fünf", func(ball []string) { got = ball })
	r.Loop.Settle()
	if !reflect.DeepEqual(got, []string{"245", "12 R"}) || asked == nil || *asked != (wire.Hear{Text: "zwei vier fünf", Language: "de"}) {
		t.Errorf("got %q, asked %+v", got, asked)
	}
	if s := r.State(); len(s.Session.Shots) != 0 || len(s.Drafts) != 0 {
		t.Errorf("entered: %v, %v", s.Session.Shots, s.Drafts)
	}
	r.Loop.deps.Worker = ears(func(wire.Request) (wire.Result, error) { return wire.Result{}, errors.New("stopped") })
	r.Voice.Hear("x", func([]string) { t.Error("told of what was not read") })
	r.Loop.Settle()
	if n := r.State().Notice; n.Key != "error.answer" || !n.Alert {
		t.Errorf("the notice is %+v", n)
	}
}

// ears is a Worker that hears.
type ears func(wire.Request) (wire.Result, error)

func (e ears) Do(_ context.Context, q wire.Request) (wire.Result, error) { return e(q) }
