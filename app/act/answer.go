package act

import (
	"context"
	"errors"
	"math"
	"time"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// pause is how long the hands must rest before a change is answered: an
// analysis started at every key would be thrown away at the next.
const pause = 600 * time.Millisecond

// Seed fixes the random numbers of every analysis. It is one constant so that
// the same session gives the same report on every device.
const Seed = 1

// schedule asks for a new answer once the hands rest.
func (m *Model) schedule() {
	if !m.s.Prefs.Auto || !m.answerable() {
		return
	}
	m.held = false
	edition := m.s.Edition
	if m.s.Answer.Value != nil && m.s.Answer.Edition == edition {
		return
	}
	m.later(pause, func() {
		if m.s.Edition == edition && m.s.Session != nil && m.Stale() {
			m.Analyse()
		}
	})
}

// Stale reports whether the session has numbers that no report answers.
func (m *Model) Stale() bool {
	return m.s.Answer.Value == nil || m.s.Answer.Edition != m.s.Edition
}

// answerable reports whether there is anything to answer: one ball at least.
func (m *Model) answerable() bool {
	return m.s.Session != nil && len(m.s.Session.Shots) > 0
}

// Analyse asks the worker for the whole answer to the open session. An older
// question that is still open is given up.
func (m *Model) Analyse() {
	if m.answerable() {
		m.inquire(wire.Request{Version: wire.Version, Analyse: &wire.Analyse{Session: m.timed(*m.s.Session), Seed: Seed}})
	}
}

// inquire asks the worker for a report of the open session.
func (m *Model) inquire(req wire.Request) {
	m.stopAnalysis()
	ctx, cancel := context.WithCancel(context.Background())
	m.cancel = cancel
	m.serial++
	serial, edition := m.serial, m.s.Edition
	m.running.Store(int64(serial))
	m.s.Answer.Phase, m.s.Answer.Error = Working, ""
	m.done.Store(0)
	m.changed()
	recall := m.recall(*m.s.Session)
	m.elsewhere(func() func() {
		m.deps.Drawn() // a phone that analyses draws at half its speed
		if req.Analyse != nil && recall != nil {
			req.Analyse.Before = recall(ctx)
		}
		res, err := m.ask(ctx, req, serial)
		return func() {
			if serial != m.serial {
				return
			}
			cancel()
			m.cancel = nil
			switch {
			case err != nil && errors.Is(err, context.Canceled):
				m.s.Answer.Phase = rest(m.s.Answer.Value)
			case err != nil:
				m.s.Answer.Phase, m.s.Answer.Error = Failed, err.Error()
			case res.Error != "":
				m.s.Answer.Phase, m.s.Answer.Error = Failed, res.Error
			case res.Report == nil:
				m.s.Answer.Phase, m.s.Answer.Error = Failed, "the worker sent no report"
			default:
				m.s.Answer = Answer{Phase: Ready, Value: res.Report, Edition: edition}
			}
			m.changed()
		}
	})
}

func rest(v *report.Report) Phase {
	if v == nil {
		return Idle
	}
	return Ready
}

// Cancel gives the running analysis up; what was known stays.
func (m *Model) Cancel() {
	if m.cancel == nil {
		return
	}
	m.stopAnalysis()
	m.held = true
	m.s.Answer.Phase = rest(m.s.Answer.Value)
	m.say("notice.cancelled", false)
}

func (m *Model) stopAnalysis() {
	if m.cancel != nil {
		m.cancel()
		m.cancel = nil
		m.serial++
	}
}

// Fly flies launches for the "what if" sliders in the session's air. Only the
// newest question is answered.
func (m *Model) Fly(l []wire.Launch) {
	// The context is not cancelled at the border: ending the worker for each
	// move of a finger would cost more than a flight. Late answers are dropped.
	m.s.Flights.Serial++
	serial := m.s.Flights.Serial
	m.s.Flights.Phase = Working
	var c shot.Conditions
	if m.s.Session != nil {
		c = m.s.Session.Stated()
	}
	var ball *report.Ball // what the answer flies
	if r := m.s.Answer.Value; r != nil {
		ball = r.Ball
	}
	req := wire.Request{Version: wire.Version, Fly: &wire.Fly{Launches: l, Conditions: c, Ball: ball}}
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), req)
		return func() {
			if serial != m.s.Flights.Serial {
				return
			}
			f := Flights{Phase: Ready, Serial: serial, Flights: res.Flights, Error: res.Error}
			if err != nil {
				f.Error = err.Error()
			}
			if f.Error != "" {
				f.Phase = Failed
			}
			m.s.Flights = f
			m.changed()
		}
	})
}

// Pending reports whether an answer is asked for or about to be.
func (m *Model) Pending() bool {
	return m.s.Prefs.Auto && m.answerable() && m.s.Answer.Phase != Failed && m.s.Answer.Phase != Working && m.Stale() && !m.held
}

// ask hands an analysis to the worker and shows on the way how far it is.
func (m *Model) ask(ctx context.Context, r wire.Request, serial int) (wire.Result, error) {
	t, ok := m.deps.Worker.(Teller)
	if !ok {
		return m.deps.Worker.Do(ctx, r)
	}
	return t.DoWith(ctx, r, func(p wire.Progress) {
		if p.Step == wire.Again && m.running.Load() == int64(serial) {
			m.done.Store(0)
			m.post(func() { m.say("notice.again", false) })
			return
		}
		if m.running.Load() != int64(serial) || p.Done < m.Progress()+0.02 {
			return
		}
		m.done.Store(math.Float64bits(p.Done))
		if wake := m.onProgress.Load(); wake != nil {
			(*wake)()
		}
	})
}

// Progress is the share [1] of the running analysis that is done, 0 = unknown.
func (m *Model) Progress() float64 { return math.Float64frombits(m.done.Load()) }

// OnProgress has wake called, on any goroutine, when Progress has grown, until
// end is called. The state is not changed by progress, so that no page need be
// drawn.
func (m *Model) OnProgress(wake func()) (end func()) {
	mine := &wake
	m.onProgress.Store(mine)
	return func() { m.onProgress.CompareAndSwap(mine, nil) }
}
