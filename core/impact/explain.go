package impact

import (
	"math"

	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/units"
)

// Known is what was measured of the club besides the ball. A nil was not.
type Known struct {
	ClubSpeed  *float64 // [m/s] nil: found from the restitution of Params
	Attack     *float64 // [rad] nil: UsualAttack
	StrikeToe  float64  // [m] 0 = the face centre
	StrikeHigh float64  // [m]
}

// What an unknown attack is taken for: about an amateur's average with the
// spread between players (averages -1.6 and -1.3, from memory; open file of
// ten thousand drives, median -0.3).
const (
	UsualAttack   = -1.5 * units.Degree
	usualAttackSD = 2.5 * units.Degree
)

// errUnexplained says that no delivery of a club gives a launch.
var errUnexplained = message.New("problem.unexplained")

// explain is the inverse of Strike for what is known of the club. It finds
// loft, face and path, the grip efficiency, and either the club speed or, when
// that was measured, the restitution: five numbers for the ball's five. A
// launch does not tell the attack: a wrong attack by a degree turns the loft
// found by about .17 degree.
//
// It starts from the closed form of a centred strike (see centred) and ends
// with Newton's method on Strike itself, which is exact for any strike place.
// errUnexplained is returned when no delivery gives the launch.
func explain(l flight.Launch, known Known, p Params) (Delivery, Params, error) {
	if err := l.Validate(); err != nil {
		return Delivery{}, p, err
	}
	d, q, ok := centred(l, known, p)
	if !ok {
		return d, p, errUnexplained
	}
	d.StrikeToe, d.StrikeHigh = known.StrikeToe, known.StrikeHigh
	free := func(x [K]float64) (Delivery, Params) {
		e, r := d, q
		if known.ClubSpeed != nil {
			r.Restitution = x[0]
		} else {
			e.ClubSpeed = x[0]
		}
		e.DynamicLoft, e.Face, r.Eta, e.Path = x[1], x[2], x[3], x[4]
		return e, r
	}
	x := [K]float64{d.ClubSpeed, d.DynamicLoft, d.Face, q.Eta, d.Path}
	if known.ClubSpeed != nil {
		x[0] = q.Restitution
	}
	target := responses(l)
	steps := [K]float64{1e-5 * math.Abs(x[0]), 1e-6, 1e-6, 1e-6, 1e-6}
	size := [K]float64{1, .01, .01, 10, .02} // what counts as one unit of each response
	for range 20 {
		at, err := strikeOf(free(x))
		if err != nil {
			return d, p, errUnexplained
		}
		var jac [K][K]float64
		var r [K]float64
		worst := 0.0
		for i := range K {
			r[i] = (target[i] - at[i]) / size[i]
			worst = math.Max(worst, math.Abs(r[i]))
		}
		if worst < 1e-9 {
			d, q = free(x)
			return d, q, nil
		}
		for c := range K {
			y := x
			y[c] += steps[c]
			got, err := strikeOf(free(y))
			if err != nil {
				return d, p, errUnexplained
			}
			for i := range K {
				jac[i][c] = (got[i] - at[i]) / steps[c] / size[i]
			}
		}
		dx, ok := gauss(jac, r)
		if !ok {
			return d, p, errUnexplained
		}
		for i := range K {
			x[i] += dx[i]
		}
		x[3] = math.Max(.05, math.Min(2.5, x[3])) // beyond that the spin is no impact's
		x[1] = math.Max(-.3, math.Min(1.2, x[1]))
	}
	return d, p, errUnexplained
}

// centred solves a strike at the face centre in closed form. The tangential
// impulse that gives the ball its spin w also gives it m v_t = Ib w / r, so the
// angle between launch and face normal needs no theory of friction:
//
//	sin(delta) = .4 r w / v
//
// Launch and spin axis fix the plane that holds the path, the launch and the
// normal; the attack places the path in it; then, Phi being the angle between
// path and normal,
//
//	eta = v sin(delta) / (kappa V sin(Phi))
//	e   = v cos(delta) (1 + m/M) / (V cos(Phi)) - 1
func centred(l flight.Launch, known Known, p Params) (Delivery, Params, bool) {
	s := .4 * flight.BallRadius * l.Spin / l.Speed
	if !(s < 1) {
		return Delivery{}, p, false
	}
	delta := math.Asin(s)
	u := normalOf(l.Angle, l.Direction)
	right := vec{-math.Sin(l.Direction), 0, math.Cos(l.Direction)}
	above := right.Cross(u)
	up := above.Times(math.Cos(l.Axis)).Plus(right.Times(math.Sin(l.Axis))) // across u, in the plane
	n := u.Times(math.Cos(delta)).Plus(up.Times(math.Sin(delta)))
	attack := UsualAttack
	if known.Attack != nil {
		attack = *known.Attack
	}
	size := math.Hypot(u[1], up[1])
	c := math.Sin(attack) / size
	if size == 0 || math.Abs(c) > 1 {
		return Delivery{}, p, false
	}
	theta := math.Acos(c) - math.Atan2(up[1], u[1])
	path := u.Times(math.Cos(theta)).Plus(up.Times(-math.Sin(theta)))
	phi := theta + delta
	d := Delivery{Attack: attack, Path: math.Atan2(path[2], path[0]), Face: math.Atan2(n[2], n[0]), DynamicLoft: math.Asin(math.Max(-1, math.Min(1, n[1])))}
	ratio := flight.BallMass / p.HeadMass
	if known.ClubSpeed != nil {
		d.ClubSpeed = *known.ClubSpeed
		p.Restitution = l.Speed*math.Cos(delta)*(1+ratio)/(d.ClubSpeed*math.Cos(phi)) - 1
	} else {
		d.ClubSpeed = l.Speed * math.Cos(delta) * (1 + ratio) / ((1 + p.Restitution) * math.Cos(phi))
	}
	if k := p.kappa(math.Cos(l.Axis)) * d.ClubSpeed * math.Sin(phi); math.Abs(k) > 1e-9 {
		p.Eta = l.Speed * math.Sin(delta) / k
	}
	ok := d.ClubSpeed > 0 && math.Cos(phi) > .2 && math.Abs(p.Restitution) < 5
	return d, p, ok
}

// kappa is the share of the tangential club speed that a no-slip strike at the
// middle gives the ball, (1/m) / (3.5/m + 1/M + d^2/I), with the inertia of a
// tangential impulse whose vertical part has the cosine c.
func (p Params) kappa(c float64) float64 {
	turn := p.CGDepth * p.CGDepth * (c*c/p.Ih + (1-c*c)/p.Iv)
	return (1 / flight.BallMass) / (3.5/flight.BallMass + 1/p.HeadMass + turn)
}

func strikeOf(d Delivery, p Params) ([K]float64, error) {
	l, err := Strike(d, p)
	return responses(l), err
}

// gauss solves a small system by elimination with row exchanges.
func gauss(a [K][K]float64, b [K]float64) (x [K]float64, ok bool) {
	for c := range K {
		best := c
		for r := c + 1; r < K; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[best][c]) {
				best = r
			}
		}
		if !(math.Abs(a[best][c]) > 1e-12) {
			return x, false
		}
		a[c], a[best] = a[best], a[c]
		b[c], b[best] = b[best], b[c]
		for r := c + 1; r < K; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < K; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for c := K - 1; c >= 0; c-- {
		s := b[c]
		for k := c + 1; k < K; k++ {
			s -= a[c][k] * x[k]
		}
		x[c] = s / a[c][c]
	}
	return x, true
}
