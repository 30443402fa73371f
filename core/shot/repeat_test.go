package shot

import (
	"math"
	"math/rand/v2"
	"testing"
)

// Invented balls: 400 in ten blocks, then the cumulative file in another order
// and in other units (rounded anew), with ten new ones between.
func TestRepeats(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	round := func(x, scale float64) float64 { return math.Round(x/scale*10) / 10 * scale }
	var have, metric []Shot
	for i := range 400 {
		b, l, s, c, o, h := 60+3*r.NormFloat64(), .22+.02*r.NormFloat64(), 280+20*r.NormFloat64(), 210+9*r.NormFloat64(), 12*r.NormFloat64(), 26+3*r.NormFloat64()
		make := func(speed, length, height float64) Values {
			return Values{BallSpeed: round(b, speed), Launch: round(l, math.Pi/180), Spin: round(s, 10*math.Pi/30), Carry: round(c, length), Offline: round(o, length), Apex: round(h, height)}
		}
		have = append(have, Shot{Line: i%40 + 2, Source: "block", Values: make(.44704, .9144, .3048)})
		metric = append(metric, Shot{Line: i + 2, Source: "all", Values: make(1/3.6, 1, 1)})
	}
	order := r.Perm(400)
	var read []Shot
	want := []int{}
	for i, k := range order {
		if i%40 == 7 {
			read = append(read, Shot{Line: len(read) + 2, Values: Values{BallSpeed: 58, Launch: .2, Spin: 250 + float64(i), Carry: 200, Offline: 3, Apex: 22}})
			want = append(want, -1)
		}
		read = append(read, metric[k])
		want = append(want, k)
	}
	for i, got := range Repeats(have, read) {
		if got != want[i] {
			t.Errorf("ball %d is taken for %d, want %d", i, got, want[i])
		}
	}
	// Two balls with the same numbers are two; the third is new.
	two := []Shot{have[0], have[0]}
	if got := Repeats(two, []Shot{have[0], have[0], have[0]}); got[0] != 0 || got[1] != 1 || got[2] != -1 {
		t.Errorf("the same ball three times: %v", got)
	}
	few := []Shot{{Line: 3, Values: Values{Carry: 200, Offline: 4}}}
	if got := Repeats(few, []Shot{{Line: 9, Values: Values{Carry: 200, Offline: 4}}, {Line: 3, Values: Values{Carry: 200, Offline: 4}}}); got[0] != -1 || got[1] != 0 {
		t.Errorf("two numbers: %v", got)
	}
}
