package act

import (
	"slices"
	"strconv"

	"ferrule/core/shot"
	"ferrule/core/store"
)

// SessionFile is a session as one file, as the store keeps it. Files for other
// programs are written by package export.
func SessionFile(s shot.Session) ([]byte, error) { return store.Encode(s) }

// Anonymous is s without what may tell who somebody is or where: names, title,
// notes, file names and times. A shared file holds this unless names are asked
// for.
func Anonymous(s shot.Session) shot.Session {
	t := Clone(s)
	t.ID, t.Title, t.Player.Name, t.Bench = "", "", "", nil
	for i := range t.Aim.Holes {
		t.Aim.Holes[i].Name = ""
	}
	parts := []string{}
	for i := range t.Shots {
		h := &t.Shots[i]
		h.Note, h.Source, h.Clock, h.Line = "", "", "", 0
		if h.Session == "" {
			continue
		}
		at := slices.Index(parts, h.Session)
		if at < 0 {
			at = len(parts)
			parts = append(parts, h.Session)
		}
		h.Session = strconv.Itoa(at + 1)
	}
	return t
}
