package bayes

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/linear"
)

// NIG is the conjugate prior of Regress: coefficients N(Mean, s2 diag(Var)),
// s2 inverse gamma with shape A and scale B. Var +Inf is flat.
type NIG struct {
	Mean []float64 // [response unit per feature unit]
	Var  []float64 // [1/feature unit squared] variance of a coefficient over s2
	A    float64   // [1]
	B    float64   // [response unit squared]
}

// Line is a fitted regression of one response.
type Line struct {
	Coef []float64 // [response unit per feature unit] posterior mean; least squares when the prior is flat
	V    []float64 // [1/feature units squared] covariance over s2, p*p
	RSS  float64   // [response unit squared] residual sum of squares, the prior's rows included
	A    float64   // [1] posterior shape: A0 + n/2
	B    float64   // [response unit squared] posterior scale: B0 + RSS/2
	Rows int
}

// Regress fits y = X b + e, e ~ N(0, s2), X row-major len(y)*p, under the
// conjugate prior; a nil prior is flat and gives least squares. It works by QR
// of the scaled features stacked on the prior's rows, not by normal equations,
// so that nearly dependent features keep their digits.
//
// An error says that the shapes do not fit or that the features are dependent.
// [Gelman2013, ch. 14] for the posterior.
func Regress(x, y []float64, p int, prior *NIG) (*Line, error) {
	n := len(y)
	if p < 1 || len(x) != n*p {
		return nil, fmt.Errorf("bayes: %d numbers of X for %d rows of %d features", len(x), n, p)
	}
	if err := finite("regression", x, y); err != nil {
		return nil, err
	}
	line := &Line{Coef: make([]float64, p), Rows: n, A: float64(n) / 2}
	scale := make([]float64, p)
	for i, v := range x {
		scale[i%p] = math.Max(scale[i%p], math.Abs(v))
	}
	rows, rhs := append([]float64(nil), x...), append([]float64(nil), y...)
	if prior != nil {
		line.A, line.B = prior.A+float64(n)/2, prior.B
		for j, v := range prior.Var {
			if math.IsInf(v, 1) {
				continue
			}
			row := make([]float64, p)
			row[j] = 1 / math.Sqrt(v)
			scale[j] = math.Max(scale[j], row[j])
			rows, rhs = append(rows, row...), append(rhs, row[j]*prior.Mean[j])
		}
	}
	if len(rhs) < p {
		return nil, fmt.Errorf("bayes: %d rows can't fix %d coefficients without a prior", n, p)
	}
	for i := range rows {
		if scale[i%p] == 0 {
			return nil, fmt.Errorf("bayes: feature %d is zero in every row", i%p)
		}
		rows[i] /= scale[i%p]
	}
	a := mat.NewDense(len(rhs), p, rows)
	var qr mat.QR
	qr.Factorize(a)
	if c := qr.Cond(); c > 1e15 || math.IsNaN(c) {
		return nil, mat.Condition(c)
	}
	var b, r, e mat.VecDense
	target := mat.NewVecDense(len(rhs), rhs)
	if err := qr.SolveVecTo(&b, false, target); err != nil {
		if _, ill := err.(mat.Condition); !ill {
			return nil, err
		}
	}
	// One step of refinement wins back digits on ill-conditioned features.
	e.MulVec(a, &b)
	e.SubVec(target, &e)
	if err := qr.SolveVecTo(&r, false, &e); err == nil {
		b.AddVec(&b, &r)
	}
	e.MulVec(a, &b)
	e.SubVec(target, &e)
	line.RSS = mat.Dot(&e, &e)
	line.B += line.RSS / 2
	var rr mat.Dense
	qr.RTo(&rr)
	line.V = inverseGram(&rr, p, scale)
	for j := range p {
		line.Coef[j] = b.AtVec(j) / scale[j]
	}
	return line, nil
}

// inverseGram is (R'R)^-1 with the scaling of the features undone.
func inverseGram(r *mat.Dense, p int, scale []float64) []float64 {
	l := make([]float64, p*p)
	for i := range p {
		for j := range i + 1 {
			l[i*p+j] = r.At(j, i)
		}
	}
	// Householder QR leaves signs on R's diagonal; a Cholesky factor has none.
	for j := range p {
		if l[j*p+j] < 0 {
			for i := j; i < p; i++ {
				l[i*p+j] = -l[i*p+j]
			}
		}
	}
	v := chol{p, l}.inverse()
	for i := range p {
		for j := range p {
			v[i*p+j] /= scale[i] * scale[j]
		}
	}
	return v
}

// S2 is the usual estimate RSS/(n-p) of the error variance.
func (l *Line) S2() float64 { return l.RSS / float64(l.Rows-len(l.Coef)) }

// SE is the standard error of coefficient j under S2.
func (l *Line) SE(j int) float64 { return math.Sqrt(l.S2() * l.V[j*len(l.Coef)+j]) }

// Predict returns the Student-t predictive distribution at features x: its
// degrees of freedom, location and scale.
func (l *Line) Predict(x []float64) (df, loc, scale float64) {
	p := len(l.Coef)
	q := 0.0
	for i, xi := range x {
		q += xi * linear.Dot(l.V[i*p:(i+1)*p], x)
	}
	return 2 * l.A, linear.Dot(x, l.Coef), math.Sqrt(l.B / l.A * (1 + q))
}

// LogMarginal is the log probability of y under a normal prior and a known
// error standard deviation s: prior variances are Var*s*s.
func LogMarginal(x, y []float64, p int, prior NIG, s float64) (float64, error) {
	l, err := Regress(x, y, p, &prior)
	if err != nil {
		return 0, err
	}
	n := float64(len(y))
	c, err := factorCopy(p, l.V)
	if err != nil {
		return 0, err
	}
	lv := -n/2*math.Log(2*math.Pi) - n*math.Log(s) + c.logdet()/2 - l.RSS/(2*s*s)
	for _, v := range prior.Var {
		lv -= math.Log(v) / 2
	}
	return lv, nil
}

// Variances is a one-way analysis of variance.
type Variances struct {
	Between, Within     float64 // [response unit squared] sums of squares
	DfBetween, DfWithin int
}

// F is the ratio of the mean squares.
func (v Variances) F() float64 {
	return v.Between / float64(v.DfBetween) / (v.Within / float64(v.DfWithin))
}

// OneWay splits the sum of squares of the groups' values. It centres on the
// grand mean first, twice, so that a large common level costs no digits.
func OneWay(groups [][]float64) Variances {
	var v Variances
	first, n := 0.0, 0
	for _, g := range groups {
		if len(g) > 0 {
			first = g[0]
			break
		}
	}
	grand := 0.0
	for _, g := range groups {
		for _, y := range g {
			grand += y - first
			n++
		}
	}
	grand /= float64(n)
	used := 0
	for _, g := range groups {
		if len(g) == 0 {
			continue
		}
		used++
		mean := 0.0
		for _, y := range g {
			mean += y - first - grand
		}
		mean /= float64(len(g))
		v.Between += float64(len(g)) * mean * mean
		for _, y := range g {
			d := y - first - grand - mean
			v.Within += d * d
		}
	}
	v.DfBetween, v.DfWithin = used-1, n-used
	return v
}

// Whole is the view that sees all k responses without error.
func Whole(k int) View {
	h := make([]float64, k*k)
	for i := range k {
		h[i*k+i] = 1
	}
	return View{Rows: k, H: h}
}
