package response

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/report"
)

// Confound says that the counted shots cannot tell two things apart.
type Confound struct {
	A, B    string  // text keys of the two: a feature, "feature.time", "feature.ball", "feature.day", "feature.setting"
	Share   float64 // [1] squared correlation over the shots, 1 = always changed together
	Resolve int     // setting whose balls would tell them apart best, -1 = a matter of order, not of setting
}

// Confounded lists pairs of things that the shots changed together (squared
// correlation above .9), and one-block sessions, where session time and the
// setting are one thing. A feature that the shots never changed is in NotTried.
func (r *Response) Confounded() []Confound {
	l := &r.lay
	type column struct {
		key string
		at  int
	}
	var cols []column
	for a, f := range r.feature {
		cols = append(cols, column{FeatureKeys[f], a})
	}
	cols = append(cols, column{"feature.time", l.effects + l.drift})
	for b := range r.balls {
		cols = append(cols, column{"feature.ball", l.effects + l.ball + b})
	}
	for d := range r.days {
		cols = append(cols, column{"feature.day", l.effects + l.day + d})
	}
	var out []Confound
	for i, a := range cols {
		for _, b := range cols[:i] {
			if rho := r.correlation(a.at, b.at); rho*rho > .9 {
				c := Confound{A: b.key, B: a.key, Share: rho * rho, Resolve: -1}
				if a.at < l.effects {
					c.Resolve = r.resolver(b.at, a.at, rho)
				}
				out = append(out, c)
			}
		}
	}
	if s := r.blocked(); s > .85 {
		out = append(out, Confound{A: "feature.setting", B: "feature.time", Share: s, Resolve: -1})
	}
	return out
}

// NotTried lists features (in impact's order) that the club can change and
// the counted shots never did: what is said of them is physics alone.
func (r *Response) NotTried() []int {
	var out []int
	for a, f := range r.feature {
		if _, v := r.moments(a, a); v < 1e-12 {
			out = append(out, f)
		}
	}
	return out
}

// moments is the mean of column a and its covariance with b over the shots.
func (r *Response) moments(a, b int) (mean, cov float64) {
	n := float64(len(r.rows))
	mb := 0.0
	for _, row := range r.rows {
		mean += row.X[a] / n
		mb += row.X[b] / n
	}
	for _, row := range r.rows {
		cov += (row.X[a] - mean) * (row.X[b] - mb) / n
	}
	return mean, cov
}

func (r *Response) correlation(a, b int) float64 {
	_, va := r.moments(a, a)
	_, vb := r.moments(b, b)
	if va < 1e-12 || vb < 1e-12 {
		return 0
	}
	_, c := r.moments(a, b)
	return c / math.Sqrt(va*vb)
}

// blocked is the share of session time that the setting alone tells; the same
// number of settings hit in two mirrored rounds gives 0, one block each nearly 1.
func (r *Response) blocked() float64 {
	at := r.lay.effects + r.lay.drift
	sum, count := map[int]float64{}, map[int]float64{}
	_, total := r.moments(at, at)
	mean, _ := r.moments(at, at)
	for _, row := range r.rows {
		sum[row.Group] += row.X[at]
		count[row.Group]++
	}
	if total < 1e-12 || len(count) < 2 || len(r.rows) < len(count)+2 {
		return 0
	}
	between := 0.0
	for g := range len(r.group) + 1 { // in order: sums of a map are not reproducible
		if n := count[g-1]; n > 0 {
			d := sum[g-1]/n - mean
			between += n * d * d / float64(len(r.rows))
		}
	}
	return between / total
}

// resolver is the setting that moves a against the line on which the shots
// moved it together with b: the one farthest off that line.
func (r *Response) resolver(a, b int, rho float64) int {
	ma, va := r.moments(a, a)
	mb, vb := r.moments(b, b)
	sign := math.Copysign(1, rho)
	best, at := 1e-6, -1
	for j := range r.x {
		if r.in.Changes[j].Unknown {
			continue
		}
		d := math.Abs((r.x[j][a]-ma)/math.Sqrt(va) - sign*(r.x[j][b]-mb)/math.Sqrt(vb))
		if d > best+1e-9 {
			best, at = d, j
		}
	}
	return at
}

// ConfoundText says one confound in words; label names a setting.
func ConfoundText(c Confound, label string) report.Message {
	m := report.Message{Key: "response.confounded", Args: []report.Arg{{Form: report.FormKey, Text: c.A}, {Form: report.FormKey, Text: c.B}}}
	switch {
	case c.A == "feature.setting":
		m.Key = "response.blocks"
	case c.Resolve >= 0:
		m.Key = "response.confounded.resolve"
		m.Args = append(m.Args, report.Arg{Form: report.FormText, Text: label})
	}
	return m
}

// invert returns the inverse of the symmetric positive definite n*n matrix a.
func invert(n int, a []float64) ([]float64, bool) {
	var c mat.Cholesky
	if !c.Factorize(mat.NewSymDense(n, a)) {
		return nil, false
	}
	var s mat.SymDense
	if c.InverseTo(&s) != nil {
		return nil, false
	}
	out := make([]float64, n*n)
	for i := range n {
		for j := range n {
			out[i*n+j] = s.At(i, j)
		}
	}
	return out, true
}
