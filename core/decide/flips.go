package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// flips is what would change the advice, and what it takes to ask.
type flips struct {
	*comparison
	variants []variant
	balls    []Shot
	spread   [launch]float64 // [SI] of a ball's launch from shot to shot
}

// said names what would change the advice: another aim, another costly side,
// one setting or one ball left out. Only what does change it is listed, most
// likely first, and a sentence when nothing asked about does.
func (f *flips) said(c report.Choice) []report.Message {
	var out []report.Message
	asked := 0
	say := func(word string, i int, args ...report.Arg) {
		asked++
		if i >= 0 && i != c.Setting {
			out = append(out, report.Say(word, append([]report.Arg{f.label(i)}, args...)...))
		}
	}
	best := func(value func(r *row) float64, margin float64) int {
		at := f.reference
		low, near := math.Inf(1), math.Inf(1)
		for i := range f.rows {
			low = math.Min(low, value(&f.rows[i]))
		}
		if value(&f.rows[c.Setting]) <= low+margin { // as good as any: nothing is changed
			return c.Setting
		}
		for i := range f.rows {
			if value(&f.rows[i]) <= low+margin && f.distance(i) < near {
				at, near = i, f.distance(i)
			}
		}
		return at
	}
	if f.goal != shot.GoalCarry {
		say("flip.carry", best(func(r *row) float64 { return -r.mean[qCarry] }, 0.5))
	}
	if f.goal != shot.GoalFairways {
		say("flip.fairways", best(func(r *row) float64 { return -r.out.PFairway }, 0.005))
	}
	if f.goal != shot.GoalStrokes {
		say("flip.strokes", best(func(r *row) float64 { return r.out.Strokes.Mean }, 0.005))
	}
	for k, v := range f.variants {
		i := best(func(r *row) float64 { return r.other[k] }, 0.005)
		line := f.course.Line
		switch {
		case v.key == "middle", v.key == "aimed":
			say("flip."+v.key, i)
		case v.key == "left", v.key == "swap" && feared(f.course, line):
			say("flip.trouble", i, report.Side(-line))
		default:
			say("flip.trouble", i, report.Side(line))
		}
	}
	out = append(out, f.influences(c, f.leftOut(), &asked)...)
	if len(out) == 0 && asked > 0 {
		out = append(out, report.Say("flip.none"))
	}
	return append(out, report.Say("flip.outside"))
}

// enough is how many draws' worth of weight must be left for an answer without
// some balls to be worth giving.
const enough = 30

// influences are the groups of balls without which another setting would lead:
// the draws are weighed by one over the likelihood of the balls left out
// (importance sampling), with the largest weights cut (key Ionides2008 in core/REFERENCES.md).
func (f *flips) influences(c report.Choice, groups []influence, asked *int) []report.Message {
	var out []report.Message
	lead, tie := f.leader(-1), Tie(f.goal)
	for _, g := range groups {
		w, n := without(g.LogLik)
		if n < enough {
			continue
		}
		*asked++
		at, low, near := -1, math.Inf(1), math.Inf(1)
		values := make([]float64, len(f.rows))
		for i := range f.rows {
			values[i] = math.Inf(1)
			if f.rows[i].out.Feasible || !f.rows[c.Setting].out.Feasible {
				sum, cost := 0.0, f.rows[i].cost[:len(w)]
				for k, v := range w {
					sum += v * cost[k]
				}
				values[i] = sum
			}
			low = math.Min(low, values[i])
		}
		for i := range f.rows {
			if values[i] <= low+tie && f.distance(i) < near {
				at, near = i, f.distance(i)
			}
		}
		if at < 0 || values[lead] <= low+tie { // the leader still leads, or ties
			continue
		}
		m := report.Say("flip.ball", f.label(at), report.Count(g.Line))
		if g.Setting >= 0 {
			m = report.Say("flip.setting", f.label(at), f.label(g.Setting))
		}
		if out = append(out, m); len(out) == 3 {
			break
		}
	}
	return out
}

// leftOut are the groups of balls that are asked about: each setting that was
// hit, and each ball. The likelihood of a ball's launch under each draw is that
// of a t with four degrees of freedom about the draw's mean, the spreads taken as independent and drift left aside: enough
// to see whether a ball carries the advice.
func (f *flips) leftOut() []influence {
	if f.spread[0] <= 0 {
		return nil
	}
	groups := make([]influence, len(f.rows))
	var balls []influence
	for n, s := range f.balls {
		if !s.Counted || s.Setting < 0 || len(f.rows[s.Setting].launches) == 0 {
			continue
		}
		one := influence{Setting: -1, Line: n + 1, LogLik: make([]float64, f.draws)}
		g := &groups[s.Setting]
		if g.LogLik == nil {
			*g = influence{Setting: s.Setting, LogLik: make([]float64, f.draws)}
		}
		logLik(s, f.rows[s.Setting].launches, f.spread, one.LogLik)
		for k, l := range one.LogLik {
			g.LogLik[k] += l
		}
		balls = append(balls, one)
	}
	var out []influence
	for i, g := range groups {
		if g.LogLik != nil && i != f.reference {
			out = append(out, g)
		}
	}
	return append(out, balls...)
}

// logLik fills to with one ball's launch under each draw, as far as it was
// measured.
func logLik(s Shot, launches []float32, spread [launch]float64, to []float64) {
	n := 0
	for a := range launch {
		y, ok := s.Values.Get(quantityOf[a])
		if !ok || spread[a] <= 0 {
			continue
		}
		n++
		for k := range to {
			z := (y - float64(launches[k*launch+a])) / spread[a]
			to[k] += z * z
		}
	}
	for k, q := range to {
		to[k] = -float64(4+n) / 2 * math.Log1p(q/4)
	}
}

// without returns the weights of the draws when a group of balls is left out,
// and how many equal draws they are worth.
func without(logLik []float64) (w []float64, n float64) {
	if len(logLik) == 0 {
		return nil, 0
	}
	low := math.Inf(1)
	for _, l := range logLik {
		low = math.Min(low, l)
	}
	w = make([]float64, len(logLik))
	total := 0.0
	for k, l := range logLik {
		w[k] = math.Exp(low - l)
		total += w[k]
	}
	most := total / math.Sqrt(float64(len(w)))
	total = 0
	for k := range w {
		w[k] = math.Min(w[k], most)
		total += w[k]
	}
	ss := 0.0
	for k := range w {
		w[k] /= total
		ss += w[k] * w[k]
	}
	return w, 1 / ss
}
