package decide

import (
	"fmt"
	"math"
)

// Quantiles for looking at many settings at once: gonum has neither. Both are
// integrated over the distribution of the pooled standard deviation s,
// density proportional to s^(df-1) exp(-df s^2/2), and found by false position.

// dunnett returns c such that all settings' differences to the reference lie
// within +-c standard errors of the truth with chance p (two-sided; key
// Dunnett1955). ref is the reference's balls, n those of each other setting.
// The differences share the reference: correlation lambda_i lambda_j with
// lambda_i^2 = n_i/(n_i + ref).
func dunnett(p float64, ref int, n []int, df int) float64 {
	lambda := make([]float64, len(n))
	times := make([]float64, 0, len(n)) // settings with the same number of balls count together
	distinct := lambda[:0]
	seen := map[int]int{}
	for _, k := range n {
		if at, ok := seen[k]; ok {
			times[at]++
			continue
		}
		seen[k] = len(distinct)
		distinct = append(distinct, math.Sqrt(float64(k)/float64(k+ref)))
		times = append(times, 1)
	}
	var weight [15]float64 // of the places z; the other half is the mirror image
	for i := range weight {
		z := 0.4 * float64(i)
		weight[i] = 0.8 * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi)
	}
	weight[0] /= 2
	return invert(p, df, float64(len(n)), func(c float64) float64 {
		total := 0.0
		for i, v := range weight {
			z := 0.4 * float64(i)
			for k, l := range distinct {
				root := math.Sqrt(1 - l*l)
				v *= math.Pow(math.Max(0, phi((l*z+c)/root)-phi((l*z-c)/root)), times[k])
			}
			total += v
		}
		return total
	})
}

// invert finds c with E_s[inside(c s)] = p, about m comparisons at once. On the
// scale of one comparison's normal quantile the chance is nearly a straight line.
func invert(p float64, df int, m float64, inside func(float64) float64) float64 {
	s, w := scales(df)
	one := func(chance float64) float64 {
		return math.Erfinv(math.Pow(math.Max(0, math.Min(1-1e-15, chance)), 1/m))
	}
	want := one(p)
	off := func(c float64) float64 {
		t := 0.0
		for i := range s {
			t += w[i] * inside(c*s[i])
		}
		return one(t) - want
	}
	lo, hi := 0.0, math.Sqrt2*want+.5
	fLo, fHi := -want, off(hi)
	for fHi < 0 && hi < 1e6 {
		lo, fLo = hi, fHi
		hi *= 2
		fHi = off(hi)
	}
	mid := hi
	for range 60 { // false position; the end that stays is halved (Illinois)
		next := hi - fHi*(hi-lo)/(fHi-fLo)
		if math.Abs(next-mid) < 1e-6*mid {
			return next
		}
		mid = next
		if f := off(mid); f > 0 {
			hi, fHi = mid, f
			fLo /= 2
		} else {
			lo, fLo = mid, f
			fHi /= 2
		}
	}
	return mid
}

// scales are places and weights for the average over s = sqrt(chi2_df/df).
func scales(df int) (s, w []float64) {
	sd := 1 / math.Sqrt(2*float64(df))
	lo, hi := math.Max(0, 1-7*sd), 1+7*sd
	n := 18
	if df < 10 {
		n = 120
	}
	total := 0.0
	for i := range n {
		x := lo + (hi-lo)*(float64(i)+0.5)/float64(n)
		v := math.Exp(float64(df-1)*math.Log(x) - float64(df)*(x*x-1)/2)
		s, w = append(s, x), append(w, v)
		total += v
	}
	for i := range w {
		w[i] /= total
	}
	return s, w
}

// factors are those of the 50, 80 and 95 % intervals; most quantities were measured
// of the same balls and share them.
type factors map[string][3]float64

func (f factors) dunnett(ref int, n []int, df int) [3]float64 {
	key := fmt.Sprint(ref, n, df)
	at, ok := f[key]
	if !ok {
		at = [3]float64{dunnett(.5, ref, n, df), dunnett(.8, ref, n, df), dunnett(.95, ref, n, df)}
		f[key] = at
	}
	return at
}
