package flight

import (
	"fmt"
	"math"

	"ferrule/core/air"
)

// Aero is the aerodynamics of a ball as somebody measured or fitted it: one
// value a source, see Published. It must be comparable.
type Aero interface {
	// Coefficients are drag and lift at Reynolds number 1e5 r and spin parameter
	// s >= 0, held at the edge of Facts().Range and never extrapolated.
	Coefficients(r, s float64) (cd, cl float64)
	Facts() Facts
}

// Facts say where a model comes from and where it may be used.
type Facts struct {
	Key    string // of core/REFERENCES.md
	Source string // in words
	Range  Range
}

// Range is where a model has data. Outside it the coefficients are held and
// Landing.Within says so. The upper Reynolds number does not count against a
// flight: every fit is flat there, and only the first tenths of a second pass it.
type Range struct {
	LowR, HighR float64 // [1] Reynolds number / 1e5
	LowS, HighS float64 // [1] spin parameter r w / v
}

// Model is the ball that flies: aerodynamics, and what is adjusted of them:
//
//	CD = KD (CD0 + KS (CD' - CD0)),   CL = KL (CL' + SpinLift .877 (S - .12) - Low .005/R^8)
//
// where CD', CL' are the coefficients of Aero and CD0 is its drag at no spin,
// or at the least spin that it has.
type Model struct {
	Aero  Aero    // nil = Compromise{}
	KD    float64 // [1] scale of drag
	KL    float64 // [1] scale of lift
	KS    float64 // [1] scale of the share of drag that spin causes
	Decay float64 // [1] lambda in dw/dt = -lambda (rho/rho0) v w/r [SS94]
	Curve float64 // [1] scale of the lift to a side; 0 counts as 1

	// What the mean ball has none of.
	SpinLift float64 // [1] steeper lift with spin, as a share of the default's slope
	Low      float64 // [1] lift lost at low Reynolds number, as a share of what published balls lose
}

// Where the shares of a ball are told from its levels, and what they are of.
const (
	MiddleR, MiddleS = 1.4, .12 // about the middle of a drive
	LeastR           = .62      // [1] points of lower Reynolds number are taken as of this one
	LowLift          = .005     // [1] CL that published balls lose at R = 1, growing with 1/R^8 (ferrule fly -fit)
	slopeLift        = liftS + 2*liftSS*MiddleS
)

// Default is the published compromise unscaled, spin decay after [SS94].
func Default() Model { return Of(Compromise{}) }

// Of is aerodynamics as published, nothing adjusted.
func Of(a Aero) Model { return Model{Aero: a, KD: 1, KL: 1, KS: 1, Decay: 2e-5, Curve: 1} }

// validate reports scales that no ball has.
func (m Model) validate() error {
	bad := func(name string, v, lo, hi float64) error {
		return fmt.Errorf("ball model, %s: read %g, expected %g to %g", name, v, lo, hi)
	}
	switch {
	case !(m.KD >= .3 && m.KD <= 3):
		return bad("drag scale", m.KD, .3, 3)
	case !(m.KL >= 0 && m.KL <= 3):
		return bad("lift scale", m.KL, 0, 3)
	case !(m.KS >= -1 && m.KS <= 4):
		return bad("spin-drag scale", m.KS, -1, 4)
	case !(m.Decay >= 0 && m.Decay <= 1e-3):
		return bad("spin decay", m.Decay, 0, 1e-3)
	case !(m.Curve >= 0 && m.Curve <= 3):
		return bad("curve scale", m.Curve, 0, 3)
	case !(m.SpinLift >= -2 && m.SpinLift <= 3):
		return bad("slope of lift with spin", m.SpinLift, -2, 3)
	case !(m.Low >= -10 && m.Low <= 10):
		return bad("loss of lift at low speed", m.Low, -10, 10)
	}
	return nil
}

// aero is a model in one air, with all that is constant along a flight.
type aero struct {
	Model
	own        bool       // Aero is Compromise, which has a fast path
	dragK      [3]float64 // [1/m] its drag: constant, by R, by S
	liftK      float64    // [1/m] k KL
	liftC      [3]float64 // [1] CL / KL: constant, by S, by 1/R^8
	over2      float64    // [s^2/m^2] 1/re^2
	r, s       float64    // [1] where the last right-hand side was: R and S
	k          float64    // [1/m] rho A/(2 m)
	re         float64    // [s/m] R per m/s: D/nu/1e5
	decay      float64    // [1/m] of spin by air path
	wx, wz     float64    // [m/s] air velocity at 10 m
	windy      bool
	gravity    float64                             // [m/s^2]
	nx, ny, nz float64                             // spin axis, fixed in space
	side       float64                             // ny times Curve
	fixed      func(r, s float64) (cd, cl float64) // tests only: another model
	within     Range
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
	if a.Aero == nil {
		a.Aero = Compromise{}
	}
	_, a.own = a.Aero.(Compromise)
	a.within = a.Aero.Facts().Range
	a.dragK = [3]float64{a.k * a.KD * dragA, a.k * a.KD * dragR, a.k * a.KD * a.KS * dragS}
	a.liftK = a.k * a.KL
	a.liftC = [3]float64{liftA - a.SpinLift*slopeLift*MiddleS, liftS + a.SpinLift*slopeLift, -a.Low * LowLift}
	a.over2 = 1 / (a.re * a.re)
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
		a.r, a.s = 0, 0
		return 0, -a.gravity, 0, 0
	}
	// The root and the quotient do not wait for each other.
	u, inv2 := math.Sqrt(u2), 1/u2
	inv := u * inv2
	r := u * a.re
	// Sine between spin axis and motion, and one over it: nearly square to each
	// other, as they are, a series is right to 1e-10.
	c := a.nx*ux + a.ny*vy + a.nz*uz
	e := c * c * inv2
	across := 1 - e*(.5+e*(.125+e*(.0625+e*.0390625)))
	over := 1 + e*(.5+e*(.375+e*(.3125+e*.2734375)))
	if e > .02 {
		across, over = oblique(e)
	}
	s := BallRadius * w * inv * across
	a.r, a.s = r, s
	var drag, lift float64 // k CD |u| and k CL |u| / |sin(n, u)|
	if a.own {
		hr, hs, taper, under := r, s, a.liftK, a.over2*inv2 // under = 1/R^2
		if r < minR+roundR || r > maxR-roundR {
			hr = rounded(r, minR, maxR, roundR)
			under = 1 / (hr * hr)
		}
		if s < minS+roundS || s > maxS-roundS {
			var share float64
			hs, share = tapered(s)
			taper *= share
		}
		drag = u * (a.dragK[0] + a.dragK[1]*hr + a.dragK[2]*hs)
		steep := under * under
		lift = u * over * taper * (a.liftC[0] + under*liftRR + steep*steep*a.liftC[2] + hs*(a.liftC[1]+liftSS*hs))
	} else {
		cd, cl := a.slow(r, s)
		drag, lift = u*a.k*cd, u*a.k*cl*over
	}
	lx := a.side*uz - a.nz*vy
	ly := a.nz*ux - a.nx*uz
	lz := a.nx*vy - a.side*ux
	return lift*lx - drag*ux, lift*ly - drag*vy - a.gravity, lift*lz - drag*uz, -a.decay * u * w
}

// slow are the coefficients of any other model.
func (a *aero) slow(r, s float64) (cd, cl float64) {
	if a.fixed != nil {
		return a.fixed(r, s)
	}
	cd, cl = a.Aero.Coefficients(r, s)
	if a.KS != 1 {
		cd0, _ := a.Aero.Coefficients(r, 0)
		cd = cd0 + a.KS*(cd-cd0)
	}
	if a.Low != 0 || a.SpinLift != 0 {
		low := rounded(r, minR, maxR, roundR)
		spin, taper := tapered(s)
		cl += taper * (a.SpinLift*slopeLift*(spin-MiddleS) - a.Low*LowLift*math.Pow(low, -8))
	}
	return a.KD * cd, a.KL * cl
}

// oblique is the sine between spin axis and motion, whose squared cosine is e,
// and one over it: 0 where the ball bores through the air and nothing lifts it.
func oblique(e float64) (sine, over float64) {
	sine = math.Sqrt(math.Max(1-e, 0))
	if sine < 1e-9 {
		return sine, 0
	}
	return sine, 1 / sine
}
