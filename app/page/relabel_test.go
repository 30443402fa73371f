package page

import (
	"fmt"
	"strings"
	"testing"

	"ferrule/app/act"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// described is a session with a ball for each place of a head, in their order.
func described(t *testing.T, sleeve club.Sleeve) (*act.Model, func() string) {
	t.Helper()
	m := with(t, nil, nil)
	m.Sessions.New()
	m.Loop.Settle()
	m.Editor.Edit(act.Change{}, func(s *shot.Session) {
		s.Head.Sleeve, s.Head.Weights = sleeve, nil
		for i, p := range s.Head.Places() {
			if i == 0 {
				s.Head.Current = club.Setting{Sleeve: p.Label}
			}
			s.Shots = append(s.Shots, shot.Shot{ID: fmt.Sprint(i), Setting: club.Setting{Sleeve: p.Label}})
		}
	})
	return m, func() string { // the place of each ball, ? = none
		s, out := m.State().Session, []string{}
		for _, h := range s.Shots {
			at := "?"
			for i, p := range s.Head.Places() {
				if p.Label == h.Setting.Sleeve {
					at = fmt.Sprint(i)
				}
			}
			out = append(out, at)
		}
		return strings.Join(out, "")
	}
}

// A label typed letter by letter is another setting's on the way: no ball
// changes its place by that, and none when the field is left while it is.
func TestALabelTypedThroughAnothers(t *testing.T) {
	table := club.Sleeve{Table: []club.Position{{Label: "up"}, {Label: "up-right", Loft: units.Degree}, {Label: "flat", Loft: -units.Degree}}}
	m, places := described(t, table)
	row := func(i int, texts ...string) {
		for _, text := range texts {
			m.Editor.Edit(act.Change{Field: fmt.Sprint("row", i)}, func(s *shot.Session) { renameRow(s, i, text) })
		}
	}
	row(1, "up-", "up", "up2")
	if got := places(); got != "012" {
		t.Errorf("typed through another label: the balls are at %s", got)
	}
	row(1, "up")
	m.Editor.Edit(act.Change{}, func(s *shot.Session) { s.Title = "meanwhile" })
	row(1, "upright")
	if got := places(); got[0] != '0' || got[2] != '2' {
		t.Errorf("left with another's label and taken up again: the balls are at %s", got)
	}
	weight := shot.Session{Head: club.Head{Weights: []club.Weight{{Stops: []club.Stop{{Label: "heel"}, {Label: "heel 2"}}}}}}
	for _, w := range []string{"heel", "heel 2"} {
		weight.Shots = append(weight.Shots, shot.Shot{Setting: club.Setting{Weights: []string{w}}})
	}
	renameStop(&weight, 0, 1, "heel")
	renameStop(&weight, 0, 1, "toe")
	if got := weight.Shots[0].Setting.Weights[0]; got != "heel" {
		t.Errorf("the ball at the heel is at %q", got)
	}
}

// Labels made up from what a place does change with the description: the balls
// stay where they were hit, whatever stands in the field on the way.
func TestACorrectedHeadKeepsItsBalls(t *testing.T) {
	ring := club.Sleeve{Rings: []club.Ring{{Tilt: 1.5 * units.Degree, Positions: 8}}}
	m, places := described(t, ring)
	angle := func(field string, set func(*club.Head, float64), values ...float64) {
		for _, v := range values {
			m.Editor.Edit(act.Change{Field: field}, func(s *shot.Session) { relabel(s, func() { set(&s.Head, v*units.Degree) }) })
			if got := places(); v != 0 && got != "01234567" {
				t.Errorf("%s %g: the balls are at %s", field, v, got)
			}
		}
	}
	angle("tilt", func(h *club.Head, v float64) { h.Sleeve.Rings[0].Tilt = v }, 0, .7, .75, 0, 1.2, 1.25)
	angle("loft", func(h *club.Head, v float64) { h.Loft = v }, 9, 12)
	angle("lie", func(h *club.Head, v float64) { h.Lie = v }, 50, 60)
	count := func(n ...int) {
		for _, n := range n {
			m.Editor.Edit(act.Change{Field: "positions"}, func(s *shot.Session) {
				relabel(s, func() { s.Head.Sleeve.Rings[0].Positions, s.Head.Sleeve.Labels = n, nil })
			})
		}
	}
	count(1, 16)
	if got := places(); got != "02468101214" {
		t.Errorf("16 places: the balls are at %s", got)
	}
	count(4)
	if got := places(); got != "0?1?2?3?" {
		t.Errorf("4 places: the balls are at %s; those of no place must not take another's", got)
	}
	m.Editor.Undo()
	if got := places(); got != "01234567" {
		t.Errorf("undone: the balls are at %s", got)
	}
}

// Nothing is known of a position that was only added: no angle is made up for
// it, and positions without angles are not taken for one another.
func TestAnAddedPositionIsNotDescribed(t *testing.T) {
	var h club.Head
	sleeveKind(&h, "table")
	h.Sleeve.Table = append(h.Sleeve.Table, club.Position{Label: freeLabel(h.Sleeve.Table), Unknown: true})
	h.Sleeve.Table = append(h.Sleeve.Table[1:], club.Position{Label: freeLabel(h.Sleeve.Table[1:]), Unknown: true})
	h.Current.Sleeve = h.Sleeve.Table[0].Label
	if n := len(h.Settings()); n != 3 {
		t.Errorf("%d settings of 3 positions", n)
	}
	h = club.Head{}
	sleeveKind(&h, "table")
	if p := h.Places(); len(p) != 2 || p[0].Change.Unknown || !p[1].Change.Unknown {
		t.Errorf("a new table: %+v", p)
	}
}
