package flight

import "math"

// Bounced is how far [m] the ball of a launch runs in the plane of its flight:
// by the line that Fly uses, and by the physics of bounces on ground of the same
// firmness. The errors are those of Fly.
func Bounced(l Launch, e Env) (line, physics float64, bounces int, err error) {
	var f flyer
	if err = f.prepare(l, e); err != nil {
		return 0, 0, 0, err
	}
	f.run(nil)
	g := f.landing(l, e.Firmness)
	physics, bounces = turfOf(e.Firmness).run(math.Hypot(math.Hypot(f.vx, f.vz), f.vy), g.Descent, f.spin())
	return math.Hypot(g.RestX-g.Carry, g.RestZ-g.Offline), physics, bounces, nil
}

// Turf is the physics of a ball that bounces and runs, to hold against the line
// that flights use (settle, Bounced): a rigid ball on a surface that its own impact turns
// against it [P02], coefficients from memory. Rolling is one number that brings
// the level of both together, so only the shape is physics. Neither is good to
// better than RunDoubt: over a thousand measured bounces fit no simple model
// [BJC23], and no two grounds are alike.
type Turf struct {
	Turn     float64 // [1] scale of the angle by which an impact turns the ground; softer ground turns more
	Bounce   float64 // [1] scale of the restitution
	Friction float64 // [1] of sliding
	Rolling  float64 // [1] deceleration of rolling over gravity
}

// turfOf is the ground of a firmness, -1 soft to 1 firm: a firm fairway turns
// and swallows less. The steps are our own choice.
func turfOf(firmness float64) Turf {
	return Turf{Turn: 1 - .25*firmness, Bounce: 1 + .25*firmness, Friction: .4, Rolling: .12 - .04*firmness}
}

// run is how far [m] a ball goes after it lands with speed v [m/s] at descent
// [rad] below level and backspin w [rad/s], and how often it bounces:
//
//	turn theta = 15.4 deg (v/18.6)(phi/44.4 deg), phi from the vertical
//	e = .510 - .0375 u + .000903 u^2 for u <= 20 m/s, .12 above, u into the turned ground
//	slides with its friction while that is below (2/7)(p + r w)/((1+e) u), p along it, else leaves rolling
//
// After the last bounce of more than a centimetre it rolls.
func (g Turf) run(v, descent, w float64) (run float64, bounces int) {
	x, y := v*math.Cos(descent), v*math.Sin(descent) // level and down
	for bounces < 50 {
		speed := math.Hypot(x, y)
		if !(speed > 1e-3) || x <= 0 {
			return run, bounces
		}
		phi := math.Atan2(x, y)
		theta := math.Min(g.Turn*15.4*(speed/18.6)*(phi*180/math.Pi/44.4)*math.Pi/180, phi)
		u, p := speed*math.Cos(phi-theta), speed*math.Sin(phi-theta)
		e := .12
		if u <= 20 {
			e = .510 + u*(-.0375+.000903*u)
		}
		e = math.Min(e*g.Bounce, .9)
		roll := 2. / 7 * (p + BallRadius*w) / ((1 + e) * u)
		if g.Friction < roll {
			hit := g.Friction * (1 + e) * u
			p, w = p-hit, w-2.5*hit/BallRadius
		} else {
			p = 5./7*p - 2./7*BallRadius*w
			w = -p / BallRadius
		}
		up := e * u
		s, c := math.Sincos(theta)
		x, y = p*c-up*s, p*s+up*c // the next landing is as steep as this rebound
		bounces++
		if y*y/(2*Gravity) < .01 || x <= 0 {
			break
		}
		run += 2 * x * y / Gravity
	}
	if x > 0 {
		run += x * x / (2 * g.Rolling * Gravity)
	}
	return run, bounces
}
