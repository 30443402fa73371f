package typed

import (
	"math"
	"sort"
	"strings"

	"ferrule/core/shot"
)

// Sided reports whether a typed number of a quantity that has a left and a right
// says which it is, by a letter, a word or a sign. None need be said of zero.
func (r Reader) Sided(q shot.Quantity, text string) bool {
	k, _ := shot.KindOf(q)
	if !k.Compass || strings.ContainsAny(Fold(text), "+-") {
		return true
	}
	if v, err := r.Parse(q, text); err != nil || v == 0 {
		return true // what is wrong with it is said by Parse
	}
	p, _ := Split(text)
	unit := r.System.Unit(k.Dim)
	_, sided, _ := r.words(p.Words, k, &unit)
	return sided
}

// own is how far from the middle of a player's balls a number is asked about,
// as a factor. Common practice, no source.
var own = map[shot.Quantity]float64{shot.Carry: 1.4, shot.Total: 1.4, shot.BallSpeed: 1.25, shot.ClubSpeed: 1.25, shot.Spin: 2.5, shot.Backspin: 2.5}

// Odd reports whether a number is so unlikely for a drive, or beside the
// player's other balls, that a slip of the finger is as likely, and the limits
// outside of which that is so [SI]. It judges no ball: the person is asked.
func Odd(q shot.Quantity, v float64, others []shot.Shot) (lo, hi float64, odd bool) {
	lo, hi = Typical(q)
	if lo == 0 && hi == 1 { // nothing is known of it
		return lo, hi, false
	}
	if f, ok := own[q]; ok {
		var all []float64
		for _, h := range others {
			if x, ok := h.Values[q]; ok {
				all = append(all, x)
			}
		}
		if sort.Slice(all, func(i, j int) bool { return all[i] < all[j] }); len(all) >= 3 {
			m := all[len(all)/2]
			lo, hi = m/f, m*f
		}
	}
	return lo, hi, v < lo || v > hi || math.IsNaN(v)
}
