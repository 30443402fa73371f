package response

import (
	"fmt"
	"math"

	"ferrule/core/linear"
	"ferrule/core/robust"
	"ferrule/core/units"
)

// centre is the session's typical ball, about which the model is linear.
type centre struct {
	at       [K]float64 // [SI]
	usual    [K]float64 // [SI] what drivers do where nothing was measured
	measured [K]bool    // whether any ball has the number
}

// Typical is the ball about which a fit of in is linear [SI]: what the
// physics prior is sampled around, so it is needed before the fit.
func Typical(in Input) ([K]float64, error) {
	b := pooled{Input: in, today: len(in.Shots)}
	c, err := b.centre()
	return c.at, err
}

// centre finds the typical ball: the median of what was measured, completed
// from carry and from what drivers usually do at that speed.
func (b *pooled) centre() (c centre, err error) {
	var v [K][]float64
	var carry []float64
	for i, s := range b.Shots[:b.today] {
		if s.Setting < -1 || s.Setting >= len(b.Changes) {
			return c, fmt.Errorf("response: shot %d names setting %d of %d", i, s.Setting, len(b.Changes))
		}
		for k := range K {
			if s.Has[k] {
				if math.IsNaN(s.Y[k]) || math.IsInf(s.Y[k], 0) {
					return c, fmt.Errorf("response: shot %d holds %g, expected finite numbers", i, s.Y[k])
				}
				v[k] = append(v[k], s.Y[k])
			}
		}
		if s.Carry != nil {
			carry = append(carry, *s.Carry)
		}
	}
	if len(v[0]) == 0 && len(carry) == 0 {
		return c, ErrNoShots
	}
	for k := range K {
		if c.measured[k] = len(v[k]) > 0; c.measured[k] {
			c.usual[k] = robust.Median(v[k])
		}
	}
	if !c.measured[0] { // carry of ordinary drives is about 4.05 v - 57 (m, m/s)
		c.usual[0] = (robust.Median(carry) + 57) / 4.05
	}
	c.usual = usual(c.usual, c.measured)
	c.at, err = b.typical(c.usual, c.measured)
	return c, err
}

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

// typical finds what the middle ball does that was not measured: the most
// likely launch given what drivers usually do and the middle flight (steps of
// Gauss and Newton on the flight itself).
func (b *pooled) typical(y [K]float64, has [K]bool) ([K]float64, error) {
	var seen flown
	var known [outputs]bool
	for i := range outputs {
		var all []float64
		for s := range b.Shots[:b.today] {
			if v := flights(&b.Shots[s])[i]; v != nil && (i != outTime || b.timed()) {
				all = append(all, *v)
			}
		}
		if known[i] = 2*len(all) > b.today; known[i] {
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
	from, air := y, &flyer{env: b.Env}
	for range 8 {
		at, err := air.fly(y)
		if err != nil {
			return y, err
		}
		n := len(missing)
		a, rhs := make([]float64, n*n), make([]float64, n)
		var slopes []flown
		for j, k := range missing {
			s, err := air.slope(y, k)
			if err != nil {
				return y, err
			}
			slopes = append(slopes, s)
			p := 1 / (usualSD[k] * usualSD[k])
			a[j*n+j] += p
			rhs[j] += p * (from[k] - y[k]) / Scale[k]
		}
		for i, yes := range known {
			if !yes {
				continue
			}
			w := 1 / (flightDoubt[i]*flightDoubt[i] + flightNoise[i]*flightNoise[i]/float64(b.today))
			for j := range missing {
				rhs[j] += w * slopes[j][i] * (seen[i] - at[i])
				for l := range missing {
					a[j*n+l] += w * slopes[j][i] * slopes[l][i]
				}
			}
		}
		c, ok := linear.Factor(n, a)
		if !ok || !c.Solve(rhs) {
			return y, nil
		}
		for j, k := range missing {
			y[k] += math.Max(-1.5, math.Min(1.5, rhs[j])) * Scale[k]
		}
		y = held(y)
	}
	return y, nil
}
