package rough

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// Landing is where a ball came down and how it flew.
type Landing struct {
	X, Z, Apex, Descent, Time float64 // [m] [m] [m] [rad] [s]
}

// Carry is as devices print it: straight to the place [m].
func (l Landing) Carry() float64 { return math.Hypot(l.X, l.Z) }

// Rest is where it stops: it runs on along its line, less the steeper it fell.
func (l Landing) Rest() (x, z float64) {
	run := math.Max(0, 44*yd-.68*yd*l.Descent/deg)
	k := 1 + run/math.Max(l.Carry(), 1)
	return l.X * k, l.Z * k
}

// ball is a session's ball: a law of drag and lift and its own share of each.
type ball struct {
	power                    bool
	drag, lift, curve, decay float64 // [1] of the law's
	density                  float64 // [kg/m^3]
}

func newBall(r *invent.Rand, law string) ball {
	return ball{power: law == "power", drag: 1 + .04*r.Normal(), lift: 1 + .06*r.Normal(), curve: 1 + .08*r.Normal(),
		decay: 1 + .25*r.Normal(), density: 1.2}
}

// coefficients of drag and lift at spin parameter s and air speed v. The
// saturating law has a lift that levels off and a drag that rises when the ball
// is slow; the power law is a power of the spin. Both are set to carry the
// tour's average drive (167 mph, 10.9 deg, 2686 rpm) about 275 yd.
func (b ball) coefficients(s, v float64) (cd, cl float64) {
	if b.power {
		return .203 + .27*s, .52 * math.Pow(s, .49)
	}
	return .223 + .36*math.Pow(s, 1.3) + .05/(1+math.Exp((v-22)/4)), .34 * (1 - math.Exp(-7.2*s))
}

const (
	mass   = .0459
	radius = .02135
)

// push is the acceleration at height y and velocity v [m/s^2], in a wind at 10 m
// that follows the seventh-root law.
func (b ball) push(y float64, v [3]float64, back, side, head, right float64) [3]float64 {
	k := math.Pow(math.Max(y, .3)/10, 1./7)
	u := [3]float64{v[0] + head*k, v[1], v[2] + right*k}
	speed := math.Max(math.Sqrt(u[0]*u[0]+u[1]*u[1]+u[2]*u[2]), 1)
	level := math.Max(math.Hypot(u[0], u[2]), 1e-6)
	spin := math.Hypot(back, side)
	cd, cl := b.coefficients(radius*spin/speed, speed)
	q := .5 * b.density * math.Pi * radius * radius / mass * speed
	up, across := 1., 0.
	if spin > 0 {
		up, across = back/spin, side/spin*b.curve
	}
	// Lift is square to the way through the air; sideways is level.
	lift := q * cl * b.lift
	right1 := [2]float64{-u[2] / level, u[0] / level} // x, z of "to the right"
	rise := [3]float64{-u[0] * u[1] / level, level, -u[2] * u[1] / level}
	d := q * cd * b.drag
	return [3]float64{
		-d*u[0] + lift*(up*rise[0]+across*speed*right1[0]),
		-d*u[1] + lift*up*rise[1] - 9.81,
		-d*u[2] + lift*(up*rise[2]+across*speed*right1[1])}
}

// Fly is Runge and Kutta's classical rule at .08 s; the landing is the root of
// the cubic through both ends of the last step.
func (b ball) fly(l Launch, head, right float64) Landing {
	const h = .08
	sa, ca := math.Sincos(l.Angle)
	sd, cd := math.Sincos(l.Direction)
	p, v := [3]float64{}, [3]float64{l.Speed * ca * cd, l.Speed * sa, l.Speed * ca * sd}
	back, side := l.Back, l.Side
	var out Landing
	add := func(a, b [3]float64, k float64) [3]float64 {
		return [3]float64{a[0] + k*b[0], a[1] + k*b[1], a[2] + k*b[2]}
	}
	for t := 0.; t < 15; t += h {
		a1 := b.push(p[1], v, back, side, head, right)
		v2 := add(v, a1, h/2)
		a2 := b.push(p[1]+h/2*v[1], v2, back, side, head, right)
		v3 := add(v, a2, h/2)
		a3 := b.push(p[1]+h/2*v2[1], v3, back, side, head, right)
		v4 := add(v, a3, h)
		a4 := b.push(p[1]+h*v3[1], v4, back, side, head, right)
		var q, w [3]float64
		for i := range 3 {
			q[i] = p[i] + h/6*(v[i]+2*v2[i]+2*v3[i]+v4[i])
			w[i] = v[i] + h/6*(a1[i]+2*a2[i]+2*a3[i]+a4[i])
		}
		if v[1] > 0 && w[1] <= 0 {
			out.Apex = p[1] + .5*h*v[1]*v[1]/(v[1]-w[1])
		}
		if q[1] <= 0 {
			u := hermiteRoot(p[1], q[1], h*v[1], h*w[1])
			out.X, out.Z = hermite(p[0], q[0], h*v[0], h*w[0], u), hermite(p[2], q[2], h*v[2], h*w[2], u)
			out.Time = t + u*h
			end := add(v, add(w, v, -1), u)
			out.Descent = math.Atan2(-end[1], math.Hypot(end[0], end[2]))
			return out
		}
		p, v = q, w
		fall := math.Exp(-h * .045 * b.decay)
		back, side = back*fall, side*fall
	}
	return out
}

// hermite is the cubic with ends p, q and slopes a, b at u of 0..1.
func hermite(p, q, a, b, u float64) float64 {
	return p + u*(a+u*(3*(q-p)-2*a-b+u*(2*(p-q)+a+b)))
}

func hermiteRoot(p, q, a, b float64) float64 {
	lo, hi := 0., 1.
	if p <= 0 {
		lo = 1e-6
	}
	for range 40 {
		m := (lo + hi) / 2
		if hermite(p, q, a, b, m) > 0 {
			lo = m
		} else {
			hi = m
		}
	}
	return (lo + hi) / 2
}
