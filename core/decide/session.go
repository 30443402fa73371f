package decide

import (
	"ferrule/core/report"
	"ferrule/core/shot"
)

// session is the balls that were hit.
type session struct {
	shots  []Shot // all of them, in order
	counts []Count
	today  int // index of today's setting
}

// counted are the balls of each of n settings.
func counted(shots []Shot, n int) []Count {
	out := make([]Count, n)
	for _, s := range shots {
		if s.Counted && s.Setting >= 0 {
			out[s.Setting].Balls++
			if s.Mishit {
				out[s.Setting].Mishits++
			}
		}
	}
	return out
}

// balls counted in all.
func (s *session) balls() int {
	n := 0
	for _, c := range s.counts {
		n += c.Balls
	}
	return n
}

// thin reports whether too little was hit for a verdict.
func (s *session) thin() bool {
	return s.balls() < leastBalls || s.counts[s.today].Balls < leastReference
}

// standing is the setting on the club now: that of the last ball.
func (s *session) standing() int {
	for i := len(s.shots) - 1; i >= 0; i-- {
		if j := s.shots[i].Setting; j >= 0 {
			return j
		}
	}
	return s.today
}

// visits are the runs of balls hit so far; a last run of fewer than three is
// still open.
func (s *session) visits() []report.Visit {
	var out []report.Visit
	for _, b := range s.shots {
		if !b.Counted || b.Setting < 0 {
			continue
		}
		if n := len(out); n > 0 && out[n-1].Setting == b.Setting {
			out[n-1].Balls++
			out[n-1].Done++
			continue
		}
		out = append(out, report.Visit{Setting: b.Setting, Balls: 1, Done: 1, Why: report.Say("plan.done")})
	}
	return out
}

// finished reports whether the last visit was with setting i and is whole.
func (s *session) finished(i int) bool {
	v := s.visits()
	return len(v) > 0 && v[len(v)-1].Setting == i && v[len(v)-1].Done >= visit
}

// group is the counted balls of one setting.
type group struct {
	setting int
	values  []shot.Values
}

// groups are the counted balls by setting, today's first.
func (s *session) groups() []group {
	at := map[int]int{}
	var out []group
	for _, b := range s.shots {
		if !b.Counted || b.Setting < 0 {
			continue
		}
		k, ok := at[b.Setting]
		if !ok {
			k = len(out)
			at[b.Setting] = k
			out = append(out, group{setting: b.Setting})
		}
		out[k].values = append(out[k].values, b.Values)
	}
	for k := range out {
		if out[k].setting == s.today {
			out[0], out[k] = out[k], out[0]
		}
	}
	return out
}

// column is quantity q of a group, as far as measured.
func (g group) column(q shot.Quantity) []float64 {
	var v []float64
	for _, s := range g.values {
		if x, ok := s.Get(q); ok {
			v = append(v, x)
		}
	}
	return v
}
