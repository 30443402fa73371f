package invent

import (
	"math"
	"testing"
)

// The strokes of many settings at once are those of flying every ball: the
// differences to setting 0 within .0005 strokes (root mean square over the 80
// settings of twelve players), where the players' differences are about .01.
func TestStrokesOf(t *testing.T) {
	swings := Swings(512)
	var s []Setting
	for _, c := range Settings80() {
		s = append(s, c.Setting)
	}
	sum, size, n := 0.0, 0.0, 0.0
	for k := range 12 {
		l := Levels[k%3]
		p := NewPlayer(NewRand(99, uint64(k)), l, Worlds[k%3])
		h := BenchmarkHole(l.Handicap)
		got := p.StrokesOf(s, h, swings)
		zero := p.Strokes(s[0], h, swings)
		for i := 1; i < len(s); i += 6 {
			want := p.Strokes(s[i], h, swings) - zero
			d := got[i] - got[0] - want
			sum, size, n = sum+d*d, size+want*want, n+1
		}
	}
	rms := math.Sqrt(sum / n)
	t.Logf("difference off by %.6f strokes, of %.4f (root mean squares)", rms, math.Sqrt(size/n))
	if !(rms < .0005) {
		t.Errorf("off by %.5f strokes, want less than .0005", rms)
	}
}

func BenchmarkStrokesOf(b *testing.B) {
	swings := Swings(512)
	var s []Setting
	for _, c := range Settings80() {
		s = append(s, c.Setting)
	}
	p := NewPlayer(NewRand(1, 1), Levels[1], Worlds[0])
	for b.Loop() {
		p.StrokesOf(s, BenchmarkHole(14), swings)
	}
}

// Strokes is the truth of the benchmark: the mean strokes with setting s of a
// rested player in still air who aims as well as possible.
func (p *Player) Strokes(s Setting, h Hole, swings [][Dims]float64) float64 {
	x, z := make([]float64, len(swings)), make([]float64, len(swings))
	for i, u := range swings {
		d, head, _ := p.shape(u, s, -1)
		x[i], z[i] = fly(strike(d, head), p.Air).rest()
	}
	v, _ := h.Best(x, z, p.Align)
	return v
}
