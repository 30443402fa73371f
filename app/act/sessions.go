package act

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sort"
	"time"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/share"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/units"
	"ferrule/core/wire"
)

type deleted struct{ id, title string }

// kept is the store, waited for: only to be called away from the screen.
func (m *Model) kept() store.Store {
	<-m.opened
	return m.store
}

// Boot reads the list of sessions and opens the one that was open last.
func (m *Model) Boot() {
	if m.s.Sessions.Phase != Idle {
		return
	}
	m.s.Sessions.Phase = Working
	last := m.s.Prefs.Last
	m.elsewhere(func() func() {
		ctx := context.Background()
		var unread error
		if j, ok := m.deps.Pocket.(Journal); ok {
			if unread = j.Begin(ctx); unread == nil {
				// The journal is later than what the start knew: a browser writes its
				// local storage when it likes.
				p := Prefs{Last: last}
				for _, name := range []string{"last", "language"} {
					_ = kept.Read(cmp.Or(j.Load(PrefsKey+"/"+name), "{}"), &p) // damaged: as if it said nothing
				}
				if last = p.Last; m.deps.Words != nil {
					m.deps.Words(p.Language)
				}
			}
		}
		m.place = m.deps.Open(ctx)
		m.store = m.place.Store
		close(m.opened)
		m.deps.Rest()
		list, err := m.store.List(ctx)
		m.deps.Rest()
		health := m.store.Health(ctx)
		m.deps.Rest()
		var s shot.Session
		rev, found := 0, false
		if err == nil && last != "" {
			if got, r, e := m.kept().Get(ctx, last); e == nil {
				s, rev, found = got, r, true
			}
		}
		return func() {
			if _, ok := m.deps.Pocket.(Journal); ok && unread == nil {
				m.loadPrefs()
				m.loadRecords()
			}
			m.listed(list, err)
			m.healthy(health)
			// A link or an example that was opened meanwhile is what the person
			// wants to see: the stored session must not push it away.
			if found && m.s.Session == nil {
				m.open(s, rev)
			}
			m.s.Booted = true
			if m.place.Watch != nil {
				m.place.Watch(func([]string) { m.post(m.elsewhereChanged) })
			}
			if m.place.Trouble != nil {
				m.place.Trouble(func() { m.post(m.lost) })
			}
			if j, ok := m.deps.Pocket.(Journal); ok {
				j.Watch(func([]string) { m.post(func() { m.loadPrefs(); m.loadRecords(); m.changed() }) })
			}
			m.filesBack()
			m.changed()
		}
	})
}

func (m *Model) listed(list []store.Head, err error) {
	if err != nil {
		m.s.Sessions.Phase, m.s.Sessions.Error = Failed, err.Error()
		return
	}
	sort.SliceStable(list, func(i, j int) bool { return list[i].Changed > list[j].Changed })
	m.s.Sessions.Phase, m.s.Sessions.Entries, m.s.Sessions.Error = Ready, list, ""
	m.s.Sessions.Unbacked = unbacked(list, m.s.Prefs.Backed, m.deps.Now().Unix())
	m.followVisits()
}

// A backup is asked for when so many sessions changed since the last one, or one
// did so long ago: a browser may clear what is not installed after seven days
// without a visit.
const (
	manyUnbacked = 10
	longUnbacked = 7 * share.Day // [s]
)

// unbacked counts the sessions that changed since the last backup (both in
// seconds of Unix time); 0 while it is too early to say so.
func unbacked(list []store.Head, last, now int64) int {
	n, oldest := 0, now
	for _, h := range list {
		if h.Changed > last {
			n++
			oldest = min(oldest, h.Changed)
		}
	}
	if n < manyUnbacked && now-oldest < longUnbacked {
		return 0
	}
	return n
}

// healthy takes note of how things are kept.
func (m *Model) healthy(h store.Health) {
	m.s.Sessions.Health, m.s.Offline = h, !h.Lasting
	if h.Quarantined != len(m.s.Sessions.Damaged) {
		m.Quarantine()
	}
}

// relisted brings the list's line of a session that was just saved up to date.
func (m *Model) relisted(s shot.Session, revision int) {
	i := slices.IndexFunc(m.s.Sessions.Entries, func(h store.Head) bool { return h.ID == s.ID })
	if i < 0 {
		return
	}
	list := slices.Clone(m.s.Sessions.Entries)
	h := &list[i]
	*h = store.HeadOf(s, revision, h.Size)
	m.listed(list, nil)
}

// Relist reads the list of sessions again.
func (m *Model) Relist() {
	m.elsewhere(func() func() {
		ctx := context.Background()
		list, err := m.kept().List(ctx)
		health := m.kept().Health(ctx)
		return func() {
			m.listed(list, err)
			m.healthy(health)
			m.changed()
		}
	})
}

// open shows a session that is stored at the given revision.
func (m *Model) open(s shot.Session, revision int) { m.openWith(s, revision, nil) }

// openWith is open, with the answer where it is worked out already.
func (m *Model) openWith(s shot.Session, revision int, worked *report.Report) {
	m.flush()
	m.stopAnalysis()
	m.waiting = m.unread()
	m.left(m.shown)
	m.shown = ""
	m.s.Reading = Reading{}
	m.undo, m.redo = nil, nil
	m.s.Session, m.s.ReadOnly, m.s.Given = &s, false, nil
	m.s.Edition++
	m.s.Answer = Answer{}
	m.s.Paper = Paper{}
	m.s.Drafts = m.keptDrafts(s)
	m.s.Next, m.s.Arrived, m.s.Turns = nil, nil, m.storedTurns(s.ID)
	if next, ok := m.storedNext()[s.ID]; ok {
		m.s.Next = &next
	}
	m.revision, m.dirty, m.base = revision, false, nil
	if revision > 0 {
		stored := s
		m.base = &stored
	}
	m.s.Saving = Saving{Phase: Ready, Revision: revision, Pending: m.noting}
	m.labels()
	m.SetPrefs(func(p *Prefs) { p.Last = s.ID })
	m.returnBalls()
	switch {
	case !m.answerable() || !m.s.Prefs.Auto:
	case worked != nil && m.recall(s) == nil: // what was learned before is not in it
		worked.Made = s.Changed
		m.s.Answer = Answer{Phase: Ready, Value: worked, Edition: m.s.Edition}
	default:
		m.Analyse()
	}
	if len(m.waiting) > 0 {
		m.nextFile()
	}
	m.changed()
}

// Open opens a stored session.
func (m *Model) Open(id string) {
	m.flush()
	m.elsewhere(func() func() {
		s, rev, err := m.kept().Get(context.Background(), id)
		return func() {
			if err != nil {
				m.alert("error.open", m.reason(err))
				return
			}
			m.open(s, rev)
		}
	})
}

// Blank is a session with the documented defaults and a club that does not
// move yet.
func (m *Model) blank() shot.Session {
	return shot.Session{
		Player: shot.Player{Hand: frame.Right},
		Head: club.Head{
			Kind: "driver",
			Loft: 10.5 * units.Degree,
			Lie:  58 * units.Degree,
			Mass: 200 * units.Gram,
			Hold: "between",
		},
	}
}

// NewSession starts an empty session with the player, the aim and the club of
// the one before: a player seldom changes them on the same day.
func (m *Model) NewSession() {
	m.anew(m.follow, func() {})
}

// follow makes s the session after before, of the same player.
func (m *Model) follow(s *shot.Session, before shot.Session) {
	sameDay(s, before)
	adopted(s, before)
	if m.day(before) != "" { // the wind of another day is nobody's
		s.Conditions.SetAir(shot.Air{Altitude: s.Conditions.Altitude})
	}
}

func sameDay(s *shot.Session, before shot.Session) {
	if before.Player.Invented() { // an example: nobody's name, aim or air
		clubOf(s, before)
		return
	}
	before.Aim.BallsLeft, before.Aim.MinutesLeft, before.Aim.Seen = 0, 0, 0 // of that session
	s.Player, s.Aim, s.Conditions, s.Ball = before.Player, before.Aim, before.Conditions, before.Ball
	s.Head, s.Clubs, s.Own = before.Head, before.Clubs, before.Own
	s.Conditions.SetAir(before.AirNumber(before.AirNow()))
}

// NewPlayer starts an empty session for somebody else, with the club of the one
// before: who waits for his turn at a fitter's hits the same. Nothing else is
// carried along: no name, no air, indoors or out.
func (m *Model) NewPlayer() {
	m.anew(clubOf, func() {})
}

// clubOf has s take the ball of the session before and its clubs; of several, not
// that player's own.
func clubOf(s *shot.Session, before shot.Session) {
	all := before.All()
	if own := before.OwnAt(); before.Several() {
		all = slices.Delete(all, own, own+1)
	}
	s.Head, s.Clubs, s.Ball = all[0], all[1:], before.Ball
}

// anew starts a session that keeps something of the one before. That is the
// open one, or the one that was open last: a person who is faster than the
// store, or who looks at somebody's link, does not begin with a blank club.
// then is done once the session is there.
func (m *Model) anew(keep func(s *shot.Session, before shot.Session), then func()) {
	from := func(before shot.Session) {
		s := m.blank()
		keep(&s, Clone(before))
		m.begin(s)
		then()
	}
	blank := func() { m.begin(m.blank()); then() }
	last := m.s.Prefs.Last
	switch {
	case m.s.Session != nil && !m.s.ReadOnly:
		from(*m.s.Session)
	case last == "":
		blank()
	default:
		m.elsewhere(func() func() {
			before, _, err := m.kept().Get(context.Background(), last)
			if err != nil { // removed, or not to be read
				return blank
			}
			return func() { from(before) }
		})
	}
}

// begin makes s a new session of this device.
func (m *Model) begin(s shot.Session) { m.beginWith(s, nil) }

func (m *Model) beginWith(s shot.Session, worked *report.Report) {
	s.ID = m.deps.NewID()
	s.Created = m.deps.Now().Unix()
	s.Changed = s.Created
	m.openWith(s, 0, worked)
	m.markDirty()
}

// Example opens an invented session as a new one, with the answer that the site
// carries of it, or else the worker's.
func (m *Model) Example(name string) {
	m.s.Answer = Answer{Phase: Working}
	m.changed()
	m.elsewhere(func() func() {
		res, err := m.worked(name)
		return func() {
			m.s.Answer.Phase = Idle
			switch {
			case err != nil:
				m.alert("error.example", m.reason(err))
			case res.Session == nil:
				m.alert("error.example", textArg("", res.Error))
			default:
				m.beginWith(*res.Session, res.Report)
			}
			m.changed()
		}
	})
}

// worked is an example with its answer, as the site carries it; where it does not
// come, or is of another version, the example alone, from the worker.
func (m *Model) worked(name string) (wire.Result, error) {
	if m.deps.Worked != nil {
		if res, err := wire.Unpack(m.deps.Worked(name), m.deps.Rest); err == nil && res.Version == wire.Version && res.Session != nil {
			return res, nil
		}
	}
	return m.deps.Worker.Do(context.Background(), wire.Request{Version: wire.Version, Example: &wire.Example{Name: name}})
}

// Show opens a session that came by a link or, exact, by a file: it can be looked
// at, printed and kept, and it changes nothing that is stored. The answer that
// came with it is shown as it was given; Analyse works it out anew.
func (m *Model) Show(s shot.Session, given *share.Given, exact bool) {
	last := m.s.Prefs.Last
	auto := m.s.Prefs.Auto
	m.s.Prefs.Auto = auto && given == nil
	m.open(s, 0)
	m.s.Prefs.Auto = auto
	m.s.ReadOnly, m.s.Given, m.s.Exact = true, given, exact
	if given != nil {
		m.inquire(wire.Request{Version: wire.Version, Given: &wire.Given{Session: Clone(s), Answer: *given}})
	}
	m.SetPrefs(func(p *Prefs) { p.Last = last }) // it is not stored: one's own opens next time
	m.changed()
}

// Keep makes a copy of a shown session one's own.
func (m *Model) Keep() {
	if m.s.Session == nil || !m.s.ReadOnly {
		return
	}
	s := Clone(*m.s.Session)
	answer, edition, given, exact := m.s.Answer, m.s.Edition, m.s.Given, m.s.Exact
	if s.ID = m.deps.NewID(); s.Created == 0 { // else it stays of its day
		s.Created, s.Changed = m.deps.Now().Unix(), m.deps.Now().Unix()
	}
	m.open(s, 0)
	m.markDirty()
	m.s.Given, m.s.Exact = given, exact                                          // what is otherwise anew is still said
	if answer.Value != nil && !answer.Value.Given && answer.Edition == edition { // the numbers are the same
		m.stopAnalysis()
		m.s.Answer = answer
		m.s.Answer.Edition = m.s.Edition
	}
	m.say("notice.kept", false)
}

// Delete removes a stored session. Undelete brings it back until the page is
// closed.
func (m *Model) Delete(id string) {
	if m.s.Session != nil && m.s.Session.ID == id {
		m.flush()
	}
	m.elsewhere(func() func() {
		ctx := context.Background()
		s, _, err := m.kept().Get(ctx, id)
		if err == nil {
			err = m.kept().Delete(ctx, id)
		}
		return func() {
			if err != nil {
				m.alert("error.delete", m.reason(err))
				return
			}
			m.gone = append(m.gone, deleted{id, s.Title})
			if m.s.Session != nil && m.s.Session.ID == id {
				m.close()
			}
			m.say(sessionRemoved, true, textArg("", s.Title))
			m.Relist()
		}
	})
}

// CanUndelete reports whether a removed session can be brought back.
func (m *Model) CanUndelete() bool { return len(m.gone) > 0 }

// Undelete brings the last removed session back.
func (m *Model) Undelete() {
	n := len(m.gone)
	if n == 0 {
		return
	}
	d := m.gone[n-1]
	m.gone = m.gone[:n-1]
	m.elsewhere(func() func() {
		err := m.kept().Restore(context.Background(), d.id)
		return func() {
			if err != nil {
				m.gone = append(m.gone, d)
				m.alert("error.save", m.reason(err))
				return
			}
			m.say("notice.session-back", false, textArg("", d.title))
			m.Relist()
		}
	})
}

// sessionRemoved is the notice whose Undo is no edit's.
const sessionRemoved = "notice.session-removed"

// UndoNotice takes back what the notice tells of.
func (m *Model) UndoNotice() {
	if m.s.Notice.Key == sessionRemoved {
		m.Undelete()
		return
	}
	m.Undo()
}

func (m *Model) close() {
	m.stopAnalysis()
	m.undo, m.redo = nil, nil
	m.s.Session, m.s.ReadOnly, m.s.Answer, m.s.Reading = nil, false, Answer{}, Reading{}
	m.s.Saving, m.dirty = Saving{}, false
	m.labels()
}

const saveAfter = 150 * time.Millisecond

// saving is one save: done is closed at its end, failed says how it went.
type saving struct {
	done   chan struct{}
	failed bool
}

// errEarlier is what a save says that was asked for behind one that failed: it
// was made for a revision that never came to be.
var errEarlier = errors.New("the save before this one failed")

// markDirty has the session stored at once, or as soon as the hands rest.
func (m *Model) markDirty() {
	m.dirty = true
	m.s.Saving.Phase = Working
	if m.saveAsked {
		return
	}
	m.saveAsked = true
	m.later(saveAfter, func() {
		m.saveAsked = false
		m.flush()
	})
}

// flush stores the open session now, if it has changed.
func (m *Model) flush() {
	if !m.dirty || m.s.Session == nil || m.s.ReadOnly {
		return
	}
	m.dirty = false
	s, rev := *m.s.Session, m.revision
	m.forgetBalls(s, false) // taken back again
	// The revision that this Put will bring is taken for granted, so that a
	// second save does not wait; a failure puts it right.
	m.revision = rev + 1
	// Saves keep their order: a later one that came first would be taken for
	// another tab's.
	before, mine := m.saving, &saving{done: make(chan struct{})}
	m.saving = mine
	m.elsewhere(func() func() {
		defer close(mine.done)
		m.wait() // what a ball was typed as is kept before the ball: one of the two is always there
		if before != nil {
			if <-before.done; before.failed {
				mine.failed = true
				return func() { m.refused(s, rev, errEarlier) }
			}
		}
		got, err := m.kept().Put(context.Background(), s, rev)
		if mine.failed = err != nil; mine.failed {
			return func() { m.forget(mine); m.refused(s, rev, err) }
		}
		return func() {
			m.forgetBalls(s, true)
			if m.s.Session == nil || m.s.Session.ID != s.ID {
				return
			}
			m.base = &s
			m.s.Saving.Revision, m.s.Saving.Reason, m.s.Saving.Conflict = got, "", false
			if !m.dirty && m.saving == mine {
				m.s.Saving.Phase = Ready
			}
			m.relisted(s, got)
			if got == 1 {
				m.persist()
			}
			m.changed()
		}
	})
}

// forget lets the next save begin anew: a failed one was dealt with.
func (m *Model) forget(failed *saving) {
	if m.saving == failed {
		m.saving = nil
	}
}

// persist asks the browser, after the first save of a session, not to clear
// what is stored; then the list shows what it said.
func (m *Model) persist() {
	if m.place.Persist == nil {
		m.Relist()
		return
	}
	m.elsewhere(func() func() {
		m.place.Persist()
		return m.Relist
	})
}

// elsewhereChanged takes note that another tab has changed what is stored. The
// open session is read again unless it has changes of its own, which the
// revision will then guard.
func (m *Model) elsewhereChanged() {
	m.Relist()
	if m.s.Session == nil || m.s.ReadOnly || m.dirty || m.s.Saving.Phase == Working {
		return
	}
	id, have := m.s.Session.ID, m.revision
	m.elsewhere(func() func() {
		s, rev, err := m.kept().Get(context.Background(), id)
		return func() {
			if err == nil && rev > have && m.s.Session != nil && m.s.Session.ID == id && !m.dirty && m.revision == have {
				m.open(s, rev)
			}
		}
	})
}

// Flush stores at once: before the page is hidden or closed. Who never comes
// back to say whose version is wanted keeps both.
func (m *Model) Flush() {
	if m.s.Saving.Conflict {
		m.KeepMine()
		return
	}
	m.flush()
}

// Backup hands all sessions to take as one file.
func (m *Model) Backup(take func(file []byte)) {
	m.flush()
	records := m.takenRecords()
	m.elsewhere(func() func() {
		b, err := m.kept().Export(context.Background(), records...)
		return func() {
			if err != nil {
				m.alert("error.backup", m.reason(err))
				return
			}
			take(b)
			m.SetPrefs(func(p *Prefs) { p.Backed = m.deps.Now().Unix() })
			m.listed(m.s.Sessions.Entries, nil)
			m.say("notice.backup", false)
		}
	})
}

// Restore adds the sessions of a backup; none that is stored is lost.
func (m *Model) Restore(file []byte) {
	m.elsewhere(func() func() {
		n, err := m.kept().Import(context.Background(), file)
		return func() {
			if err != nil {
				m.alert("error.restore", m.reason(err))
				return
			}
			m.restored(n)
			m.Relist()
		}
	})
}

// restored says what came out of a file: what is new, what was here, and what
// of it is damaged. Its records of heads are added.
func (m *Model) restored(n store.Imported) {
	switch {
	case n.Damaged > 0:
		m.alert("error.restored", countArg(n.Added+n.Beside), countArg(n.Damaged))
	case n.Same > 0:
		m.say("notice.restored-same", false, countArg(n.Added+n.Beside), countArg(n.Same))
	default:
		m.say("notice.restored", false, countArg(n.Added+n.Beside))
	}
	m.takeRecords(n, 0)
}

// SetUpdate notes that a newer version of the program waits.
func (m *Model) SetUpdate() { m.s.Update = true; m.changed() }

// reason says why the store refused, in the person's language where it can.
func (m *Model) reason(err error) report.Arg {
	if key := store.Key(err); key != "" {
		return textArg("key", key)
	}
	return textArg("", err.Error())
}
