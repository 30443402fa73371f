package decide

import (
	"math"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// flips says what would change the advice: another aim, another costly side,
// one setting or one ball left out. Only what does change it is listed, most
// likely first, and a sentence when nothing asked about does.
func (d *Decider) flips(c report.Choice) []report.Message {
	var out []report.Message
	asked := 0
	say := func(word string, i int, args ...report.Arg) {
		asked++
		if i >= 0 && i != c.Setting {
			out = append(out, report.Say(word, append([]report.Arg{label(d.cfg.Settings[i])}, args...)...))
		}
	}
	best := func(value func(i int) float64, margin float64) int {
		at := d.cfg.Reference
		low, near := math.Inf(1), math.Inf(1)
		for i := range d.rows {
			low = math.Min(low, value(i))
		}
		if value(c.Setting) <= low+margin { // as good as any: nothing is changed
			return c.Setting
		}
		for i := range d.rows {
			if value(i) <= low+margin && d.distance(i) < near {
				at, near = i, d.distance(i)
			}
		}
		return at
	}
	if d.goal != shot.GoalCarry {
		say("flip.carry", best(func(i int) float64 { return -d.rows[i].mean[qCarry] }, 0.5))
	}
	if d.goal != shot.GoalFairways {
		say("flip.fairways", best(func(i int) float64 { return -d.rows[i].out.PFairway }, 0.005))
	}
	if d.goal != shot.GoalStrokes {
		say("flip.strokes", best(func(i int) float64 { return d.rows[i].out.Strokes.Mean }, 0.005))
	}
	for k, v := range d.variants {
		i := best(func(i int) float64 { return d.rows[i].other[k] }, 0.005)
		line := d.cfg.Course.Line
		switch {
		case v.key == "middle", v.key == "aimed":
			say("flip."+v.key, i)
		case v.key == "left", v.key == "swap" && d.lineMatters(line):
			say("flip.trouble", i, report.Side(-line))
		default:
			say("flip.trouble", i, report.Side(line))
		}
	}
	out = append(out, d.influences(c, d.leftOut(), &asked)...)
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
func (d *Decider) influences(c report.Choice, groups []influence, asked *int) []report.Message {
	var out []report.Message
	lead := d.leader(-1)
	for _, f := range groups {
		w, n := d.without(f.LogLik)
		if n < enough {
			continue
		}
		*asked++
		at, low, near := -1, math.Inf(1), math.Inf(1)
		values := make([]float64, len(d.rows))
		for i := range d.rows {
			values[i] = math.Inf(1)
			if d.rows[i].out.Feasible || !d.rows[c.Setting].out.Feasible {
				sum, cost := 0.0, d.rows[i].cost[:len(w)]
				for k, v := range w {
					sum += v * cost[k]
				}
				values[i] = sum
			}
			low = math.Min(low, values[i])
		}
		for i := range d.rows {
			if values[i] <= low+d.tie() && d.distance(i) < near {
				at, near = i, d.distance(i)
			}
		}
		if at < 0 || values[lead] <= low+d.tie() { // the leader still leads, or ties
			continue
		}
		m := report.Say("flip.ball", label(d.cfg.Settings[at]), report.Count(f.Line))
		if f.Setting >= 0 {
			m = report.Say("flip.setting", label(d.cfg.Settings[at]), label(d.cfg.Settings[f.Setting]))
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
func (d *Decider) leftOut() []influence {
	if d.cfg.Spread[0] <= 0 {
		return nil
	}
	groups := make([]influence, len(d.rows))
	var balls []influence
	for n, s := range d.cfg.Shots {
		if !s.Counted || s.Setting < 0 || len(d.rows[s.Setting].launches) == 0 {
			continue
		}
		one := influence{Setting: -1, Line: n + 1, LogLik: make([]float64, d.draws)}
		g := &groups[s.Setting]
		if g.LogLik == nil {
			*g = influence{Setting: s.Setting, LogLik: make([]float64, d.draws)}
		}
		d.logLik(s, one.LogLik)
		for k, l := range one.LogLik {
			g.LogLik[k] += l
		}
		balls = append(balls, one)
	}
	var out []influence
	for i, g := range groups {
		if g.LogLik != nil && i != d.cfg.Reference {
			out = append(out, g)
		}
	}
	return append(out, balls...)
}

// logLik fills to with one ball's launch under each draw, as far as it was
// measured.
func (d *Decider) logLik(s Shot, to []float64) {
	n := 0
	for a := range launch {
		y, ok := s.Values.Get(quantityOf[a])
		if !ok || d.cfg.Spread[a] <= 0 {
			continue
		}
		n++
		for k := range to {
			z := (y - float64(d.rows[s.Setting].launches[k*launch+a])) / d.cfg.Spread[a]
			to[k] += z * z
		}
	}
	for k, q := range to {
		to[k] = -float64(4+n) / 2 * math.Log1p(q/4)
	}
}

// without returns the weights of the draws when a group of balls is left out,
// and how many equal draws they are worth.
func (d *Decider) without(logLik []float64) (w []float64, n float64) {
	if len(logLik) != d.draws {
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
