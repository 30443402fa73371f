package typed

import (
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// A bare number says no side, so it must be asked for; a letter, a word and a
// sign say one, in each language of the app.
func TestSided(t *testing.T) {
	for _, c := range []struct {
		q    shot.Quantity
		text string
		want bool
	}{
		{shot.Offline, "12", false}, {shot.Offline, "12,5 yd", false}, {shot.Offline, "12 R", true}, {shot.Offline, "L12", true}, {shot.Offline, "-12", true},
		{shot.Offline, "+12", true}, {shot.Offline, "0", true}, {shot.Offline, "左 5", true}, {shot.Offline, "우 5", true}, {shot.SpinAxis, "3", false}, {shot.Carry, "230", true},
	} {
		if got := (Reader{System: units.Imperial, Hand: frame.Right}).Sided(c.q, c.text); got != c.want {
			t.Errorf("%s %q: sided %v, want %v", c.q, c.text, got, c.want)
		}
	}
}

// What is asked about is what a slip makes: a digit too few, one too many, two
// exchanged; not a drive of a slow or a fast player.
func TestOdd(t *testing.T) {
	balls := func(yd ...float64) (out []shot.Shot) {
		for _, v := range yd {
			out = append(out, shot.Shot{Values: shot.Values{shot.Carry: v * units.Yard}})
		}
		return out
	}
	slow, fast := balls(150, 140, 155), balls(270, 281, 266)
	for _, c := range []struct {
		others []shot.Shot
		yd     float64
		want   bool
	}{{nil, 23, true}, {nil, 230, false}, {nil, 400, true}, {nil, 110, false}, {slow, 120, false}, {slow, 245, true}, {fast, 155, true}, {fast, 300, false}} {
		if lo, hi, got := Odd(shot.Carry, c.yd*units.Yard, c.others); got != c.want {
			t.Errorf("%v yd beside %d balls: odd %v, want %v (%.0f to %.0f m)", c.yd, len(c.others), got, c.want, lo, hi)
		}
	}
	if _, _, odd := Odd(shot.Offline, -12, nil); odd {
		t.Error("a ball 12 m left is asked about")
	}
}
