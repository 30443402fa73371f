package flight

import "math"

// A step takes pace x (40 m/s / air speed)^1.5, so that fast air, where
// everything changes quickly, gets the short ones: half the right-hand sides of
// equal steps for the same error. It is a smooth function of the state, so two
// settings are compared with the same error. At the pace below the classical
// Runge-Kutta method stays within .01 yd of the converged carry (TestConvergence).
const (
	pace     = 0.38 // [s]
	paceAt   = 40.0 // [m/s]
	windward = 0.85 // [1] in wind, and shorter near the ground, see stepOf
	nearest  = 2.0  // [m]
	nearly   = 6.0  // [m]
)

// slowest [m/s] is the air speed below which steps grow no longer.
const slowest = 12.0

// stepOf is how long the next step takes [s], after a right-hand side. In wind
// the first metres above the ground, where the wind grows fast, get shorter ones.
func (f *flyer) stepOf() float64 {
	if f.even > 0 {
		return f.even
	}
	q := f.quick
	if f.r > f.crawl {
		q = f.paceR / f.r
	}
	h := f.pace * q * math.Sqrt(q)
	if f.windy {
		h *= windward * (f.y + nearest) / (f.y + nearly)
	}
	return h
}

// longest [s] is after which a flight is cut: nothing that a club does stays up
// so long, only nonsense launches do.
const longest = 60.0

// flyer is a ball in flight and, after run, at its landing.
type flyer struct {
	aero
	pace         float64 // [s] see stepOf
	h            float64 // [s] the step taken
	paceR, crawl float64 // [1] R at paceAt and slowest
	quick        float64 // [1] paceAt/slowest
	even         float64 // [s] tests only: equal steps
	x, y, z      float64 // [m]
	vx, vy, vz   float64 // [m/s]
	w            float64 // [rad/s]
	time         float64 // [s]
	apex         float64 // [m]
	evals        int     // right-hand sides used
	lowR         float64 // [1] range of Re/1e5 and S seen at the steps
	lowS, highS  float64
	from, share  float64 // spin [rad/s] at the start of the last step, share [1] of its path flown
}

func newFlyer(l Launch, a aero) flyer {
	sa, ca := math.Sincos(l.Angle)
	sd, cd := math.Sincos(l.Direction)
	st, ct := math.Sincos(l.Axis)
	// Axis tilted about the launch direction: n = cos(tilt) right - sin(tilt) up.
	a.nx, a.ny, a.nz = -ct*sd, -st, ct*cd
	if a.side = a.ny; a.Curve != 0 {
		a.side *= a.Curve
	}
	return flyer{
		aero: a, pace: pace, paceR: paceAt * a.re, crawl: slowest * a.re, quick: paceAt / slowest, w: l.Spin,
		vx: l.Speed * ca * cd, vy: l.Speed * sa, vz: l.Speed * ca * sd,
		lowR: math.Inf(1), lowS: math.Inf(1),
	}
}

// quintic is a polynomial on 0..1 that matches value, slope and curvature at
// both ends of a step.
type quintic [6]float64

func hermite(h, p0, v0, a0, p1, v1, a1 float64) quintic {
	c1, c2 := v0*h, .5*a0*h*h
	d := p1 - p0 - c1 - c2
	e := v1*h - c1 - 2*c2
	f := a1*h*h - 2*c2
	return quintic{p0, c1, c2, 10*d - 4*e + .5*f, -15*d + 7*e - f, 6*d - 3*e + .5*f}
}

func (q *quintic) at(s float64) float64 {
	return q[0] + s*(q[1]+s*(q[2]+s*(q[3]+s*(q[4]+s*q[5]))))
}

func (q *quintic) slope(s float64) float64 {
	return q[1] + s*(2*q[2]+s*(3*q[3]+s*(4*q[4]+s*5*q[5])))
}

// derived is the slope as a polynomial of its own.
func (q *quintic) derived() quintic { return quintic{q[1], 2 * q[2], 3 * q[3], 4 * q[4], 5 * q[5]} }

// fall is where q falls through zero on 0..1, given q(0) > 0 >= q(1), by
// Newton's method from the chord, kept inside a shrinking bracket.
func (q *quintic) fall() float64 {
	lo, hi := 0.0, 1.0
	s := q[0] / (q[0] - q.at(1))
	for range 60 {
		v := q.at(s)
		if v > 0 {
			lo = s
		} else {
			hi = s
		}
		next := s - v/q.slope(s)
		if !(next > lo && next < hi) {
			next = .5 * (lo + hi)
		}
		if math.Abs(next-s) < 1e-13 {
			return next
		}
		s = next
	}
	return s
}

// span is one step of the path, begun at time t [s] and h [s] long.
type span struct {
	x, y, z quintic
	t, h    float64
}

// run integrates to the landing. Classical RK4 written out; the accelerations
// at the step ends, which it has anyway, give the quintics on which apex and
// landing are found without further right-hand sides.
func (f *flyer) run(spans *[]span) {
	ax, ay, az, dw := f.rhs(f.y, f.vx, f.vy, f.vz, f.w)
	f.evals = 1
	f.look()
	if f.vy < 0 || f.vy == 0 && ay <= 0 {
		return
	}
	for f.time < longest {
		h := f.stepOf()
		f.h = h
		x, y, z, vx, vy, vz, w := f.x, f.y, f.z, f.vx, f.vy, f.vz, f.w
		bx, by, bz, bw := f.rhs(y+.5*h*vy, vx+.5*h*ax, vy+.5*h*ay, vz+.5*h*az, w+.5*h*dw)
		cx, cy, cz, cw := f.rhs(y+.5*h*(vy+.5*h*ay), vx+.5*h*bx, vy+.5*h*by, vz+.5*h*bz, w+.5*h*bw)
		ex, ey, ez, ew := f.rhs(y+h*(vy+.5*h*by), vx+h*cx, vy+h*cy, vz+h*cz, w+h*cw)
		f.x = x + h*(vx+h/6*(ax+bx+cx))
		f.y = y + h*(vy+h/6*(ay+by+cy))
		f.z = z + h*(vz+h/6*(az+bz+cz))
		f.vx = vx + h/6*(ax+2*bx+2*cx+ex)
		f.vy = vy + h/6*(ay+2*by+2*cy+ey)
		f.vz = vz + h/6*(az+2*bz+2*cz+ez)
		f.w = w + h/6*(dw+2*bw+2*cw+ew)
		nx, ny, nz, nw := f.rhs(f.y, f.vx, f.vy, f.vz, f.w)
		f.evals += 4
		f.look()

		rising := vy > 0 && f.vy <= 0
		down := f.y <= 0
		if rising || down || spans != nil {
			qy := hermite(h, y, vy, ay, f.y, f.vy, ny)
			if rising {
				climb := qy.derived()
				f.apex = math.Max(f.apex, qy.at(climb.fall()))
			}
			if down || spans != nil {
				q := span{hermite(h, x, vx, ax, f.x, f.vx, nx), qy, hermite(h, z, vz, az, f.z, f.vz, nz), f.time, h}
				if spans != nil {
					*spans = append(*spans, q)
				}
				if down {
					f.land(q, w, math.Sqrt(vx*vx+vy*vy+vz*vz))
					return
				}
			}
		}
		f.time += h
		ax, ay, az, dw = nx, ny, nz, nw
	}
	f.apex = math.Max(f.apex, f.y)
}

// land puts the ball at the zero of its height within the last step, which
// began with spin w and speed v.
func (f *flyer) land(q span, w, v float64) {
	height := q.y
	if height[0] == 0 {
		// The first step starts at the ground: take that root out.
		height = quintic{q.y[1], q.y[2], q.y[3], q.y[4], q.y[5]}
		if height[0] == 0 { // launched level and lifted: take it out twice
			height = quintic{q.y[2], q.y[3], q.y[4], q.y[5]}
		}
	}
	s := height.fall()
	f.time += s * f.h
	end := math.Sqrt(f.vx*f.vx + f.vy*f.vy + f.vz*f.vz)
	f.x, f.y, f.z = q.x.at(s), 0, q.z.at(s)
	f.vx, f.vy, f.vz = q.x.slope(s)/f.h, q.y.slope(s)/f.h, q.z.slope(s)/f.h
	f.from, f.share = w, s*(v+.5*s*(end-v))/math.Max(.5*(v+end), 1e-9) // the step's path, its speed taken as linear
}

// spin of the ball at its landing [rad/s]: exponential in the path of the last step.
func (f *flyer) spin() float64 {
	if f.from <= 0 {
		return f.w
	}
	return f.from * math.Pow(f.w/f.from, f.share)
}

// look records how near the edge of the aerodynamic data the ball is, after a
// right-hand side.
func (f *flyer) look() {
	if f.r < f.lowR {
		f.lowR = f.r
	}
	if f.s < f.lowS {
		f.lowS = f.s
	}
	if f.s > f.highS {
		f.highS = f.s
	}
}

// margin is >= 0 when the flight stayed inside the data of its model, as a
// share of the nearest limit.
func (f *flyer) margin() float64 {
	q := &f.within
	return math.Min(f.lowR/q.LowR-1, math.Min(f.lowS/q.LowS-1, 1-f.highS/q.HighS))
}
