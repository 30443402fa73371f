package invent

import (
	"math"
	"testing"
)

// Who knows the world loses less than who keeps the club, and with 60 balls of
// each setting of a golfer who hardly scatters finds nearly the best of them.
func TestBayesChoice(t *testing.T) {
	settings := Settings80()
	plain := make([]Setting, len(settings))
	for i, s := range settings {
		plain[i] = s.Setting
	}
	swings := Swings(64)
	tested := []int{0, 7, 23, 41, 60, 79}
	var keep, bayes, many float64
	for i := range uint64(5) {
		p := NewPlayer(NewRand(77, i), Levels[1], Worlds[0])
		hole := BenchmarkHole(14)
		strokes := p.StrokesOf(plain, hole, swings)
		low := math.Inf(1)
		for _, v := range strokes {
			low = math.Min(low, v)
		}
		keep += (strokes[0] - low) / 5
		bayes += (strokes[p.BayesChoice(p.Session(NewRand(78, i), tested, 3), hole, Levels[1], Worlds[0], i)] - low) / 5
		many += (strokes[p.BayesChoice(p.Session(NewRand(79, i), tested, 60), hole, Levels[1], Worlds[0], i)] - low) / 5
	}
	t.Logf("keep %.4f, 3 balls %.4f, 60 balls %.4f", keep, bayes, many)
	if bayes > keep || many > .6*keep {
		t.Errorf("keeping loses %.4f, one who knows the world %.4f with 3 balls, %.4f with 60", keep, bayes, many)
	}
}
