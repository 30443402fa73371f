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
const reach = 2.5

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

// bend is the curvature's part for a change d, the same for all balls.
func (c *curvature) bend(d *[response.K]float64) (out landing) {
	n := 0
	for i := range response.K {
		for j := i; j < response.K; j++ {
			w := d[i] * d[j]
			for p := range out {
				out[p] += w * c[n][p]
			}
			n++
		}
	}
	return out
}

// along is the change of the slope with response k that a change d makes.
func (c *curvature) along(k int, d *[response.K]float64) (out landing) {
	n := 0
	for i := range response.K {
		for j := i; j < response.K; j++ {
			w := 0.0
			switch {
			case i == k && j == k:
				w = 2 * d[k]
			case i == k:
				w = d[j]
			case j == k:
				w = d[i]
			}
			if w != 0 {
				for p := range out {
					out[p] += w * c[n][p]
				}
			}
			n++
		}
	}
	return out
}
