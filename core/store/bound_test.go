package store

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// TestAHugeClubIsNoSession seals, with a true checksum, the session whose club
// froze every page, and one that says its ball too long: neither is read, both
// say the field, and neither is written.
func TestAHugeClubIsNoSession(t *testing.T) {
	for field, spoil := range map[string]func(*shot.Session){
		"Head.Weights": func(s *shot.Session) {
			for range 8 {
				w := club.Weight{Mass: .002}
				for j := range 12 {
					w.Stops = append(w.Stops, club.Stop{Label: fmt.Sprint(j)})
				}
				s.Head.Weights = append(s.Head.Weights, w)
			}
		},
		"Shots[0].Ball": func(s *shot.Session) { s.Shots[0].Ball = strings.Repeat("x", 1<<20) },
	} {
		t.Run(field, func(t *testing.T) {
			s := shot.Session{ID: "a", Shots: []shot.Shot{{ID: "1"}}}
			spoil(&s)
			payload, err := marshal(&s)
			if err != nil {
				t.Fatal(err)
			}
			blob := seal(kindSession, Version, payload)
			if _, err := Decode(blob); !errors.Is(err, ErrDamaged) || !strings.Contains(err.Error(), field) {
				t.Errorf("Decode: %v", err)
			}
			if _, err := Encode(s); !errors.Is(err, errTooBig) || !strings.Contains(err.Error(), field) {
				t.Errorf("Encode: %v", err)
			}
			b := New(NewMemory(nil), func() int64 { return 0 })
			if n, err := b.Import(t.Context(), blob); err != nil || n.Damaged != 1 || n.Added != 0 {
				t.Errorf("Import: %+v, %v", n, err)
			}
		})
	}
}
