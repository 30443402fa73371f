package act

import (
	"context"
	"testing"
	"time"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
)

// slow is a model whose store opens when the test says so, with a session kept
// from last time.
func slow(t *testing.T) (m *Model, open func()) {
	t.Helper()
	now := func() int64 { return 1000 }
	memory := store.New(store.NewMemory(nil), now)
	h := club.Example()
	h.Name = "my driver"
	last := shot.Session{ID: "last", Created: 1, Changed: 1, Head: h, Ball: "own", Player: shot.Player{Name: "Ann", Hand: frame.Left}, Aim: shot.Aim{FairwayWidth: 25}, Conditions: shot.Conditions{Wind: 6},
		Shots: []shot.Shot{{ID: "1", Setting: h.Current, Values: shot.Values{shot.Carry: 200}}}}
	if _, err := memory.Put(context.Background(), last, 0); err != nil {
		t.Fatal(err)
	}
	gate := make(chan struct{})
	m = New(Deps{Worker: &echo{}, Now: func() time.Time { return time.Unix(1000, 0) }, After: func(time.Duration, func()) {},
		Pocket: memoryPocket{PrefsKey: `{"last":"last","auto":true}`}, System: units.Imperial,
		Open: func(context.Context) Place { <-gate; return Place{Store: memory} }})
	m.Boot()
	return m, func() { close(gate); m.Loop.Settle() }
}

// TestNewBeforeTheLastSessionIsThere: who taps faster than the store opens
// keeps the club all the same, and has not lost the session of last time.
func TestNewBeforeTheLastSessionIsThere(t *testing.T) {
	m, open := slow(t)
	m.Sessions.New()
	m.Loop.Drain()
	open()
	s := m.State().Session
	if s == nil || s.ID == "last" || len(s.Shots) != 0 {
		t.Fatalf("open is %+v, want a new session without balls", s)
	}
	if s.Head.Name != "my driver" || len(s.Head.Places()) != len(club.Example().Places()) || s.Player.Hand != frame.Left || s.Aim.FairwayWidth != 25 || s.Ball != "own" {
		t.Errorf("the new session has %q of %d places, hand %q, fairway %v, ball %q: not the last one's", s.Head.Name, len(s.Head.Places()), s.Player.Hand, s.Aim.FairwayWidth, s.Ball)
	}
	if _, _, err := m.Keeper.store.Get(context.Background(), "last"); err != nil {
		t.Errorf("the last session: %v", err)
	}
	if m.State().Prefs.Last != s.ID {
		t.Errorf("opened next time: %q, want the new session", m.State().Prefs.Last)
	}
}

// TestWhatNobodyChoseIsTheBrowsers: language and units follow the browser until
// they are chosen, and then stay; opening a session chooses neither.
func TestWhatNobodyChoseIsTheBrowsers(t *testing.T) {
	pocket := memoryPocket{}
	start := func(language string, system units.System) *Model {
		m := New(Deps{Worker: &echo{}, After: func(time.Duration, func()) {}, Pocket: pocket, Language: language, System: system,
			Open: func(context.Context) Place {
				return Place{Store: store.New(store.NewMemory(nil), func() int64 { return 1 })}
			}})
		m.Boot()
		m.Loop.Settle()
		return m
	}
	is := func(what string, m *Model, language string, system units.System) {
		t.Helper()
		if p := m.State().Prefs; p.Language != language || p.System != system {
			t.Errorf("%s: %q and %q, want %q and %q", what, p.Language, p.System, language, system)
		}
	}
	m := start("de", units.Metric)
	is("first start", m, "de", units.Metric)
	m.Sessions.New()
	m.Loop.Settle()
	is("after a session", m, "de", units.Metric)
	m = start("ja", units.Imperial)
	is("in another browser language", m, "ja", units.Imperial)
	m.Preferences.Set(func(p *Prefs) { p.Language = "es" })
	is("the language chosen, the units not", start("ko", units.Metric), "es", units.Metric)
	m.Preferences.Set(func(p *Prefs) { p.System = units.MetricMPS })
	is("both chosen", start("ko", units.Metric), "es", units.MetricMPS)
}

// TestNewPlayerKeepsTheClubAlone: name, hand and aim are somebody else's.
func TestNewPlayerKeepsTheClubAlone(t *testing.T) {
	for name, early := range map[string]bool{"before the last session is open": true, "after the last session is open": false} {
		t.Run(name, func(t *testing.T) {
			m, open := slow(t)
			if !early {
				open()
			}
			m.Sessions.NewPlayer()
			if early {
				open()
			}
			m.Loop.Settle()
			s := m.State().Session
			if s == nil || s.ID == "last" || s.Head.Name != "my driver" || s.Ball != "own" {
				t.Fatalf("%+v, want the club of before", s)
			}
			if s.Player.Name != "" || s.Player.Hand != frame.Right || s.Aim.FairwayWidth != 0 || s.Conditions.Wind != 0 {
				t.Errorf("the new player is %+v with aim %+v", s.Player, s.Aim)
			}
		})
	}
}

// TestEachPlayersClubStaysAsItWasSet: a fitter sets the club for one player,
// goes to the other and comes back, and the page may be loaded anew meanwhile.
func TestEachPlayersClubStaysAsItWasSet(t *testing.T) {
	m, open := slow(t)
	open()
	all := Settings(m.State().Session)
	first := m.State().Session.ID
	m.Bay.SetNext(all[3])
	m.Sessions.NewPlayer()
	m.Loop.Settle()
	if got := Now(m.State()); !got.Equal(all[0]) {
		t.Errorf("the next player begins with %q, want today's %q", got.Key(), all[0].Key())
	}
	m.Bay.SetNext(all[5])
	m.Keeper.Flush()
	m.Loop.Settle()
	second := m.State().Session.ID
	m.Sessions.Open(first)
	m.Loop.Settle()
	if got := Now(m.State()); !got.Equal(all[3]) {
		t.Errorf("back with the first player: %q, want %q", got.Key(), all[3].Key())
	}
	again := New(m.Loop.deps)
	again.Loop.deps.Open = func(context.Context) Place { return Place{Store: m.Keeper.store} }
	again.Boot()
	again.Loop.Settle()
	if got := Now(again.State()); !got.Equal(all[3]) {
		t.Errorf("loaded again: %q, want %q", got.Key(), all[3].Key())
	}
	again.Sessions.Open(second)
	again.Loop.Settle()
	if got := Now(again.State()); !got.Equal(all[5]) {
		t.Errorf("the second player, loaded again: %q, want %q", got.Key(), all[5].Key())
	}
	again.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) { s.Head = club.Head{Kind: "driver", Loft: .2} })
	if got := Now(again.State()); got.Equal(all[5]) {
		t.Errorf("a setting that the club no longer has is still the next one: %q", got.Key())
	}
}

// TestNewBesideALink: the club is one's own, not that of the link.
func TestNewBesideALink(t *testing.T) {
	m, open := slow(t)
	m.Sessions.Show(shot.Session{ID: "shared", Head: club.Head{Name: "another's"}}, nil, false)
	open()
	m.Sessions.New()
	m.Loop.Settle()
	if s := m.State().Session; s.Head.Name != "my driver" || m.State().ReadOnly {
		t.Errorf("new beside a link: %q, read only %v", s.Head.Name, m.State().ReadOnly)
	}
}

// A new session has all clubs of the one before; somebody else those that are not
// the one before's own.
func TestWhoseClubsAreCarriedAlong(t *testing.T) {
	r := newRig(t)
	r.Sessions.Example("demo")
	r.Loop.Settle()
	r.Editor.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
		s.Head.Name = "mine"
		s.AddClub(club.Head{Name: "shop head", Loft: .18, Lie: 1, Mass: .2}, "mine")
		s.Own = "mine"
	})
	r.rest()
	r.Sessions.New()
	if s := r.State().Session; s.Head.Name != "mine" || len(s.Clubs) != 1 || s.Own != "mine" {
		t.Errorf("the same player has %q, %d more, own %q", s.Head.Name, len(s.Clubs), s.Own)
	}
	r.Sessions.NewPlayer()
	if s := r.State().Session; s.Head.Name != "shop head" || len(s.Clubs) != 0 || s.Own != "" {
		t.Errorf("somebody else has %q, %d more, own %q", s.Head.Name, len(s.Clubs), s.Own)
	}
}
