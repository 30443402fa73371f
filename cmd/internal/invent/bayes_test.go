package invent

import (
	"math"
	"testing"
)

// Who knows the world loses less than who keeps the club, and less with the
// golfer's own balls than with another's.
func TestBayesChoice(t *testing.T) {
	settings := Settings80()
	plain := make([]Setting, len(settings))
	for i, s := range settings {
		plain[i] = s.Setting
	}
	swings := Swings(128)
	tested := []int{0, 7, 23, 41, 60, 79}
	var keep, own, other float64
	for i := range uint64(5) {
		p := NewPlayer(NewRand(77, i), Levels[1], Worlds[0])
		hole := BenchmarkHole(14)
		strokes := p.StrokesOf(plain, hole, swings)
		low := math.Inf(1)
		for _, v := range strokes {
			low = math.Min(low, v)
		}
		q := p.redrawn(NewRand(80, i), Levels[1], Worlds[2])
		keep += (strokes[0] - low) / 5
		own += (strokes[p.BayesChoice(p.Session(NewRand(78, i), tested, 10), hole, Levels[1], Worlds[0], i)] - low) / 5
		other += (strokes[p.BayesChoice(q.Session(NewRand(78, i), tested, 10), hole, Levels[1], Worlds[0], i)] - low) / 5
	}
	t.Logf("keeping loses %.4f, own balls %.4f, another's %.4f", keep, own, other)
	if own > .8*keep || own > .8*other {
		t.Errorf("keeping loses %.4f, who knows the world %.4f with own balls, %.4f with another's", keep, own, other)
	}
}
