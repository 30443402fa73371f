package club

import (
	"slices"
	"testing"

	"ferrule/core/units"
)

// TestTwoRingsAreNamedByRing: twelve labels name thirty-two positions and are
// read back from them; labels of positions that are no rings' leave the plain
// ones.
func TestTwoRingsAreNamedByRing(t *testing.T) {
	h := Example()
	h.Sleeve = Sleeve{Rings: []Ring{{Tilt: units.Degree, Positions: 8}, {Tilt: units.Degree, Positions: 4}}}
	if got := h.Sleeve.RingLabels(); len(got[0]) != 8 || len(got[1]) != 4 || got[0][7] != "8" || got[1][3] != "D" {
		t.Fatalf("without labels the rings have %v", got)
	}
	names := h.Sleeve.RingLabels()
	names[0][2], names[1][1] = "up", "toe"
	h.Sleeve.NameRings(names)
	if len(h.Sleeve.Labels) != 32 || h.Sleeve.Labels[9] != "up·toe" {
		t.Fatalf("the positions are called %v", h.Sleeve.Labels)
	}
	if got := h.Sleeve.RingLabels(); !slices.Equal(got[0], names[0]) || !slices.Equal(got[1], names[1]) {
		t.Errorf("read back as %v", got)
	}
	if places := h.Places(); places[9].Label != "up·toe" {
		t.Errorf("place 9 is called %q", places[9].Label)
	}
	h.Sleeve.Labels[9] = "mine"
	if got := h.Sleeve.RingLabels(); got[0][2] != "3" {
		t.Errorf("labels of positions are taken for rings': %v", got)
	}
}
