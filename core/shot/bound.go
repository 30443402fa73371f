package shot

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/message"
)

// MaxShots is how many balls a session may hold.
const MaxShots = 30_000

// mostDrives bounds the drives of a round, as Aim's tag does: nobody plays ten
// rounds in one.
const mostDrives = 200

// Bounded is the one check that every session passes before a page or a store
// sees it, wherever it came from: a file, a link, a backup, a shared form,
// another tab, the worker. It bounds counts, texts and numbers, and how many
// settings the head makes; it takes what is only half typed. It returns nil or
// club.FieldErrors.
func (s Session) Bounded() error {
	if err := s.Head.Bounded(); err != nil {
		return inside("Head", err)
	}
	if n := len(s.Clubs); n > MaxClubs-1 {
		return club.FieldErrors{{Field: "Clubs", Message: message.Of("problem.at-most", n, MaxClubs-1)}}
	}
	for i, h := range s.Clubs {
		if err := h.Bounded(); err != nil {
			return inside(fmt.Sprintf("Clubs[%d]", i), err)
		}
	}
	s.Clubs, s.Head = nil, club.Head{}
	return club.Bounded(s, map[string]int{"Shots": MaxShots, "Shots.Setting.Weights": 8, "Adopted.Setting.Weights": 8, "Shots.Values": 100, "Shots.Assumed": 100, "Aim.Holes": maxHoles})
}

// inside says in which part of a session the errors of a part stand.
func inside(part string, err error) error {
	errs, ok := err.(club.FieldErrors)
	if !ok {
		return err
	}
	out := make(club.FieldErrors, len(errs))
	for i, e := range errs {
		out[i] = club.FieldError{Field: part + "." + e.Field, Message: e.Message}
	}
	return out
}
