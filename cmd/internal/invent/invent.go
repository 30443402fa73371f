// Package invent makes up golfers, so that the engine can be tried on players
// whose truth is known: the demonstration session and the benchmark of
// `ferrule simulate`.
//
// Nothing here is the engine's: the random numbers (SplitMix64), the flight
// (another published set of coefficients, another integrator), the impact (a
// closed form instead of a matrix solution), the geometry of the sleeve (small
// angles instead of exact rotations) and the strokes table's use are written
// anew. What is shared is knowledge: both sides follow the same published
// physics of impact, the same strokes baseline and the same signs (right of
// the target, toe, open, upright and up are positive).
//
// Everything is right-handed; SI inside.
package invent

import "math"

const (
	deg  = math.Pi / 180
	rpm  = math.Pi / 30
	mph  = .44704
	yd   = .9144
	ft   = .3048
	inch = .0254
)

// Rand is SplitMix64 (Steele, Lea, Flood 2014): one 64-bit state, any seed good.
type Rand struct {
	state uint64
	spare float64
	full  bool
}

// NewRand starts a generator; streams with different numbers do not overlap in
// any way that a test could see.
func NewRand(seed, stream uint64) *Rand {
	r := &Rand{state: seed ^ stream*0xd1342543de82ef95}
	r.Uint64()
	return r
}

// Uint64 is the next 64 bits.
func (r *Rand) Uint64() uint64 {
	r.state += 0x9e3779b97f4a7c15
	z := r.state
	z = (z ^ z>>30) * 0xbf58476d1ce4e5b9
	z = (z ^ z>>27) * 0x94d049bb133111eb
	return z ^ z>>31
}

// Uniform is in (0, 1).
func (r *Rand) Uniform() float64 { return (float64(r.Uint64()>>11) + .5) / (1 << 53) }

// Normal is standard normal, by Box and Muller.
func (r *Rand) Normal() float64 {
	if r.full {
		r.full = false
		return r.spare
	}
	s, c := math.Sincos(2 * math.Pi * r.Uniform())
	d := math.Sqrt(-2 * math.Log(r.Uniform()))
	r.spare, r.full = d*s, true
	return d * c
}

// Int is in 0..n-1.
func (r *Rand) Int(n int) int { return int(r.Uint64() % uint64(n)) }

// Shuffle mixes a slice in place.
func Shuffle[T any](r *Rand, s []T) {
	for i := len(s) - 1; i > 0; i-- {
		j := r.Int(i + 1)
		s[i], s[j] = s[j], s[i]
	}
}
