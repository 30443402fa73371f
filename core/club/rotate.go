package club

import (
	"math"

	"ferrule/core/frame"
)

// vec is a vector in the head's frame: x to the target, y up, z towards the
// toe. For a right-hander this is the frame of package frame; a left-hander's
// club is its mirror image, so toe, open and upright need no second version.
type vec = frame.Vec

// mat is a 3x3 rotation matrix, row by row.
type mat [3]vec

func (m mat) times(v vec) vec { return vec{m[0].Dot(v), m[1].Dot(v), m[2].Dot(v)} }

// leastRotation returns the rotation by the smallest angle that takes the unit
// vector s to the unit vector h. With c = s.h and w = s x h,
//
//	R = E + [w] + [w][w] / (1 + c)
//
// which is exact and needs no angle. s = -h is no case of a sleeve.
func leastRotation(s, h vec) mat {
	c, w := s.Dot(h), s.Cross(h)
	k := 1 / (1 + c)
	return mat{
		{1 - k*(w[1]*w[1]+w[2]*w[2]), -w[2] + k*w[0]*w[1], w[1] + k*w[0]*w[2]},
		{w[2] + k*w[0]*w[1], 1 - k*(w[0]*w[0]+w[2]*w[2]), -w[0] + k*w[1]*w[2]},
		{-w[1] + k*w[0]*w[2], w[0] + k*w[1]*w[2], 1 - k*(w[0]*w[0]+w[1]*w[1])},
	}
}

// turn rotates v about the unit axis h by psi (Rodrigues).
func turn(h vec, psi float64, v vec) vec {
	s, c := math.Sincos(psi)
	return v.Times(c).Plus(h.Cross(v).Times(s)).Plus(h.Times((1 - c) * h.Dot(v)))
}

// turnToPlane returns the smallest turn psi about the unit axis h that brings
// v into the plane with normal w: turn(h, psi, v).w = 0. With
//
//	a = (h.v)(h.w),  b = v.w - a,  c = (h x v).w
//
// it solves a + b cos(psi) + c sin(psi) = 0. ok is false when no turn does.
func turnToPlane(h, v, w vec) (psi float64, ok bool) {
	a := h.Dot(v) * h.Dot(w)
	b := v.Dot(w) - a
	c := h.Cross(v).Dot(w)
	r := math.Hypot(b, c)
	if r == 0 || math.Abs(a) > r {
		return 0, false
	}
	mid := math.Atan2(c, b)
	half := math.Acos(-a / r)
	p, q := wrap(mid+half), wrap(mid-half)
	if math.Abs(q) < math.Abs(p) {
		p = q
	}
	return p, true
}

// wrap brings an angle to -pi..pi.
func wrap(a float64) float64 { return math.Remainder(a, 2*math.Pi) }

// normal is the outward normal of a face with loft l and face angle f (open
// is towards the toe side, +z).
func normal(l, f float64) vec {
	sl, cl := math.Sincos(l)
	sf, cf := math.Sincos(f)
	return vec{cl * cf, sl, cl * sf}
}

// angles is the inverse of normal.
func angles(n vec) (loft, face float64) {
	return math.Asin(math.Max(-1, math.Min(1, n[1]))), math.Atan2(n[2], n[0])
}

// round6 rounds to a millionth, half away from zero; minus zero becomes zero.
func round6(v float64) float64 { return math.Round(v*1e6)/1e6 + 0 }
