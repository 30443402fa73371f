// Package drive flies balls for tests, by a flight of its own.
package drive

import "math"

// Fly flies a ball by a flight that shares nothing with the program's: other
// drag and lift, a wind by a power law, steps of a fiftieth of a second. Units
// SI and radians; cross blows to the right. All coefficients are invented.
func Fly(speed, angle, dir, spin, axis, head, cross float64) (carry, side, apex float64) {
	const (
		mass, radius, rho, step = .0459, .02134, 1.2, .02
		area                    = math.Pi * radius * radius
	)
	type vec [3]float64 // down the line, up, right
	pos := vec{}
	vel := vec{speed * math.Cos(angle) * math.Cos(dir), speed * math.Sin(angle), speed * math.Cos(angle) * math.Sin(dir)}
	w := vec{math.Cos(axis) * -math.Sin(dir), -math.Sin(axis), math.Cos(axis) * math.Cos(dir)} // of the spin
	push := func(p, v vec) (a vec) {
		blow := math.Pow(math.Max(p[1], .5)/10, 1./7)
		u := vec{v[0] + head*blow, v[1], v[2] - cross*blow}
		fast := math.Sqrt(u[0]*u[0] + u[1]*u[1] + u[2]*u[2])
		s := radius * spin / fast
		k := rho * area / (2 * mass) * fast
		drag, lift := .21+.3*s, math.Min(.32, .05+.95*s)
		x := vec{w[1]*u[2] - w[2]*u[1], w[2]*u[0] - w[0]*u[2], w[0]*u[1] - w[1]*u[0]}
		for i := range a {
			a[i] = -k*drag*u[i] + k*lift*x[i]
		}
		a[1] -= 9.81
		return a
	}
	for {
		a := push(pos, vel)
		var mid, vm, next vec
		for i := range pos {
			mid[i], vm[i] = pos[i]+vel[i]*step/2, vel[i]+a[i]*step/2
		}
		b := push(mid, vm)
		for i := range pos {
			next[i] = pos[i] + vm[i]*step
			vel[i] += b[i] * step
		}
		spin *= 1 - step/24
		apex = math.Max(apex, next[1])
		if next[1] < 0 {
			t := pos[1] / (pos[1] - next[1])
			x, z := pos[0]+t*(next[0]-pos[0]), pos[2]+t*(next[2]-pos[2])
			return math.Hypot(x, z), z, apex
		}
		pos = next
	}
}
