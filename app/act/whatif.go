package act

import (
	"context"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// WhatIf asks what would be: of other launches, and under other conditions.
type WhatIf struct {
	loop    *Loop
	editor  *Editor
	answers *Answers
	memory  *Memory

	flights Flights
	varied  Varied
}

// Varied is the advice in other winds, air and so on, asked for by a tap.
type Varied struct {
	Phase   Phase
	Rows    []report.Variation
	Error   error
	Edition int // of the session that it answers
}

// Vary asks for the advice under other conditions. An answer to an older
// edition of the session is dropped.
func (w *WhatIf) Vary() {
	if !w.answers.answerable() {
		return
	}
	edition := w.editor.edition
	if v := w.varied; v.Edition == edition && (v.Phase == Working || v.Phase == Ready) {
		return
	}
	w.varied = Varied{Phase: Working, Edition: edition}
	w.loop.changed()
	req := wire.Request{Version: wire.Version, Vary: &wire.Vary{Session: Clone(*w.editor.session), Seed: Seed}}
	recall := w.memory.recall(*w.editor.session)
	w.loop.elsewhere(func() func() {
		if recall != nil {
			req.Vary.Before = recall(context.Background())
		}
		res, err := wrong(w.loop.deps.Worker.Do(context.Background(), req))
		return func() {
			v := &w.varied
			if v.Edition != edition || v.Phase != Working {
				return
			}
			switch {
			case err != nil:
				v.Phase, v.Error = Failed, err
			default:
				v.Phase, v.Rows = Ready, res.Varied
			}
			w.loop.changed()
		}
	})
}

// Flights are the flown launches of the "what if" sliders.
type Flights struct {
	Phase   Phase
	Serial  int
	Flights []wire.Flight
	Error   error
}

// Fly flies launches for the "what if" sliders in the session's air. Only the
// newest question is answered.
func (w *WhatIf) Fly(l []wire.Launch) {
	// The context is not cancelled at the border: ending the worker for each
	// move of a finger would cost more than a flight. Late answers are dropped.
	w.flights.Serial++
	serial := w.flights.Serial
	w.flights.Phase = Working
	var c shot.Conditions
	if w.editor.session != nil {
		c = w.editor.session.Stated()
	}
	var ball *report.Ball // what the answer flies
	if r := w.answers.state.Value; r != nil {
		ball = r.Ball
	}
	req := wire.Request{Version: wire.Version, Fly: &wire.Fly{Launches: l, Conditions: c, Ball: ball}}
	w.loop.elsewhere(func() func() {
		res, err := wrong(w.loop.deps.Worker.Do(context.Background(), req))
		return func() {
			if serial != w.flights.Serial {
				return
			}
			f := Flights{Phase: Ready, Serial: serial, Flights: res.Flights, Error: err}
			if err != nil {
				f.Phase = Failed
			}
			w.flights = f
			w.loop.changed()
		}
	})
}
