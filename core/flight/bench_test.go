package flight

import (
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/units"
)

// shots are 200 random launches of a driver, in still air.
func shots() (ls []Launch) {
	r := rand.New(rand.NewPCG(3, 1))
	for range 200 {
		ls = append(ls, launch(100+90*r.Float64(), 6+14*r.Float64(), 4*r.NormFloat64(), 1300+3200*r.Float64(), 8*r.NormFloat64()))
	}
	return ls
}

// plain is the textbook program that a flight is compared with: the same
// equations by classical Runge-Kutta steps of 1 ms, coefficients by the
// interface, the landing by linear interpolation.
func plain(l Launch, e Env) float64 {
	f := newFlyer(l, newAero(e.filled()))
	const h = .001
	type state [7]float64
	rhs := func(s state) state {
		ax, ay, az, dw := f.rhs(s[1], s[3], s[4], s[5], s[6])
		return state{s[3], s[4], s[5], ax, ay, az, dw}
	}
	plus := func(s, k state, h float64) state {
		for i := range s {
			s[i] += h * k[i]
		}
		return s
	}
	s := state{0, 0, 0, f.vx, f.vy, f.vz, f.w}
	for {
		k1 := rhs(s)
		k2 := rhs(plus(s, k1, h/2))
		k3 := rhs(plus(s, k2, h/2))
		k4 := rhs(plus(s, k3, h))
		n := s
		for i := range n {
			n[i] += h / 6 * (k1[i] + 2*k2[i] + 2*k3[i] + k4[i])
		}
		if n[1] <= 0 {
			return s[0] + (n[0]-s[0])*s[1]/(s[1]-n[1])
		}
		s = n
	}
}

// BenchmarkFly prints what a flight costs, next to the textbook program in the
// same run, and how far off its carry is at worst.
func BenchmarkFly(b *testing.B) {
	ls := shots()
	e := Env{}.filled()
	a := newAero(e)
	worst, evals := 0., 0
	for _, l := range ls {
		f := newFlyer(l, a)
		f.run(nil)
		fine := newFlyer(l, a)
		fine.pace /= 50
		fine.run(nil)
		worst = math.Max(worst, math.Abs(f.x-fine.x)/units.Yard)
		evals += f.evals
	}
	i := 0
	b.Run("flight", func(b *testing.B) {
		for b.Loop() {
			f := newFlyer(ls[i%len(ls)], a)
			f.run(nil)
			i++
		}
		b.ReportMetric(worst, "yd-worst")
		b.ReportMetric(float64(evals)/float64(len(ls)), "rhs/op")
	})
	b.Run("Fly", func(b *testing.B) {
		for b.Loop() {
			if _, err := Fly(ls[i%len(ls)], e); err != nil {
				b.Fatal(err)
			}
			i++
		}
	})
	b.Run("rhs", func(b *testing.B) {
		f := newFlyer(ls[0], a)
		y, sum := 0., 0.
		for b.Loop() {
			ax, _, _, _ := f.rhs(y, f.vx+y, f.vy, f.vz, f.w)
			y = 1e-9 * ax // each waits for the one before, as in a step
			sum += ax
		}
		_ = sum
	})
	b.Run("plain-1ms", func(b *testing.B) {
		for b.Loop() {
			plain(ls[i%len(ls)], e)
			i++
		}
	})
}
