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
	all := slices.Clone(headSettings(s.Session.Head))
	for _, h := range s.Session.Shots {
		if !slices.ContainsFunc(all, h.Setting.Equal) {
			all = append(all, h.Setting)
		}
	}
	return all
}

// findSetting reads a setting as a file or a person names it.
func (m *Model) findSetting(text string) (club.Setting, error) {
	if m.s.Session == nil {
		return club.Setting{}, fmt.Errorf("no session is open")
	}
	for _, s := range headSettings(m.s.Session.Head) {
		if s.Key() == text {
			return s, nil
		}
	}
	return club.Setting{}, fmt.Errorf("no setting %q", text)
}

func headSettings(h club.Head) []club.Setting {
	sleeves := h.Sleeve.Labels
	for _, p := range h.Sleeve.Table {
		sleeves = append(sleeves, p.Label)
	}
	if len(sleeves) == 0 {
		sleeves = []string{""}
	}
	out := []club.Setting{h.Current}
	add := func(s club.Setting) {
		if !slices.ContainsFunc(out, s.Equal) {
			out = append(out, s)
		}
	}
	for _, l := range sleeves {
		sets := [][]string{nil}
		for _, w := range h.Weights {
			var next [][]string
			for _, base := range sets {
				for _, st := range w.Stops {
					next = append(next, append(slices.Clone(base), st.Label))
				}
			}
			sets = next
		}
		for _, w := range sets {
			add(club.Setting{Sleeve: l, Weights: w})
		}
	}
	return out
}
