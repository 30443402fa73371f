package shotfile

import (
	"math"

	"ferrule/core/robust"
)

// The wind of a file is unknown, and what it does to all balls of a block alike
// says nothing of left and right: a sign is judged by how balls differ from their
// neighbours. Only a landing side far beyond any wind speaks by its middle.
const (
	anyWind    = 5.0   // [m/s] standard deviation of a cross wind that nobody told
	windStep   = 0.5   // [m/s]
	windSteps  = 30    // to either side
	driftShare = 0.016 // [s/m] drift of a drive by each m/s of cross wind, as a share of its carry (ferrule fly)
	oneWind    = 40    // balls in a row that are taken to have one wind
)

// spreads are the sizes of a ball's own miss that are tried [m]: devices, gusts
// and, where no start line was read, the start line itself.
var spreads = [...]float64{1.5, 2.2, 3.3, 5, 7.5, 11, 17, 25}

// underWind is the log likelihood of what is left of each landing place, with
// the wind of each block and the size of the balls' own misses unknown.
func underWind(ts []track, left func(t track) float64) (ll float64) {
	var at, drift []float64
	flush := func() {
		if len(at) > 0 {
			ll += blockUnderWind(at, drift)
		}
		at, drift = at[:0], drift[:0]
	}
	for i, t := range ts {
		if i > 0 && t.block != ts[i-1].block || len(at) >= oneWind {
			flush()
		}
		if x := left(t); !math.IsNaN(x) && !math.IsNaN(t.carry) {
			at, drift = append(at, x), append(drift, driftShare*t.carry)
		}
	}
	flush()
	return ll
}

func blockUnderWind(at, drift []float64) float64 {
	most := math.Inf(-1)
	var lls [len(spreads) * (2*windSteps + 1)]float64
	k := 0
	for _, s := range spreads {
		for w := -windSteps; w <= windSteps; w++ {
			wind := float64(w) * windStep
			ll := -wind*wind/(2*anyWind*anyWind) - float64(len(at))*math.Log(s)
			for i, x := range at {
				ll += tail(x-wind*drift[i], s)
			}
			lls[k] = ll
			k++
			most = math.Max(most, ll)
		}
	}
	sum := 0.0
	for _, ll := range lls {
		sum += math.Exp(ll - most)
	}
	return most + math.Log(sum)
}

// columnOr takes a number that most balls have as it is, so that a ball without
// it says nothing; one that hardly any has is nothing where it is missing.
func columnOr(most bool) func(x float64) float64 {
	return func(x float64) float64 {
		if !most && math.IsNaN(x) {
			return 0
		}
		return x
	}
}

// alike counts in how many balls x and y lie on the same side of their block's
// middle, of those where both lie clear of it.
func alike(ts []track, of func(t track) (x, y float64)) (same, clear int) {
	const apart = .8 // [m]
	for i := 0; i < len(ts); {
		var xs, ys []float64
		j := i
		for ; j < len(ts) && ts[j].block == ts[i].block && j-i < oneWind; j++ {
			if x, y := of(ts[j]); !math.IsNaN(x) && !math.IsNaN(y) {
				xs, ys = append(xs, x), append(ys, y)
			}
		}
		mx, my := robust.Median(xs), robust.Median(ys)
		for k := range xs {
			if x, y := xs[k]-mx, ys[k]-my; math.Abs(x) > apart && math.Abs(y) > apart {
				clear++
				if x*y > 0 {
					same++
				}
			}
		}
		i = j
	}
	return same, clear
}
