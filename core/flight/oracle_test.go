package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/air"
	"ferrule/core/units"
)

// TestOracle (case N1) flies 48 launches, half of them in wind, by a second
// program: vectors, spin by its closed form in the path, Cash and Karp's
// adaptive fifth-order method at 1e-11, the landing by bisection on the step.
// It shares the published coefficients with the code under test and no line.
func TestOracle(t *testing.T) {
	r := rand.New(rand.NewPCG(48, 1))
	var carry, off, apex, descent float64
	for i := range 48 {
		l := launch(100+90*r.Float64(), 6+14*r.Float64(), 4*r.NormFloat64(), 1300+3200*r.Float64(), 8*r.NormFloat64())
		e := Env{Air: air.Standard()}
		if i%2 == 1 {
			e.Air.Wind, e.Air.WindFrom = 7*r.Float64(), 6.28*r.Float64()
		}
		g := mustFly(t, l, e)
		x, z, top, down := oracle(l, e.Air)
		carry = math.Max(carry, math.Abs(g.Carry-x)/units.Yard)
		off = math.Max(off, math.Abs(g.Offline-z)/units.Yard)
		apex = math.Max(apex, math.Abs(g.Apex-top)/units.Foot)
		descent = math.Max(descent, math.Abs(g.Descent-down)/units.Degree)
	}
	t.Logf("worst of 48: carry %.4f yd, offline %.4f yd, apex %.5f ft, descent %.5f deg", carry, off, apex, descent)
	if carry > .02 || off > .01 || apex > .01 || descent > .01 {
		t.Errorf("against the oracle: carry %.4f yd, offline %.4f yd, apex %.4f ft, descent %.4f deg", carry, off, apex, descent)
	}
}

func oracle(l Launch, a air.Air) (carry, offline, apex, descent float64) {
	const m, d = .04593, .04267
	t := a.Temperature - 273.15
	rho := (.34848*a.Pressure/100 - .9*a.Humidity*math.Exp(.061*t)) / a.Temperature
	mu := 1.458e-6 * math.Pow(a.Temperature, 1.5) / (a.Temperature + 110.4)
	axis := [3]float64{-math.Cos(l.Axis) * math.Sin(l.Direction), -math.Sin(l.Axis), math.Cos(l.Axis) * math.Cos(l.Direction)}
	rhs := func(s [7]float64) (o [7]float64) {
		gust := a.Wind * math.Log(math.Sqrt(s[1]*s[1]+1)/.03) / math.Log(10/.03)
		u := [3]float64{s[3] + gust*math.Cos(a.WindFrom), s[4], s[5] + gust*math.Sin(a.WindFrom)}
		v := math.Sqrt(u[0]*u[0] + u[1]*u[1] + u[2]*u[2])
		lift := [3]float64{axis[1]*u[2] - axis[2]*u[1], axis[2]*u[0] - axis[0]*u[2], axis[0]*u[1] - axis[1]*u[0]}
		across := math.Sqrt(lift[0]*lift[0] + lift[1]*lift[1] + lift[2]*lift[2])
		w := l.Spin * math.Exp(-2e-5*rho/1.225*s[6]/(d/2))
		spin := d / 2 * w * across / v / v
		corner := func(x, at, wide float64) float64 { // max(x, at) with its corner rounded
			if math.Abs(x-at) < wide {
				return at + (x-at+wide)*(x-at+wide)/4/wide
			}
			return math.Max(x, at)
		}
		re := -corner(-corner(rho*v*d/mu/1e5, .7, .1), -2.2, .1)
		spin = -corner(-spin, -.35, .0225)
		drag := .1029 + .0274*re + .7397*spin
		cl := (.0677 - .0122/re/re + 1.0208*spin - .5991*spin*spin) * -corner(-spin/.045, -1, .5)
		k := rho * math.Pi * d * d / 4 / 2 / m
		for i := range 3 {
			o[i] = s[3+i]
			o[3+i] = -k*drag*v*u[i] + k*cl*v*v*lift[i]/across
		}
		o[4] -= 9.80665
		o[6] = v
		return o
	}
	nodes := [6][5]float64{{}, {.2}, {3. / 40, 9. / 40}, {.3, -.9, 1.2}, {-11. / 54, 2.5, -70. / 27, 35. / 27},
		{1631. / 55296, 175. / 512, 575. / 13824, 44275. / 110592, 253. / 4096}}
	five := [6]float64{37. / 378, 0, 250. / 621, 125. / 594, 0, 512. / 1771}
	four := [6]float64{2825. / 27648, 0, 18575. / 48384, 13525. / 55296, 277. / 14336, .25}
	try := func(s [7]float64, h float64) (next [7]float64, wrong float64) {
		var k [6][7]float64
		for i := range 6 {
			at := s
			for j := range i {
				for c := range at {
					at[c] += h * nodes[i][j] * k[j][c]
				}
			}
			k[i] = rhs(at)
		}
		next = s
		for c := range next {
			e := 0.
			for i := range 6 {
				next[c] += h * five[i] * k[i][c]
				e += h * (five[i] - four[i]) * k[i][c]
			}
			wrong = math.Max(wrong, math.Abs(e))
		}
		return next, wrong
	}
	s := [7]float64{3: l.Speed * math.Cos(l.Angle) * math.Cos(l.Direction), 4: l.Speed * math.Sin(l.Angle), 5: l.Speed * math.Cos(l.Angle) * math.Sin(l.Direction)}
	h := .01
	find := func(s [7]float64, h float64, index int) [7]float64 { // bisect the step on the sign of one component
		lo, hi := 0., h
		for range 60 {
			if n, _ := try(s, (lo+hi)/2); n[index] > 0 {
				lo = (lo + hi) / 2
			} else {
				hi = (lo + hi) / 2
			}
		}
		n, _ := try(s, hi)
		return n
	}
	for range 100000 {
		next, wrong := try(s, h)
		if wrong > 1e-10 {
			h *= math.Max(.2, .9*math.Pow(1e-10/wrong, .25))
			continue
		}
		if s[4] > 0 && next[4] <= 0 {
			apex = find(s, h, 4)[1]
		}
		if next[1] <= 0 && s[1] > 0 {
			n := find(s, h, 1)
			return n[0], n[2], apex, math.Atan2(-n[4], math.Hypot(n[3], n[5]))
		}
		s = next
		h = math.Min(.1, h*math.Min(3, .9*math.Pow(1e-10/math.Max(wrong, 1e-18), .2)))
	}
	return math.NaN(), math.NaN(), math.NaN(), math.NaN()
}
