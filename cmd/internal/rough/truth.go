package rough

import (
	"math"
)

// Truth is what each of the 80 settings does to a rested golfer's balls in
// still air: strokes along the line that the golfer truly takes, and the mean
// carry, place sideways and height as this device would tell them.
type Truth struct {
	Strokes, Carry, Side, Apex [80]float64 // [strokes] [m] [m] [m]
}

// terms are the monomials of up to the third degree in four variables.
const terms = 35

func monomials(v [4]float64) (t [terms]float64) {
	t[0] = 1
	n := 1
	for i := range 4 {
		t[n] = v[i]
		n++
		for j := i; j < 4; j++ {
			ij := v[i] * v[j]
			t[n] = ij
			n++
			for k := j; k < 4; k++ {
				t[n] = ij * v[k]
				n++
			}
		}
	}
	return t
}

// surface is a golfer's flights in still air as cubics in speed, angle,
// backspin and side spin, started straight ahead.
type surface struct {
	middle, scale [4]float64
	of            [terms][4]float64 // landing x, z, apex; distance of rest over carry
}

func (s *surface) variables(l Launch) (v [4]float64) {
	for i, x := range [4]float64{l.Speed, l.Angle, l.Back, l.Side} {
		v[i] = (x - s.middle[i]) / s.scale[i]
	}
	return v
}

// newSurface fits the cubics to flights of the golfer's own balls, with
// settings from all over the club.
func (g *Golfer) newSurface(swings [][Dims]float64) *surface {
	const n = 420
	launches := make([]Launch, n)
	s := &surface{}
	for i := range launches {
		u := swings[i%len(swings)]
		for j := range 7 {
			u[j] *= 1.25
		}
		launches[i] = g.Launch(i*37%80, u)
		for j, x := range [4]float64{launches[i].Speed, launches[i].Angle, launches[i].Back, launches[i].Side} {
			s.middle[j] += x / n
		}
	}
	for _, l := range launches {
		for j, x := range [4]float64{l.Speed, l.Angle, l.Back, l.Side} {
			s.scale[j] += (x - s.middle[j]) * (x - s.middle[j]) / n
		}
	}
	for j := range s.scale {
		s.scale[j] = 2*math.Sqrt(s.scale[j]) + 1e-9
	}
	a := make([][]float64, terms)
	for i := range a {
		a[i] = make([]float64, terms+4)
		a[i][i] = 1e-7
	}
	for _, l := range launches {
		t := monomials(s.variables(l))
		l.Direction = 0
		f := g.ball.fly(l, 0, 0)
		rx, rz := f.Rest()
		y := [4]float64{f.X, f.Z, f.Apex, math.Hypot(rx, rz) / f.Carry()}
		for i := range t {
			for j := range t {
				a[i][j] += t[i] * t[j]
			}
			for k, v := range y {
				a[i][terms+k] += t[i] * v
			}
		}
	}
	eliminate(a)
	for i := range a {
		copy(s.of[i][:], a[i][terms:])
	}
	return s
}

// eliminate solves a symmetric positive system with several right sides in
// place, by Gauss and Jordan.
func eliminate(a [][]float64) {
	for c := range a {
		p := c
		for r := c; r < len(a); r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		a[c], a[p] = a[p], a[c]
		d := 1 / a[c][c]
		for j := range a[c] {
			a[c][j] *= d
		}
		for r := range a {
			if f := a[r][c]; r != c && f != 0 {
				for j := c; j < len(a[r]); j++ {
					a[r][j] -= f * a[c][j]
				}
			}
		}
	}
}

// fly reads a flight off the surface.
func (s *surface) fly(l Launch) (x, z, apex, on float64) {
	t := monomials(s.variables(l))
	var y [4]float64
	for i, m := range t {
		for k := range y {
			y[k] += m * s.of[i][k]
		}
	}
	sin, cos := math.Sincos(l.Direction)
	return y[0]*cos - y[1]*sin, y[0]*sin + y[1]*cos, y[2], y[3]
}

// Truth is exact but for the swings: the same for each setting, so that
// differences are far more certain than the levels.
func (g *Golfer) Truth(swings [][Dims]float64) Truth {
	s := g.newSurface(swings)
	var t Truth
	n := len(swings)
	x, z := make([]float64, n), make([]float64, n)
	for i := range t.Strokes {
		for k, u := range swings {
			l := g.Launch(i, u)
			fx, fz, apex, on := s.fly(l)
			c, off, high := g.device.tells(Landing{X: fx, Z: fz, Apex: apex})
			t.Carry[i] += c / float64(n)
			t.Side[i] += off / float64(n)
			t.Apex[i] += high / float64(n)
			x[k], z[k] = fx*on, fz*on
		}
		t.Strokes[i], _ = g.Cost(x, z)
	}
	return t
}

// Cost is the mean strokes of drives that rest at (x, z) when aimed at the
// middle, aimed as this golfer aims: at the share of the best line.
func (g *Golfer) Cost(x, z []float64) (strokes, aim float64) {
	h := g.Hole
	if g.Share > 0 {
		strokes, aim = h.Best(x, z, 0)
		if g.Share == 1 {
			return strokes, aim
		}
		aim *= g.Share
	}
	sin, cos := math.Sincos(aim)
	strokes = 0
	for i := range x {
		strokes += h.Strokes(x[i]*cos-z[i]*sin, z[i]*cos+x[i]*sin) / float64(len(x))
	}
	return strokes, aim
}
