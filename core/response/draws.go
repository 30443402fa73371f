package response

import (
	"math"
	"math/rand/v2"

	"ferrule/core/seed"
)

// Mean is the expected ball of setting j under draw d, at mid-session, with a
// warm player and the usual swing [SI]. A setting never hit gets a deviation
// of its own, from Deviations.
func (r *Response) Mean(d, j int, deviations []float64) (y [K]float64) {
	draw, x := &r.Draws[d], r.x[j]
	if g := r.group[j]; g >= 0 {
		copy(y[:], draw.Group[g*K:(g+1)*K])
	} else {
		for k := range y {
			y[k] = draw.Tau[k] * deviations[d*K+k]
		}
	}
	for a, xa := range x {
		if xa == 0 {
			continue
		}
		for k := range y {
			y[k] += xa * draw.Coef[a*K+k]
		}
	}
	for k := range y {
		y[k] = r.Centre[k] + y[k]*Scale[k]
	}
	return y
}

// Deviations are standard normal numbers for the draws of setting j, by name,
// so that a setting's do not depend on which others are asked for. They have no
// mean and unit variance over the draws.
func (r *Response) Deviations(s seed.Seed, name string) []float64 {
	rng := s.Stream("response.deviation." + name)
	z := make([]float64, len(r.Draws)*K)
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	if len(r.Draws) < 3 {
		return z
	}
	n := float64(len(r.Draws))
	for k := range K {
		sum, sq := 0.0, 0.0
		for i := k; i < len(z); i += K {
			sum, sq = sum+z[i], sq+z[i]*z[i]
		}
		mean := sum / n
		by := 1 / math.Sqrt(sq/n-mean*mean)
		for i := k; i < len(z); i += K {
			z[i] = by * (z[i] - mean)
		}
	}
	return z
}

// Noise returns per ball deviations from the mean [SI], perDraw for each draw:
// the whole residual of a ball of the session with probability N/(N+5), which
// keeps real mis-hits in the outcome, else a draw of t_4. What the swing
// (strike, club speed) did to a ball stays in: it will vary again. The same
// for every setting (common random numbers).
//
// Every ball of the session is dealt equally often, to one, in an order of
// chance, before draws of t_4 take their share of the places; those come with
// their opposites in the pair's other draw. The share of mis-hits is then nearly
// that of the session, whatever the seed. from says which ball of the session
// each is, -1 for a draw of t_4. Both are [len(Draws)*perDraw], draw by draw.
func (r *Response) Noise(perDraw int, s seed.Seed) (out [][K]float64, from []int) {
	rng := s.Stream("response.noise")
	all := len(r.Draws) * perDraw
	out, from = make([][K]float64, all), make([]int, all)
	n := len(r.rows)
	// which balls are of t_4, alike in both draws of a pair so that they stand
	// opposite each other
	half := (len(r.Draws) + 1) / 2 * perDraw
	fresh := make([]bool, half)
	for i := range (half*5 + (n+5)/2) / (n + 5) {
		fresh[i] = true
	}
	rng.Shuffle(half, func(a, b int) { fresh[a], fresh[b] = fresh[b], fresh[a] })
	ball := make([]int, 0, all+n)
	for len(ball) < all {
		for i := range n {
			ball = append(ball, i)
		}
	}
	// over all draws and not inside each: package decide takes the noise of few
	// balls out of its intervals by their variance inside a draw, which balls
	// drawn without replacement from few overstate
	rng.Shuffle(len(ball), func(a, b int) { ball[a], ball[b] = ball[b], ball[a] })
	wider := r.wider()
	for d := range r.Draws {
		total := r.totalSigma(d)
		more := math.Sqrt(1 + r.Draws[d].Level*r.Draws[d].Level)
		for i := range perDraw {
			at := d*perDraw + i
			o := &out[at]
			from[at] = -1
			switch {
			case !fresh[d/2*perDraw+i]:
				from[at] = ball[at]
				r.residual(ball[at], o, rng)
				for k := range o {
					o[k] *= wider[k]
				}
			case d%2 == 0:
				student(total, o, rng)
				for k := range o { // levels are part of the scatter
					o[k] *= more
				}
			default:
				for k, v := range out[at-perDraw] {
					o[k] = -v
				}
			}
		}
	}
	return out, from
}

// residual is what ball i did beyond its setting, time, ball and day as they are
// believed to be on average, its level included. (Beyond those of a
// draw it would be off by the draw's own error, and a setting's level would look
// surer than it is by what it shares with others.)
func (r *Response) residual(i int, o *[K]float64, rng *rand.Rand) {
	l := &r.lay
	row := &r.rows[i]
	var whole [K]float64
	r.post.Whole(i, &r.middle, rng, whole[:])
	for k, v := range whole {
		for c := range r.swing { // give the swing's part back
			v += row.X[l.effects+l.swing+c] * r.middle.Coef[(l.effects+l.swing+c)*K+k]
		}
		o[k] = v * Scale[k]
	}
}

// wider is by how much the residuals of a fit scatter less than the balls, whose
// means the same balls had to tell.
func (r *Response) wider() (by [K]float64) {
	var own, doubt [K]float64
	for i := range r.rows {
		var whole [K]float64
		if r.in.Shots[i].Has != ([K]bool{true, true, true, true, true}) {
			continue
		}
		r.post.Whole(i, &r.middle, nil, whole[:])
		for k, v := range whole {
			own[k] += v * v
		}
		for d := 0; d < len(r.Draws); d += 6 {
			var other [K]float64
			r.post.Whole(i, &r.Draws[d], nil, other[:])
			for k, v := range other {
				doubt[k] += (v - whole[k]) * (v - whole[k])
			}
		}
	}
	n := float64((len(r.Draws) + 5) / 6)
	for k := range by {
		by[k] = 1
		if own[k] > 0 {
			by[k] = math.Sqrt(1 + math.Min(1, doubt[k]/n/own[k]))
		}
	}
	return by
}

// totalSigma is the lower factor of Sigma with the swing's variation, under draw d.
func (r *Response) totalSigma(d int) []float64 {
	draw := &r.Draws[d]
	n := len(r.swing)
	if n == 0 {
		return draw.Sigma
	}
	l := &r.lay
	var s [K * K]float64
	for a := range K {
		for b := range K {
			for c := range K {
				s[a*K+b] += draw.Sigma[a*K+c] * draw.Sigma[b*K+c]
			}
			for p := range n {
				for q := range n {
					s[a*K+b] += r.cover[p*n+q] * draw.Coef[(l.effects+l.swing+p)*K+a] * draw.Coef[(l.effects+l.swing+q)*K+b]
				}
			}
		}
	}
	for j := range K { // Cholesky in place; positive definite, since Sigma is
		for i := j; i < K; i++ {
			v := s[i*K+j]
			for c := range j {
				v -= s[i*K+c] * s[j*K+c]
			}
			if i == j {
				s[i*K+i] = math.Sqrt(math.Max(v, 1e-12))
			} else {
				s[i*K+j] = v / s[j*K+j]
			}
		}
	}
	return s[:]
}

// student draws from t_4 with scale factor l, in o's units [SI]; chi squared of
// .2 or less, one draw in two hundred, is taken for .2, so that no ball flies
// out of the world.
func student(l []float64, o *[K]float64, rng *rand.Rand) {
	chi := 0.0
	for range 4 {
		x := rng.NormFloat64()
		chi += x * x
	}
	f := math.Sqrt(4 / math.Max(chi, .2))
	var z [K]float64
	for k := range K {
		z[k] = rng.NormFloat64()
	}
	for k := range K {
		v := 0.0
		for c := range k + 1 {
			v += l[k*K+c] * z[c]
		}
		o[k] = f * v * Scale[k]
	}
}
