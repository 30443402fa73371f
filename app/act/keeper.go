package act

import (
	"context"
	"errors"
	"time"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// Keeper keeps the open session and what is typed: it saves, and loses nothing
// where that fails. Its other parts are in journal.go, unsaved.go and merge.go.
type Keeper struct {
	loop     *Loop
	notices  *Notices
	editor   *Editor
	balls    *Balls
	library  *Library
	sessions *Sessions
	prefs    *Preferences

	place  Place
	store  store.Store   // once Boot has opened it
	opened chan struct{} // closed when store is there

	state     Saving
	untaken   []shot.Session // that were left and that the store did not take
	revision  int            // stored revision of the open session
	base      *shot.Session  // as it was stored then, for a merge
	dirty     bool
	saveAsked bool
	last      *saving // asked for last
	noting    bool    // the journal is being written
	noted     int     // of writes to the journal
}

// Saving is whether the open session is safely stored.
type Saving struct {
	Phase    Phase
	Revision int
	Reason   string // text key of what stands in the way
	Pending  bool   // something typed is not on the disk yet
	Conflict bool   // another tab changed or removed it meanwhile: the person must say what to keep
}

// saving is one save: done is closed at its end, failed says how it went.
type saving struct {
	done   chan struct{}
	failed bool
}

const saveAfter = 150 * time.Millisecond

// errEarlier is what a save says that was asked for behind one that failed: it
// was made for a revision that never came to be.
var errEarlier = errors.New("the save before this one failed")

// kept is the store, waited for: only to be called away from the screen.
func (k *Keeper) kept() store.Store {
	<-k.opened
	return k.store
}

// show has what was stored of s at a revision be what changes are told from.
func (k *Keeper) show(s shot.Session, revision int) {
	k.revision, k.dirty, k.base = revision, false, nil
	if revision > 0 {
		k.base = &s
	}
	k.state = Saving{Phase: Ready, Revision: revision, Pending: k.noting}
}

// close forgets what is not stored.
func (k *Keeper) close() { k.state, k.dirty = Saving{}, false }

// markDirty has the session stored at once, or as soon as the hands rest.
func (k *Keeper) markDirty() {
	k.dirty = true
	k.state.Phase = Working
	if k.saveAsked {
		return
	}
	k.saveAsked = true
	k.loop.later(saveAfter, func() {
		k.saveAsked = false
		k.flush()
	})
}

// flush stores the open session now, if it has changed.
func (k *Keeper) flush() {
	if !k.dirty || k.editor.session == nil || k.editor.readOnly {
		return
	}
	k.dirty = false
	s, rev := *k.editor.session, k.revision
	k.balls.forget(s, false) // taken back again
	// The revision that this Put will bring is taken for granted, so that a
	// second save does not wait; a failure puts it right.
	k.revision = rev + 1
	// Saves keep their order: a later one that came first would be taken for
	// another tab's.
	before, mine := k.last, &saving{done: make(chan struct{})}
	k.last = mine
	k.loop.elsewhere(func() func() {
		defer close(mine.done)
		k.wait() // what a ball was typed as is kept before the ball: one of the two is always there
		if before != nil {
			if <-before.done; before.failed {
				mine.failed = true
				return func() { k.refused(s, rev, errEarlier) }
			}
		}
		got, err := k.kept().Put(context.Background(), s, rev)
		if mine.failed = err != nil; mine.failed {
			return func() { k.forget(mine); k.refused(s, rev, err) }
		}
		return func() {
			k.balls.forget(s, true)
			if k.editor.session == nil || k.editor.session.ID != s.ID {
				return
			}
			k.base = &s
			k.state.Revision, k.state.Reason, k.state.Conflict = got, "", false
			if !k.dirty && k.last == mine {
				k.state.Phase = Ready
			}
			k.library.relisted(s, got)
			if got == 1 {
				k.persist()
			}
			k.loop.changed()
		}
	})
}

// forget lets the next save begin anew: a failed one was dealt with.
func (k *Keeper) forget(failed *saving) {
	if k.last == failed {
		k.last = nil
	}
}

// persist asks the browser, after the first save of a session, not to clear
// what is stored; then the list shows what it said.
func (k *Keeper) persist() {
	if k.place.Persist == nil {
		k.library.Relist()
		return
	}
	k.loop.elsewhere(func() func() {
		k.place.Persist()
		return k.library.Relist
	})
}

// elsewhereChanged takes note that another tab has changed what is stored. The
// open session is read again unless it has changes of its own, which the
// revision will then guard.
func (k *Keeper) elsewhereChanged() {
	k.library.Relist()
	if k.editor.session == nil || k.editor.readOnly || k.dirty || k.state.Phase == Working {
		return
	}
	id, have := k.editor.session.ID, k.revision
	k.loop.elsewhere(func() func() {
		s, rev, err := k.kept().Get(context.Background(), id)
		return func() {
			if err == nil && rev > have && k.editor.session != nil && k.editor.session.ID == id && !k.dirty && k.revision == have {
				k.sessions.open(s, rev)
			}
		}
	})
}

// Flush stores at once: before the page is hidden or closed. Who never comes
// back to say whose version is wanted keeps both.
func (k *Keeper) Flush() {
	if k.state.Conflict {
		k.KeepMine()
		return
	}
	k.flush()
}
