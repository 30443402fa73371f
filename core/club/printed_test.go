package club

import (
	"math"
	"testing"

	"ferrule/core/units"
)

// TestReadPrinted: a table is read as it is printed; the layouts are common
// practice, no source. The head is the example's, 10.5 and 58 degrees.
func TestReadPrinted(t *testing.T) {
	h := Example()
	for name, c := range map[string]struct {
		text string
		loft []float64 // [deg] as changes
		lie  []float64
		how  Lofts
		both bool
		bad  bool
	}{
		"changes":          {text: "up\t+1.5\t0\t-2\nflat  −1,5  1 2\n", loft: []float64{1.5, -1.5}, lie: []float64{0, 1}},
		"lofts and lies":   {text: "Setting Loft Lie\nup 12.0° 58\nmiddle upright: 10.5° 60\ndown; 9; 58", loft: []float64{1.5, 0, -1.5}, lie: []float64{0, 2, 0}},
		"another order":    {text: "Lie, Loft\na 1 -1\nb 0 1", loft: []float64{-1, 1}, lie: []float64{1, 0}},
		"commas":           {text: "up,1.5,0.5\ndown,-1.5,0", loft: []float64{1.5, -1.5}, lie: []float64{.5, 0}},
		"without a label":  {text: "1 0\n-1 0", loft: []float64{1, -1}, lie: []float64{0, 0}},
		"too far":          {text: "a 1\nb 30", bad: true},
		"no number":        {text: "a 1\nb", bad: true},
		"twice":            {text: "a 1\na 2", bad: true},
		"of other length":  {text: "a 1 2\nb 1", bad: true},
		"one line":         {text: "a 1", bad: true},
		"nothing":          {bad: true},
		"a face too large": {text: "a 1 0 20\nb 0 0 0", bad: true},
	} {
		t.Run(name, func(t *testing.T) {
			got, err := ReadPrinted(c.text, h, c.how)
			if c.bad {
				if err == nil || got.Rows != nil {
					t.Errorf("%+v, %v, want an error and nothing read", got, err)
				}
				return
			}
			if err != nil || len(got.Rows) != len(c.loft) || got.Both != c.both {
				t.Errorf("%+v, %v", got, err)
				return
			}
			for i, r := range got.Rows {
				if math.Abs(r.Loft/units.Degree-c.loft[i]) > 1e-9 || math.Abs(r.Lie/units.Degree-c.lie[i]) > 1e-9 {
					t.Errorf("line %d is %.3f, %.3f, want %g, %g", i+1, r.Loft/units.Degree, r.Lie/units.Degree, c.loft[i], c.lie[i])
				}
			}
		})
	}
	low := h
	low.Loft = 6 * units.Degree // lofts of 3 to 5 fit both readings
	text := "a 3\nb 5"
	if got, err := ReadPrinted(text, low, LoftsGuess); err != nil || !got.Both {
		t.Errorf("3 and 5 of a head of 6: %+v, %v, want a question", got, err)
	}
	for how, want := range map[Lofts]float64{LoftsWhole: -1, LoftsChanges: 5} {
		got, err := ReadPrinted(text, low, how)
		if err != nil || got.Both || math.Abs(got.Rows[1].Loft/units.Degree-want) > 1e-9 {
			t.Errorf("%s: %+v, %v, want %g", how, got, err, want)
		}
	}
}
