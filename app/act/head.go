package act

import (
	"fmt"
	"slices"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/store"
)

// HeadSettings lists the settings of the open session's head, the reference
// first, and after them those that shots were hit with and the head does not
// know.
func (m *Model) HeadSettings() []club.Setting { return Settings(m.s) }

// Settings lists the settings that the session of s can speak of.
func Settings(s State) []club.Setting {
	if s.Session == nil {
		return nil
	}
	all := s.Session.Settings()
	for i, shot := range s.Session.Shots {
		c := shot.Setting
		if i > 0 && c.Equal(s.Session.Shots[i-1].Setting) { // thousands of balls, few settings
			continue
		}
		if !slices.ContainsFunc(all, c.Equal) {
			c = s.Session.Canonical(c)
		}
		if !slices.ContainsFunc(all, c.Equal) {
			all = append(all, c)
		}
	}
	return all
}

// Reference is how the club was set before the session, completed: what the
// first of Settings is.
func Reference(s State) club.Setting {
	if all := Settings(s); len(all) > 0 {
		return all[0]
	}
	return club.Setting{}
}

// Now is the setting that the next ball is hit with: that of the last ball,
// or of the head when there is none.
func Now(s State) club.Setting {
	if s.Session == nil {
		return club.Setting{}
	}
	if s.Next != nil && knows(s, *s.Next) {
		return *s.Next
	}
	if n := len(s.Session.Shots); n > 0 {
		return s.Session.Shots[n-1].Setting
	}
	return Reference(s)
}

// knows reports whether the session can still speak of a setting: its head may
// have been described anew since.
func knows(s State, c club.Setting) bool {
	all := Settings(s)
	return slices.ContainsFunc(all, c.Equal) || slices.ContainsFunc(all, s.Session.Canonical(c).Equal)
}

// SetNext says how the club is set from the next ball on. It is kept until
// another is said, for each session its own: a fitter goes from player to
// player.
func (m *Model) SetNext(c club.Setting) {
	c = cloneSetting(c)
	m.s.Next = &c
	m.keepNext()
	m.changed()
}

// nextKey keeps, by session, how the club was set last.
const nextKey = "ferrule.next"

func (m *Model) storedNext() map[string]club.Setting {
	all := map[string]club.Setting{}
	if kept.Read(m.deps.Pocket.Load(nextKey), &all) != nil || all == nil {
		return map[string]club.Setting{} // damaged ones count as none
	}
	return all
}

// keepNext writes the setting of the next ball to the pocket, or takes it out.
func (m *Model) keepNext() {
	if m.s.Session == nil || m.s.ReadOnly {
		return
	}
	all := m.storedNext()
	delete(all, m.s.Session.ID)
	for id := range all { // of sessions that are gone
		if m.s.Sessions.Phase == Ready && !slices.ContainsFunc(m.s.Sessions.Entries, func(h store.Head) bool { return h.ID == id }) {
			delete(all, id)
		}
	}
	if m.s.Next != nil {
		all[m.s.Session.ID] = *m.s.Next
	}
	if text, err := kept.Write(all); err == nil {
		m.note(nextKey, text)
	}
}

// findSetting reads a setting as a file or a person names it.
func (m *Model) findSetting(text string) (club.Setting, error) {
	if m.s.Session == nil {
		return club.Setting{}, fmt.Errorf("no session is open")
	}
	return m.s.Session.Find(text)
}
