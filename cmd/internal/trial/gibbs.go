package trial

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// draws of the reference posterior that are kept.
const draws = 300

// evidence is one response of a session's balls: what the hierarchical model
// is given.
type evidence struct {
	y       []float64    // [m] of each ball, in the order of hitting
	setting []int        // of each ball, index into features
	feature [][3]float64 // of every setting: lean, upright [deg], weight [mm]
	expect  [3]float64   // [m] what physics expects of a unit of each
}

// Scales of what a setting adds of its own and of what a stretch of five balls
// adds, in the ball-to-ball scatter; all alike likely before the balls.
var (
	ownScales  = []float64{.03, .1, .2, .3, .45, .65, .9, 1.3}
	slowScales = []float64{.03, .12, .25, .4, .6}
)

const stretch = 5 // balls

// belief is one of the ways in which effects may stand to the expected ones.
type belief struct{ weight, middle, share, floor float64 }

var beliefs = []belief{{.4, 1, .4, .3}, {.4, 0, 1.2, .6}, {.2, 0, .1, .1}}

// gibbs draws from the full hierarchical model
//
//	y = a + f b + own(setting) + slow(stretch of five balls) + e,  e ~ t(5) sigma
//
// by Gibbs sampling: the linear terms jointly, then each ball's weight, sigma,
// the two scales over a grid, and which belief holds. It returns the mean of
// every setting, draw by draw [m].
func gibbs(v evidence, r *invent.Rand) [draws][]float64 {
	n, hit := len(v.y), map[int]int{}
	for _, s := range v.setting {
		if _, ok := hit[s]; !ok {
			hit[s] = len(hit)
		}
	}
	stretches := (n + stretch - 1) / stretch
	p := 4 + len(hit) + stretches
	start, spread := within(v.y, v.setting)
	row := func(i int) (at [6]int, x [6]float64) {
		f := v.feature[v.setting[i]]
		return [6]int{0, 1, 2, 3, 4 + hit[v.setting[i]], 4 + len(hit) + i/stretch}, [6]float64{1, f[0], f[1], f[2], 1, 1}
	}
	sigma, own, slow, held := spread, .3*spread, .12*spread, 0
	weight := make([]float64, n)
	for i := range weight {
		weight[i] = 1
	}
	theta, rhs := make([]float64, p), make([]float64, p)
	a := make([][]float64, p)
	for i := range a {
		a[i] = make([]float64, p)
	}
	prior := func(b belief, k int) (m, sd float64) {
		return b.middle * v.expect[k], b.share*math.Abs(v.expect[k]) + b.floor
	}
	var out [draws][]float64
	const burn, thin = 150, 2
	for it := range burn + draws*thin {
		for i := range a {
			clear(a[i])
		}
		clear(rhs)
		a[0][0], rhs[0] = 1e-6, 1e-6*start
		for k := range 3 {
			m, sd := prior(beliefs[held], k)
			a[1+k][1+k], rhs[1+k] = 1/(sd*sd), m/(sd*sd)
		}
		for i := range len(hit) {
			a[4+i][4+i] = 1 / (own * own)
		}
		for i := range stretches {
			j := 4 + len(hit) + i
			a[j][j] = 1 / (slow * slow)
		}
		for i := range n {
			at, x := row(i)
			w := weight[i] / (sigma * sigma)
			for g, j := range at {
				rhs[j] += w * x[g] * v.y[i]
				for h := range g + 1 {
					a[max(j, at[h])][min(j, at[h])] += w * x[g] * x[h]
				}
			}
		}
		normal(a, rhs, theta, r)
		sum := 0.
		for i := range n {
			at, x := row(i)
			e := v.y[i]
			for g, j := range at {
				e -= x[g] * theta[j]
			}
			weight[i] = gamma(r, 3) * 2 / (5 + e*e/(sigma*sigma))
			sum += weight[i] * e * e
		}
		sigma = math.Sqrt((sum + 2*spread*spread) / 2 / gamma(r, 1+float64(n)/2))
		own = scaleOf(r, theta[4:4+len(hit)], ownScales, spread)
		slow = scaleOf(r, theta[4+len(hit):], slowScales, spread)
		held = believed(r, theta[1:4], prior)
		if it < burn || (it-burn)%thin != 0 {
			continue
		}
		d := make([]float64, len(v.feature))
		for s, f := range v.feature {
			d[s] = theta[0] + f[0]*theta[1] + f[1]*theta[2] + f[2]*theta[3]
			if k, ok := hit[s]; ok {
				d[s] += theta[4+k]
			} else {
				d[s] += own * r.Normal()
			}
		}
		out[(it-burn)/thin] = d
	}
	return out
}

// within is the mean and the standard deviation about each setting's mean.
func within(y []float64, setting []int) (mean, sd float64) {
	sum, n := map[int]float64{}, map[int]float64{}
	for i, s := range setting {
		sum[s] += y[i]
		n[s]++
		mean += y[i] / float64(len(y))
	}
	ss := 0.
	for i, s := range setting {
		d := y[i] - sum[s]/n[s]
		ss += d * d
	}
	return mean, math.Sqrt(ss/math.Max(1, float64(len(y)-len(n)))) + .1
}

// scaleOf draws the scale of normal effects from a grid in units of spread.
func scaleOf(r *invent.Rand, effects, grid []float64, spread float64) float64 {
	log := make([]float64, len(grid))
	for k, g := range grid {
		s := g * spread
		for _, e := range effects {
			log[k] -= math.Log(s) + e*e/(2*s*s)
		}
	}
	return grid[drawn(r, log)] * spread
}

// believed draws which belief holds, given the effects.
func believed(r *invent.Rand, b []float64, prior func(belief, int) (m, sd float64)) int {
	log := make([]float64, len(beliefs))
	for k, one := range beliefs {
		log[k] = math.Log(one.weight)
		for j := range 3 {
			m, sd := prior(one, j)
			log[k] -= math.Log(sd) + (b[j]-m)*(b[j]-m)/(2*sd*sd)
		}
	}
	return drawn(r, log)
}

// drawn picks an index by its logarithm of weight.
func drawn(r *invent.Rand, log []float64) int {
	most, sum := math.Inf(-1), 0.
	for _, v := range log {
		most = math.Max(most, v)
	}
	for _, v := range log {
		sum += math.Exp(v - most)
	}
	u := r.Uniform() * sum
	for k, v := range log {
		if u -= math.Exp(v - most); u < 0 {
			return k
		}
	}
	return len(log) - 1
}

// normal draws from the normal with precision a (lower triangle, overwritten)
// and precision times mean b.
func normal(a [][]float64, b, out []float64, r *invent.Rand) {
	n := len(b)
	for j := range n {
		for k := range j {
			a[j][j] -= a[j][k] * a[j][k]
		}
		a[j][j] = math.Sqrt(a[j][j])
		for i := j + 1; i < n; i++ {
			s := a[i][j]
			ai, aj := a[i][:j], a[j][:j]
			for k, v := range aj {
				s -= ai[k] * v
			}
			a[i][j] = s / a[j][j]
		}
	}
	for i := range n {
		s := b[i]
		for k := range i {
			s -= a[i][k] * out[k]
		}
		out[i] = s / a[i][i]
	}
	for i := range n {
		out[i] += r.Normal()
	}
	for i := n - 1; i >= 0; i-- {
		s := out[i]
		for k := i + 1; k < n; k++ {
			s -= a[k][i] * out[k]
		}
		out[i] = s / a[i][i]
	}
}

// gamma draws with shape k >= 1 and scale 1 (Marsaglia and Tsang 2000).
func gamma(r *invent.Rand, k float64) float64 {
	d := k - 1./3
	c := 1 / math.Sqrt(9*d)
	for {
		x := r.Normal()
		v := 1 + c*x
		if v <= 0 {
			continue
		}
		v = v * v * v
		if math.Log(r.Uniform()) < .5*x*x+d-d*v+d*math.Log(v) {
			return d * v
		}
	}
}
