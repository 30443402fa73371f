package frame

import "testing"

func TestMirrorTwiceIsIdentity(t *testing.T) {
	for _, h := range []Hand{"", Right, Left} {
		if got := h.Mirror(h.Mirror(3.5)); got != 3.5 {
			t.Errorf("%q: Mirror twice gives %v", h, got)
		}
		for _, s := range []Side{"", SideLeft, SideRight} {
			if got := h.MirrorSide(h.MirrorSide(s)); got != s {
				t.Errorf("%q: MirrorSide twice of %q gives %q", h, s, got)
			}
		}
	}
	if Left.Mirror(2) != -2 || Right.Mirror(2) != 2 || Left.MirrorSide(SideRight) != SideLeft {
		t.Error("a left-hander's right is the right-handed equivalent's left")
	}
}
