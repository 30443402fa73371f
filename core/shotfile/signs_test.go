package shotfile

import (
	"strings"
	"testing"

	"ferrule/core/message"
)

// Balls whose axes lean to neither side are asked about like any others: the question is
// then what a positive number means.
func TestACurveThatLeansNowhereIsAskedAbout(t *testing.T) {
	for side, want := range map[float64]string{-1: "they curved to the left", 0: "does a positive number", 1: "they curved to the right"} {
		p := &signAudit{}
		c := &column{header: "Axis", v: []float64{side - 2, side, side + 2}, read: []cellState{cellRead, cellRead, cellRead}}
		p.askCurve(c, []int{0, 1, 2}, span{2, 4}, message.Plain("the balls say so"))
		if len(p.asked) != 1 || !strings.Contains(p.asked[0].text.String(), want) {
			t.Errorf("axes about %v: asked %v, want %q", side, p.asked, want)
		}
	}
}
