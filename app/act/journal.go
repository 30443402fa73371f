package act

import (
	"context"
	"errors"

	"ferrule/core/store"
)

// note writes a text to the journal. Until it is on the disk the screen does not
// say that all is saved.
func (m *Model) note(key, text string) {
	m.deps.Pocket.Save(key, text)
	j, ok := m.deps.Pocket.(Journal)
	if !ok {
		return
	}
	m.noted++
	m.s.Saving.Pending = true
	if m.noting {
		return
	}
	m.noting = true
	m.waitFor(j)
}

func (m *Model) waitFor(j Journal) {
	upTo := m.noted
	m.elsewhere(func() func() {
		err := j.Wait(context.Background())
		return func() {
			if err == nil && m.noted > upTo {
				m.waitFor(j)
				return
			}
			m.noting = false
			m.s.Saving.Pending = err != nil
			if err != nil {
				m.trouble(err)
			}
			m.changed()
		}
	})
}

// wait returns once the journal is on the disk; only to be called away from the
// screen. What stands in its way is said by note.
func (m *Model) wait() {
	if j, ok := m.deps.Pocket.(Journal); ok {
		_ = j.Wait(context.Background())
	}
}

// trouble says what stands in the way of keeping things.
func (m *Model) trouble(err error) {
	if m.s.Saving.Reason = store.Key(err); m.s.Saving.Reason == "" {
		m.s.Saving.Reason = "store.broken"
	}
}

// Unsaved reports whether leaving now would lose anything.
func (m *Model) Unsaved() bool {
	s := m.s.Saving
	return m.dirty || m.noting || s.Pending || s.Phase == Working || s.Phase == Failed || len(m.s.Unsaved) > 0
}

// WhenSaved stores everything and calls then, unless something cannot be stored:
// that is said, and nothing else happens. It stands before every reload.
func (m *Model) WhenSaved(then func()) {
	if m.s.Saving.Phase == Failed || len(m.s.Unsaved) > 0 {
		m.SaveAgain()
	} else {
		m.Flush()
	}
	m.whenSaved(then, 100)
}

func (m *Model) whenSaved(then func(), tries int) {
	saving := m.saving
	m.elsewhere(func() func() {
		m.wait()
		if saving != nil {
			<-saving.done
		}
		return func() {
			switch {
			case !m.Unsaved():
				then()
			case m.s.Saving.Phase == Failed || len(m.s.Unsaved) > 0 || tries == 0:
				m.alert("error.not-yet")
			default:
				m.later(saveAfter, func() { m.whenSaved(then, tries-1) })
			}
		}
	})
}

// lost takes note that the place where things are kept went away, or came back:
// what the screen calls saved must be there.
func (m *Model) lost() {
	m.Relist()
	if m.s.Session == nil || m.s.ReadOnly || m.revision == 0 {
		m.flush()
		return
	}
	id := m.s.Session.ID
	m.s.Saving.Phase = Working
	m.changed()
	m.elsewhere(func() func() {
		_, rev, err := m.kept().Get(context.Background(), id)
		return func() {
			if m.s.Session == nil || m.s.Session.ID != id {
				return
			}
			switch {
			case errors.Is(err, store.ErrNotFound): // all of it was deleted: what is open is stored anew
				m.revision, m.base = 0, nil
				m.dirty = true
				m.alert("notice.stored-anew", textArg("key", "store.deleted"))
				m.flush()
			case err != nil:
				m.dirty = true
				m.s.Saving.Phase = Failed
				m.trouble(err)
			case m.dirty:
				m.flush()
			case rev == m.revision:
				m.s.Saving.Phase, m.s.Saving.Reason = Ready, ""
			default:
				m.s.Saving.Phase = Ready
				m.elsewhereChanged()
			}
			m.changed()
		}
	})
}
