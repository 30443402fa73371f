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
	lagShare   = 1.15  // drift over the time that a flight is longer than at its first speed, by cross wind (the lag rule of gunnery, and a little for the lift; ferrule fly)
	gustShare  = 0.15  // a ball's own wind about its block's, of the wind's speed
	oneWind    = 40    // balls in a row that are taken to have one wind
)

// spreads are the sizes of a ball's own miss that are tried [m]: devices, gusts
// and, where no start line was read, the start line itself. One file has one.
var spreads = [...]float64{1, 1.5, 2.2, 3.3, 5, 7.5, 11, 17, 25}

// What is believed of that size before the balls are seen, our own choice, no
// source: about two metres and a half, seven and a half without a start line, either
// within a factor of two.
const (
	usualSpread   = 2.5
	startlessMore = 3
	spreadFactor  = 2
)

// underWind is the log likelihood of what is left of each landing place, with
// the wind of each block and the size of the balls' own misses unknown. started
// says that the start line is among what was taken away.
func underWind(ts []track, started bool, left func(t track) float64) float64 {
	var lls [len(spreads)]float64
	mid := usualSpread
	if !started {
		mid *= startlessMore
	}
	for k, s := range spreads {
		z := math.Log(s/mid) / math.Log(spreadFactor)
		lls[k] = -z * z / 2
	}
	var at, drift []float64
	told := math.NaN()
	flush := func() {
		if len(at) > 0 {
			for k, s := range spreads {
				lls[k] += blockUnderWind(at, drift, s, told)
			}
		}
		at, drift = at[:0], drift[:0]
	}
	for i, t := range ts {
		if i > 0 && (t.block != ts[i-1].block || t.cross != told && !math.IsNaN(t.cross+told)) || len(at) >= oneWind {
			flush()
		}
		told = t.cross
		if x := left(t); !math.IsNaN(x) && !math.IsNaN(t.carry) {
			at, drift = append(at, x), append(drift, t.drift)
		}
	}
	flush()
	return sumOfLogs(lls[:])
}

// blockUnderWind is the same of one block, of misses of size s, in a wind of which
// told is said, NaN = nothing.
func blockUnderWind(at, drift []float64, s, told float64) float64 {
	var lls [2*windSteps + 1]float64
	for k := range lls {
		wind := float64(k-windSteps) * windStep
		ll := windBelief(wind, told)
		for i, x := range at {
			own := math.Hypot(s, gustShare*wind*drift[i])
			ll += missTail(x-wind*drift[i], own) - math.Log(own)
		}
		lls[k] = ll
	}
	return sumOfLogs(lls[:])
}

// missTail is the log density of a landing's miss of size s under Student's t with 6
// degrees of freedom: a mis-hit lands where its own axis says, so that fewer are far off
// than of what a golfer intends (tail).
func missTail(r, s float64) float64 { return -3.5 * math.Log1p(r*r/(6*s*s)) }

// windBelief is the log density of a cross wind, but for a constant. One that was
// told is believed to a third of it and a metre a second; that it was told wrong,
// or from the other side, is not ruled out.
func windBelief(wind, told float64) float64 {
	any := -wind * wind / (2 * anyWind * anyWind)
	if math.IsNaN(told) {
		return any
	}
	sd := 1 + .3*math.Abs(told)
	bell := func(off float64) float64 { return math.Exp(-off*off/(2*sd*sd)) / sd }
	return math.Log(.8*bell(wind-told) + .05*bell(wind+told) + .15*math.Exp(any)/anyWind)
}

func sumOfLogs(lls []float64) float64 {
	most, sum := math.Inf(-1), 0.
	for _, ll := range lls {
		most = math.Max(most, ll)
	}
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
