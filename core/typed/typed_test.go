package typed

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

func TestParse(t *testing.T) {
	for _, c := range []struct {
		q    shot.Quantity
		text string
		r    Reader
		want float64
		in   units.Unit
	}{
		{shot.Offline, "12,3 L", Reader{}, -12.3, units.UnitYd},
		{shot.Offline, "R12.3", Reader{}, 12.3, units.UnitYd},
		{shot.Offline, "left 12.3 m", Reader{}, -12.3, units.UnitM},
		{shot.Offline, "-12.3", Reader{System: units.Metric}, -12.3, units.UnitM},
		{shot.Offline, "12.3 L", Reader{Hand: frame.Left}, -12.3, units.UnitYd}, // a side is a side for both hands
		{shot.Offline, "左 5", Reader{}, -5, units.UnitYd},
		{shot.Offline, "5 D", Reader{Language: "fr"}, 5, units.UnitYd},
		{shot.Offline, "5 H", Reader{Language: "sv"}, 5, units.UnitYd},
		{shot.Face, "2.1 open", Reader{}, 2.1, units.UnitDeg},
		{shot.Face, "2.1 open", Reader{Hand: frame.Left}, -2.1, units.UnitDeg}, // a player's word turns with the hand
		{shot.Path, "3.2 in-out", Reader{Hand: frame.Left}, -3.2, units.UnitDeg},
		{shot.Attack, "1.4 D", Reader{}, -1.4, units.UnitDeg},
		{shot.BallSpeed, "150", Reader{}, 150, units.UnitMPH},
		{shot.BallSpeed, "240", Reader{System: units.Metric}, 240, units.UnitKMH},
		{shot.BallSpeed, "67 m/s", Reader{}, 67, units.UnitMPS},
		{shot.Spin, "2,850", Reader{}, 2850, units.UnitRPM},
		{shot.Spin, "2.850", Reader{}, 2850, units.UnitRPM},
		{shot.Smash, "1,48", Reader{}, 1.48, units.UnitOne},
		{shot.StrikeToe, "12 heel", Reader{Hand: frame.Left}, -12, units.UnitMm},
		{shot.Launch, "１２．５°", Reader{}, 12.5, units.UnitDeg},
	} {
		got, err := c.r.Parse(c.q, c.text)
		if err != nil || math.Abs(c.in.From(got)-c.want) > 1e-9 {
			t.Errorf("Parse(%s, %q) with %+v = %v %s, %v; want %v", c.q, c.text, c.r, c.in.From(got), c.in.Symbol, err, c.want)
		}
	}
}

func TestParseSaysWhy(t *testing.T) {
	imperial := Reader{System: units.Imperial}
	for _, c := range []struct {
		q          shot.Quantity
		text, want string
	}{
		{shot.BallSpeed, "fast", "mph"}, {shot.BallSpeed, "", "expected"}, {shot.BallSpeed, "1500", "expected 4 to 268 mph"}, {shot.BallSpeed, "150 yd", `"yd" is neither a unit`},
		{shot.Offline, "12 D", `"d" is neither`}, {shot.Offline, "-12 R", "contradict"}, {shot.Spin, "2600 xx", "neither a unit nor a side"},
		{shot.Carry, "7/10/2025", "expected"}, {"nothing", "1", "no quantity"},
	} {
		if _, err := imperial.Parse(c.q, c.text); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("Parse(%s, %q): error %v, want one with %q", c.q, c.text, err, c.want)
		}
	}
}

func TestSplit(t *testing.T) {
	for text, want := range map[string]string{
		"152.3 yd": "152.3|yd", "R 12.3": "12.3|r", "12.3 (L)": "12.3|l", "右12.3ヤード": "12.3|右 ヤード", "1 234,5": "1 234,5|", "1'234.5": "1'234.5|",
		"−4.2°": "-4.2|°", "12 m/s": "12|m/s", "3.2 in-out": "3.2|in-out", "'150": "150|'", "1.25E1": "1.25E1|", ".5": ".5|", "- 3": "-3|",
	} {
		p, ok := Split(text)
		if got := p.Number + "|" + strings.Join(p.Words, " "); !ok || got != want {
			t.Errorf("Split(%q) = %q %v, want %q", text, got, ok, want)
		}
	}
	for _, text := range []string{"", "abc", "7/10/2025", "10-12", "17:35:18", "5 6"} {
		if p, ok := Split(text); ok {
			t.Errorf("Split(%q) = %+v, want no number", text, p)
		}
	}
}

func TestShape(t *testing.T) {
	a, b := []shot.Column{{Header: "ab"}, {Header: "c"}}, []shot.Column{{Header: "a"}, {Header: "bc"}}
	if Shape(a) == Shape(b) || Shape(a) != Shape([]shot.Column{{Header: "ab", Unit: "mph"}, {Header: "c"}}) {
		t.Error("the shape is of the headers, one by one")
	}
}
