package act

import (
	"fmt"
	"slices"

	"ferrule/core/club"
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
	h := s.Session.Head
	all := h.Settings()
	for _, shot := range s.Session.Shots {
		c := shot.Setting
		if !slices.ContainsFunc(all, c.Equal) {
			c = h.Canonical(c)
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
	if s.Next != nil {
		return *s.Next
	}
	if n := len(s.Session.Shots); n > 0 {
		return s.Session.Shots[n-1].Setting
	}
	return Reference(s)
}

// SetNext says how the club is set from the next ball on.
func (m *Model) SetNext(c club.Setting) {
	c = cloneSetting(c)
	m.s.Next = &c
	m.changed()
}

// findSetting reads a setting as a file or a person names it.
func (m *Model) findSetting(text string) (club.Setting, error) {
	if m.s.Session == nil {
		return club.Setting{}, fmt.Errorf("no session is open")
	}
	return m.s.Session.Head.Find(text)
}
