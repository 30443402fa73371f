package typed

import (
	"math"
	"testing"
)

func TestPlain(t *testing.T) {
	for in, want := range map[string]string{"(12.3)": "-12.3", "(12.3 yd)": "-12.3 yd", "(12.3) m": "-12.3  m", "12.3-": "-12.3", "← 4": "4 left", "4 →": "4 right", "12.3 (L)": "12.3 (L)", "-12.3": "-12.3", "(-3)": "(-3)", "(3 L)": "(3 L)", "": "", "2026-05-": "2026-05-", "1,234.5-": "-1,234.5"} {
		if got := Plain(in); got != want {
			t.Errorf("Plain(%q) = %q, want %q", in, got, want)
		}
	}
}

// A foot is 12 inches of 25.4 mm, by the international agreement of 1959.
func TestFeetInches(t *testing.T) {
	for in, want := range map[string]float64{`6'2"`: 74 * .0254, `102 ft 6 in`: 1230 * .0254, "10′ 0″": 3.048, `-3' 6"`: -42 * .0254, `6'2.5''`: 74.5 * .0254} {
		if got, ok := FeetInches(in); !ok || math.Abs(got-want) > 1e-12 {
			t.Errorf("FeetInches(%q) = %v %v, want %v", in, got, ok, want)
		}
	}
	for _, in := range []string{"6'", "6", `6'14"`, "x", `6.5'2"`, "1'234.5"} {
		if got, ok := FeetInches(in); ok {
			t.Errorf("FeetInches(%q) = %v", in, got)
		}
	}
}
