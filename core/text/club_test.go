package text

import (
	"testing"

	"ferrule/core/club"
)

// The two readings of a leaning sleeve: loft and no face squared, face and no
// loft soled (positions 0, 1 and 6 of the impact reference's table).
func TestBothReadingsOfASleeve(t *testing.T) {
	h := club.Example()
	h.MeasuredLoft = nil
	r := Reader{Language: "en"}
	for label, want := range map[string][2]string{
		"up":         {"Face turned to square: 1.8° more loft", "Left as it soles: face 2.8° closed"},
		"up-upright": {"Face turned to square: 1.4° more loft, 1.1° more upright", "Left as it soles: face 2.2° closed, 1.1° more upright"},
		"flat":       {"Face turned to square: 0.2° less loft, 1.5° flatter", "Left as it soles: face 0.3° open, 1.5° flatter"},
	} {
		c, err := h.Change(club.Setting{Sleeve: label, Weights: []string{"middle"}})
		if err != nil {
			t.Fatal(err)
		}
		squared, soled := r.BothWays(c)
		if squared != want[0] || soled != want[1] {
			t.Errorf("%s: %q, %q, want %q", label, squared, soled, want)
		}
	}
	squared, soled := r.BothWays(club.Change{})
	if squared != "Face turned to square: loft as it was" || soled != "Left as it soles: face as it was" {
		t.Errorf("nothing: %q, %q", squared, soled)
	}
}

func TestWordsOfWeights(t *testing.T) {
	h := club.Example()
	now, _ := h.Change(h.Current)
	c, err := h.Change(club.Setting{Sleeve: "flat", Weights: []string{"heel 20"}})
	if err != nil {
		t.Fatal(err)
	}
	r := Reader{Language: "en"}
	if got := r.Moved(c.Against(now)); got != "centre of mass 1.2\u00a0mm towards the heel" {
		t.Errorf("heel 20: %q", got)
	}
	if got := r.Moved(club.Change{CGBack: .002, Mass: -.01}); got != "centre of mass 2.0\u00a0mm back, head 10\u00a0g lighter" {
		t.Errorf("back and lighter: %q", got)
	}
	if got := r.Moved(now.Against(now)); got != "weights as they were" {
		t.Errorf("nothing: %q", got)
	}
}
