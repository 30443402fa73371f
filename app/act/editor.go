package act

import (
	"fmt"
	"time"

	"ferrule/core/club"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// Editor has the open session and is the way to change it.
type Editor struct {
	loop    *Loop
	notices *Notices
	keeper  *Keeper
	drafts  *Drafts
	answers *Answers

	session    *shot.Session
	readOnly   bool
	given      *share.Given
	exact      bool
	edition    int
	undo, redo []step
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

const undoDepth = 200

// label is the text key of the last of steps, empty where there is none.
func label(steps []step) string {
	if n := len(steps); n > 0 {
		return steps[n-1].change.Key
	}
	return ""
}

// findSetting reads a setting as a file or a person names it.
func (e *Editor) findSetting(text string) (club.Setting, error) {
	if e.session == nil {
		return club.Setting{}, fmt.Errorf("no session is open")
	}
	return e.session.Find(text)
}

// Edit changes the open session through f. The state before it can be brought
// back by Undo; the session is stored within a second and answered anew.
//
// Edits of one field in a row are one: f changes the session as it was before
// the first of them, so that what stood in the field on the way, such as "1"
// before "12", leaves no trace.
func (e *Editor) Edit(c Change, f func(*shot.Session)) {
	if e.session == nil {
		return
	}
	if e.readOnly {
		e.notices.Tell("notice.read-only", false)
		return
	}
	before := *e.session
	n := len(e.undo)
	again := c.Field != "" && n > 0 && e.undo[n-1].change.Field == c.Field
	if again {
		before = e.undo[n-1].session
	}
	after := Clone(before)
	f(&after)
	after.Changed = e.loop.deps.Now().Unix()
	if !after.Aim.Wants(before.Aim) {
		after.Aim.SetAt, after.Aim.Seen = after.Changed, len(before.Shots)
	}
	if !again {
		e.undo = append(e.undo, step{before, c, e.edition})
		if len(e.undo) > undoDepth {
			e.undo = e.undo[1:]
		}
	}
	e.redo = nil
	e.notices.edited()
	if !c.Quiet {
		e.edition++
	}
	e.put(after)
}

// show makes s the open session, with nothing to undo.
func (e *Editor) show(s *shot.Session) {
	e.close()
	e.session, e.given = s, nil
	e.edition++
}

// came says by what the open session came: a link, or, exact, a file.
func (e *Editor) came(given *share.Given, exact bool) { e.given, e.exact = given, exact }

// receive says that the open session is nobody's to change yet.
func (e *Editor) receive(given *share.Given, exact bool) {
	e.readOnly = true
	e.came(given, exact)
}

func (e *Editor) close() {
	e.undo, e.redo = nil, nil
	e.session, e.readOnly = nil, false
}

// last is the change that is undone first, nil where there is none or it is of
// another field.
func (e *Editor) last(field string) *Change {
	if n := len(e.undo); n > 0 && e.undo[n-1].change.Field == field {
		return &e.undo[n-1].change
	}
	return nil
}

// takeBack takes back what was made of a field.
func (e *Editor) takeBack(field string) {
	c := e.last(field)
	if c == nil || e.session == nil || e.readOnly {
		return
	}
	n := len(e.undo) - 1
	after := Clone(e.undo[n].session)
	if e.undo = e.undo[:n]; !c.Quiet {
		e.edition++
	}
	after.Changed = e.loop.deps.Now().Unix()
	e.put(after)
}

// hold makes s the open session, which is stored and answered as it was.
func (e *Editor) hold(s shot.Session) { e.session = &s }

// raise says that the answer is to another question by now.
func (e *Editor) raise() { e.edition++ }

// undoable has Undo go back to the session as it is now, once another is open.
func (e *Editor) undoable(c Change) (then func()) {
	mine := step{*e.session, c, e.edition}
	return func() { e.undo = []step{mine} }
}

// rebase makes s the open session, and f of each that Undo and Redo go to.
func (e *Editor) rebase(s shot.Session, f func(shot.Session) shot.Session) {
	for _, steps := range [][]step{e.undo, e.redo} {
		for i := range steps {
			steps[i].session = f(steps[i].session)
		}
	}
	e.edition++
	e.put(s)
}

// put makes s the open session, to be stored and answered.
func (e *Editor) put(s shot.Session) {
	e.session = &s
	e.keeper.markDirty()
	e.answers.schedule()
	e.loop.changed()
}

// Undo brings back the session as it was before the last edit.
func (e *Editor) Undo() { e.swap(&e.undo, &e.redo, "notice.undone") }

// Redo takes the last Undo back.
func (e *Editor) Redo() { e.swap(&e.redo, &e.undo, "notice.redone") }

// swap puts the last step of one list in the open session's place, which becomes
// the last of the other.
func (e *Editor) swap(from, onto *[]step, notice string) {
	n := len(*from)
	if n == 0 || e.session == nil {
		return
	}
	to := (*from)[n-1]
	*from = (*from)[:n-1]
	*onto = append(*onto, step{*e.session, to.change, e.edition})
	e.drafts.set(e.drafts.undone(), true) // what belonged to the fields goes, a half-typed ball stays
	// An undone edit restores its edition too, so that a report made for that
	// edition is good again instead of being asked for anew.
	e.edition = to.edition
	e.notices.Tell(notice, false, textArg("key", to.change.Key))
	e.put(to.session)
}

// day is the part of the session that a ball typed now belongs to: the date,
// from the day after it was begun on. A player is another one the next day, and
// the analysis gives each part a level of its own.
func (e *Editor) day(s shot.Session) string {
	now := e.loop.deps.Now()
	if today := now.Format(time.DateOnly); today != time.Unix(s.Created, 0).In(now.Location()).Format(time.DateOnly) {
		return today
	}
	return ""
}
