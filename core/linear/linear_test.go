package linear

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"
	"testing"

	"gonum.org/v1/gonum/mat"
)

// TestAsMat holds every result against gonum/mat's.
func TestAsMat(t *testing.T) {
	rng := rand.New(rand.NewPCG(1, 2))
	near := func(what string, n int, got, want float64) {
		t.Helper()
		if !(math.Abs(got-want) <= 1e-12*(1+math.Abs(want))) {
			t.Fatalf("%s of order %d: %g, gonum/mat %g", what, n, got, want)
		}
	}
	for n := 1; n <= 40; n++ {
		m := n + 5
		tall := make([]float64, m*n)
		for i := range tall {
			tall[i] = rng.NormFloat64()
		}
		var square mat.SymDense
		square.SymOuterK(1, mat.NewDense(m, n, append([]float64(nil), tall...)).T())
		a := make([]float64, n*n)
		for i := range n {
			for j := range n {
				a[i*n+j] = square.At(i, j)
			}
			a[i*n+i]++
			square.SetSym(i, i, a[i*n+i])
		}
		side := make([]float64, m)
		for i := range side {
			side[i] = rng.NormFloat64()
		}

		var chol mat.Cholesky
		chol.Factorize(&square)
		c, ok := Factor(n, a)
		if !ok {
			t.Fatal("not factored")
		}
		var u mat.TriDense
		chol.UTo(&u)
		var x mat.VecDense
		if err := chol.SolveVecTo(&x, mat.NewVecDense(n, append([]float64(nil), side[:n]...))); err != nil {
			t.Fatal(err)
		}
		var inv mat.SymDense
		if err := chol.InverseTo(&inv); err != nil {
			t.Fatal(err)
		}
		got := append([]float64(nil), side[:n]...)
		inverse, ok := c.Inverse()
		if !c.Solve(got) || !ok {
			t.Fatal("singular")
		}
		var qr mat.QR
		qr.Factorize(mat.NewDense(m, n, append([]float64(nil), tall...)))
		var least mat.VecDense
		if err := qr.SolveVecTo(&least, false, mat.NewVecDense(m, append([]float64(nil), side...))); err != nil {
			t.Fatal(err)
		}
		fit, ok := NewQR(m, n, append([]float64(nil), tall...)).Solve(append([]float64(nil), side...), 1)
		if !ok || len(fit) != n {
			t.Fatal("singular", len(fit))
		}
		var eig mat.EigenSym
		eig.Factorize(&square, true)
		vectors := append([]float64(nil), a...)
		values, ok := Eigen(n, vectors)
		if !ok {
			t.Fatal("no eigenvalues")
		}
		var v mat.Dense
		eig.VectorsTo(&v)
		at := make([]int, n) // the eigenvalues from small to great
		for i := range at {
			at[i] = i
		}
		sort.Slice(at, func(i, j int) bool { return values[at[i]] < values[at[j]] })
		for i := range n {
			near("solution", n, got[i], x.AtVec(i))
			near("least squares", n, fit[i], least.AtVec(i))
			near("eigenvalue", n, values[at[i]], eig.Values(nil)[i])
			for j := range n {
				near("inverse", n, inverse[i*n+j], inv.At(i, j))
				k := at[j] // of one direction: vectors have no sign
				near("eigenvector", n, math.Abs(vectors[k*n+i]), math.Abs(v.At(i, j)))
				if i <= j {
					near("factor", n, c.U[i*n+j], u.At(i, j))
				}
			}
		}
	}
}

// TestSingular: what has no solution is said to have none.
func TestSingular(t *testing.T) {
	if _, ok := Factor(2, []float64{1, 2, 2, 1}); ok {
		t.Error("an indefinite matrix was factored")
	}
	if c, ok := Factor(2, []float64{1, 0, 0, 1e-17}); !ok || c.Solve(make([]float64, 2)) {
		t.Error("a matrix of condition 1e17 was solved")
	}
	if _, ok := NewQR(3, 2, []float64{1, 1, 1, 1, 1, 1}).Solve(make([]float64, 3), 1); ok {
		t.Error("columns that are equal were told apart")
	}
}

// TestShares: logarithms far beyond what an exponential holds still share alike.
func TestShares(t *testing.T) {
	logs := []float64{2000, 2000 + math.Log(3), math.Inf(-1)}
	Shares(logs)
	for i, want := range []float64{.25, .75, 0} {
		if math.Abs(logs[i]-want) > 1e-12 {
			t.Errorf("share %d is %g, want %g", i, logs[i], want)
		}
	}
	Shares(nil)
}

// TestManySolveAtOnce: one factorization serves several at a time, with the same
// numbers as one after the other. Lapack writes into the factorization while it
// reads it; without the lock two that meet spoil it for all that come after.
func TestManySolveAtOnce(t *testing.T) {
	const rows, columns, times, at = 600, 24, 400, 8
	rng := rand.New(rand.NewPCG(3, 4))
	a, b := make([]float64, rows*columns), make([]float64, rows)
	for i := range a {
		a[i] = rng.NormFloat64()
	}
	for i := range b {
		b[i] = rng.NormFloat64()
	}
	q := NewQR(rows, columns, a)
	want, _ := q.Solve(slices.Clone(b), 1)
	wrong := make(chan int, at)
	for range at {
		go func() {
			n := 0
			for range times {
				if got, ok := q.Solve(slices.Clone(b), 1); !ok || !slices.Equal(got, want) {
					n++
				}
			}
			wrong <- n
		}()
	}
	n := 0
	for range at {
		n += <-wrong
	}
	if n > 0 {
		t.Errorf("%d of %d results are not those of one solver alone", n, at*times)
	}
}
