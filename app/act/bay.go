package act

import (
	"slices"
	"strconv"
	"time"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// Bay is the work between two balls: how the club is set next, what came in by
// itself, the clock, and in turns.go a change that is hit in turn.
type Bay struct {
	loop    *Loop
	notices *Notices
	editor  *Editor
	keeper  *Keeper
	library *Library
	answers *Answers

	next    *club.Setting
	arrived []string
	turns   *Turns
}

// At a bay balls come in by themselves: from a folder that a device writes to, a
// file that is dropped, a paste. A file may grow, or hold all balls of the day
// each time.

// came tells which balls came in.
func (b *Bay) came(g Reading, ids []string) {
	if !g.bay {
		b.notices.Tell("notice.file-added", true, countArg(len(ids)))
		return
	}
	b.arrived = ids
	if n := len(ids); n > 0 {
		at(b.editor.session, ids[n-1], func(i int) {
			b.notices.Tell("notice.balls-to", true, countArg(n), textArg("", b.editor.session.Shots[i].Setting.Key()))
		})
	}
}

// MoveArrived gives the balls that came in last another setting, and the club with
// them: they were hit before anybody said so.
func (b *Bay) MoveArrived(to club.Setting) {
	ids := b.arrived
	if len(ids) == 0 {
		return
	}
	b.editor.Edit(Change{Key: "edit.setting"}, func(s *shot.Session) {
		for _, id := range ids {
			at(s, id, func(i int) { s.Shots[i].Setting = cloneSetting(to) })
		}
	})
	b.SetNext(to)
	b.notices.Tell("notice.balls-to", true, countArg(len(ids)), textArg("", to.Key()))
}

// clockKey keeps, by session, until when there is time.
const clockKey = "ferrule.clock/"

// StartClock lets the minutes run from now on; 0 stops the clock.
func (b *Bay) StartClock(minutes float64) {
	if b.editor.session == nil {
		return
	}
	text := ""
	if minutes > 0 {
		text = strconv.FormatInt(b.loop.deps.Now().Add(time.Duration(minutes*float64(time.Minute))).Unix(), 10)
	}
	b.keeper.note(clockKey+b.editor.session.ID, text)
	b.loop.changed()
}

// MinutesLeft is what the clock of the open session shows, whole minutes begun;
// false while it does not run.
func (b *Bay) MinutesLeft() (float64, bool) {
	if b.editor.session == nil {
		return 0, false
	}
	end, err := strconv.ParseInt(b.loop.deps.Pocket.Load(clockKey+b.editor.session.ID), 10, 64)
	if err != nil {
		return 0, false
	}
	left := end - b.loop.deps.Now().Unix()
	if left <= 0 {
		return 0, true
	}
	return float64((left + 59) / 60), true
}

// timed is the session with the minutes that are left by the clock.
func (b *Bay) timed(s shot.Session) shot.Session {
	if left, runs := b.MinutesLeft(); runs {
		if s.Aim.MinutesLeft = left; left == 0 {
			s.Aim.MinutesLeft = -1 // used up; 0 is unknown
		}
	}
	return s
}

// nextKey keeps, by session, how the club was set last.
const nextKey = "ferrule.next"

// SetNext says how the club is set from the next ball on. It is kept until
// another is said, for each session its own: a fitter goes from player to
// player.
func (b *Bay) SetNext(c club.Setting) {
	c = cloneSetting(c)
	b.setNext(&c)
	b.loop.changed()
}

// show takes up how the club was set last in a stored session, and what was being
// hit in turn.
func (b *Bay) show(id string) {
	b.next, b.arrived, b.turns = nil, nil, b.storedTurns(id)
	if next, ok := b.storedNext()[id]; ok {
		b.next = &next
	}
}

func (b *Bay) storedNext() map[string]club.Setting {
	all := map[string]club.Setting{}
	if kept.Read(b.loop.deps.Pocket.Load(nextKey), &all) != nil || all == nil {
		return map[string]club.Setting{} // damaged ones count as none
	}
	return all
}

// setNext has the next ball hit with a setting, nil = as the last; the pocket keeps
// it.
func (b *Bay) setNext(c *club.Setting) {
	b.next = c
	if b.editor.session == nil || b.editor.readOnly {
		return
	}
	all := b.storedNext()
	delete(all, b.editor.session.ID)
	for id := range all { // of sessions that are gone
		if b.library.state.Phase == Ready && !slices.ContainsFunc(b.library.state.Entries, func(h store.Head) bool { return h.ID == id }) {
			delete(all, id)
		}
	}
	if b.next != nil {
		all[b.editor.session.ID] = *b.next
	}
	if text, err := kept.Write(all); err == nil {
		b.keeper.note(nextKey, text)
	}
}
