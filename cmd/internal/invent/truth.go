package invent

import "math"

// StrokesOf is Strokes for many settings at once. Every swing is struck with
// every setting; its flight is flown once with the first setting and carried to
// the others by its own first and second derivatives, which takes 15 flights a
// swing for any number of settings. With wind, and where a launch is far from
// the first setting's, it is flown. Against flying every ball the strokes
// differ by what TestStrokesOf says.
func (p *Player) StrokesOf(settings []Setting, h Hole, swings [][Dims]float64) []float64 {
	windy := p.Air.Head != 0 || p.Air.Right != 0
	x, z := make([][]float64, len(settings)), make([][]float64, len(settings))
	for i := range settings {
		x[i], z[i] = make([]float64, len(swings)), make([]float64, len(swings))
	}
	for k, u := range swings {
		var e expansion
		for i, s := range settings {
			d, head, _ := p.shape(u, s, -1)
			l := strike(d, head)
			if i == 0 && !windy {
				e = expand(l, p.Air)
			}
			along, side, ok := e.at(l)
			if windy || !ok {
				straight := l
				if !windy {
					straight.Direction = 0
				}
				along, side = fly(straight, p.Air).rest()
				if windy {
					x[i][k], z[i][k] = along, side
					continue
				}
			}
			sin, cos := math.Sincos(l.Direction)
			x[i][k], z[i][k] = along*cos-side*sin, side*cos+along*sin
		}
	}
	out := make([]float64, len(settings))
	for i := range settings {
		out[i], _ = h.Best(x[i], z[i], p.Align)
	}
	return out
}

// units of the expansion: speed, angle, spin, tilt. The direction only turns a
// flight in still air.
var unit = [4]float64{1, 1 * deg, 300 * rpm, 4 * deg}

// expansion is where a ball that starts straight ends as a function of its
// launch, to second order.
type expansion struct {
	from  [4]float64
	at0   [2]float64
	slope [4][2]float64
	bend  [4][4][2]float64 // of products with i <= j
}

func four(l Launch) [4]float64 {
	return [4]float64{l.Speed / unit[0], l.Angle / unit[1], l.Spin / unit[2], l.Axis / unit[3]}
}

func expand(l Launch, a Air) expansion {
	e := expansion{from: four(l)}
	fly := func(step [4]float64) (r [2]float64) {
		v := e.from
		for i := range v {
			v[i] = (v[i] + step[i]) * unit[i]
		}
		r[0], r[1] = fly(Launch{Speed: v[0], Angle: v[1], Spin: math.Max(v[2], 0), Axis: v[3]}, a).rest()
		return r
	}
	e.at0 = fly([4]float64{})
	var up, down [4][2]float64
	for i := range up {
		var s [4]float64
		s[i] = 1
		up[i] = fly(s)
		s[i] = -1
		down[i] = fly(s)
		for c := range 2 {
			e.slope[i][c] = (up[i][c] - down[i][c]) / 2
			e.bend[i][i][c] = (up[i][c] + down[i][c] - 2*e.at0[c]) / 2
		}
	}
	for i := range up {
		for j := i + 1; j < len(up); j++ {
			var s [4]float64
			s[i], s[j] = 1, 1
			both := fly(s)
			for c := range 2 {
				e.bend[i][j][c] = both[c] - e.at0[c] - e.slope[i][c] - e.slope[j][c] - e.bend[i][i][c] - e.bend[j][j][c]
			}
		}
	}
	return e
}

// at is where launch l ends; ok is false when it is too far away.
func (e *expansion) at(l Launch) (along, side float64, ok bool) {
	v := four(l)
	out := e.at0
	for i := range v {
		v[i] -= e.from[i]
		if math.Abs(v[i]) > 3 {
			return 0, 0, false
		}
	}
	for i := range v {
		for c := range 2 {
			out[c] += v[i] * e.slope[i][c]
			for j := i; j < len(v); j++ {
				out[c] += v[i] * v[j] * e.bend[i][j][c]
			}
		}
	}
	return out[0], out[1], true
}
