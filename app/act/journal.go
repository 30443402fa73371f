package act

import (
	"context"
	"errors"

	"ferrule/core/store"
)

// note writes a text to the journal. Until it is on the disk the screen does not
// say that all is saved.
func (k *Keeper) note(key, text string) {
	k.loop.deps.Pocket.Save(key, text)
	j, ok := k.loop.deps.Pocket.(Journal)
	if !ok {
		return
	}
	k.noted++
	k.state.Pending = true
	if k.noting {
		return
	}
	k.noting = true
	k.waitFor(j)
}

func (k *Keeper) waitFor(j Journal) {
	upTo := k.noted
	k.loop.elsewhere(func() func() {
		err := j.Wait(context.Background())
		return func() {
			if err == nil && k.noted > upTo {
				k.waitFor(j)
				return
			}
			k.noting = false
			k.state.Pending = err != nil
			if err != nil {
				k.trouble(err)
			}
			k.loop.changed()
		}
	})
}

// wait returns once the journal is on the disk; only to be called away from the
// screen. What stands in its way is said by note.
func (k *Keeper) wait() {
	if j, ok := k.loop.deps.Pocket.(Journal); ok {
		_ = j.Wait(context.Background())
	}
}

// trouble says what stands in the way of keeping things.
func (k *Keeper) trouble(err error) {
	if k.state.Reason = store.Key(err); k.state.Reason == "" {
		k.state.Reason = "store.broken"
	}
}

// Unsaved reports whether leaving now would lose anything.
func (k *Keeper) Unsaved() bool {
	s := k.state
	return k.dirty || k.noting || s.Pending || s.Phase == Working || s.Phase == Failed || len(k.untaken) > 0
}

// WhenSaved stores everything and calls then, unless something cannot be stored:
// that is said, and nothing else happens. It stands before every reload.
func (k *Keeper) WhenSaved(then func()) {
	if k.state.Phase == Failed || len(k.untaken) > 0 {
		k.SaveAgain()
	} else {
		k.Flush()
	}
	k.whenSaved(then, 100)
}

func (k *Keeper) whenSaved(then func(), tries int) {
	saving := k.last
	k.loop.elsewhere(func() func() {
		k.wait()
		if saving != nil {
			<-saving.done
		}
		return func() {
			switch {
			case !k.Unsaved():
				then()
			case k.state.Phase == Failed || len(k.untaken) > 0 || tries == 0:
				k.notices.Warn("error.not-yet")
			default:
				k.loop.later(saveAfter, func() { k.whenSaved(then, tries-1) })
			}
		}
	})
}

// lost takes note that the place where things are kept went away, or came back:
// what the screen calls saved must be there.
func (k *Keeper) lost() {
	k.library.Relist()
	if k.editor.session == nil || k.editor.readOnly || k.revision == 0 {
		k.flush()
		return
	}
	id := k.editor.session.ID
	k.state.Phase = Working
	k.loop.changed()
	k.loop.elsewhere(func() func() {
		_, rev, err := k.kept().Get(context.Background(), id)
		return func() {
			if k.editor.session == nil || k.editor.session.ID != id {
				return
			}
			switch {
			case errors.Is(err, store.ErrNotFound): // all of it was deleted: what is open is stored anew
				k.revision, k.base = 0, nil
				k.dirty = true
				k.notices.Warn("notice.stored-anew", textArg("key", "store.deleted"))
				k.flush()
			case err != nil:
				k.dirty = true
				k.state.Phase = Failed
				k.trouble(err)
			case k.dirty:
				k.flush()
			case rev == k.revision:
				k.state.Phase, k.state.Reason = Ready, ""
			default:
				k.state.Phase = Ready
				k.elsewhereChanged()
			}
			k.loop.changed()
		}
	})
}
