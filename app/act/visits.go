package act

import (
	"context"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// Visits is two stored sessions compared.
type Visits struct {
	Phase Phase
	Value *report.FollowUp
	Error string
}

// CompareVisits compares two stored sessions; the open one is taken as it
// stands on the screen. Only the newest question is answered.
func (m *Model) CompareVisits(before, now string) {
	m.flush()
	m.visits++
	serial := m.visits
	m.s.Visits = Visits{Phase: Working}
	m.changed()
	open := m.s.Session
	m.elsewhere(func() func() {
		f, err := m.twoVisits(before, now, open)
		return func() {
			if serial != m.visits {
				return
			}
			v := &m.s.Visits
			switch {
			case err != nil:
				v.Phase, v.Error = Failed, err.Error()
			case f.Error != "":
				v.Phase, v.Error = Failed, f.Error
			case f.Follow == nil:
				v.Phase, v.Error = Failed, "the worker sent no comparison"
			default:
				v.Phase, v.Value = Ready, f.Follow
			}
			m.changed()
		}
	})
}

// twoVisits fetches both sessions and asks the worker; it runs off the screen.
func (m *Model) twoVisits(before, now string, open *shot.Session) (wire.Result, error) {
	get := func(id string) (shot.Session, error) {
		if open != nil && open.ID == id {
			return Clone(*open), nil
		}
		s, _, err := m.kept().Get(context.Background(), id)
		return s, err
	}
	a, err := get(before)
	if err != nil {
		return wire.Result{}, err
	}
	b, err := get(now)
	if err != nil {
		return wire.Result{}, err
	}
	return m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version,
		Follow: &wire.Follow{Before: a, Now: b, Seed: Seed}})
}
