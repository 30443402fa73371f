package frame

import "math"

// Vec is a vector along x, y and z, in whatever unit. In a head's own frame z
// points towards the toe, which for a right-hander is the same.
type Vec [3]float64

// Dot is the scalar product.
func (a Vec) Dot(b Vec) float64 { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }

// Cross is the vector product, right-handed.
func (a Vec) Cross(b Vec) Vec {
	return Vec{a[1]*b[2] - a[2]*b[1], a[2]*b[0] - a[0]*b[2], a[0]*b[1] - a[1]*b[0]}
}

// Plus is a + b.
func (a Vec) Plus(b Vec) Vec { return Vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }

// Times is k a.
func (a Vec) Times(k float64) Vec { return Vec{k * a[0], k * a[1], k * a[2]} }

// Size is the length of a.
func (a Vec) Size() float64 { return math.Sqrt(a.Dot(a)) }
