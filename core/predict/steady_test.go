package predict

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/response"
)

// Steady takes out of the draws' mean values the noise of having only a few
// balls in each: what is left is how the value moves with what is not known,
// so that its spread over the draws is a posterior's and not a sample's.
//
// The mean of few balls scatters about the draw's true expectation, which is a
// smooth function of the draw's mean launch; a regression of the value on the
// mean launch of the setting (linear and squared) and of the reference (linear)
// finds it, as in the estimation of the value of partial information by
// regression [Strong2014]. The fitted values' own share of noise is taken out
// by drawing them together about their mean.
type Steady struct {
	x    *mat.Dense
	chol mat.Cholesky
	p, n int
}

// NewSteady prepares for outcomes of one setting compared with the reference;
// both are Outcome.Launch, mean launches of the draws, draws*5. It is nil when
// there are too few draws to regress on (fewer than 40).
func NewSteady(launch, reference []float64) *Steady {
	const k = response.K
	n := len(launch) / k
	if n < 40 {
		return nil
	}
	s := &Steady{n: n}
	var cols [][]float64
	add := func(f func(d int) float64) {
		c := make([]float64, n)
		m, v := 0.0, 0.0
		for d := range c {
			c[d] = f(d)
			m += c[d] / float64(n)
		}
		for d := range c {
			c[d] -= m
			v += c[d] * c[d] / float64(n)
		}
		if v < 1e-18 {
			return
		}
		for d := range c {
			c[d] /= math.Sqrt(v)
		}
		cols = append(cols, c)
	}
	for i := range k {
		m := 0.0
		for d := range n {
			m += (launch[d*k+i] - reference[d*k+i]) / float64(n)
		}
		add(func(d int) float64 { return launch[d*k+i] - reference[d*k+i] })
		add(func(d int) float64 { v := launch[d*k+i] - reference[d*k+i] - m; return v * v })
		add(func(d int) float64 { return reference[d*k+i] })
	}
	s.p = len(cols)
	if s.p == 0 {
		return nil
	}
	s.x = mat.NewDense(n, s.p, nil)
	for j, c := range cols {
		s.x.SetCol(j, c)
	}
	g := mat.NewSymDense(s.p, nil)
	g.SymOuterK(1, s.x.T())
	for j := range s.p {
		g.SetSym(j, j, g.At(j, j)+.02*float64(n)) // a little ridge: launches of few draws may move together
	}
	if !s.chol.Factorize(g) {
		return nil
	}
	return s
}

// Values returns the steady version of v, one value a draw; inside is the
// variance of one value that comes from its few balls.
func (s *Steady) Values(v []float64, inside float64) []float64 {
	n := float64(s.n)
	mean := 0.0
	for _, x := range v {
		mean += x / n
	}
	y := mat.NewVecDense(s.n, nil)
	for d, x := range v {
		y.SetVec(d, x-mean)
	}
	var xy, b, fit mat.VecDense
	xy.MulVec(s.x.T(), y)
	if s.chol.SolveVecTo(&b, &xy) != nil {
		return append([]float64(nil), v...)
	}
	fit.MulVec(s.x, &b)
	spread := 0.0
	for d := range s.n {
		spread += fit.AtVec(d) * fit.AtVec(d) / n
	}
	noise := inside * float64(s.p) / n
	f := 1.0
	if spread > 0 {
		f = math.Sqrt(math.Max(1-noise/spread, .04))
	}
	out := make([]float64, s.n)
	for d := range out {
		out[d] = mean + f*fit.AtVec(d)
	}
	return out
}
