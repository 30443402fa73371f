package trial

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// counted leaves the warm-up out.
func counted(balls []invent.Ball) []invent.Ball {
	var out []invent.Ball
	for _, b := range balls {
		if !b.WarmUp {
			out = append(out, b)
		}
	}
	return out
}

// rawBest is what people do: the tested setting with the least mean strokes of
// its own balls, all aimed along the line that was best for all balls
// together. It sees where balls truly stopped. gain is its promise.
func rawBest(balls []invent.Ball, tested []int, hole invent.Hole) (best int, gain float64) {
	var x, z []float64
	used := counted(balls)
	for _, b := range used {
		x, z = append(x, b.RestX), append(z, b.RestZ)
	}
	_, aim := hole.Best(x, z, 0)
	s, c := math.Sincos(aim)
	sum, n := map[int]float64{}, map[int]float64{}
	for i, b := range used {
		sum[b.Setting] += hole.Strokes(x[i]*c-z[i]*s, z[i]*c+x[i]*s)
		n[b.Setting]++
	}
	mean := make([]float64, len(invent.Settings80()))
	for _, t := range tested {
		mean[t] = sum[t] / n[t]
	}
	best = least(mean, tested)
	return best, mean[0] - mean[best]
}

// additive fits rest place = a + b lean + c upright + d weight by least squares
// to the true resting places, puts the residuals of all balls about the mean of
// every setting, and takes its strokes at the best aim.
func additive(balls []invent.Ball, hole invent.Hole) []float64 {
	settings := invent.Settings80()
	used := counted(balls)
	row := func(s invent.Setting) [4]float64 { return [4]float64{1, s.Lean * 50, s.Upright * 50, s.CGToe * 1000} }
	var a [4][4]float64
	var bx, bz [4]float64
	for i := range 4 {
		a[i][i] = 1e-9 // six drawn settings may leave a column empty
	}
	for _, b := range used {
		r := row(settings[b.Setting].Setting)
		for i := range 4 {
			for j := range 4 {
				a[i][j] += r[i] * r[j]
			}
			bx[i] += r[i] * b.RestX
			bz[i] += r[i] * b.RestZ
		}
	}
	fx, fz := solve(a, bx), solve(a, bz)
	at := func(f [4]float64, s invent.Setting) float64 {
		r := row(s)
		return r[0]*f[0] + r[1]*f[1] + r[2]*f[2] + r[3]*f[3]
	}
	out := make([]float64, len(settings))
	x, z := make([]float64, len(used)), make([]float64, len(used))
	for i, s := range settings {
		for k, b := range used {
			x[k] = at(fx, s.Setting) + b.RestX - at(fx, settings[b.Setting].Setting)
			z[k] = at(fz, s.Setting) + b.RestZ - at(fz, settings[b.Setting].Setting)
		}
		out[i], _ = hole.Best(x, z, 0)
	}
	return out
}

// solve is Gaussian elimination with pivots.
func solve(a [4][4]float64, b [4]float64) (x [4]float64) {
	for c := range 4 {
		p := c
		for r := c; r < 4; r++ {
			if math.Abs(a[r][c]) > math.Abs(a[p][c]) {
				p = r
			}
		}
		a[c], a[p] = a[p], a[c]
		b[c], b[p] = b[p], b[c]
		for r := c + 1; r < 4; r++ {
			f := a[r][c] / a[c][c]
			for k := c; k < 4; k++ {
				a[r][k] -= f * a[c][k]
			}
			b[r] -= f * b[c]
		}
	}
	for c := 3; c >= 0; c-- {
		x[c] = b[c]
		for k := c + 1; k < 4; k++ {
			x[c] -= a[c][k] * x[k]
		}
		x[c] /= a[c][c]
	}
	return x
}
