package predict

import (
	"ferrule/core/flight"
	"ferrule/core/response"
)

// parts of a landing that are predicted: carry, offline, apex, descent, rest.
const parts = 6

type landing [parts]float64

func landed(g flight.Landing) landing {
	return landing{g.Carry, g.Offline, g.Apex, g.Descent, g.RestX, g.RestZ}
}

// local is the flight of one ball as a function of what a setting changes of
// its launch: its own landing and slopes, per reference unit of each response.
// The curvature is the player's (one for all balls), so a setting costs a
// handful of multiplications a ball instead of a flight.
type local struct {
	at    landing
	slope [response.K]landing
}

// curvature is half the matrix of second derivatives at the typical launch,
// per product of reference units, the off-diagonal entries doubled: upper
// triangle row by row.
type curvature [response.K * (response.K + 1) / 2]landing

// reach is how far, in reference units of any response, a change may go before
// the ball is flown anew: a tested bound on the error stands in local_test.
const reach = 1.1

// step of the finite differences, in reference units.
const step = .4

func shifted(y [response.K]float64, k int, units float64) [response.K]float64 {
	y[k] += units * response.Scale[k]
	return y
}

func curve(s *flight.Surface, y [response.K]float64) (c curvature) {
	at := func(y [response.K]float64) landing { return landed(s.At(response.Launch(y))) }
	mid := at(y)
	n := 0
	for i := range response.K {
		for j := i; j < response.K; j++ {
			if i == j {
				up, down := at(shifted(y, i, step)), at(shifted(y, i, -step))
				for p := range mid {
					c[n][p] = (up[p] + down[p] - 2*mid[p]) / (2 * step * step)
				}
			} else {
				pp, mm := at(shifted(shifted(y, i, step), j, step)), at(shifted(shifted(y, i, -step), j, -step))
				pm, mp := at(shifted(shifted(y, i, step), j, -step)), at(shifted(shifted(y, i, -step), j, step))
				for p := range mid {
					c[n][p] = (pp[p] + mm[p] - pm[p] - mp[p]) / (4 * step * step)
				}
			}
			n++
		}
	}
	return c
}

// expand flies ball y and finds its slopes; one-sided differences, put right
// by the known curvature.
func expand(s *flight.Surface, y [response.K]float64, c *curvature) (l local) {
	l.at = landed(s.At(response.Launch(y)))
	diagonal := 0
	for k := range response.K {
		// away from the edge of the surface where it can be: towards the typical side
		up := landed(s.At(response.Launch(shifted(y, k, step))))
		for p := range up {
			l.slope[k][p] = (up[p]-l.at[p])/step - c[diagonal][p]*step
		}
		diagonal += response.K - k
	}
	return l
}

// alike is how far, in reference units of any response, two balls may start
// from each other for one's flight to be taken from the other's.
const alike = 1.

// changed is where the ball lands when a setting changes its launch, written
// out part by part: it is done for each ball of each setting, and a loop over
// parts costs half as much again as WebAssembly.
func (l *local) changed(to, bend, lean *landing, change *[response.K]float64, sway float64) {
	a, b, c, d, e := change[0], change[1], change[2], change[3], change[4]+sway
	s := &l.slope
	to[0] = l.at[0] + bend[0] + sway*lean[0] + a*s[0][0] + b*s[1][0] + c*s[2][0] + d*s[3][0] + e*s[4][0]
	to[1] = l.at[1] + bend[1] + sway*lean[1] + a*s[0][1] + b*s[1][1] + c*s[2][1] + d*s[3][1] + e*s[4][1]
	to[2] = l.at[2] + bend[2] + sway*lean[2] + a*s[0][2] + b*s[1][2] + c*s[2][2] + d*s[3][2] + e*s[4][2]
	to[3] = l.at[3] + bend[3] + sway*lean[3] + a*s[0][3] + b*s[1][3] + c*s[2][3] + d*s[3][3] + e*s[4][3]
	to[4] = l.at[4] + bend[4] + sway*lean[4] + a*s[0][4] + b*s[1][4] + c*s[2][4] + d*s[3][4] + e*s[4][4]
	to[5] = l.at[5] + bend[5] + sway*lean[5] + a*s[0][5] + b*s[1][5] + c*s[2][5] + d*s[3][5] + e*s[4][5]
}

// hessian is the whole matrix of second derivatives.
func (c *curvature) hessian() *[response.K][response.K]landing {
	var h [response.K][response.K]landing
	n := 0
	for i := range response.K {
		for j := i; j < response.K; j++ {
			h[i][j] = c[n]
			if i == j {
				for p := range h[i][j] {
					h[i][j][p] *= 2
				}
			}
			h[j][i] = h[i][j]
			n++
		}
	}
	return &h
}

// moved is the flight of a ball that starts off from this one.
func (l *local) moved(off *[response.K]float64, h *[response.K][response.K]landing) local {
	out := *l
	for k, by := range off {
		for j, other := range off {
			for p := range out.at {
				out.slope[k][p] += other * h[k][j][p]
			}
		}
		for p := range out.at { // half way between the slopes at both ends
			out.at[p] += by * (l.slope[k][p] + out.slope[k][p]) / 2
		}
	}
	return out
}

// bend is the curvature's part for a change d, the same for all balls.
func (c *curvature) bend(d *[response.K]float64) (out landing) {
	n := 0
	for i := range response.K {
		for j := i; j < response.K; j++ {
			w, at := d[i]*d[j], &c[n]
			out[0] += w * at[0]
			out[1] += w * at[1]
			out[2] += w * at[2]
			out[3] += w * at[3]
			out[4] += w * at[4]
			out[5] += w * at[5]
			n++
		}
	}
	return out
}

// alongAxis is the change of the slope with the axis that a change d makes.
func (c *curvature) alongAxis(d *[response.K]float64) (out landing) {
	const axis = response.K - 1 // the last of each row of the triangle
	n := axis
	for i := range response.K {
		w, at := d[i], &c[n]
		if i == axis {
			w *= 2
		}
		for p := range out {
			out[p] += w * at[p]
		}
		n += axis - i
	}
	return out
}
