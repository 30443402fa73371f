package response

import (
	"math"
	"slices"

	"ferrule/core/bayes"
	"ferrule/core/impact"
)

// Visit is an earlier visit of the same player with the same head, its flights
// brought to the air of Input.Env.
//
// Its balls stand in one fit with today's. Whatever differs from day to day is its
// own: level, time, device, wind. What a setting does beyond its features is
// shared. The effects of visit v are today's and a change of its own,
//
//	B_v = B + D_v    D_v ~ N(0, (s_v U)^2)
//
// U is what a swing may change of an adjustment's effect in a while (changeSize),
// more the longer ago, and s_v is learned: where an earlier visit's balls say of
// the effects what today's and the other visits' say, it is small and they count
// nearly in full; where a changed swing makes them say something else, it is
// large and they count for little.
type Visit struct {
	Shots  []Obs
	Blocks []Offset
	Days   float64 // [d] before today, 0 = not known
}

// What is thought of D before the balls: a full step's change is about a third of
// what the textbook says of it, or of leastChange reference units where that is
// more; its variance doubles in half a year. Judged, no source.
const (
	leastChange  = .3
	doubtDoubles = 182. // [d]
)

var changeSizes = bayes.Grid{Values: []float64{.05, .15, .3, .6, 1, 2}, Weight: []float64{.3, .3, .17, .11, .08, .04}}

// How far the level of another visit may be from today's [reference units]: it is
// whatever its balls say where both days measured it, else that of one player.
const (
	visitLevel  = 1.5
	visitHidden = .6
	dayLevel    = .7
)

// pooled is an input with the balls of earlier visits behind today's, under days
// and blocks of their own.
type pooled struct {
	Input
	today  int // balls of today
	blocks int // of today
}

func pool(in *Input) *pooled {
	b := &pooled{*in, len(in.Shots), len(in.Blocks)}
	if len(in.Earlier) == 0 {
		return b
	}
	b.Shots, b.Blocks = slices.Clone(in.Shots), slices.Clone(in.Blocks)
	days := 0
	for _, s := range b.Shots {
		days = max(days, s.Session+1)
	}
	for v, visit := range in.Earlier {
		from := days
		for _, s := range visit.Shots {
			s.visit, s.Session, s.Block = v+1, s.Session+from, s.Block+len(b.Blocks)
			days = max(days, s.Session+1)
			b.Shots = append(b.Shots, s)
		}
		b.Blocks = append(b.Blocks, visit.Blocks...)
	}
	return b
}

// todays is the input without the balls of earlier visits.
func (b *pooled) todays() Input {
	in := b.Input
	in.Shots, in.Blocks = in.Shots[:b.today], in.Blocks[:b.blocks]
	return in
}

// timed says whether any ball that lacks a launch number has a flight time.
func (b *pooled) timed() bool {
	for i := range b.Shots {
		if s := &b.Shots[i]; s.Time != nil && s.Has != ([K]bool{true, true, true, true, true}) {
			return true
		}
	}
	return false
}

// daySD is how far the level of day d may be from that of today's first.
func (p *priors) daySD(d, k int) float64 {
	earlier, measured := false, false
	for i := range p.in.Shots {
		if s := &p.in.Shots[i]; s.Session == d {
			earlier, measured = earlier || s.visit > 0, measured || s.Has[k]
		}
	}
	switch {
	case !earlier:
		return dayLevel
	case measured && p.measured[k]:
		return visitLevel
	}
	return visitHidden
}

// changeSize is U for feature column a and response k at a visit so long ago.
func (b *beliefs) changeSize(a, k int, days float64) float64 {
	f := b.feature[a]
	book := math.Abs(b.prior.Mean[f][k]) * featureUnit[f] / Scale[k]
	return math.Max(book, leastChange/fullStep[f]) * math.Sqrt(1+days/doubtDoubles)
}

// visits sets the priors of the changes.
func (p *priors) visits(m *bayes.Model, set func(col, k int, mean, sd float64)) {
	l := &p.lay
	for v, visit := range p.in.Earlier {
		from := l.visit + v*l.effects
		for a := range l.effects {
			for k := range K {
				set(from+a, k, 0, p.changeSize(a, k, visit.Days))
			}
		}
		m.Changes = append(m.Changes, bayes.Change{From: from, To: from + l.effects, Sizes: changeSizes})
	}
}

// adds is what each earlier visit is worth, in balls of today. Its balls' information on an
// effect is J = sum w (x - mean)^2 / sigma^2, of which D lets through
// 1/(1 + J (sU)^2); the mean of that over what the visit tried, times its balls
// as they are weighed.
func (b *beliefs) adds(in *pooled, rows []bayes.Row, post *bayes.Posterior) (out []float64) {
	effects := len(b.feature)
	for v, visit := range in.Earlier {
		balls, sum, sq := 0.0, make([]float64, effects), make([]float64, effects)
		for i, row := range rows {
			if in.Shots[i].visit != v+1 {
				continue
			}
			w := math.Min(1, post.Weights[i])
			balls += w
			for a := range sum {
				sum[a] += w * row.X[a]
				sq[a] += w * row.X[a] * row.X[a]
			}
		}
		share, tried := 0.0, 0.0
		for a := range sum {
			own := sq[a] - sum[a]*sum[a]/math.Max(balls, 1e-9)
			if own < 1e-9 {
				continue
			}
			for k := range K {
				u := post.Sizes[v] * b.changeSize(a, k, visit.Days)
				share += 1 / (1 + own/post.Sigma[k*K+k]*u*u)
				tried++
			}
		}
		if tried > 0 {
			balls *= share / tried
		}
		out = append(out, balls)
	}
	return out
}

// Belief is one thing that a record of a head says of the effects, N(Mean, Cov).
type Belief struct {
	Of       int       // which record
	Features []int     // in impact's order
	Mean     []float64 // [reference units a degree, mm or g] feature by feature, K of each
	Cov      []float64 // [those squared]
	Weight   float64   // [1] how much of all that is believed beforehand; those of all records have less than 1 together
}

const nameRecord = "record"

// withRecord puts what records say beside the other beliefs, which keep the rest
// of the weight: balls that contradict it take its weight away, as they do the
// textbook's. What a head cannot adjust and another club can is as rest believes.
// records are whose each of the last beliefs is.
func (b *beliefs) withRecord(list []bayes.Alternative, rest bayes.Alternative) (out []bayes.Alternative, records []int) {
	total, all := 0.0, 0.0
	var from []bayes.Alternative
	for _, r := range b.record {
		if mean, cov, ok := b.widened(r, rest); ok {
			from = append(from, bayes.Alternative{Name: nameRecord, Weight: r.Weight, Mean: mean, Cov: cov})
			records = append(records, r.Of)
			total += r.Weight
		}
	}
	for _, a := range list {
		all += a.Weight
	}
	for i := range list {
		list[i].Weight *= (1 - total) / all
	}
	return append(list, from...), records
}

// widened lays a belief out over the features in use.
func (b *beliefs) widened(r Belief, rest bayes.Alternative) (mean, cov []float64, ok bool) {
	if slices.Equal(r.Features, b.feature) {
		return r.Mean, r.Cov, true
	}
	e, n := len(rest.Mean), len(r.Mean)
	mean, cov = slices.Clone(rest.Mean), slices.Clone(rest.Cov)
	at := make([]int, e) // -1 = the record does not know it
	for i := range at {
		at[i] = slices.Index(r.Features, b.feature[i/K])
		if at[i] >= 0 {
			at[i] = at[i]*K + i%K
			mean[i], ok = r.Mean[at[i]], true
		}
	}
	for i, p := range at {
		for j, q := range at {
			switch {
			case p >= 0 && q >= 0:
				cov[i*e+j] = r.Cov[p*n+q]
			case p >= 0 || q >= 0:
				cov[i*e+j] = 0
			}
		}
	}
	return mean, cov, ok
}

// Knowledge is what one player's balls say of the effects, without any belief:
// the log likelihood is -theta' Info theta/2 + Vec' theta and a constant, theta
// laid out as in Belief.
type Knowledge struct {
	Features  []int
	Info, Vec []float64
}

// Summary is Knowledge by a quick fit (bayes.Fit): no sampling. The spread of
// settings about their features takes the levels of form in, which that fit does
// not know.
func Summary(in Input) (Knowledge, error) {
	b := pool(&in)
	c, err := b.centre()
	if err != nil {
		return Knowledge{}, err
	}
	d := newDesign(b, c.at)
	e, err := gather(b, d, c.at)
	if err != nil || len(d.feature) == 0 {
		return Knowledge{}, err
	}
	p := priors{b, c, d, &beliefs{&in.Prior, d.feature, in.Record}}
	m, _ := p.model(e)
	for k := range m.Tau {
		m.Tau[k] = math.Hypot(m.Tau[k], formLevel)
	}
	if e, err = e.settled(m, 2, 2); err != nil {
		return Knowledge{}, err
	}
	m.Views, m.Iterations = e.views, 8
	m.Alternatives = []bayes.Alternative{p.open()}
	post, err := bayes.Fit(m, e.rows)
	if err != nil {
		return Knowledge{}, err
	}
	return Knowledge{slices.Clone(d.feature), slices.Clone(post.Info), slices.Clone(post.InfoVec)}, nil
}

// open believes nothing of the effects. Under a belief the balls that agree with it
// would weigh more than those that do not, and a tenth of what it says would be found
// in balls that say nothing of it (invented players, a head turned over).
func (b *beliefs) open() bayes.Alternative {
	e := len(b.feature) * K
	a := bayes.Alternative{Weight: 1, Mean: make([]float64, e), Cov: make([]float64, e*e)}
	for i := range e {
		sd := openStep / fullStep[b.feature[i/K]]
		a.Cov[i*e+i] = sd * sd
	}
	return a
}

const openStep = 2 // [reference units] what a full step may do, more than any does

// formLevel is about what form does to the balls of a setting hit in one go
// [reference units], judged.
const formLevel = .25

// Textbook is what physics says of the effects, laid out as in Belief.
func Textbook(p impact.Prior, features []int) (mean, cov []float64) {
	return (&beliefs{prior: &p, feature: features}).textbook()
}
