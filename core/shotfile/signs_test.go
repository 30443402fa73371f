package shotfile

import (
	"strings"
	"testing"
)

// Balls whose axes lean to neither side are asked about like any others: the question is
// then what a positive number means.
func TestACurveThatLeansNowhereIsAskedAbout(t *testing.T) {
	for side, want := range map[float64]string{-1: "they curved to the left", 0: "does a positive number", 1: "they curved to the right"} {
		p := &signAudit{}
		c := &column{header: "Axis", v: []float64{side - 2, side, side + 2}, read: []cellState{cellRead, cellRead, cellRead}}
		p.askCurve(c, []int{0, 1, 2}, "lines 2 to 4: ", "the balls say so")
		if len(p.asked) != 1 || !strings.Contains(p.asked[0], want) {
			t.Errorf("axes about %v: asked %q, want %q", side, p.asked, want)
		}
	}
}
