package response

import (
	"fmt"
	"math"

	"ferrule/core/flight"
	"ferrule/core/linear"
	"ferrule/core/robust"
	"ferrule/core/units"
)

// outputs of a flight that stand for launch numbers that were not measured:
// carry, offline, apex [m], descent [rad], time [s].
const outputs = 5

const outTime = outputs - 1

type flown [outputs]float64

// What the ball's flight model misses of a ball, and what it misses of all
// balls of a session together: the ball, the device and the air are not quite
// those of the model. Judged: published models differ by about 4 % of carry and
// a tenth of height on one launch (flight.TestPriorIsTheSpread).
var (
	flightNoise = flown{3, 3, 1.5, 1.5 * units.Degree, .15}
	flightDoubt = flown{7, 2.5, 2.5, 2 * units.Degree, .2}
)

// What drivers do who are not measured: how far a player's mean launch number is
// from the usual one, standard deviation in reference units. Spin of a driver
// follows its launch angle (more loft, more of both) and the speed; medians and
// slopes are common practice, no source. Speed is nearly free, since carry tells it.
var usualSD = [K]float64{5, 1.2, .8, 1.4, .8}

// usual is a player's launch where v, of the numbers in has, is measured.
func usual(v [K]float64, has [K]bool) [K]float64 {
	if !has[1] {
		v[1] = 13 * units.Degree
	}
	if !has[2] {
		v[2] = 0
	}
	if !has[3] {
		v[3] = 2900*units.RPM + 60*units.RPM/units.Degree*(v[1]-13*units.Degree)
	}
	if !has[4] {
		v[4] = 0
	}
	return v
}

func flights(o *Obs) [outputs]*float64 {
	return [outputs]*float64{o.Carry, o.Offline, o.Apex, o.Descent, o.Time}
}

// fly is the flight of launch y, from the surface where there is one and time
// is not asked for.
func (r *Response) fly(y [K]float64) (out flown, err error) {
	var g flight.Landing
	if r.surface != nil {
		g = r.surface.At(Launch(y))
	} else if g, err = flight.Fly(Launch(y), r.in.Env); err != nil {
		return out, fmt.Errorf("response: the typical ball can't be flown: %w", err)
	}
	return flown{g.Carry, g.Offline, g.Apex, g.Descent, g.Time}, nil
}

// slope is the change of the flight per reference unit of response k about y.
func (r *Response) slope(y [K]float64, k int) (out flown, err error) {
	const h = .25
	a, b := y, y
	a[k], b[k] = a[k]+h*Scale[k], b[k]-h*Scale[k]
	up, err := r.fly(a)
	if err != nil {
		return out, err
	}
	down, err := r.fly(b)
	for i := range out {
		out[i] = (up[i] - down[i]) / (2 * h)
	}
	return out, err
}

// held keeps a launch where a driver's can be.
func held(y [K]float64) [K]float64 {
	low := [K]float64{15, 2 * units.Degree, -20 * units.Degree, 900 * units.RPM, -35 * units.Degree}
	high := [K]float64{110, 26 * units.Degree, 20 * units.Degree, 6500 * units.RPM, 35 * units.Degree}
	for k := range y {
		y[k] = math.Max(low[k], math.Min(high[k], y[k]))
	}
	return y
}

// typical finds what the middle ball does that was not measured: the most
// likely launch given what drivers usually do and the middle flight (steps of
// Gauss and Newton on the flight itself).
func (r *Response) typical(y [K]float64, has [K]bool) ([K]float64, error) {
	var seen flown
	var known [outputs]bool
	for i := range outputs {
		var all []float64
		for s := range r.in.Shots[:r.today] {
			if v := flights(&r.in.Shots[s])[i]; v != nil && (i != outTime || r.timed()) {
				all = append(all, *v)
			}
		}
		if known[i] = 2*len(all) > r.today; known[i] {
			seen[i] = robust.Median(all)
		}
	}
	var missing []int
	for k := range K {
		if !has[k] {
			missing = append(missing, k)
		}
	}
	if known == ([outputs]bool{}) || len(missing) == 0 {
		return y, nil
	}
	from := y
	for range 8 {
		at, err := r.fly(y)
		if err != nil {
			return y, err
		}
		n := len(missing)
		a, b := make([]float64, n*n), make([]float64, n)
		var slopes []flown
		for j, k := range missing {
			s, err := r.slope(y, k)
			if err != nil {
				return y, err
			}
			slopes = append(slopes, s)
			p := 1 / (usualSD[k] * usualSD[k])
			a[j*n+j] += p
			b[j] += p * (from[k] - y[k]) / Scale[k]
		}
		for i, yes := range known {
			if !yes {
				continue
			}
			w := 1 / (flightDoubt[i]*flightDoubt[i] + flightNoise[i]*flightNoise[i]/float64(r.today))
			for j := range missing {
				b[j] += w * slopes[j][i] * (seen[i] - at[i])
				for l := range missing {
					a[j*n+l] += w * slopes[j][i] * slopes[l][i]
				}
			}
		}
		c, ok := linear.Factor(n, a)
		if !ok || !c.Solve(b) {
			return y, nil
		}
		for j, k := range missing {
			y[k] += math.Max(-1.5, math.Min(1.5, b[j])) * Scale[k]
		}
		y = held(y)
	}
	return y, nil
}

// timed says whether any ball that lacks a launch number has a flight time.
func (r *Response) timed() bool {
	for i := range r.in.Shots {
		if s := &r.in.Shots[i]; s.Time != nil && s.Has != ([K]bool{true, true, true, true, true}) {
			return true
		}
	}
	return false
}

// lands says whether flights stand for launch numbers of ball s.
func lands(s *Obs) bool {
	if s.Has == ([K]bool{true, true, true, true, true}) {
		return false
	}
	for _, v := range flights(s) {
		if v != nil {
			return true
		}
	}
	return false
}

// relinearise moves each ball's place of linearisation to where it is now
// expected to have started, given its setting, its time and what was measured of
// its launch, and says how far the farthest moved [reference units]. Its own flight
// is left out: slopes that hang on a ball's own luck would be taken for a
// difference between the flight model and the session (a ball that starts higher
// flies where more launch gains less).
func (r *Response) relinearise() float64 {
	most := 0.0
	var mean [K]float64
	for i := range r.in.Shots {
		s := &r.in.Shots[i]
		if !lands(s) {
			continue
		}
		r.post.Expected(i, mean[:])
		r.given(s, &mean)
		y := r.mode[i]
		for k := range K {
			if !s.Has[k] {
				step := r.Centre[k]/Scale[k] + mean[k] - y[k]/Scale[k]
				y[k] += math.Max(-1.5, math.Min(1.5, step)) * Scale[k]
			}
		}
		y = held(y)
		for k := range K {
			most = math.Max(most, math.Abs(y[k]-r.mode[i][k])/Scale[k])
		}
		r.mode[i] = y
	}
	return most
}

// given moves the mean of a ball's missing numbers by what its measured ones say
// of them, mean_m + S_mo S_oo^-1 (y_o - mean_o), all in reference units.
func (r *Response) given(s *Obs, mean *[K]float64) {
	var seen []int
	for k := range K {
		if s.Has[k] {
			seen = append(seen, k)
		}
	}
	n := len(seen)
	a, b := make([]float64, n*n), make([]float64, n)
	for i, k := range seen {
		b[i] = (s.Y[k]-r.Centre[k])/Scale[k] - mean[k]
		for j, l := range seen {
			a[i*n+j] = r.post.Sigma[k*K+l]
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
			mean[k] += r.post.Sigma[k*K+l] * b[i]
		}
	}
}
