package invent

import "math"

// Launch is a ball off the face: m/s, rad, rad/s; right positive.
type Launch struct {
	Speed     float64 // [m/s]
	Angle     float64 // [rad] up +
	Direction float64 // [rad] right +
	Spin      float64 // [rad/s]
	Axis      float64 // [rad] curves right +
}

// Flight is where it went.
type Flight struct {
	X, Z    float64 // [m] landing, down the line and right of it
	Apex    float64 // [m]
	Descent float64 // [rad]
	Time    float64 // [s]
	Run     float64 // [m] after landing, straight on
}

// carry is the straight distance to the landing place [m], as devices print it.
func (f Flight) carry() float64 { return math.Hypot(f.X, f.Z) }

// rest is where the ball stops [m].
func (f Flight) rest() (x, z float64) {
	c := math.Max(f.carry(), 1e-9)
	return f.X * (1 + f.Run/c), f.Z * (1 + f.Run/c)
}

// Air is the air and the make of ball.
type Air struct {
	Density float64 // [kg/m^3]
	Head    float64 // [m/s] wind at 10 m against the player
	Right   float64 // [m/s] wind at 10 m from the right
	Drag    float64 // [1] of this ball against the published one
	Lift    float64 // [1]
}

// Coefficients of drag and lift by spin parameter: Naruo, Mizota, Shimozono
// 2004, key NMS04 of the engine's references, read there second-hand. The
// engine flies another set (COMP). Below S = .03 lift falls to zero; above
// S = .6 both are held.
func coefficients(s float64) (cd, cl float64) {
	t := s
	if !(t > .03) {
		t = .03
	} else if t > .6 {
		t = .6
	}
	cd = .2049 + t*(.2148+t*(1.098+t*(-1.760+t*.7510)))
	cl = .0616 + t*(1.250+t*(-1.644+t*(1.006-t*.2158)))
	if s < .03 {
		cl *= s / .03
	}
	return cd, cl
}

// fly integrates with Runge and Kutta's 3/8 rule at .1 s and lands by a
// parabola through the last step's ends. Spin is held within a step and falls
// by exp(-2.5e-5 (rho/rho0) path/r) between them: the other published rate.
func fly(l Launch, a Air) Flight {
	const (
		h = .1
		m = .0459
		r = .02135
		g = 9.81
	)
	k := a.Density * math.Pi * r * r / (2 * m)
	sa, ca := math.Sincos(l.Angle)
	sd, cd := math.Sincos(l.Direction)
	st, ct := math.Sincos(l.Axis)
	// The axis lies square to the launch direction.
	nx, ny, nz := -ct*sd+st*sa*cd, -st*ca, ct*cd+st*sa*sd
	windy := a.Head != 0 || a.Right != 0
	w := r * l.Spin
	push := func(y, ux, uy, uz float64) (ax, ay, az float64) {
		if windy { // the logarithm's law from 5 cm, 10 m stated
			p := math.Log(1+math.Max(y, 0)/.05) / math.Log(1+10/.05)
			ux += a.Head * p
			uz += a.Right * p
		}
		u := math.Sqrt(ux*ux + uy*uy + uz*uz)
		if u < 1e-9 {
			u = 1e-9
		}
		drag, lift := coefficients(w / u)
		drag *= -k * a.Drag * u
		lift *= k * a.Lift * u
		return drag*ux + lift*(ny*uz-nz*uy), drag*uy + lift*(nz*ux-nx*uz) - g, drag*uz + lift*(nx*uy-ny*ux)
	}
	var x, y, z float64
	vx, vy, vz := l.Speed*ca*cd, l.Speed*sa, l.Speed*ca*sd
	f := Flight{}
	for t := 0.; t < 20; t += h {
		if vy <= 0 && y <= 0 {
			return Flight{Run: .3 * l.Speed}
		}
		a1, b1, c1 := push(y, vx, vy, vz)
		vx2, vy2, vz2 := vx+h/3*a1, vy+h/3*b1, vz+h/3*c1
		a2, b2, c2 := push(y+h/3*vy, vx2, vy2, vz2)
		vx3, vy3, vz3 := vx+h*(a2-a1/3), vy+h*(b2-b1/3), vz+h*(c2-c1/3)
		a3, b3, c3 := push(y+h*(vy2-vy/3), vx3, vy3, vz3)
		vx4, vy4, vz4 := vx+h*(a1-a2+a3), vy+h*(b1-b2+b3), vz+h*(c1-c2+c3)
		a4, b4, c4 := push(y+h*(vy-vy2+vy3), vx4, vy4, vz4)
		dx, dy, dz := h/8*(vx+3*vx2+3*vx3+vx4), h/8*(vy+3*vy2+3*vy3+vy4), h/8*(vz+3*vz2+3*vz3+vz4)
		px, py, pz := vx+h/8*(a1+3*a2+3*a3+a4), vy+h/8*(b1+3*b2+3*b3+b4), vz+h/8*(c1+3*c2+3*c3+c4)
		if vy > 0 && py <= 0 {
			f.Apex = y + h*vy*vy/(2*(vy-py))
		}
		if y+dy <= 0 {
			// height = y + vy t + c t^2 through the step's end
			c := (dy - h*vy) / (h * h)
			u := -vy / c
			if y > 0 {
				u = (-vy - math.Sqrt(vy*vy-4*c*y)) / (2 * c)
			}
			u = math.Min(math.Max(u/h, 0), 1)
			qx, qy, qz := vx+u*(px-vx), vy+u*(py-vy), vz+u*(pz-vz)
			f.Time = t + u*h
			f.X, f.Z = x+h*u*(vx+qx)/2, z+h*u*(vz+qz)/2
			level := math.Hypot(qx, qz)
			f.Descent = math.Atan2(-qy, level)
			// Run: what practice reports, about .7 yd less per degree of descent.
			f.Run = math.Max(0, (47*yd-.7*yd*f.Descent/deg)*math.Min(1, level/15))
			return f
		}
		w *= 1 - 2.5e-5*a.Density/1.225/r*math.Sqrt(dx*dx+dy*dy+dz*dz)
		x, y, z = x+dx, y+dy, z+dz
		vx, vy, vz = px, py, pz
	}
	return f
}
