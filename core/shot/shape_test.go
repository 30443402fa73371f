package shot

import (
	"testing"

	"ferrule/core/frame"
	"ferrule/core/units"
)

// The names as golfers use them (common practice, no source): a right-hander's
// ball that curves to the left draws, and so does a left-hander's that curves
// to the right. Where the names part is our own choice, see shape.go.
func TestShapesFollowTheHand(t *testing.T) {
	const deg = units.Degree
	for _, c := range []struct {
		v    Values
		want Shape
	}{
		{Values{Carry: 200, LaunchDirection: 0, Offline: 0}, Straight},
		{Values{Carry: 200, LaunchDirection: 0, Offline: 10}, Fade},
		{Values{Carry: 200, LaunchDirection: 0, Offline: -10}, Draw},
		{Values{Carry: 200, LaunchDirection: 0, Offline: 20}, Slice},
		{Values{Carry: 200, LaunchDirection: 0, Offline: -20}, Hook},
		{Values{Carry: 200, LaunchDirection: 3 * deg, Offline: 10.5}, Push}, // 200 tan 3° = 10.5: beside the line, and no slice
		{Values{Carry: 200, LaunchDirection: -3 * deg, Offline: -10.5}, Pull},
		{Values{Carry: 200, LaunchDirection: -4 * deg, Offline: 5}, Slice}, // starts left and curves 19 m to the right
		{Values{Carry: 200, LaunchDirection: -3 * deg, Offline: 0}, Fade},
		{Values{Carry: 200, Curve: -8, Offline: 30}, Draw},
		{Values{Carry: 200, SpinAxis: 10 * deg}, Fade},
		{Values{Carry: 200, SpinAxis: -20 * deg}, Hook},
	} {
		if w, ok := WayOf(c.v, frame.Right); !ok || w.Shape != c.want {
			t.Errorf("right-handed %v: %q, want %q", c.v, w.Shape, c.want)
		}
		mirrored := Values{}
		for q, v := range c.v {
			if k, _ := KindOf(q); k.Compass {
				v = -v
			}
			mirrored[q] = v
		}
		if w, ok := WayOf(mirrored, frame.Left); !ok || w.Shape != c.want {
			t.Errorf("left-handed %v: %q, want %q", mirrored, w.Shape, c.want)
		}
	}
	for _, v := range []Values{{}, {Carry: 200}, {Carry: 200, Offline: 20}, {Offline: 20, Curve: 3}} {
		if w, ok := WayOf(v, frame.Right); ok {
			t.Errorf("%v is called %q: a ball beside the line may be a push or a slice", v, w.Shape)
		}
	}
}
