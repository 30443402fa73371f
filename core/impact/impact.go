// Package impact carries a club's delivery through the collision to the
// ball's launch, explains a launch by a delivery, and turns doubt about both
// into a prior for what each adjustment does to this player's ball.
//
// Everything here is for a right-hander (package frame): toe is at +z. Main
// types in reading order: Delivery, Params, Strike, Explain, Baseline, Effects.
//
// Begin with Strike and its example.
package impact

import (
	"errors"
	"fmt"
	"math"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/frame"
	"ferrule/core/message"
)

// Delivery is how the head arrives.
type Delivery struct {
	ClubSpeed   float64 // [m/s]
	Attack      float64 // [rad] up +
	Path        float64 // [rad] right +
	Face        float64 // [rad] face to target at the middle of the face, right +
	DynamicLoft float64 // [rad] at the middle of the face
	StrikeToe   float64 // [m] strike from the face centre, toe +
	StrikeHigh  float64 // [m] up +
}

// Params is a head and a ball as the collision sees them.
type Params struct {
	HeadMass    float64 // [kg] with the little of the shaft that takes part
	CGDepth     float64 // [m] centre of mass behind the face
	CGToe       float64 // [m] centre of mass towards the toe from the face centre
	Iv          float64 // [kg m^2] about the vertical axis
	Ih          float64 // [kg m^2] about the heel-toe axis
	Ix          float64 // [kg m^2] about the face normal
	Eta         float64 // [1] grip efficiency: share of the no-slip tangential impulse
	Restitution float64 // [1] effective, of the player's own strikes at the face centre
	Fade        float64 // [1/m^2] share of the restitution lost per squared distance from the face centre
	Friction    float64 // [1] most tangential per normal impulse
	Bulge       float64 // [m] radius of the face heel to toe, 0 = flat
	Roll        float64 // [m] radius of the face crown to sole, 0 = flat
}

// DefaultParams is a typical head of h's kind: inertia, depth and bulge of
// measured drivers [GearAppendix, MOMENTUM49], restitution and grip efficiency
// by calibration of tour and amateur averages (eta .85 +- .10, from memory). The
// fade makes a strike half an inch out lose 2.5 % of ball speed, of which a rigid
// body explains half (players: 2 to 4 %, from memory).
func DefaultParams(h club.Head) Params {
	p := Params{HeadMass: .203, CGDepth: .038, Iv: 4.9e-4, Ih: 3.2e-4, Ix: 2.8e-4,
		Eta: .85, Restitution: .83, Fade: 180, Friction: .4, Bulge: .305, Roll: .305}
	if h.Kind == club.Fairway || h.Kind == club.Hybrid { // shallower, lighter in inertia: common practice, no source
		p.CGDepth, p.Iv, p.Ih, p.Ix, p.Restitution = .027, 2.8e-4, 1.7e-4, 2e-4, .80
	}
	if h.Mass > 0 {
		p.HeadMass = h.Mass + .003 // a shaft takes part like less than 3 g [MOMENTUM49]
	}
	return p
}

type vec = frame.Vec

// normalOf is the outward normal of a face of loft d that looks f right.
func normalOf(d, f float64) vec {
	return vec{math.Cos(d) * math.Cos(f), math.Sin(d), math.Cos(d) * math.Sin(f)}
}

// ballInertia is .4 m r^2 of a uniform ball [kg m^2]; a measured one is within
// half a percent (83.63 g cm^2 [MOMENTUM49]).
const ballInertia = .4 * flight.BallMass * flight.BallRadius * flight.BallRadius

// errNoStrike says that the head does not move into the ball.
var errNoStrike = message.New("problem.no-contact")

// Strike returns the launch of a ball struck so. With the impulse P on the
// ball at the contact point and the inverse-mass matrix
//
//	K = (1/m + 1/M) E - [rb]x Ib^-1 [rb]x - [rc]x Ic^-1 [rc]x
//
// the relative velocity w of the contact points changes by K P. Its normal
// part is reversed times the restitution; its tangential part gets eta of the
// impulse that would stop the slip, at most friction times the normal impulse
// (rigid body with oblique friction; form as [WT94], [MOMENTUM49]).
//
// The error is about numbers that no strike has.
func Strike(d Delivery, p Params) (flight.Launch, error) {
	for _, x := range []float64{d.ClubSpeed, d.Attack, d.Path, d.Face, d.DynamicLoft, d.StrikeToe, d.StrikeHigh} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return flight.Launch{}, fmt.Errorf("impact: the delivery holds %g, expected finite numbers", x)
		}
	}
	if !(d.ClubSpeed > 0) {
		return flight.Launch{}, message.New("problem.named", message.Key("quantity.club_speed"), message.Of("problem.read", d.ClubSpeed, message.Of("problem.positive")))
	}
	loft, face := d.DynamicLoft, d.Face
	n0 := normalOf(loft, face)
	toe := vec{-math.Sin(face), 0, math.Cos(face)}
	up := toe.Cross(n0)
	if p.Bulge > 0 {
		face += d.StrikeToe / p.Bulge
	}
	if p.Roll > 0 {
		loft += d.StrikeHigh / p.Roll
	}
	n := normalOf(loft, face)
	head := vec{math.Cos(d.Attack) * math.Cos(d.Path), math.Sin(d.Attack), math.Cos(d.Attack) * math.Sin(d.Path)}.Times(d.ClubSpeed)
	rb := n.Times(-flight.BallRadius)
	rc := n0.Times(p.CGDepth).Plus(toe.Times(d.StrikeToe - p.CGToe)).Plus(up.Times(d.StrikeHigh))
	// response of the contact points to an impulse q: K q
	k := func(q vec) vec {
		a := rc.Cross(q)
		turn := n0.Times(a.Dot(n0) / p.Ix).Plus(up.Times(a.Dot(up) / p.Iv)).Plus(toe.Times(a.Dot(toe) / p.Ih))
		return q.Times(1/flight.BallMass + 1/p.HeadMass).Plus(rb.Cross(q).Cross(rb).Times(1 / ballInertia)).Plus(turn.Cross(rc))
	}
	w := head.Times(-1)
	wn := w.Dot(n)
	if wn >= 0 {
		return flight.Launch{}, errNoStrike
	}
	bounce := 1 + p.Restitution*math.Max(0, 1-p.Fade*(d.StrikeToe*d.StrikeToe+d.StrikeHigh*d.StrikeHigh))
	full, err := solve(k, n.Times(-bounce*wn).Plus(w.Plus(n.Times(-wn)).Times(-1)))
	if err != nil {
		return flight.Launch{}, err
	}
	tangent := full.Plus(n.Times(-full.Dot(n))).Times(p.Eta)
	knn, kt := n.Dot(k(n)), n.Dot(k(tangent))
	normal := (-bounce*wn - kt) / knn
	if most := p.Friction * normal; tangent.Size() > most {
		tangent = tangent.Times(most / tangent.Size())
		normal = (-bounce*wn - n.Dot(k(tangent))) / knn
	}
	q := n.Times(normal).Plus(tangent)
	return launchOf(q.Times(1/flight.BallMass), rb.Cross(q).Times(1/ballInertia)), nil
}

// solve finds q with k(q) = b for a linear k, by Cramer's rule.
func solve(k func(vec) vec, b vec) (vec, error) {
	x, y, z := k(vec{1, 0, 0}), k(vec{0, 1, 0}), k(vec{0, 0, 1})
	det := x.Dot(y.Cross(z))
	if det == 0 || math.IsNaN(det) {
		return vec{}, errors.New("impact: the head has no inertia")
	}
	return vec{b.Dot(y.Cross(z)) / det, x.Dot(b.Cross(z)) / det, x.Dot(y.Cross(b)) / det}, nil
}

// launchOf reads a ball's velocity and spin as a launch. The axis is the tilt
// about the launch direction: w = |w| (cos a right - sin a up).
func launchOf(v, w vec) flight.Launch {
	level := math.Hypot(v[0], v[2])
	l := flight.Launch{Speed: v.Size(), Angle: math.Atan2(v[1], level), Direction: math.Atan2(v[2], v[0]), Spin: w.Size()}
	right := vec{-v[2] / level, 0, v[0] / level}
	above := right.Cross(v.Times(1 / l.Speed))
	l.Axis = math.Atan2(-w.Dot(above), w.Dot(right))
	if l.Spin < 1e-9 {
		l.Axis = 0
	}
	return l
}

// K is the number of responses: ball speed, launch, direction, spin, axis.
const K = 5

// responses lists a launch in the order of the responses, SI.
func responses(l flight.Launch) [K]float64 {
	return [K]float64{l.Speed, l.Angle, l.Direction, l.Spin, l.Axis}
}
