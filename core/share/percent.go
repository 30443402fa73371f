package share

import "math"

// percent is a chance in hundredths; the ends are kept for what is certain.
func percent(p float64) uint64 {
	n := math.Round(100 * math.Max(0, math.Min(1, p)))
	if math.IsNaN(p) {
		return 0
	}
	if n == 100 && p < 1 {
		n = 99
	}
	if n == 0 && p > 0 {
		n = 1
	}
	return uint64(n)
}

func (r in) percent() float64 {
	n := r.get(7)
	if n > 100 {
		r.fail("a chance of %d %%", n)
	}
	return float64(n) / 100
}
