package act

import (
	"slices"
	"strconv"
	"time"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// At a bay balls come in by themselves: from a folder that a device writes to, a
// file that is dropped, a paste. A file may grow, or hold all balls of the day
// each time.

// TakeFile takes the balls of a file into the open session, to the setting that is
// set. What the file leaves open is asked, as of any file.
func (m *Model) TakeFile(name string, data []byte, from int) {
	m.addFile(File{Name: name, Bytes: data, Bay: m.s.Session != nil && !m.s.ReadOnly && from >= 0, From: max(0, from)})
}

// plain reports whether the file that was read leaves nothing to ask: balls of one
// player, and no name of a setting that the club does not have.
func (m *Model) plain() bool {
	g := m.s.Reading
	return g.Table != nil && g.Own == nil && g.Backup == nil && g.Open == 0 && len(g.Table.Shots) > 0 && len(g.Table.Errors) == 0 && len(g.Table.Players) < 2 &&
		m.s.Session != nil && !m.s.ReadOnly && !slices.ContainsFunc(g.Settings, func(n Named) bool { return n.Use < 0 })
}

// came tells which balls came in.
func (m *Model) came(g Reading, ids []string) {
	if !g.bay {
		m.say("notice.file-added", true, countArg(len(ids)))
		return
	}
	m.s.Arrived = ids
	if n := len(ids); n > 0 {
		at(m.s.Session, ids[n-1], func(i int) {
			m.say("notice.balls-to", true, countArg(n), textArg("", m.s.Session.Shots[i].Setting.Key()))
		})
	}
}

// MoveArrived gives the balls that came in last another setting, and the club with
// them: they were hit before anybody said so.
func (m *Model) MoveArrived(to club.Setting) {
	ids := m.s.Arrived
	if len(ids) == 0 {
		return
	}
	m.Edit(Change{Key: "edit.setting"}, func(s *shot.Session) {
		for _, id := range ids {
			at(s, id, func(i int) { s.Shots[i].Setting = cloneSetting(to) })
		}
	})
	m.SetNext(to)
	m.say("notice.balls-to", true, countArg(len(ids)), textArg("", to.Key()))
}

// clockKey keeps, by session, until when there is time.
const clockKey = "ferrule.clock/"

// StartClock lets the minutes run from now on; 0 stops the clock.
func (m *Model) StartClock(minutes float64) {
	if m.s.Session == nil {
		return
	}
	text := ""
	if minutes > 0 {
		text = strconv.FormatInt(m.deps.Now().Add(time.Duration(minutes*float64(time.Minute))).Unix(), 10)
	}
	m.note(clockKey+m.s.Session.ID, text)
	m.changed()
}

// MinutesLeft is what the clock of the open session shows, whole minutes begun;
// false while it does not run.
func (m *Model) MinutesLeft() (float64, bool) {
	if m.s.Session == nil {
		return 0, false
	}
	end, err := strconv.ParseInt(m.deps.Pocket.Load(clockKey+m.s.Session.ID), 10, 64)
	if err != nil {
		return 0, false
	}
	left := end - m.deps.Now().Unix()
	if left <= 0 {
		return 0, true
	}
	return float64((left + 59) / 60), true
}

// timed is the session with the minutes that are left by the clock.
func (m *Model) timed(s shot.Session) shot.Session {
	if left, runs := m.MinutesLeft(); runs {
		if s.Aim.MinutesLeft = left; left == 0 {
			s.Aim.MinutesLeft = -1 // used up; 0 is unknown
		}
	}
	return s
}
