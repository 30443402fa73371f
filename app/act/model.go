package act

import (
	"cmp"
	"context"
	"fmt"
	"math/rand/v2"
	"sort"
	"strings"
	"time"

	"ferrule/app/kept"
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

// Model is the state and its actions, a room for each concern: each has its own
// part of the State, which nobody else changes, and knows by name the rooms that it
// works with. All methods are called on one goroutine; see Loop.
type Model struct {
	Loop        *Loop
	Notices     *Notices
	Preferences *Preferences
	Editor      *Editor
	Keeper      *Keeper
	Drafts      *Drafts
	Balls       *Balls
	Bay         *Bay
	Files       *Files
	Reader      *Reader
	Library     *Library
	Sessions    *Sessions
	Answers     *Answers
	WhatIf      *WhatIf
	Memory      *Memory
	Heads       *Heads
	Clients     *Clients
	Sheet       *Sheet
	Voice       *Voice
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
	m := &Model{new(Loop), new(Notices), new(Preferences), new(Editor), new(Keeper), new(Drafts), new(Balls), new(Bay), new(Files), new(Reader), new(Library), new(Sessions), new(Answers), new(WhatIf), new(Memory), new(Heads), new(Clients), new(Sheet), new(Voice)}
	loop, notices, editor, keeper := m.Loop, m.Notices, m.Editor, m.Keeper
	*m.Loop = Loop{deps: d}
	*m.Notices = Notices{loop: loop}
	*m.Preferences = Preferences{loop: loop, keeper: keeper, drafts: m.Drafts}
	*m.Editor = Editor{loop: loop, notices: notices, keeper: keeper, drafts: m.Drafts, answers: m.Answers}
	*m.Keeper = Keeper{loop: loop, notices: notices, editor: editor, balls: m.Balls, library: m.Library, sessions: m.Sessions, prefs: m.Preferences, opened: make(chan struct{})}
	*m.Drafts = Drafts{loop: loop, editor: editor, keeper: keeper, texts: map[string]Draft{}}
	*m.Balls = Balls{loop: loop, notices: notices, editor: editor, keeper: keeper, drafts: m.Drafts, typed: map[string]bool{}}
	*m.Bay = Bay{loop: loop, notices: notices, editor: editor, keeper: keeper, library: m.Library, answers: m.Answers}
	*m.Files = Files{loop: loop, notices: notices, editor: editor, keeper: keeper, drafts: m.Drafts, bay: m.Bay, reader: m.Reader, library: m.Library, sessions: m.Sessions, heads: m.Heads}
	*m.Reader = Reader{loop: loop, editor: editor, keeper: keeper, bay: m.Bay, files: m.Files}
	*m.Library = Library{loop: loop, notices: notices, editor: editor, keeper: keeper, sessions: m.Sessions, memory: m.Memory, heads: m.Heads, prefs: m.Preferences}
	*m.Sessions = Sessions{loop: loop, notices: notices, editor: editor, keeper: keeper, drafts: m.Drafts, balls: m.Balls, bay: m.Bay, files: m.Files, reader: m.Reader, answers: m.Answers, memory: m.Memory, sheet: m.Sheet, prefs: m.Preferences}
	*m.Answers = Answers{loop: loop, notices: notices, editor: editor, bay: m.Bay, memory: m.Memory, prefs: m.Preferences}
	*m.WhatIf = WhatIf{loop: loop, editor: editor, answers: m.Answers, memory: m.Memory}
	*m.Memory = Memory{loop: loop, editor: editor, keeper: keeper, library: m.Library, answers: m.Answers, heads: m.Heads, prefs: m.Preferences}
	*m.Heads = Heads{loop: loop, notices: notices, editor: editor, keeper: keeper, library: m.Library, answers: m.Answers, memory: m.Memory, prefs: m.Preferences}
	*m.Clients = Clients{loop: loop, editor: editor, keeper: keeper, library: m.Library}
	*m.Sheet = Sheet{loop: loop, editor: editor, answers: m.Answers, prefs: m.Preferences}
	*m.Voice = Voice{loop: loop, notices: notices, prefs: m.Preferences}
	m.Preferences.load()
	m.Heads.load()
	return m
}

// State returns what is to be shown, gathered from the rooms.
func (m *Model) State() State {
	e, b, c := m.Editor, m.Bay, m.Clients
	return State{
		Booted: m.Library.booted, Update: m.Notices.update, Offline: m.Library.offline,
		Session: e.session, ReadOnly: e.readOnly, Given: e.given, Exact: e.exact, Edition: e.edition,
		Undo: label(e.undo), Redo: label(e.redo),
		Next: b.next, Arrived: b.arrived, Turns: b.turns,
		Answer: m.Answers.state, Flights: m.WhatIf.flights, Varied: m.WhatIf.varied,
		Reading: m.Reader.state, Drafts: m.Drafts.texts,
		Sessions: m.Library.state, Visits: c.compared, Client: c.shown, Records: m.Heads.state,
		Saving: m.Keeper.state, Unsaved: m.Keeper.untaken,
		Prefs: m.Preferences.now, Notice: m.Notices.now, Paper: m.Sheet.paper,
	}
}

type memoryPocket map[string]string

func (p memoryPocket) Load(key string) string { return p[key] }

func (p memoryPocket) Save(key, text string) {
	if p[key] = text; text == "" {
		delete(p, key)
	}
}

func (p memoryPocket) Keys(prefix string) (keys []string) {
	for k := range p {
		if strings.HasPrefix(k, prefix) {
			keys = append(keys, k)
		}
	}
	sort.Strings(keys)
	return keys
}

// newID names a session: 72 random bits, from the runtime's generator that the
// system seeds. crypto/rand would bring ciphers along, and tests of them at
// every start.
func newID() string { return fmt.Sprintf("%016x%02x", rand.Uint64(), rand.UintN(256)) }

// UndoNotice takes back what the notice tells of.
func (m *Model) UndoNotice() {
	if m.Notices.now.Key == sessionRemoved {
		m.Library.Undelete()
		return
	}
	m.Editor.Undo()
}

// Boot reads the list of sessions and opens the one that was open last.
func (m *Model) Boot() {
	if m.Library.state.Phase != Idle {
		return
	}
	m.Library.state.Phase = Working
	last := m.Preferences.now.Last
	m.Loop.elsewhere(func() func() {
		ctx := context.Background()
		var unread error
		if j, ok := m.Loop.deps.Pocket.(Journal); ok {
			if unread = j.Begin(ctx); unread == nil {
				// The journal is later than what the start knew: a browser writes its
				// local storage when it likes.
				p := Prefs{Last: last}
				for _, name := range []string{"last", "language"} {
					_ = kept.Read(cmp.Or(j.Load(PrefsKey+"/"+name), "{}"), &p) // damaged: as if it said nothing
				}
				if last = p.Last; m.Loop.deps.Words != nil {
					m.Loop.deps.Words(p.Language)
				}
			}
		}
		m.Keeper.place = m.Loop.deps.Open(ctx)
		m.Keeper.store = m.Keeper.place.Store
		close(m.Keeper.opened)
		m.Loop.deps.Rest()
		list, err := m.Keeper.store.List(ctx)
		m.Loop.deps.Rest()
		health := m.Keeper.store.Health(ctx)
		m.Loop.deps.Rest()
		var s shot.Session
		rev, found := 0, false
		if err == nil && last != "" {
			if got, r, e := m.Keeper.kept().Get(ctx, last); e == nil {
				s, rev, found = got, r, true
			}
		}
		return func() {
			if _, ok := m.Loop.deps.Pocket.(Journal); ok && unread == nil {
				m.Preferences.load()
				m.Heads.load()
			}
			m.Library.listed(list, err)
			m.Library.healthy(health)
			// A link or an example that was opened meanwhile is what the person
			// wants to see: the stored session must not push it away.
			if found && m.Editor.session == nil {
				m.Sessions.open(s, rev)
			}
			m.Library.booted = true
			if m.Keeper.place.Watch != nil {
				m.Keeper.place.Watch(func([]string) { m.Loop.post(m.Keeper.elsewhereChanged) })
			}
			if m.Keeper.place.Trouble != nil {
				m.Keeper.place.Trouble(func() { m.Loop.post(m.Keeper.lost) })
			}
			if j, ok := m.Loop.deps.Pocket.(Journal); ok {
				j.Watch(func([]string) { m.Loop.post(func() { m.Preferences.load(); m.Heads.load(); m.Loop.changed() }) })
			}
			m.Files.takeUp()
			m.Loop.changed()
		}
	})
}
