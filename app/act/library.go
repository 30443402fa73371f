package act

import (
	"context"
	"sort"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// Found lists the stored sessions whose title, player or club holds what is looked
// for, in the order of the list.
func (m *Model) Found(what string) (out []store.Head) {
	what = strings.ToLower(strings.TrimSpace(what))
	for _, h := range m.s.Sessions.Entries {
		if strings.Contains(strings.ToLower(h.Title+"\n"+h.Player+"\n"+strings.Join(h.Clubs, "\n")), what) {
			out = append(out, h)
		}
	}
	return out
}

// NextVisit begins a session of the player of a stored one, with the clubs, the aim
// and what was taken up.
func (m *Model) NextVisit(id string) {
	m.flush()
	m.elsewhere(func() func() {
		before, _, err := m.kept().Get(context.Background(), id)
		return func() {
			if err != nil {
				m.alert("error.open", m.reason(err))
				return
			}
			s := m.blank()
			m.follow(&s, before)
			m.begin(s)
		}
	})
}

// KnownClub is a club that was described in a stored session.
type KnownClub struct{ Name, ID string }

// KnownClubs are the clubs that were described and that the open session does not
// hold, by name, each as it was described last.
func (m *Model) KnownClubs() (out []KnownClub) {
	seen := map[string]bool{}
	for _, h := range m.s.Session.All() {
		seen[strings.ToLower(h.Name)] = true
	}
	for _, e := range m.s.Sessions.Entries { // the last changed first
		for _, name := range e.Clubs {
			if !seen[strings.ToLower(name)] {
				seen[strings.ToLower(name)] = true
				out = append(out, KnownClub{name, e.ID})
			}
		}
	}
	sort.Slice(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// TakeClub adds a club as a stored session describes it, set as it was then; in place
// of a club that nobody has described or hit yet. mine is what the first one is
// called where it has no name.
func (m *Model) TakeClub(k KnownClub, mine string) {
	m.elsewhere(func() func() {
		from, _, err := m.kept().Get(context.Background(), k.ID)
		return func() {
			at := from.ClubAt(k.Name)
			if err != nil || at < 0 {
				m.alert("error.open", m.reason(store.ErrNotFound))
				return
			}
			h := Clone(from).All()[at]
			m.Edit(Change{Key: "edit.head"}, func(s *shot.Session) {
				if b := s.Head; len(s.Shots) == 0 && !s.Several() && b.Name == "" && len(b.Sleeve.Rings)+len(b.Sleeve.Table)+len(b.Weights) == 0 {
					s.Head = h
					return
				}
				s.Front(s.AddClub(h, mine))
			})
		}
	})
}
