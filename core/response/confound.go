package response

import (
	"math"

	"ferrule/core/bayes"
	"ferrule/core/club"
	"ferrule/core/linear"
	"ferrule/core/message"
	"ferrule/core/report"
)

// Confound says that the counted shots cannot tell two things apart.
type Confound struct {
	A, B    string  // text keys of the two: a feature, "feature.time", "feature.ball", "feature.day", "feature.setting"
	Share   float64 // [1] how much of B the shots changed together with what else they changed, 1 = all
	Resolve []int   // settings whose balls would tell them apart, empty = a matter of order, not of setting
}

// From these shares on two things are said to be confounded: a squared
// correlation with time, ball or day, and for features the share of one that
// the others explain; 0.8 is a variance inflated five times, from which
// analysts commonly speak of it (common practice, no source).
const (
	togetherPair = .9
	togetherMany = .8
)

// ResolveBalls is how many balls with the resolving setting are asked for: two
// short visits. Common practice, no source.
const ResolveBalls = 5

// tried is what the counted shots changed of a design.
type tried struct {
	*design
	rows    []bayes.Row
	changes []club.Change
}

// Confounded lists what the shots changed together: features that the other
// features explain, features that went with time, ball or day, and one-block
// sessions, where session time and the setting are one thing. A feature that
// the shots never changed is in NotTried.
func (t *tried) Confounded() []Confound {
	out := t.together()
	l := &t.lay
	type column struct {
		key string
		at  int
	}
	cols := []column{{"feature.time", l.effects + l.drift}}
	for b := range t.balls {
		cols = append(cols, column{"feature.ball", l.effects + l.ball + b})
	}
	for d := range t.days {
		cols = append(cols, column{"feature.day", l.effects + l.day + d})
	}
	for i, a := range cols {
		for f := range t.feature {
			if rho := t.correlation(a.at, f); rho*rho > togetherPair {
				out = append(out, Confound{A: FeatureKeys[t.feature[f]], B: a.key, Share: rho * rho})
			}
		}
		for _, b := range cols[:i] {
			if rho := t.correlation(a.at, b.at); rho*rho > togetherPair {
				out = append(out, Confound{A: b.key, B: a.key, Share: rho * rho})
			}
		}
	}
	if s := t.blocked(); s > .85 {
		out = append(out, Confound{A: "feature.setting", B: "feature.time", Share: s})
	}
	return out
}

// together lists the features that the other features explain, each with the
// one that it went with most.
func (t *tried) together() []Confound {
	var out []Confound
	type pair struct{ a, b int }
	said := map[pair]bool{}
	for a := range t.feature {
		share := t.explained(a)
		if share <= togetherMany {
			continue
		}
		with, most := -1, .5
		for b := range t.feature {
			if rho := math.Abs(t.correlation(a, b)); b != a && rho > most {
				with, most = b, rho
			}
		}
		if with < 0 || said[pair{min(a, with), max(a, with)}] {
			continue
		}
		said[pair{min(a, with), max(a, with)}] = true
		out = append(out, Confound{A: FeatureKeys[t.feature[with]], B: FeatureKeys[t.feature[a]], Share: share, Resolve: t.resolvers(a)})
	}
	return out
}

// NotTried lists features (in impact's order) that the club can change and
// the counted shots never did: what is said of them is physics alone.
func (t *tried) NotTried() []int {
	var out []int
	for a, f := range t.feature {
		if _, v := t.moments(a, a); v < 1e-12 {
			out = append(out, f)
		}
	}
	return out
}

// moments is the mean of column a and its covariance with b over the shots.
func (t *tried) moments(a, b int) (mean, cov float64) {
	n := float64(len(t.rows))
	mb := 0.0
	for _, row := range t.rows {
		mean += row.X[a] / n
		mb += row.X[b] / n
	}
	for _, row := range t.rows {
		cov += (row.X[a] - mean) * (row.X[b] - mb) / n
	}
	return mean, cov
}

func (t *tried) correlation(a, b int) float64 {
	_, va := t.moments(a, a)
	_, vb := t.moments(b, b)
	if va < 1e-12 || vb < 1e-12 {
		return 0
	}
	_, c := t.moments(a, b)
	return c / math.Sqrt(va*vb)
}

// blocked is the share of session time that the setting alone tells; the same
// number of settings hit in two mirrored rounds gives 0, one block each nearly 1.
func (t *tried) blocked() float64 {
	at := t.lay.effects + t.lay.drift
	sum, count := map[int]float64{}, map[int]float64{}
	mean, total := t.moments(at, at)
	for _, row := range t.rows {
		sum[row.Group] += row.X[at]
		count[row.Group]++
	}
	if total < 1e-12 || len(count) < 2 || len(t.rows) < len(count)+2 {
		return 0
	}
	between := 0.0
	for g := range len(t.group) + 1 { // in order: sums of a map are not reproducible
		if n := count[g-1]; n > 0 {
			d := sum[g-1]/n - mean
			between += n * d * d / float64(len(t.rows))
		}
	}
	return between / total
}

// resolvers are the settings that move feature a as far off what the others say
// it does in these shots as one and a half times what the shots moved it
// themselves (standard deviation), or the farthest when none goes so far.
func (t *tried) resolvers(a int) []int {
	v, ok := t.inverseCovariance()
	if !ok {
		return nil
	}
	e := len(t.feature)
	off := make([]float64, len(t.x))
	far := 0.0
	_, own := t.moments(a, a)
	for j, x := range t.x {
		if t.changes[j].Unknown {
			continue
		}
		for b := range e { // the residual of a is (V^-1 (x - mean))_a / (V^-1)_aa
			m, _ := t.moments(b, b)
			off[j] += v[a*e+b] / v[a*e+a] * (x[b] - m)
		}
		off[j] = math.Abs(off[j])
		far = math.Max(far, off[j])
	}
	var out []int
	for j, d := range off {
		if d > math.Min(far, 1.5*math.Sqrt(own))-1e-9 && far > 1e-6 {
			out = append(out, j)
		}
	}
	return out
}

// ConfoundText says one confound in words; label names the setting that would
// resolve it, empty when none does.
func ConfoundText(c Confound, label string) report.Message {
	m := report.Say("response.confounded", message.Key(c.A), message.Key(c.B))
	switch {
	case c.A == "feature.setting":
		m.Key = "response.blocks"
	case label != "":
		m.Key = "response.confounded.resolve"
		m.Args = append(m.Args, report.Label(label), report.Count(ResolveBalls))
	}
	return m
}

// invert returns the inverse of the symmetric positive definite n*n matrix a.
func invert(n int, a []float64) ([]float64, bool) {
	c, ok := linear.Factor(n, a)
	if !ok {
		return nil, false
	}
	return c.Inverse()
}

// explained is the share of the variance of feature column a over the shots
// that the other features tell together: 1 - 1/(V_aa (V^-1)_aa) with V their
// covariance, which is 1 - 1/(variance inflation).
func (t *tried) explained(a int) float64 {
	e := len(t.feature)
	_, own := t.moments(a, a)
	if own < 1e-12 {
		return 0
	}
	inv, ok := t.inverseCovariance()
	if !ok {
		return 1
	}
	return math.Max(0, 1-1/(own*inv[a*e+a]))
}

// inverseCovariance of the features over the shots, with a speck added so that
// what was never changed, or only together, can be inverted.
func (t *tried) inverseCovariance() ([]float64, bool) {
	e := len(t.feature)
	v := make([]float64, e*e)
	for i := range e {
		for j := range e {
			_, v[i*e+j] = t.moments(i, j)
		}
		v[i*e+i] += 1e-9
	}
	return invert(e, v)
}
