package act

import (
	"context"
	"errors"
	"math"
	"sync/atomic"
	"time"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/wire"
)

// Answers has the answer to the open session and asks for it.
type Answers struct {
	loop    *Loop
	notices *Notices
	editor  *Editor
	bay     *Bay
	memory  *Memory
	prefs   *Preferences

	state  Answer
	cancel context.CancelFunc // of the running analysis
	serial int                // of analyses: a late answer of an older one is dropped
	held   bool               // the person stopped the analysis: not to be started by itself until the next edit

	running    atomic.Int64  // serial of the analysis whose progress is told
	done       atomic.Uint64 // bits of the share that is done
	onProgress atomic.Pointer[func()]
}

// pause is how long the hands must rest before a change is answered: an
// analysis started at every key would be thrown away at the next.
const pause = 600 * time.Millisecond

// Seed fixes the random numbers of every analysis. It is one constant so that
// the same session gives the same report on every device.
const Seed = 1

// show takes an answer that is there.
func (a *Answers) show(v Answer) { a.state = v }

func (a *Answers) idle() { a.state.Phase = Idle }

// schedule asks for a new answer once the hands rest.
func (a *Answers) schedule() {
	if !a.prefs.now.Auto || !a.answerable() {
		return
	}
	a.held = false
	edition := a.editor.edition
	if a.state.Value != nil && a.state.Edition == edition {
		return
	}
	a.loop.later(pause, func() {
		if a.editor.edition == edition && a.editor.session != nil && a.stale() {
			a.Analyse()
		}
	})
}

// stale reports whether the session has numbers that no report answers.
func (a *Answers) stale() bool {
	return a.state.Value == nil || a.state.Edition != a.editor.edition
}

// answerable reports whether there is anything to answer: one ball at least.
func (a *Answers) answerable() bool {
	return a.editor.session != nil && len(a.editor.session.Shots) > 0
}

// Analyse asks the worker for the whole answer to the open session. An older
// question that is still open is given up.
func (a *Answers) Analyse() {
	if a.answerable() {
		a.inquire(wire.Request{Version: wire.Version, Analyse: &wire.Analyse{Session: a.bay.timed(*a.editor.session), Seed: Seed}})
	}
}

// inquire asks the worker for a report of the open session.
func (a *Answers) inquire(req wire.Request) {
	a.stop()
	ctx, cancel := context.WithCancel(context.Background())
	a.cancel = cancel
	a.serial++
	serial, edition := a.serial, a.editor.edition
	a.running.Store(int64(serial))
	a.state.Phase, a.state.Error = Working, nil
	a.done.Store(0)
	a.loop.changed()
	recall := a.memory.recall(*a.editor.session)
	a.loop.elsewhere(func() func() {
		a.loop.deps.Drawn() // a phone that analyses draws at half its speed
		if req.Analyse != nil && recall != nil {
			req.Analyse.Before = recall(ctx)
		}
		res, err := a.ask(ctx, req, serial)
		return func() {
			if serial != a.serial {
				return
			}
			cancel()
			a.cancel = nil
			switch {
			case err != nil && errors.Is(err, context.Canceled):
				a.state.Phase = rest(a.state.Value)
			case err != nil:
				a.state.Phase, a.state.Error = Failed, err
			case res.Report == nil:
				a.state.Phase, a.state.Error = Failed, message.New("problem.stopped")
			default:
				a.state = Answer{Phase: Ready, Value: res.Report, Edition: edition}
			}
			a.loop.changed()
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
func (a *Answers) Cancel() {
	if a.cancel == nil {
		return
	}
	a.stop()
	a.held = true
	a.state.Phase = rest(a.state.Value)
	a.notices.Tell("notice.cancelled", false)
}

func (a *Answers) stop() {
	if a.cancel != nil {
		a.cancel()
		a.cancel = nil
		a.serial++
	}
}

// Pending reports whether an answer is asked for or about to be.
func (a *Answers) Pending() bool {
	return a.prefs.now.Auto && a.answerable() && a.state.Phase != Failed && a.state.Phase != Working && a.stale() && !a.held
}

// ask hands an analysis to the worker and shows on the way how far it is.
func (a *Answers) ask(ctx context.Context, r wire.Request, serial int) (wire.Result, error) {
	t, ok := a.loop.deps.Worker.(Teller)
	if !ok {
		return wrong(a.loop.deps.Worker.Do(ctx, r))
	}
	return wrong(t.DoWith(ctx, r, func(p wire.Progress) {
		if p.Step == wire.Again && a.running.Load() == int64(serial) {
			a.done.Store(0)
			a.loop.post(func() { a.notices.Tell("notice.again", false) })
			return
		}
		if a.running.Load() != int64(serial) || p.Done < a.Progress()+0.02 {
			return
		}
		a.done.Store(math.Float64bits(p.Done))
		if wake := a.onProgress.Load(); wake != nil {
			(*wake)()
		}
	}))
}

// Progress is the share [1] of the running analysis that is done, 0 = unknown.
func (a *Answers) Progress() float64 { return math.Float64frombits(a.done.Load()) }

// OnProgress has wake called, on any goroutine, when Progress has grown, until
// end is called. The state is not changed by progress, so that no page need be
// drawn.
func (a *Answers) OnProgress(wake func()) (end func()) {
	mine := &wake
	a.onProgress.Store(mine)
	return func() { a.onProgress.CompareAndSwap(mine, nil) }
}

// Answer is the report to the session.
type Answer struct {
	Phase   Phase
	Value   *report.Report // the newest that is known, nil = none yet
	Edition int            // of the session that Value answers
	Error   error
}

// Stale reports whether the report answers an older edition of the session.
func (s State) Stale() bool {
	return s.Answer.Value != nil && s.Answer.Edition != s.Edition
}

// older is the answer as one to an older edition; one that came with a session is
// none to another.
func (a Answer) older() Answer {
	if a.Value == nil || a.Value.Given {
		return Answer{}
	}
	return Answer{Phase: Ready, Value: a.Value, Edition: -1}
}

// anew has the answer worked out anew: what is counted beside today's balls is
// another.
func (a *Answers) anew() {
	a.state.Edition = -1
	a.editor.raise()
	a.schedule()
	a.loop.changed()
}
