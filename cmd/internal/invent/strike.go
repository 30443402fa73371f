package invent

import "math"

// Delivery is how the head meets the ball.
type Delivery struct {
	Speed  float64 // [m/s]
	Attack float64 // [rad] up +
	Path   float64 // [rad] right +
	Face   float64 // [rad] right + at the middle of the face
	Loft   float64 // [rad] delivered, at the middle of the face
	Toe    float64 // [m] strike from the middle, toe +
	High   float64 // [m] up +
}

// Head is what the collision needs of the club and of the player's grip on it.
type Head struct {
	Mass        float64 // [kg]
	Restitution float64 // [1] in the middle of the face
	Eta         float64 // [1] grip of the face on the ball
	CGToe       float64 // [m] centre of mass, toe +
	Gear        float64 // [1] share of the rigid-body gear effect
}

// strike is the closed form of a rigid collision. With the spin loft P between
// head velocity and face normal:
//
//	vn = V cos P (1+e) / (1 + m/M'),  1/M' = 1/M + toe^2/Iv + high^2/Ih
//	vt = eta kappa V sin P,           spin = 2.5 vt / r
//
// and an off-centre strike adds spin 2.5 eta kappa (J d/I) offset / r the other
// way (gear effect), J = m vn. The face curves with 12 in; e falls by 2.3e-4
// per mm^2 off the middle (real faces lose more than rigid ones; from memory).
func strike(d Delivery, h Head) Launch {
	const (
		m     = .0459
		r     = .02135
		depth = .037
		iv    = 4.7e-4
		ih    = 3.1e-4
		curve = 12 * inch
		kappa = .256
	)
	toe := d.Toe - h.CGToe
	loft, face := d.Loft+d.High/curve, d.Face+d.Toe/curve
	n := [3]float64{math.Cos(loft) * math.Cos(face), math.Sin(loft), math.Cos(loft) * math.Sin(face)}
	v := [3]float64{math.Cos(d.Attack) * math.Cos(d.Path), math.Sin(d.Attack), math.Cos(d.Attack) * math.Sin(d.Path)}
	along := n[0]*v[0] + n[1]*v[1] + n[2]*v[2]
	e := h.Restitution - 230*(d.Toe*d.Toe+d.High*d.High)
	vn := d.Speed * along * (1 + e) / (1 + m*(1/h.Mass+toe*toe/iv+d.High*d.High/ih))
	slip := h.Eta * kappa * d.Speed
	var ball [3]float64
	for i := range ball {
		ball[i] = vn*n[i] + slip*(v[i]-along*n[i])
	}
	level := math.Hypot(ball[0], ball[2])
	l := Launch{
		Speed:     math.Sqrt(level*level + ball[1]*ball[1]),
		Angle:     math.Atan2(ball[1], level),
		Direction: math.Atan2(ball[2], ball[0]),
	}
	// Spin about v x n: backspin and the part that curves right.
	back := math.Cos(d.Attack)*math.Sin(loft) - math.Sin(d.Attack)*math.Cos(loft)*math.Cos(face-d.Path)
	side := math.Cos(loft) * math.Sin(face-d.Path)
	rate := 2.5 * slip / r
	gear := 2.5 * h.Eta * kappa * m * vn * depth / r * h.Gear
	back = rate*back - gear*d.High/ih
	side = rate*side - gear*toe/iv
	l.Spin = math.Hypot(back, side)
	l.Axis = math.Atan2(side, back)
	return l
}
