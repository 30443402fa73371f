package decide

import (
	"math"
	"slices"

	"ferrule/core/report"
)

// mean of v.
func mean(v []float64) float64 {
	s := 0.0
	for _, x := range v {
		s += x
	}
	return s / float64(len(v))
}

// variance of v about its mean, n-1 below.
func variance(v []float64) float64 {
	if len(v) < 2 {
		return 0
	}
	m, s := mean(v), 0.0
	for _, x := range v {
		s += (x - m) * (x - m)
	}
	return s / float64(len(v)-1)
}

// within is the mean variance inside groups of per of a - b, b nil = of a.
// One ball a group shows none: 0.
func within(a, b []float64, per int) float64 {
	if per < 2 {
		return 0
	}
	total := 0.0
	for g := 0; g < len(a); g += per {
		var s, ss float64
		shift := a[g]
		if b != nil {
			shift -= b[g]
		}
		for i := g; i < g+per; i++ {
			x := a[i] - shift
			if b != nil {
				x -= b[i]
			}
			s += x
			ss += x * x
		}
		total += (ss - s*s/float64(per)) / float64(per-1)
	}
	return total / float64(len(a)/per)
}

// binomial is the mean variance inside groups of per yes-or-no balls of which
// the shares p came out yes: p (1-p) per/(per-1).
func binomial(p []float64, per int) float64 {
	if per < 2 {
		return 0
	}
	total := 0.0
	for _, v := range p {
		total += v * (1 - v)
	}
	return total / float64(len(p)) * float64(per) / float64(per-1)
}

// quiet pulls draws towards their mean by as much of their variance as comes
// from having only per balls in each draw: v is the variance of one ball. What
// is left is what is unknown about the setting's mean.
//
// The variance of n draws is itself known only to a relative sqrt(2/n), so when
// nearly all of it is noise one and a half such errors are left: an interval is
// never made narrower than the draws can vouch for. It returns a slice of its
// own.
func quiet(draws []float64, v float64, per int) []float64 {
	out := slices.Clone(draws)
	pull(out, v, per)
	return out
}

// pull is quiet in place.
func pull(draws []float64, v float64, per int) {
	if v <= 0 {
		return
	}
	total := variance(draws)
	if total <= 0 {
		return
	}
	share := math.Min(1, v/float64(per)/total)
	f := math.Sqrt(math.Max(1-share, share*math.Min(1, 1.5*math.Sqrt(2/float64(len(draws))))))
	m := mean(draws)
	for i := range draws {
		draws[i] = m + f*(draws[i]-m)
	}
}

// interval returns mean and central intervals of draws.
func (o *order) interval(draws []float64) report.Interval {
	v := o.sorted(draws)
	q := func(p float64) float64 { return quantile(v, p) }
	return report.Interval{Mean: mean(draws), Lo50: q(.25), Hi50: q(.75), Lo80: q(.1), Hi80: q(.9), Lo95: q(.025), Hi95: q(.975)}
}

// order sorts draws: into bins of equal width first, which numbers that scatter
// about a middle nearly fill alike, then each past its neighbours.
type order struct {
	bin  []uint16
	v    []float64
	from [manyBins + 1]int32
}

// Bins for a few numbers, as many as there are draws, and for many.
const (
	fewBins  = 128
	manyBins = 1024
	few      = 300
	crowded  = 32 // so many in a bin are left to another method
)

// sorted is v in order, in a slice that the next call uses again.
func (o *order) sorted(v []float64) []float64 {
	if cap(o.v) < len(v) {
		o.v, o.bin = make([]float64, len(v)), make([]uint16, len(v))
	}
	out, bin := o.v[:len(v)], o.bin[:len(v)]
	from := o.from[:manyBins+1]
	if len(v) <= few {
		from = o.from[:fewBins+1]
	}
	lo, hi := v[0], v[0]
	for _, x := range v {
		if x < lo {
			lo = x
		} else if x > hi {
			hi = x
		}
	}
	clear(from)
	by := float64(len(from)-2) / (hi - lo)
	if !(by < math.MaxFloat64) { // all alike
		copy(out, v)
		return out
	}
	for i, x := range v {
		k := uint16(by * (x - lo))
		bin[i] = k
		from[k+1]++
	}
	most, sum := int32(0), int32(0)
	for k, n := range from {
		most = max(most, n)
		sum += n
		from[k] = sum
	}
	if most > crowded {
		copy(out, v)
		slices.Sort(out)
		return out
	}
	for i, x := range v {
		k := bin[i]
		out[from[k]] = x
		from[k]++
	}
	for i := 1; i < len(out); i++ {
		x, j := out[i], i
		for ; j > 0 && out[j-1] > x; j-- {
			out[j] = out[j-1]
		}
		out[j] = x
	}
	return out
}

// quantile of sorted v, linear between order statistics at (i+.5)/n.
func quantile(v []float64, p float64) float64 {
	n := len(v)
	f := p*float64(n) - 0.5
	if f <= 0 {
		return v[0]
	}
	if f >= float64(n-1) {
		return v[n-1]
	}
	i := int(f)
	return v[i] + (f-float64(i))*(v[i+1]-v[i])
}

// below is the chance that x < at, from draws smoothed by a normal kernel of a
// quarter of their spread with the variance kept, so that a chance does not
// jump by a whole draw.
func below(draws []float64, at float64) float64 {
	const h = 0.25
	m, sd := mean(draws), math.Sqrt(variance(draws))
	if sd <= 1e-12*math.Max(1, math.Abs(m)) {
		switch {
		case m < at:
			return 1
		case m == at:
			return 0.5
		}
		return 0
	}
	pull := math.Sqrt(1 - h*h)
	p := 0.0
	for _, x := range draws {
		p += phi((at - m - pull*(x-m)) / (h * sd))
	}
	return p / float64(len(draws))
}

// phi is the standard normal distribution function.
func phi(z float64) float64 { return 0.5 * math.Erfc(-z/math.Sqrt2) }
