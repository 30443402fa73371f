package text

import (
	"strings"
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
		"up":         {"Face turned to square: 1.8° more loft", "Set down as it lies: face 2.8° closed"},
		"up-upright": {"Face turned to square: 1.4° more loft, 1.1° more upright", "Set down as it lies: face 2.2° closed, 1.1° more upright"},
		"flat":       {"Face turned to square: 0.2° less loft, 1.5° flatter", "Set down as it lies: face 0.3° open, 1.5° flatter"},
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
	if squared != "Face turned to square: loft as it was" || soled != "Set down as it lies: face as it was" {
		t.Errorf("nothing: %q, %q", squared, soled)
	}
}

// A direction is said by its word, never by a sign, and the zero is named.
func TestDegreesNameDirectionAndZero(t *testing.T) {
	h := club.Example()
	h.MeasuredLoft = nil
	r := Reader{Language: "en"}
	of := func(sleeve, weight string) club.Change {
		c, err := h.Change(club.Setting{Sleeve: sleeve, Weights: []string{weight}})
		if err != nil {
			t.Fatal(err)
		}
		return c
	}
	// positions 0, 1 and 6 of the impact reference's table, as above
	for label, want := range map[string]string{
		"up":         "From the club with a straight shaft: 1.8° more loft with the face square\u00a0· face 2.8° more closed when set down",
		"up-upright": "From the club with a straight shaft: 1.4° more loft with the face square\u00a0· 1.1° more upright\u00a0· face 2.2° more closed when set down",
		"flat":       "From the club with a straight shaft: 0.2° less loft with the face square\u00a0· 1.5° flatter\u00a0· face 0.3° more open when set down",
	} {
		if got := r.FromOwn(of(label, "middle")); got != want {
			t.Errorf("%s: %q, want %q", label, got, want)
		}
	}
	if got := r.FromOwn(club.Change{}); got != "As with a straight shaft" {
		t.Errorf("untilted: %q", got)
	}
	up, flat := of("up", "middle"), of("flat", "heel 20")
	if got := r.FromToday(up.Against(flat)); got != "Against today: 1.9° more loft with the face square\u00a0· 1.5° more upright\u00a0· face 3.1° more closed when set down\u00a0· centre of mass 1.2\u00a0mm towards the toe" {
		t.Errorf("up from flat: %q", got)
	}
	if got := r.FromToday(up.Against(up)); got != "as it is set today" {
		t.Errorf("nothing: %q", got)
	}
	for _, l := range Languages {
		for _, c := range []club.Change{up.Against(flat), flat.Against(up)} {
			if got := (Reader{Language: l}).FromToday(c); strings.ContainsAny(got, "+-\u2212") {
				t.Errorf("%s: a sign in %q", l, got)
			}
		}
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
