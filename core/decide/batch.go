package decide

import (
	"math"
	"slices"
	"sort"

	"ferrule/core/linear"
)

// step is a visit of a batch and what it adds to those before it.
type step struct {
	setting int
	single  float64 // [cost a drive] expected of it alone, now
}

// steps are the visits of a batch and what they are worth together [cost a drive].
type steps struct {
	list  []step
	worth float64
}

// tried is how many settings a batch chooses from: those whose next visit alone
// is worth most.
const tried = 12

// batch chooses visits of a few balls each that together are expected to
// improve the choice most, one after the other by what each adds to those
// before it (greedy maximisation of the value of the whole batch). A long stay
// where one visit shows nothing is found by setting out with a longer visit.
//
// What is known after a visit is known by its linear effect on the draws: each
// column of them, costs and launches alike, loses what the visit's numbers say
// of it (the square-root update of an ensemble, key Whitaker2002).
func (l *lookahead) batch(visits int, hit *session) (out steps) {
	all := l.candidates()
	gains := l.gains(all, visit, stay)
	order := make([]int, len(all))
	worth := func(k int) float64 { return math.Max(gains[0][k], gains[1][k]*visit/stay) }
	for k := range order {
		order[k] = k
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := worth(order[a]), worth(order[b])
		if math.Abs(x-y) < 1e-9 {
			return l.distance(all[order[a]]) < l.distance(all[order[b]])
		}
		return x > y
	})
	e := l.ensemble()
	for _, k := range order[:min(tried, len(order))] {
		if p := l.probe(all[k]); p != nil {
			e.probes = append(e.probes, p)
			e.of, e.single = append(e.of, all[k]), append(e.single, gains[0][k])
		}
	}
	for range visits {
		best, most := -1, 0.0
		var low []float64
		for c := range e.probes {
			if n := len(out.list); len(e.probes) > 1 && (n > 0 && out.list[n-1].setting == e.of[c] || n == 0 && hit.finished(e.of[c])) {
				continue // another stands between two visits of one
			}
			if v, after := e.value(c, len(out.list)); best < 0 || v > most+1e-12 {
				best, most, low = c, v, after
			}
		}
		if best < 0 {
			break
		}
		out.list = append(out.list, step{e.of[best], e.single[best]})
		out.worth = math.Max(out.worth, most)
		e.low = low
		e.learn(best)
	}
	return out
}

// contending is how many settings may come to the top, the most promising
// first; what others would add to the lowest mean is next to nothing.
const contending = 24

// ensemble is what the draws say of the settings that may come to the top and
// of the visits that may be made.
type ensemble struct {
	n      int
	now    float64   // the lowest mean as it stands
	dev    []float64 // [settings*draws] costs about their means
	low    []float64 // [results*settings] means after the visits chosen so far
	probes []*probe
	of     []int     // setting of each probe
	single []float64 // value of each alone
}

// results are how many outcomes of the visits are looked at.
const results = 2 * len(cloud)

func (c *comparison) ensemble() *ensemble {
	e := &ensemble{n: c.draws, now: math.Inf(1)}
	for _, i := range c.in {
		e.now = math.Min(e.now, c.charged(i))
	}
	promise := func(i int) float64 { return c.charged(i) - 1.5*c.rows[i].scatter }
	near := slices.Clone(c.in)
	sort.SliceStable(near, func(a, b int) bool { return promise(near[a]) < promise(near[b]) })
	var mu []float64
	for _, i := range near[:min(contending, len(near))] {
		r := &c.rows[i]
		for _, v := range r.cost {
			e.dev = append(e.dev, v-r.average)
		}
		mu = append(mu, c.charged(i))
	}
	for range results {
		e.low = append(e.low, mu...)
	}
	return e
}

// value is what the visits so far and one more of probe c are worth, and the
// means after them, a row of settings for each result.
func (e *ensemble) value(c, nth int) (float64, []float64) {
	p, m := e.probes[c], len(e.dev)/e.n
	at := func(j int) []float64 { return e.dev[j*e.n : j*e.n+e.n] }
	steps, ok := p.steps(p.with(e.dev, m), visit, func(j int) float64 { return linear.Dot(at(j), at(j)) / float64(e.n-1) })
	if !ok {
		return math.Inf(-1), nil
	}
	low := slices.Clone(e.low)
	mean := 0.0
	for t := range results {
		z, sign := shown(t, nth)
		row, least := low[t*m:t*m+m], math.Inf(1)
		for j := range row {
			s := steps[j*p.dims : j*p.dims+p.dims]
			for a, v := range s {
				row[j] += sign * v * z[a]
			}
			least = math.Min(least, row[j])
		}
		mean += least / float64(results)
	}
	return e.now - mean, low
}

// shown is result t of visit nth: the cloud in another order for each visit, so
// that the results of two visits go together in no particular way.
func shown(t, nth int) (z *[launch]float64, sign float64) {
	strides := [...]int{1, 5, 7, 11, 13, 17, 19, 23, 25, 29, 31, 35, 37, 41}
	at := (t*strides[nth%len(strides)] + 29*nth) % results
	if sign = 1; at >= len(cloud) {
		sign, at = -1, at-len(cloud)
	}
	return &cloud[at], sign
}

// learn takes out of all columns what a visit of probe c says of them.
func (e *ensemble) learn(c int) {
	p := e.probes[c]
	for k := range p.dims { // one number of the visit after the other: their noises are independent
		y := slices.Clone(p.y[k*e.n : k*e.n+e.n])
		have := linear.Dot(y, y) / float64(e.n-1)
		noise := p.noise / visit
		if have <= 0 {
			continue
		}
		by := 1 / (have + noise) / (1 + math.Sqrt(noise/(have+noise))) / float64(e.n-1)
		tell := func(x []float64) {
			f := by * linear.Dot(x, y)
			for t := range x {
				x[t] -= f * y[t]
			}
		}
		for at := 0; at < len(e.dev); at += e.n {
			tell(e.dev[at : at+e.n])
		}
		for _, q := range e.probes {
			for a := range q.dims {
				tell(q.y[a*e.n : a*e.n+e.n])
			}
		}
	}
	for _, q := range e.probes {
		q.cov = q.with(q.y, q.dims)
	}
}
