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
func (k *Keeper) refused(s shot.Session, rev int, err error) {
	var c *store.Conflict
	conflict := errors.As(err, &c)
	if k.editor.session == nil || k.editor.readOnly || k.editor.session.ID != s.ID {
		if conflict || errors.Is(err, errEarlier) {
			k.aside(s)
			return
		}
		k.unsaved(s, err)
		return
	}
	k.dirty = true
	k.revision = min(k.revision, rev)
	switch {
	case errors.Is(err, errEarlier):
		k.forget(k.last)
		if k.state.Phase == Working { // what the one before failed of was dealt with meanwhile
			k.markDirty()
		}
	case conflict && c.Have > 0:
		k.joinWith(s.ID, err)
	default:
		k.notSaved(err, conflict)
	}
}

// joinWith merges what another tab stored into the open session and stores both.
// Where one field was changed twice, the person is asked.
func (k *Keeper) joinWith(id string, why error) {
	k.loop.elsewhere(func() func() {
		theirs, rev, err := k.kept().Get(context.Background(), id)
		return func() {
			switch {
			case k.editor.session == nil || k.editor.session.ID != id || k.state.Conflict:
			case err == nil && k.mergeWith(theirs, rev):
			default:
				k.notSaved(why, true)
			}
		}
	})
}

// notSaved says that the open session is not stored, and why.
func (k *Keeper) notSaved(err error, conflict bool) {
	k.state.Phase, k.state.Conflict = Failed, conflict
	k.trouble(err)
	if !conflict {
		k.notices.Warn("error.save", Reason(err))
	}
	k.loop.changed()
}

// aside stores s as a session of its own beside the one that another tab
// changed, and says so.
func (k *Keeper) aside(s shot.Session) {
	t := k.copied(s)
	k.loop.elsewhere(func() func() {
		_, err := k.kept().Put(context.Background(), t, 0)
		return func() {
			if err != nil {
				k.unsaved(t, err)
				return
			}
			k.notices.Tell("notice.kept-beside", false, textArg("", t.Title))
			k.library.Relist()
		}
	})
}

func (k *Keeper) unsaved(s shot.Session, err error) {
	k.untaken = append(slices.Clone(k.untaken), s)
	k.notices.Warn("error.save", Reason(err))
}

// copied is s with another id, and a number behind its title.
func (k *Keeper) copied(s shot.Session) shot.Session {
	t := Clone(s)
	t.ID = k.loop.deps.NewID()
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
func (k *Keeper) KeepMine() {
	if k.editor.session == nil || !k.state.Conflict {
		return
	}
	s := k.copied(*k.editor.session)
	k.editor.hold(s)
	k.revision, k.base = 0, nil
	k.state = Saving{}
	k.prefs.Set(func(p *Prefs) { p.Last = s.ID })
	k.notices.Tell("notice.kept-beside", false, textArg("", s.Title))
	k.dirty = true
	k.flush()
}

// TakeTheirs opens what the other tab stored. Undo brings back what was here.
func (k *Keeper) TakeTheirs() {
	if k.editor.session == nil || !k.state.Conflict {
		return
	}
	id := k.editor.session.ID
	k.loop.elsewhere(func() func() {
		s, rev, err := k.kept().Get(context.Background(), id)
		return func() {
			switch {
			case k.editor.session == nil || k.editor.session.ID != id || !k.state.Conflict:
			case err != nil:
				k.notices.Warn("error.open", Reason(err))
			default:
				mine := k.editor.undoable(Change{Key: "edit.theirs"})
				k.dirty = false
				k.sessions.open(s, rev)
				mine()
				k.loop.changed()
			}
		}
	})
}

// SaveAgain tries once more what the store refused.
func (k *Keeper) SaveAgain() {
	k.notices.Dismiss()
	again := k.untaken
	k.untaken = nil
	k.loop.elsewhere(func() func() {
		if k.place.Retry != nil {
			k.place.Retry(context.Background())
		}
		return func() {
			for _, s := range again {
				k.aside(s)
			}
			k.flush()
			k.library.Relist()
		}
	})
}
