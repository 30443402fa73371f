package bayes

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// With all variances known the posterior is a normal that dense algebra gives:
// y = X b + Z delta + u + e, u of covariance kappa^2 rho^|i-j|, two chains. Groups
// that are hit in one block each are the hard case.
func TestLevelsAgreeWithDenseAlgebra(t *testing.T) {
	const known, sigma, tau, kappa, rho = 1e12, 1.3, .7, .6, .9
	rng := rand.New(rand.NewPCG(3, 4))
	m := &Model{Dim: 1, Rest: 1, Groups: 3, RestMean: []float64{.2}, RestSD: []float64{5}, Tau: []float64{tau}, Scale: []float64{sigma * sigma * known}, ScaleDf: known,
		Views: []View{Whole(1)}, Chains: [][]int{nil, nil}, Levels: Grid{Values: []float64{kappa}, Weight: []float64{1}}, Keeps: Grid{Values: []float64{rho}, Weight: []float64{1}}}
	var rows []Row
	for s, n := range []int{6, 9, 4, 5} {
		for b := range n {
			chain := 0
			if s == 3 || s == 2 && b > 1 {
				chain = 1
			}
			m.Chains[chain] = append(m.Chains[chain], len(rows))
			rows = append(rows, Row{X: []float64{1}, Group: s%3 - 1 + s/3, Z: []float64{float64(s) + rng.NormFloat64()}})
		}
	}
	_, draws, err := Sample(m, rows, 8000, rng)
	if err != nil {
		t.Fatal(err)
	}
	n := len(rows)
	place, of := make([]int, n), make([]int, n)
	for c, all := range m.Chains {
		for j, i := range all {
			place[i], of[i] = j, c
		}
	}
	v := mat.NewSymDense(n, nil)
	for i := range n {
		for j := i; j < n; j++ {
			x := 0.0
			if of[i] == of[j] {
				x = kappa * kappa * sigma * sigma * math.Pow(rho, math.Abs(float64(place[i]-place[j])))
			}
			if i == j {
				x += sigma * sigma
			}
			v.SetSym(i, j, x)
		}
	}
	design, y := mat.NewDense(n, 4, nil), mat.NewVecDense(n, nil)
	for i, r := range rows {
		design.Set(i, 0, 1)
		if r.Group >= 0 {
			design.Set(i, 1+r.Group, 1)
		}
		y.SetVec(i, r.Z[0])
	}
	var w, info mat.Dense
	if err := w.Solve(v, design); err != nil {
		t.Fatal(err)
	}
	info.Mul(design.T(), &w)
	var right mat.VecDense
	right.MulVec(w.T(), y)
	for i, p := range []float64{1. / 25, 1 / (tau * tau), 1 / (tau * tau), 1 / (tau * tau)} {
		info.Set(i, i, info.At(i, i)+p)
	}
	right.SetVec(0, right.AtVec(0)+.2/25)
	var cov mat.Dense
	if err := cov.Inverse(&info); err != nil {
		t.Fatal(err)
	}
	var mean mat.VecDense
	mean.MulVec(&cov, &right)
	got := make([][]float64, len(draws))
	for d := range draws {
		got[d] = append(append([]float64(nil), draws[d].Coef...), draws[d].Group...)
	}
	for i := range 4 {
		gm, gs := moments(got, i)
		sd := math.Sqrt(cov.At(i, i))
		t.Logf("unknown %d: Sample %.3f +- %.3f, algebra %.3f +- %.3f", i, gm, gs, mean.AtVec(i), sd)
		if math.Abs(gm-mean.AtVec(i)) > .12*sd || gs/sd > 1.1 || gs/sd < .9 {
			t.Errorf("unknown %d: Sample %.3f +- %.3f, algebra %.3f +- %.3f", i, gm, gs, mean.AtVec(i), sd)
		}
	}
}
