package text

import (
	"testing"

	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/units"
)

// TestNothingHasNoSide: a length that is shown as nothing is on neither side.
func TestNothingHasNoSide(t *testing.T) {
	for v, want := range map[float64]string{0: "0\u00a0yd sideways", .1: "0\u00a0yd sideways", -.4: "0\u00a0yd sideways", .6: "1\u00a0yd right", -9.144: "10\u00a0yd left"} {
		m := report.Message{Key: "why.aim", Args: []report.Arg{{}, {Form: message.FormSide, Value: v, Dim: units.Length, Digits: -1}}}
		if got := (Reader{System: units.Imperial}).arg(m.Args[1]); got != want {
			t.Errorf("%g m: %q, want %q", v, got, want)
		}
	}
}
