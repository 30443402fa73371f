package act

import (
	"context"
	"errors"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// refused deals with a save of s over revision rev that the store did not
// take. Nothing of s may be lost: the open session stays as it is and is asked
// about; one that was left meanwhile is kept beside the stored one, or, where
// that fails too, in Unsaved.
func (m *Model) refused(s shot.Session, rev int, err error) {
	var c *store.Conflict
	conflict := errors.As(err, &c)
	if m.s.Session == nil || m.s.ReadOnly || m.s.Session.ID != s.ID {
		if conflict || errors.Is(err, errEarlier) {
			m.aside(s)
			return
		}
		m.unsaved(s, err)
		return
	}
	m.dirty = true
	m.revision = min(m.revision, rev)
	switch {
	case errors.Is(err, errEarlier):
		m.forget(m.saving)
		if m.s.Saving.Phase == Working { // what the one before failed of was dealt with meanwhile
			m.markDirty()
		}
	case conflict && c.Have > 0:
		m.joinWith(s.ID, err)
	default:
		m.notSaved(err, conflict)
	}
}

// joinWith merges what another tab stored into the open session and stores both.
// Where one field was changed twice, the person is asked.
func (m *Model) joinWith(id string, why error) {
	m.elsewhere(func() func() {
		theirs, rev, err := m.kept().Get(context.Background(), id)
		return func() {
			switch {
			case m.s.Session == nil || m.s.Session.ID != id || m.s.Saving.Conflict:
			case err == nil && m.mergeWith(theirs, rev):
			default:
				m.notSaved(why, true)
			}
		}
	})
}

// notSaved says that the open session is not stored, and why.
func (m *Model) notSaved(err error, conflict bool) {
	m.s.Saving.Phase, m.s.Saving.Conflict = Failed, conflict
	m.trouble(err)
	if !conflict {
		m.alert("error.save", m.reason(err))
	}
	m.changed()
}

// aside stores s as a session of its own beside the one that another tab
// changed, and says so.
func (m *Model) aside(s shot.Session) {
	t := m.copied(s)
	m.elsewhere(func() func() {
		_, err := m.kept().Put(context.Background(), t, 0)
		return func() {
			if err != nil {
				m.unsaved(t, err)
				return
			}
			m.say("notice.kept-beside", false, textArg("", t.Title))
			m.Relist()
		}
	})
}

func (m *Model) unsaved(s shot.Session, err error) {
	m.s.Unsaved = append(slices.Clone(m.s.Unsaved), s)
	m.alert("error.save", m.reason(err))
}

// copied is s with another id, and a number behind its title.
func (m *Model) copied(s shot.Session) shot.Session {
	t := Clone(s)
	t.ID = m.deps.NewID()
	t.Title = numbered(t.Title)
	return t
}

// numbered is "Evening (2)" for "Evening" and "Evening (3)" for that. It cuts
// by hand, because regexp would add a twentieth to the page's bytes.
func numbered(title string) string {
	n := 2
	if i := strings.LastIndex(title, " ("); i >= 0 && strings.HasSuffix(title, ")") {
		digits := title[i+2 : len(title)-1]
		if k, err := strconv.ParseUint(digits, 10, 16); err == nil && len(digits) <= 4 {
			title, n = title[:i], int(k)+1
		}
	}
	if title == "" {
		return "(" + strconv.Itoa(n) + ")"
	}
	return title + " (" + strconv.Itoa(n) + ")"
}

// KeepMine makes the open session, which another tab changed or removed
// meanwhile, one of its own; the other's stays as it is stored.
func (m *Model) KeepMine() {
	if m.s.Session == nil || !m.s.Saving.Conflict {
		return
	}
	s := m.copied(*m.s.Session)
	m.s.Session, m.revision, m.base = &s, 0, nil
	m.s.Saving = Saving{}
	m.SetPrefs(func(p *Prefs) { p.Last = s.ID })
	m.say("notice.kept-beside", false, textArg("", s.Title))
	m.dirty = true
	m.flush()
}

// TakeTheirs opens what the other tab stored. Undo brings back what was here.
func (m *Model) TakeTheirs() {
	if m.s.Session == nil || !m.s.Saving.Conflict {
		return
	}
	id := m.s.Session.ID
	m.elsewhere(func() func() {
		s, rev, err := m.kept().Get(context.Background(), id)
		return func() {
			switch {
			case m.s.Session == nil || m.s.Session.ID != id || !m.s.Saving.Conflict:
			case err != nil:
				m.alert("error.open", m.reason(err))
			default:
				mine := step{*m.s.Session, Change{Key: "edit.theirs"}, m.s.Edition}
				m.dirty = false
				m.open(s, rev)
				m.undo = []step{mine}
				m.labels()
				m.changed()
			}
		}
	})
}

// SaveAgain tries once more what the store refused.
func (m *Model) SaveAgain() {
	m.Dismiss()
	again := m.s.Unsaved
	m.s.Unsaved = nil
	m.elsewhere(func() func() {
		if m.place.Retry != nil {
			m.place.Retry(context.Background())
		}
		return func() {
			for _, s := range again {
				m.aside(s)
			}
			m.flush()
			m.Relist()
		}
	})
}

// Quarantine reads the blobs that cannot be read into Sessions.Damaged.
func (m *Model) Quarantine() {
	m.elsewhere(func() func() {
		bad, err := m.kept().Quarantine(context.Background())
		return func() {
			if err == nil {
				m.s.Sessions.Damaged = bad
				m.changed()
			}
		}
	})
}

// Discard forgets one blob of the quarantine, by its key.
func (m *Model) Discard(key string) {
	m.elsewhere(func() func() {
		err := m.kept().Discard(context.Background(), key)
		return func() {
			if err != nil {
				m.alert("error.delete", m.reason(err))
			}
			m.Relist()
		}
	})
}

// Anonymous is s without what may tell who somebody is or where: names, title,
// notes, file names and times. A shared file holds this unless names are asked
// for.
func Anonymous(s shot.Session) shot.Session {
	t := Clone(s)
	t.ID, t.Title, t.Player.Name, t.Bench = "", "", "", nil
	for i := range t.Aim.Holes {
		t.Aim.Holes[i].Name = ""
	}
	parts := []string{}
	for i := range t.Shots {
		h := &t.Shots[i]
		h.Note, h.Source, h.Clock, h.Line = "", "", "", 0
		if h.Session == "" {
			continue
		}
		at := slices.Index(parts, h.Session)
		if at < 0 {
			at = len(parts)
			parts = append(parts, h.Session)
		}
		h.Session = strconv.Itoa(at + 1)
	}
	return t
}
