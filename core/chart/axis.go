package chart

import (
	"math"

	"ferrule/core/text"
	"ferrule/core/units"
)

// tick is one place on an axis.
type tick struct {
	si    float64 // [SI]
	label string  // number in the reader's unit, without the unit
}

// ticks places about want round numbers of unit u between lo and hi, both SI
// and without u's offset: axes show lengths, angles and the like.
func ticks(rd text.Reader, lo, hi float64, u units.Unit, want int) []tick {
	a, b := lo/u.Scale, hi/u.Scale
	if !(b > a) {
		return nil
	}
	raw := (b - a) / float64(max(want, 1))
	step := math.Pow(10, math.Floor(math.Log10(raw)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*step >= raw*0.999 {
			step *= m
			break
		}
	}
	digits := 0
	if step < 1 {
		digits = int(math.Ceil(-math.Log10(step) - 1e-9))
	}
	var out []tick
	for i := math.Ceil(a/step - 1e-9); i*step <= b+step*1e-9 && len(out) < 60; i++ {
		out = append(out, tick{i * step * u.Scale, rd.Number(i*step, units.None, digits)})
	}
	return out
}

// digitsFor is how many decimals an estimate deserves whose 80 % interval is
// width wide in the unit shown: none when a third of it is a whole unit or more.
func digitsFor(width float64) int {
	switch third := math.Abs(width) / 3; {
	case third >= 1 || third == 0:
		return 0
	case third >= 0.05:
		return 1
	}
	return 2
}

// side writes an offline distance with its side: "12 yd right".
func (st Style) side(z float64) string {
	word := "side.right"
	if z < 0 {
		word = "side.left"
	}
	return st.Reader.Number(math.Abs(z), units.Length, -1) + " " + st.Reader.Word(word)
}

func clamp(v, lo, hi float64) float64 { return math.Max(lo, math.Min(hi, v)) }
