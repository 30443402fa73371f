package act

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// Worker answers requests away from the screen. A cancelled context ends the
// work; app/bridge is the real one.
type Worker interface {
	Do(ctx context.Context, r wire.Request) (wire.Result, error)
}

// Teller is a Worker that tells on the way how far it is.
type Teller interface {
	DoWith(ctx context.Context, r wire.Request, progress func(wire.Progress)) (wire.Result, error)
}

// Pocket keeps what is no session: preferences, half-typed balls, files that
// wait. It is read at once; what is saved is on the disk when Wait has returned.
type Pocket interface {
	Load(key string) string
	Save(key, text string) // an empty text forgets the key
	Keys(prefix string) []string
}

// Journal is a Pocket whose writing takes a while.
type Journal interface {
	Pocket
	// Begin reads what is kept; until then Load knows what the start needs.
	Begin(ctx context.Context) error
	// Wait returns when all that was saved before is on the disk, or why it is not.
	Wait(ctx context.Context) error
	// Watch has f called with the keys that another tab changed.
	Watch(f func(keys []string))
}

// Place is where sessions are kept.
type Place struct {
	Store   store.Store
	Watch   func(f func(keys []string)) // tells what another tab changed; may be nil
	Persist func() bool                 // asks the browser to keep it; may be nil
	Trouble func(f func())              // tells that the place was lost or found again; may be nil
	Retry   func(ctx context.Context)   // tries to find it again; may be nil
}

// Deps is what a Model works with. Worker and Open are needed; the rest has
// defaults.
type Deps struct {
	Worker Worker
	Open   func(ctx context.Context) Place // called once, away from the screen
	Pocket Pocket
	Now    func() time.Time
	NewID  func() string
	After  func(d time.Duration, f func()) // runs f later, on any goroutine
	Rest   func()                          // gives the screen's thread back for a moment; nil = not needed
	Words  func(language string)           // waits for the words of a language; nil = they are there
	Drawn  func()                          // waits until the screen shows the state; nil = it does
	Worked func(name string) []byte        // an example and its answer as the site carries them; nil = it does not
	// Language is the browser's, for who has chosen none; empty = English.
	Language string
	System   units.System // likewise; empty = imperial
}

// Model is the state and its actions. Its methods are called on one
// goroutine, the screen's; work done elsewhere returns through a queue that
// Drain empties on that goroutine, after Wake has asked for it.
type Model struct {
	deps   Deps
	place  Place
	store  store.Store   // once Boot has opened it
	opened chan struct{} // closed when store is there
	s      State

	undo, redo []step
	revision   int             // stored revision of the open session
	base       *shot.Session   // as it was stored then, for a merge
	noting     bool            // the journal is being written
	noted      int             // of writes to the journal
	typed      map[string]bool // keys of the balls that this run of the program noted
	keptPrefs  Prefs           // as they are stored
	dirty      bool
	saveAsked  bool
	saving     *saving // asked for last
	paperAsked bool

	cancel context.CancelFunc // of the running analysis
	serial int                // of analyses: a late answer of an older one is dropped
	reads  int

	running    atomic.Int64  // serial of the analysis whose progress is told
	done       atomic.Uint64 // bits of the share that is done
	onProgress atomic.Pointer[func()]

	spoken, measured bool // the language, the units were chosen by the person

	fileNo  int       // of files that came in
	waiting []File    // after the one that is read
	shown   string    // key in the journal of the file whose session is shown
	held    bool      // the person stopped the analysis: not to be started by itself until the next edit
	gone    []deleted // sessions removed since the page was opened
	visits  int       // of comparisons of visits, as serial

	records map[string]*HeadRecord // by their keys in the journal
	counted string                 // earlier visits, as the answer was asked for

	mu    sync.Mutex
	queue []func()
	wake  func()
	busy  sync.WaitGroup
}

type step struct {
	session shot.Session
	change  Change
	edition int
}

// Change names an edit. Edits that follow each other in the same Field are
// one step of undo.
type Change struct {
	Key   string // text key, "edit.aim"
	Field string // input field, empty = a step of its own
	Quiet bool   // changes no number: the report stays good
}

// New returns a model with nothing open. Call Boot next.
func New(d Deps) *Model {
	if d.Now == nil {
		d.Now = time.Now
	}
	if d.After == nil {
		d.After = func(t time.Duration, f func()) { time.AfterFunc(t, f) }
	}
	if d.NewID == nil {
		d.NewID = newID
	}
	if d.Rest == nil {
		d.Rest = func() {}
	}
	if d.Drawn == nil {
		d.Drawn = func() {}
	}
	if d.Pocket == nil {
		d.Pocket = memoryPocket{}
	}
	m := &Model{deps: d, opened: make(chan struct{}), typed: map[string]bool{}}
	m.s.Drafts = map[string]Draft{}
	m.loadPrefs()
	m.loadRecords()
	return m
}

// State returns what is to be shown.
func (m *Model) State() State { return m.s }

// Attach says how the screen is told that there is something new; nil detaches.
func (m *Model) Attach(wake func()) {
	m.mu.Lock()
	m.wake = wake
	m.mu.Unlock()
}

// Drain runs what came back from elsewhere, on the screen's goroutine.
func (m *Model) Drain() {
	for {
		m.mu.Lock()
		if len(m.queue) == 0 {
			m.mu.Unlock()
			return
		}
		f := m.queue[0]
		m.queue = m.queue[1:]
		m.mu.Unlock()
		f()
	}
}

// Settle waits for all work elsewhere and runs what it brought: for tests.
func (m *Model) Settle() {
	for {
		m.busy.Wait()
		m.mu.Lock()
		n := len(m.queue)
		m.mu.Unlock()
		if n == 0 {
			return
		}
		m.Drain()
	}
}

// post queues f for the screen's goroutine.
func (m *Model) post(f func()) {
	m.mu.Lock()
	m.queue = append(m.queue, f)
	wake := m.wake
	m.mu.Unlock()
	if wake != nil {
		wake()
	}
}

// elsewhere does work on its own goroutine and hands its outcome back.
func (m *Model) elsewhere(work func() (done func())) {
	m.busy.Add(1)
	go func() {
		done := work()
		m.deps.Rest()
		m.post(done)
		m.busy.Done()
	}()
}

// later runs f on the screen's goroutine after a while.
func (m *Model) later(d time.Duration, f func()) {
	m.deps.After(d, func() { m.post(f) })
}

func (m *Model) changed() {
	m.mu.Lock()
	wake := m.wake
	m.mu.Unlock()
	if wake != nil {
		wake()
	}
}

const undoDepth = 200

// Edit changes the open session through f. The state before it can be brought
// back by Undo; the session is stored within a second and answered anew.
//
// Edits of one field in a row are one: f changes the session as it was before
// the first of them, so that what stood in the field on the way, such as "1"
// before "12", leaves no trace.
func (m *Model) Edit(c Change, f func(*shot.Session)) {
	if m.s.Session == nil {
		return
	}
	if m.s.ReadOnly {
		m.say("notice.read-only", false)
		return
	}
	before := *m.s.Session
	n := len(m.undo)
	again := c.Field != "" && n > 0 && m.undo[n-1].change.Field == c.Field
	if again {
		before = m.undo[n-1].session
	}
	after := Clone(before)
	f(&after)
	after.Changed = m.deps.Now().Unix()
	if !after.Aim.Wants(before.Aim) {
		after.Aim.SetAt, after.Aim.Seen = after.Changed, len(before.Shots)
	}
	if !again {
		m.undo = append(m.undo, step{before, c, m.s.Edition})
		if len(m.undo) > undoDepth {
			m.undo = m.undo[1:]
		}
	}
	m.redo = nil
	if n := m.s.Notice; n.Undo && n.Key != sessionRemoved { // its Undo would now take back this edit
		m.s.Notice = Notice{Serial: n.Serial}
	}
	if !c.Quiet {
		m.s.Edition++
	}
	m.put(after)
}

// put makes s the open session, to be stored and answered.
func (m *Model) put(s shot.Session) {
	m.s.Session = &s
	m.labels()
	m.markDirty()
	m.schedule()
	m.changed()
}

func (m *Model) labels() {
	m.s.Undo, m.s.Redo = "", ""
	if n := len(m.undo); n > 0 {
		m.s.Undo = m.undo[n-1].change.Key
	}
	if n := len(m.redo); n > 0 {
		m.s.Redo = m.redo[n-1].change.Key
	}
}

// Undo brings back the session as it was before the last edit.
func (m *Model) Undo() {
	n := len(m.undo)
	if n == 0 || m.s.Session == nil {
		return
	}
	last := m.undo[n-1]
	m.undo = m.undo[:n-1]
	m.redo = append(m.redo, step{*m.s.Session, last.change, m.s.Edition})
	m.swap(last, "notice.undone")
}

// Redo takes the last Undo back.
func (m *Model) Redo() {
	n := len(m.redo)
	if n == 0 || m.s.Session == nil {
		return
	}
	last := m.redo[n-1]
	m.redo = m.redo[:n-1]
	m.undo = append(m.undo, step{*m.s.Session, last.change, m.s.Edition})
	m.swap(last, "notice.redone")
}

func (m *Model) swap(to step, notice string) {
	m.setDrafts(m.undoneDrafts(), true) // what belonged to the fields goes, a half-typed ball stays
	// An undone edit restores its edition too, so that a report made for that
	// edition is good again instead of being asked for anew.
	m.s.Edition = to.edition
	m.say(notice, false, textArg("key", to.change.Key))
	m.put(to.session)
}

// say shows a short notice.
func (m *Model) say(key string, undo bool, args ...report.Arg) {
	m.s.Notice = Notice{Serial: m.s.Notice.Serial + 1, Key: key, Args: args, Undo: undo}
	serial := m.s.Notice.Serial
	m.later(9*time.Second, func() {
		if m.s.Notice.Serial == serial {
			m.Dismiss()
		}
	})
	m.changed()
}

// alert shows that something went wrong; it stays until dismissed.
func (m *Model) alert(key string, args ...report.Arg) {
	m.s.Notice = Notice{Serial: m.s.Notice.Serial + 1, Key: key, Args: args, Alert: true}
	m.changed()
}

// Dismiss takes the notice away.
func (m *Model) Dismiss() {
	m.s.Notice = Notice{Serial: m.s.Notice.Serial}
	m.changed()
}

func textArg(form, text string) report.Arg {
	if form == "key" {
		return report.Arg{Form: report.FormKey, Text: text}
	}
	return report.Arg{Form: report.FormText, Text: text}
}

func countArg(n int) report.Arg {
	return report.Arg{Form: report.FormCount, Value: float64(n)}
}

// Tell shows a short notice of a page's own; undo offers to take back the
// last edit.
func (m *Model) Tell(key string, undo bool, args ...report.Arg) { m.say(key, undo, args...) }

// Warn shows that something went wrong, of a page's own; it stays until
// dismissed.
func (m *Model) Warn(key string, args ...report.Arg) { m.alert(key, args...) }
