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

// Identities of vectors: the product of two is square to both, as long as the
// area between them, and x, y, z follow each other.
func TestVectors(t *testing.T) {
	x, y, z := Vec{1}, Vec{0, 1}, Vec{0, 0, 1}
	if x.Cross(y) != z || y.Cross(z) != x || z.Cross(x) != y {
		t.Error("x, y, z do not follow each other")
	}
	a, b := Vec{1, -2, 3}, Vec{4, 5, -6}
	c := a.Cross(b)
	if a.Dot(b) != -24 || c.Dot(a) != 0 || c.Dot(b) != 0 || c.Dot(c) != a.Dot(a)*b.Dot(b)-24*24 {
		t.Errorf("products %g and %v", a.Dot(b), c)
	}
	if a.Plus(b).Plus(b.Times(-1)) != a || (Vec{2, -3, 6}).Size() != 7 {
		t.Error("sum or size")
	}
}
