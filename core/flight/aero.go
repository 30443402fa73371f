package flight

import (
	"fmt"
	"math"

	"ferrule/core/air"
)

// Model is the aerodynamics of a ball. With S = r w/v (spin parameter, by the
// spin normal to the motion) and R = Re/1e5:
//
//	CD = KD (.1029 + .0274 R + KS .7397 S)
//	CL = KL (.0677 + 1.0208 S - .5991 S^2 - .0122/R^2)
//
// a least-squares compromise over 27 published points [COMP], rms .021 in CD
// and .016 in CL. Outside the points: R is held to .7..2.2; above S = .35 CD
// and CL go on with slopes .38 and .25, CL to .45 at most; below S = .045 CL
// falls linearly to zero, because no ball lifts without spin.
type Model struct {
	KD    float64 // [1] scale of drag
	KL    float64 // [1] scale of lift
	KS    float64 // [1] scale of the share of drag that spin causes
	Decay float64 // [1] lambda in dw/dt = -lambda (rho/rho0) v w/r [SS94]
	Curve float64 // [1] tilt of the axis that a ball flies by for each that its device prints; 0 counts as 1
}

// Default is the published compromise unscaled, spin decay after [SS94].
func Default() Model { return Model{KD: 1, KL: 1, KS: 1, Decay: 2e-5, Curve: 1} }

// bendable [rad] is the tilt up to which Curve acts in proportion; a topped ball
// stays a topped ball.
const bendable = 40 * math.Pi / 180

// tilt is the axis that a ball flies by when its device prints axis [rad].
func (m *Model) tilt(axis float64) float64 {
	if m.Curve == 0 || m.Curve == 1 {
		return axis
	}
	return axis + (m.Curve-1)*math.Max(-bendable, math.Min(bendable, axis))
}

// Validate reports scales that no ball has.
func (m Model) Validate() error {
	for _, c := range []struct {
		name   string
		v      float64
		lo, hi float64
	}{
		{"drag scale", m.KD, 0.3, 3}, {"lift scale", m.KL, 0, 3},
		{"spin-drag scale", m.KS, -1, 4}, {"spin decay", m.Decay, 0, 1e-3}, {"curve scale", m.Curve, 0, 3},
	} {
		if !(c.v >= c.lo && c.v <= c.hi) {
			return fmt.Errorf("ball model, %s: read %g, expected %g to %g", c.name, c.v, c.lo, c.hi)
		}
	}
	return nil
}

// The fit [COMP] and where it may be used.
const (
	dragA, dragS, dragR          = .1029, .7397, .0274
	liftA, liftS, liftSS, liftRR = .0677, 1.0208, -.5991, -.0122
	minR, maxR                   = .7, 2.2
	minS, maxS                   = .045, .35
	dragBeyond, liftBeyond       = .38, .25
	maxLift                      = .45
)

// Coefficients returns drag and lift of the ball at Reynolds number re and
// spin parameter s (>= 0).
func (m Model) Coefficients(re, s float64) (cd, cl float64) {
	return m.coefficients(re*1e-5, s)
}

func (m *Model) coefficients(r, s float64) (cd, cl float64) {
	if r < minR {
		r = minR
	} else if r > maxR {
		r = maxR
	}
	base := liftA + liftRR/(r*r)
	switch {
	case s < minS:
		cd = dragS * s
		cl = (base + minS*(liftS+liftSS*minS)) * (s / minS)
	case s <= maxS:
		cd = dragS * s
		cl = base + s*(liftS+liftSS*s)
	default:
		cd = dragS*maxS + dragBeyond*(s-maxS)
		cl = base + maxS*(liftS+liftSS*maxS) + liftBeyond*(s-maxS)
		if cl > maxLift {
			cl = maxLift
		}
	}
	return m.KD * (dragA + dragR*r + m.KS*cd), m.KL * cl
}

// aero is a model in one air, with all that is constant along a flight.
type aero struct {
	Model
	k          float64 // [1/m] rho A/(2 m)
	re         float64 // [s/m] R per m/s: D/nu/1e5
	decay      float64 // [1/m] of spin by air path
	wx, wz     float64 // [m/s] air velocity at 10 m
	windy      bool
	gravity    float64                             // [m/s^2]
	nx, ny, nz float64                             // spin axis, fixed in space
	fixed      func(r, s float64) (cd, cl float64) // tests only: another model
}

func newAero(e Env) aero {
	rho := e.Air.Density()
	a := aero{
		Model:   e.Model,
		k:       rho * BallArea / (2 * BallMass),
		re:      rho * BallDiameter / e.Air.Viscosity() * 1e-5,
		decay:   e.Model.Decay * rho / air.Density0 / BallRadius,
		windy:   !e.Air.Still(),
		gravity: Gravity,
	}
	if a.windy {
		a.wx, a.wz = e.Air.WindVector()
	}
	return a
}

// rhs is the acceleration of a ball at height y with velocity v and spin w,
// and the rate of its spin:
//
//	dv/dt = -k CD |u| u + k CL |u|^2 (n x u)/|n x u| + g,   u = v - wind
//	dw/dt = -decay |u| w
//
// n is the spin axis, fixed in space. Form after [P01], [RR13].
func (a *aero) rhs(y, vx, vy, vz, w float64) (ax, ay, az, dw float64) {
	ux, uz := vx, vz
	if a.windy {
		p := air.Profile(y)
		ux -= a.wx * p
		uz -= a.wz * p
	}
	u2 := ux*ux + vy*vy + uz*uz
	if u2 < 1e-12 {
		return 0, -a.gravity, 0, 0
	}
	u := math.Sqrt(u2)
	lx := a.ny*uz - a.nz*vy
	ly := a.nz*ux - a.nx*uz
	lz := a.nx*vy - a.ny*ux
	across := math.Sqrt(lx*lx + ly*ly + lz*lz)
	s := BallRadius * w * across / u2
	var cd, cl float64
	if a.fixed == nil {
		cd, cl = a.coefficients(u*a.re, s)
	} else {
		cd, cl = a.fixed(u*a.re, s)
	}
	drag := a.k * cd * u
	lift := 0.0
	if across > 1e-9*u {
		lift = a.k * cl * u2 / across
	}
	return lift*lx - drag*ux, lift*ly - drag*vy - a.gravity, lift*lz - drag*uz, -a.decay * u * w
}
