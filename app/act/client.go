package act

import (
	"context"
	"sort"

	"ferrule/core/shot"
)

// Client is one player in the library: all his visits, and nobody else's.
type Client struct {
	Name   string
	Visits []shot.Session // the newest first
}

// ShowClient gathers the visits of a player. One that cannot be read is among the
// damaged sessions.
func (m *Model) ShowClient(name string) {
	m.flush()
	m.s.Client = Client{Name: name}
	list := m.s.Sessions.Entries
	m.changed()
	m.elsewhere(func() func() {
		var visits []shot.Session
		for _, h := range list {
			if called(h.Player, name) {
				if s, _, err := m.kept().Get(context.Background(), h.ID); err == nil && called(s.Player.Name, name) { // a name may change meanwhile
					visits = append(visits, s)
				}
				m.deps.Rest()
			}
		}
		sort.SliceStable(visits, func(i, j int) bool { return visits[i].Created > visits[j].Created })
		return func() {
			if m.s.Client.Name == name {
				m.s.Client.Visits = visits
				m.changed()
			}
		}
	})
}
