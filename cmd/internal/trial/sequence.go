package trial

import (
	"ferrule/cmd/internal/rough"
)

// SequenceWays are what a sequence compares: the advice after nine balls, three
// with each of three settings; after 24 where the last fifteen followed the
// engine's own next test; after 24 that went round six settings.
var SequenceWays = []string{"keep", "nine balls", "own advice", "going round", "oracle"}

const (
	sequenceFrom = 9
	sequenceTo   = 24
	sequenceStep = 3 // balls a visit
)

// Sequences lets each golfer go on from nine balls in both ways. Where the
// engine names nothing to hit the golfer goes round.
func Sequences(cfg RoughConfig, ask Ask, told func(Record)) {
	cfg = cfg.filled()
	for g, truth := range cfg.golfers() {
		strokes := truth.Strokes[:]
		lowest := strokes[least(strokes, nil)]
		tested := g.Tested(6)
		rec := Record{Seed: g.Seed, Balls: sequenceTo, Tested: 6, Traits: g.Traits, Regret: map[string]float64{
			"keep": strokes[0] - lowest, "oracle": 0}}
		answer := func(o *rough.Outing, way string) Said {
			s, err := ask(g, o.Seen)
			if err != nil {
				rec.Failed = err.Error()
				return Said{}
			}
			if s.Keep {
				s.Choice = 0
			}
			if way != "" {
				rec.Regret[way] = strokes[s.Choice] - lowest
			}
			return s
		}
		begun := func() *rough.Outing {
			o := g.Start(24)
			for _, s := range tested[:3] {
				o.Hit(s, s, s)
			}
			return o
		}
		round := begun()
		for _, s := range around(tested) {
			round.Hit(s)
		}
		answer(round, "going round")
		own := begun()
		way := "nine balls"
		for hit := sequenceFrom; hit < sequenceTo && rec.Failed == ""; {
			said := answer(own, way)
			way = ""
			next, n := around(tested)[hit-sequenceFrom], sequenceStep
			if len(said.Next) > 0 {
				next, n = said.Next[0][0], max(1, said.Next[0][1])
			}
			for range min(n, sequenceTo-hit) {
				own.Hit(next)
				hit++
			}
		}
		answer(own, "own advice")
		told(rec)
	}
}

// around are the fifteen balls after the first nine of one who goes round six
// settings: three with each that was not hit, then one with each.
func around(tested []int) (visits []int) {
	for _, s := range tested[3:] {
		visits = append(visits, s, s, s)
	}
	return append(visits, tested...)
}
