package response

import (
	"math"
	"testing"
)

// Who swings faster on another day must not make the settings fast that were hit
// then, nor seem to scatter by what the days differ.
func TestAFasterDayMakesNoSettingFast(t *testing.T) {
	off, wide := 0.0, 0.0
	const worlds = 6
	for s := range uint64(worlds) {
		w := newWorld(t, 1, 70+s)
		in := w.session(6, 0, 3, 12)
		second := w.session(6, 0, 8, 26).Shots
		for i := range second {
			second[i].Session = 1
		}
		in.Shots = append(in.Shots, second...)
		for i := range in.Shots {
			b := &in.Shots[i]
			v := 41 + .6*w.rng.NormFloat64() + 2*float64(b.Session)
			b.ClubSpeed = &v
			b.Y[0] += 1.45 * (v - 41)
		}
		r := fit(t, in)
		for _, j := range []int{8, 26} {
			m, _ := r.difference(j, 0)
			off += (m - (w.mean(j)[0]-w.mean(0)[0])/Scale[0]) / (2 * worlds)
		}
		wide += r.Spread[0] / math.Hypot(w.spread*Scale[0], 1.45*.6) / worlds
	}
	if math.Abs(off) > .2 || wide > 1.06 || wide < .94 {
		t.Errorf("settings of the fast day are %+.2f reference units too fast, the scatter is %.2f of what it is", off, wide)
	}
}
