package act

import (
	"context"
	"errors"
	"testing"
	"time"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/wire"
)

// comparer answers Follow with the titles it was sent.
type comparer struct{ err error }

func (c comparer) Do(_ context.Context, r wire.Request) (wire.Result, error) {
	if r.Follow == nil {
		return wire.Result{Report: &report.Report{}}, nil
	}
	return wire.Result{Follow: &report.FollowUp{Before: r.Follow.Before.Title, Now: r.Follow.Now.Title}}, c.err
}

// TestTwoStoredVisitsAreCompared: the one that is not open comes from the
// store, the open one as it stands on the screen, and a session that is gone
// is said.
func TestTwoStoredVisitsAreCompared(t *testing.T) {
	kept := store.New(store.NewMemory(nil), func() int64 { return 1 })
	if _, err := kept.Put(context.Background(), shot.Session{ID: "spring", Title: "Spring"}, 0); err != nil {
		t.Fatal(err)
	}
	c := &comparer{}
	m := New(Deps{Worker: c, Open: func(context.Context) Place { return Place{Store: kept} },
		After: func(time.Duration, func()) {}})
	m.Boot()
	m.Loop.Settle()
	m.Sessions.New()
	m.Loop.Settle()
	m.Editor.Edit(Change{Key: "edit.name"}, func(s *shot.Session) { s.Title = "Autumn, not saved yet" })
	m.Clients.Compare("spring", m.State().Session.ID)
	m.Loop.Settle()
	if v := m.State().Visits; v.Phase != Ready || v.Value == nil || v.Value.Before != "Spring" || v.Value.Now != "Autumn, not saved yet" {
		t.Fatalf("%+v %+v", v, v.Value)
	}
	m.Clients.Compare("spring", "nowhere")
	m.Loop.Settle()
	if v := m.State().Visits; v.Phase != Failed || v.Error == nil || v.Value != nil {
		t.Errorf("a session that is gone: %+v", v)
	}
	c.err = errors.New("the worker fell over")
	m.Clients.Compare("spring", "spring")
	m.Loop.Settle()
	if v := m.State().Visits; v.Phase != Failed || v.Error != c.err {
		t.Errorf("%+v", v)
	}
}
