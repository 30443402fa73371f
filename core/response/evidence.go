package response

import (
	"fmt"
	"math"
	"slices"

	"ferrule/core/bayes"
	"ferrule/core/flight"
	"ferrule/core/linear"
)

// evidence is the balls as the model takes them: launch numbers, and flights in
// place of those that are missing, each linear about where the ball is believed to
// have started.
type evidence struct {
	in     *pooled
	design *design
	flyer
	centre [K]float64   // [SI]
	lands  bool         // whether flights stand for launch numbers
	starts [][K]float64 // [SI] about which each ball's flight is linear
	rows   []bayes.Row
	views  []bayes.View
	shared []float64 // [m], [rad], [s] standard deviations of shared offsets
}

// gather lays out the balls, what is missing of each taken from the typical ball.
func gather(in *pooled, d *design, centre [K]float64) (*evidence, error) {
	e := &evidence{in: in, design: d, flyer: flyer{env: in.Env}, centre: centre, starts: make([][K]float64, len(in.Shots))}
	for i := range in.Shots {
		s := &in.Shots[i]
		y := centre
		for k := range K {
			if s.Has[k] {
				y[k] = s.Y[k]
			}
		}
		e.starts[i] = held(y)
		e.lands = e.lands || lands(s)
	}
	if e.lands && !in.timed() {
		var err error
		if e.surface, err = flight.NewSurface(flight.Around(Launch(centre)), in.Env); err != nil {
			return nil, err
		}
	}
	return e, e.layOut()
}

// settled is the evidence linear about where each ball with a missing launch number
// started, found by at most so many fits, each linear about the last one's answer.
func (e *evidence) settled(m *bayes.Model, fits, iterations int) (*evidence, error) {
	if !e.lands {
		return e, nil
	}
	quick := *m
	quick.Iterations = iterations
	for range fits {
		post, err := bayes.Fit(&quick, e.rows)
		if err != nil {
			return nil, err
		}
		next := *e
		var moved float64
		next.starts, moved = e.moved(post)
		if err := next.layOut(); err != nil {
			return nil, err
		}
		e, quick.Views = &next, next.views
		if moved < .05 {
			break
		}
	}
	return e, nil
}

// layOut fills rows, views and shared offsets.
func (e *evidence) layOut() error {
	last := map[int]int{} // session -> its last place
	for _, s := range e.in.Shots {
		last[s.Session] = max(last[s.Session], s.Order)
	}
	e.rows, e.views, e.shared = make([]bayes.Row, len(e.in.Shots)), nil, nil
	at, offsets := map[[K]bool]int{}, map[[2]int]int{}
	for i := range e.rows {
		var err error
		if e.rows[i], err = e.row(i, at, offsets, last[e.in.Shots[i].Session]+1); err != nil {
			return err
		}
	}
	return nil
}

// row turns ball i into a row of the model: its launch numbers where they are
// there, its flight in place of those that are not. n balls were hit in its session.
func (e *evidence) row(i int, at map[[K]bool]int, offsets map[[2]int]int, n int) (bayes.Row, error) {
	s := &e.in.Shots[i]
	v := bayes.View{}
	var z, noise []float64
	for k := range K {
		if s.Has[k] {
			row := make([]float64, K)
			row[k] = 1
			v.H, z, noise = append(v.H, row...), append(z, (s.Y[k]-e.centre[k])/Scale[k]), append(noise, 0)
		}
	}
	out := bayes.Row{X: e.design.columns(s, n), Group: -1}
	flies := lands(s)
	if flies {
		out.Shared = make([][2]int, len(z))
		for d := range out.Shared {
			out.Shared[d] = [2]int{-1, -1}
		}
		from, err := e.fly(e.starts[i])
		if err != nil {
			return out, err
		}
		var slopes [K]flown
		for k := range K {
			if !s.Has[k] {
				if slopes[k], err = e.slope(e.starts[i], k); err != nil {
					return out, err
				}
			}
		}
		for o, p := range flights(s) {
			if p == nil || o == outTime && e.surface != nil {
				continue
			}
			row, x := make([]float64, K), *p-from[o]
			for k := range K {
				if !s.Has[k] {
					row[k] = slopes[k][o]
					x += row[k] * (e.starts[i][k] - e.centre[k]) / Scale[k]
				}
			}
			v.H, z, noise = append(v.H, row...), append(z, x), append(noise, flightNoise[o]*flightNoise[o])
			out.Shared = append(out.Shared, [2]int{e.offset(offsets, -1-s.visit, o), e.offset(offsets, s.Block, o)})
		}
	}
	if len(z) == 0 {
		return out, fmt.Errorf("response: shot %d shows no number", i)
	}
	v.Rows = len(z)
	view, seen := at[s.Has]
	if flies || !seen {
		if flies {
			v.R = make([]float64, len(z)*len(z))
			for d, x := range noise {
				v.R[d*len(z)+d] = x
			}
		}
		view = len(e.views)
		e.views = append(e.views, v)
		if !flies {
			at[s.Has] = view
		}
	}
	out.View, out.Z = view, z
	if s.Setting >= 0 {
		out.Group = e.design.group[s.Setting]
	}
	if s.Good {
		out.MinW = 1
	}
	if s.Mishit {
		out.MaxW = .25
	}
	return out, nil
}

// offset is the column of what the balls of a block share in flight output o, -1
// = none; block -1 is the whole of today, -2 the whole of the first earlier visit.
func (e *evidence) offset(at map[[2]int]int, block, o int) int {
	sd := flightDoubt[o]
	if block >= 0 {
		if o > 2 || block >= len(e.in.Blocks) {
			return -1
		}
		b := &e.in.Blocks[block]
		sd = [3]float64{b.Carry, b.Offline, b.Apex}[o]
		if !(sd > 0) {
			return -1
		}
	}
	c, seen := at[[2]int{block, o}]
	if !seen {
		c = len(e.shared)
		at[[2]int{block, o}] = c
		e.shared = append(e.shared, sd)
	}
	return c
}

// moved are the places of linearisation where each ball is now
// expected to have started, given its setting, its time and what was measured of
// its launch, and how far the farthest moved [reference units]. Its own flight
// is left out: slopes that hang on a ball's own luck would be taken for a
// difference between the flight model and the session (a ball that starts higher
// flies where more launch gains less).
func (e *evidence) moved(post *bayes.Posterior) (starts [][K]float64, most float64) {
	starts = slices.Clone(e.starts)
	var mean [K]float64
	for i := range e.in.Shots {
		s := &e.in.Shots[i]
		if !lands(s) {
			continue
		}
		post.Expected(i, mean[:])
		e.given(s, post.Sigma, &mean)
		y := starts[i]
		for k := range K {
			if !s.Has[k] {
				step := e.centre[k]/Scale[k] + mean[k] - y[k]/Scale[k]
				y[k] += math.Max(-1.5, math.Min(1.5, step)) * Scale[k]
			}
		}
		y = held(y)
		for k := range K {
			most = math.Max(most, math.Abs(y[k]-starts[i][k])/Scale[k])
		}
		starts[i] = y
	}
	return starts, most
}

// given moves the mean of a ball's missing numbers by what its measured ones say
// of them, mean_m + S_mo S_oo^-1 (y_o - mean_o), all in reference units.
func (e *evidence) given(s *Obs, sigma []float64, mean *[K]float64) {
	var seen []int
	for k := range K {
		if s.Has[k] {
			seen = append(seen, k)
		}
	}
	n := len(seen)
	a, b := make([]float64, n*n), make([]float64, n)
	for i, k := range seen {
		b[i] = (s.Y[k]-e.centre[k])/Scale[k] - mean[k]
		for j, l := range seen {
			a[i*n+j] = sigma[k*K+l]
		}
	}
	c, ok := linear.Factor(n, a)
	if n == 0 || !ok || !c.Solve(b) {
		return
	}
	for k := range K {
		if s.Has[k] {
			continue
		}
		for i, l := range seen {
			mean[k] += sigma[k*K+l] * b[i]
		}
	}
}
