package flight

import "math"

// Ground constants. The form is [P02]'s: a rigid ball on a surface that the
// impact has turned; every number is from memory, so a run is good to 5-10 yd.
// Firmness changes are our own choice.
const (
	turnAngle     = 15.4 * math.Pi / 180 // [rad] surface turn at the impact below
	turnSpeed     = 18.6                 // [m/s]
	turnSteep     = 44.4 * math.Pi / 180 // [rad] of impact below horizontal
	slideFriction = .40                  // [1] while the ball slides
	rollFriction  = .20                  // [1] of rolling on a fairway; chosen, see TestFlightCases P3, P4, O1
	firmTurn      = .35                  // [1] share of the turn that firmness 1 takes away
	firmBounce    = .20                  // [1] share of restitution that it adds
	firmRoll      = .35                  // [1] share of rolling friction that it takes away
)

// restitution of a ball that meets the turned surface at normal speed u [m/s].
func restitution(u float64) float64 {
	if u > 20 {
		return .12
	}
	return .510 - .0375*u + .000903*u*u
}

// settle bounces and rolls the ball from its landing and returns where it
// stops [m]. Between bounces it flies without air. Each bounce turns the
// surface back against the motion by
//
//	15.4 deg (v / 18.6 m/s) (descent / 44.4 deg)
//
// and gives the ball (1+e) of its normal speed and, along the slip of the
// contact point, the lesser of sliding friction and what stops the slip
// (2/7 of it for a uniform sphere), which changes the spin alike.
func (f *flyer) settle(firmness float64) (restX, restZ float64) {
	x, z := f.x, f.z
	v := vector{f.vx, f.vy, f.vz}
	w := vector{f.nx, f.ny, f.nz}.times(f.w)
	if v.y > 0 { // cut in mid-air: a nonsense launch
		return x, z
	}
	for range 40 {
		v, w = bounce(v, w, firmness)
		if v.y < .4 {
			break
		}
		t := 2 * v.y / Gravity
		x += v.x * t
		z += v.z * t
		v.y = -v.y
	}
	// Friction first makes it roll: 5/7 v + 2/7 r w of a uniform sphere.
	rx := (5*v.x - 2*BallRadius*w.z) / 7
	rz := (5*v.z + 2*BallRadius*w.x) / 7
	speed := math.Hypot(rx, rz)
	run := speed / (2 * (5. / 7) * rollFriction * (1 - firmRoll*firmness) * Gravity)
	return x + rx*run, z + rz*run
}

// bounce returns velocity and spin after one impact.
func bounce(v, w vector, firmness float64) (vector, vector) {
	speed := v.size()
	level := math.Hypot(v.x, v.z)
	if speed < 1e-9 {
		return vector{}, w
	}
	descent := math.Atan2(-v.y, level)
	turn := turnAngle * (speed / turnSpeed) * (descent / turnSteep) * (1 - firmTurn*firmness)
	turn = math.Min(turn, descent) // the surface never turns past square to the ball
	n := vector{0, 1, 0}
	if level > 1e-9 {
		s, c := math.Sincos(turn)
		n = vector{-s * v.x / level, c, -s * v.z / level}
	}
	in := -v.dot(n)
	if in <= 0 {
		return v, w
	}
	e := math.Min(restitution(in)*(1+firmBounce*firmness), 1)
	slip := v.plus(n.times(in)).plus(w.cross(n).times(-BallRadius))
	push := 2. / 7
	if s := slip.size(); s > 0 {
		push = math.Min(push, slideFriction*(1+e)*in/s)
	}
	dv := slip.times(-push)
	v = v.plus(n.times((1 + e) * in)).plus(dv)
	// Torque of the friction at -r n: dw = (5/2r) (dv x n).
	w = w.plus(dv.cross(n).times(2.5 / BallRadius))
	return v, w
}

type vector struct{ x, y, z float64 }

func (a vector) plus(b vector) vector   { return vector{a.x + b.x, a.y + b.y, a.z + b.z} }
func (a vector) times(k float64) vector { return vector{k * a.x, k * a.y, k * a.z} }
func (a vector) dot(b vector) float64   { return a.x*b.x + a.y*b.y + a.z*b.z }
func (a vector) size() float64          { return math.Sqrt(a.dot(a)) }
func (a vector) cross(b vector) vector {
	return vector{a.y*b.z - a.z*b.y, a.z*b.x - a.x*b.z, a.x*b.y - a.y*b.x}
}
