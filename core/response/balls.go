package response

import (
	"math"
	"math/rand/v2"
)

// Start is how ball i of the session left the face under draw d [SI]: what was
// measured as it is, and a draw of what was not, given all that was seen of it.
func (r *Response) Start(d, i int, rng *rand.Rand) (y [K]float64) {
	var eps [K]float64
	s := &r.in.Shots[i]
	if s.Has == ([K]bool{true, true, true, true, true}) {
		return s.Y
	}
	r.post.Whole(i, &r.Draws[d], rng, eps[:])
	row := &r.rows[i]
	if g := row.Group; g >= 0 {
		copy(y[:], r.Draws[d].Group[g*K:(g+1)*K])
	}
	for a, x := range row.X {
		if x == 0 {
			continue
		}
		for k := range y {
			y[k] += x * r.Draws[d].Coef[a*K+k]
		}
	}
	for k := range y {
		y[k] = r.Centre[k] + (y[k]+eps[k])*Scale[k]
		if s.Has[k] {
			y[k] = s.Y[k]
		}
	}
	return held(y)
}

// Landings are what the ball's carry, offline and apex are expected to owe to
// time, day, kind of ball and swing [m], by the typical ball's slopes.
func (r *Response) Landings(i int) (out [3]float64) {
	l := &r.lay
	x, at := r.rows[i].X, r.x[max(r.in.Shots[i].Setting, 0)]
	for a := l.effects + 1; a < len(x); a++ {
		if by := x[a] - at[a]; by != 0 {
			for o := range out {
				for k := range K {
					out[o] += by * r.post.Coef[a*K+k] * r.flight.slope[o][k]
				}
			}
		}
	}
	return out
}

// Wander is the variance of the mean of setting j's balls that comes from form,
// as a share of the variance of one ball.
func (r *Response) Wander(j int) float64 {
	sum, balls := 0.0, 0.0 // sum over pairs of what they share of form
	for _, rows := range r.chains {
		before := 0.0
		for _, i := range rows {
			before *= r.post.Keep
			if i < r.in.today && r.in.Shots[i].Setting == j {
				sum += 1 + 2*before
				before++
				balls++
			}
		}
	}
	return r.post.Level * r.post.Level * sum / math.Max(1, balls*balls)
}
