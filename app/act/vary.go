package act

import (
	"context"

	"ferrule/core/report"
	"ferrule/core/wire"
)

// Varied is the advice in other winds, air and so on, asked for by a tap.
type Varied struct {
	Phase   Phase
	Rows    []report.Variation
	Error   string
	Edition int // of the session that it answers
}

// Vary asks for the advice under other conditions. An answer to an older
// edition of the session is dropped.
func (m *Model) Vary() {
	if !m.answerable() {
		return
	}
	edition := m.s.Edition
	if v := m.s.Varied; v.Edition == edition && (v.Phase == Working || v.Phase == Ready) {
		return
	}
	m.s.Varied = Varied{Phase: Working, Edition: edition}
	m.changed()
	req := wire.Request{Version: wire.Version, Vary: &wire.Vary{Session: Clone(*m.s.Session), Seed: Seed}}
	recall := m.recall(*m.s.Session)
	m.elsewhere(func() func() {
		if recall != nil {
			req.Vary.Before = recall(context.Background())
		}
		res, err := m.deps.Worker.Do(context.Background(), req)
		return func() {
			v := &m.s.Varied
			if v.Edition != edition || v.Phase != Working {
				return
			}
			switch {
			case err != nil:
				v.Phase, v.Error = Failed, err.Error()
			case res.Error != "":
				v.Phase, v.Error = Failed, res.Error
			default:
				v.Phase, v.Rows = Ready, res.Varied
			}
			m.changed()
		}
	})
}
