package act

import (
	"slices"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// Settings lists the settings that a session can speak of: its head's, the
// reference first, and after them those that shots were hit with and the head does
// not know.
func Settings(s *shot.Session) []club.Setting {
	if s == nil {
		return nil
	}
	all := s.Settings()
	for i, shot := range s.Shots {
		c := shot.Setting
		if i > 0 && c.Equal(s.Shots[i-1].Setting) { // thousands of balls, few settings
			continue
		}
		if !slices.ContainsFunc(all, c.Equal) {
			c = s.Canonical(c)
		}
		if !slices.ContainsFunc(all, c.Equal) {
			all = append(all, c)
		}
	}
	return all
}

// Reference is how the club was set before the session, completed: what the
// first of Settings is.
func Reference(s *shot.Session) club.Setting {
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
	return Reference(s.Session)
}

// knows reports whether the session can still speak of a setting: its head may
// have been described anew since.
func knows(s State, c club.Setting) bool {
	all := Settings(s.Session)
	return slices.ContainsFunc(all, c.Equal) || slices.ContainsFunc(all, s.Session.Canonical(c).Equal)
}
