// Package linear is the dense linear algebra of the decisions and the fits,
// straight on gonum's lapack: gonum/mat, which says the same more handsomely,
// links its estimates of condition, its overlap checks and its encoders along.
// Vectors are slices, matrices row-major, rows*columns.
//
// Begin with Factor and its example.
package linear

import (
	"math"
	"sync"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"
)

// Dot is the scalar product of a and the first len(a) numbers of b.
func Dot(a, b []float64) float64 {
	s := 0.0
	for i, v := range a {
		s += v * b[i]
	}
	return s
}

// Shares turns the logarithms of weights, if any, of which one at least is finite, into
// shares that sum to one, in place. The largest is taken off before: of weights
// alone it would overflow.
func Shares(logs []float64) {
	most, total := math.Inf(-1), 0.0
	for _, v := range logs {
		most = math.Max(most, v)
	}
	for i, v := range logs {
		logs[i] = math.Exp(v - most)
		total += logs[i]
	}
	for i := range logs {
		logs[i] /= total
	}
}

// Cholesky is the factor U of a symmetric positive definite matrix, A = U'U.
type Cholesky struct {
	N int
	U []float64 // [N*N], upper triangle; what stands below it is not set
}

// Factor factors the symmetric N*N matrix a, of which the upper triangle is
// read and which is left as it is. False: a is not positive definite.
func Factor(n int, a []float64) (Cholesky, bool) {
	c := Cholesky{n, append([]float64(nil), a[:n*n]...)}
	if n == 0 {
		return c, false
	}
	_, ok := lapack64.Potrf(blas64.Symmetric{Uplo: blas.Upper, N: n, Stride: n, Data: c.U})
	return c, ok
}

func (c Cholesky) triangle(u []float64) blas64.Triangular {
	return blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: c.N, Stride: c.N, Data: u}
}

// Solve overwrites x, of N numbers, by A^-1 x. False: A is singular in numbers.
func (c Cholesky) Solve(x []float64) bool {
	lapack64.Potrs(c.triangle(c.U), blas64.General{Rows: c.N, Cols: 1, Stride: 1, Data: x})
	return regular(c.N, c.U, 1e-8)
}

// Inverse returns A^-1, both triangles filled. False: A is singular in numbers.
func (c Cholesky) Inverse() ([]float64, bool) {
	n, out := c.N, append([]float64(nil), c.U...)
	_, ok := lapack64.Potri(c.triangle(out))
	for i := range n {
		for j := range i {
			out[i*n+j] = out[j*n+i]
		}
	}
	return out, ok && regular(n, c.U, 1e-8)
}

// regular says whether no number of the diagonal of a triangular n*n matrix is
// less than share of the greatest: the inverse of their ratio is a lower bound
// of the condition, and of A = U'U it is the square. A condition beyond 1e16
// leaves none of the digits of a number.
func regular(n int, a []float64, share float64) bool {
	low, high := math.Inf(1), 0.0
	for i := range n {
		d := math.Abs(a[i*n+i])
		low, high = math.Min(low, d), math.Max(high, d)
	}
	return low > share*high
}

// QR is the factorization of a matrix of at least as many rows as columns.
type QR struct {
	a   blas64.General
	tau []float64
	one *sync.Mutex // lapack's Dorm2r puts a one on the diagonal of a while it reads, so one solves at a time
}

// NewQR factors the rows*columns matrix a, which it overwrites and keeps.
func NewQR(rows, columns int, a []float64) QR {
	q := QR{blas64.General{Rows: rows, Cols: columns, Stride: columns, Data: a}, make([]float64, columns), new(sync.Mutex)}
	var size [1]float64
	lapack64.Geqrf(q.a, q.tau, size[:], -1)
	work := make([]float64, int(size[0]))
	lapack64.Geqrf(q.a, q.tau, work, len(work))
	return q
}

// Solve finds x, columns*sides, that minimizes |A x - b| of the rows*sides
// matrix b for each of its columns, in the first rows of b, which it
// overwrites. False: the columns of A depend on each other. Several may call it at
// once.
func (q QR) Solve(b []float64, sides int) ([]float64, bool) {
	q.one.Lock()
	defer q.one.Unlock()
	c := blas64.General{Rows: q.a.Rows, Cols: sides, Stride: sides, Data: b}
	var size [1]float64
	lapack64.Ormqr(blas.Left, blas.Trans, q.a, q.tau, c, size[:], -1)
	work := make([]float64, int(size[0]))
	lapack64.Ormqr(blas.Left, blas.Trans, q.a, q.tau, c, work, len(work))
	n := q.a.Cols
	ok := lapack64.Trtrs(blas.NoTrans, blas64.Triangular{Uplo: blas.Upper, Diag: blas.NonUnit, N: n, Stride: q.a.Stride, Data: q.a.Data}, c)
	return b[:n*sides], ok && regular(n, q.a.Data, 1e-16)
}

// Eigen returns the eigenvalues of the symmetric n*n matrix a and overwrites a
// by their vectors, one a row, in no order. Jacobi's rotations, each of which
// clears one pair off the diagonal, until the rest is lost in the digits of the
// greatest value; for the few dimensions here they are as quick as lapack's
// reduction, which is fifteen times the code. False: a is not made of numbers.
// Source: Golub & Van Loan, Matrix Computations, 8.5 (formulas from memory).
func Eigen(n int, a []float64) ([]float64, bool) {
	s, values := append([]float64(nil), a[:n*n]...), make([]float64, n)
	for i := range n {
		clear(a[i*n : i*n+n])
		a[i*n+i] = 1
	}
	for range 50 { // five to ten sweeps do
		off, all := 0.0, 0.0
		for i, v := range s {
			all += v * v
			if i%n != i/n {
				off += v * v
			}
		}
		if math.IsNaN(all) || math.IsInf(all, 0) {
			return values, false
		}
		if off <= 1e-34*all {
			for i := range n {
				values[i] = s[i*n+i]
			}
			return values, true
		}
		for p := range n {
			for q := p + 1; q < n; q++ {
				rotate(n, s, a, p, q)
			}
		}
	}
	return values, false
}

// rotate clears element p,q of the symmetric s and turns the rows of v along.
func rotate(n int, s, v []float64, p, q int) {
	off := s[p*n+q]
	if off == 0 {
		return
	}
	sp, sq, vp, vq := s[p*n:p*n+n], s[q*n:q*n+n], v[p*n:p*n+n], v[q*n:q*n+n]
	pp, qq := sp[p], sq[q]
	tau := (qq - pp) / (2 * off)
	t := math.Copysign(1, tau) / (math.Abs(tau) + math.Hypot(1, tau))
	c := 1 / math.Sqrt(1+t*t)
	d := t * c
	for i := range n {
		x, y := sp[i], sq[i]
		x, y = c*x-d*y, d*x+c*y
		sp[i], sq[i], s[i*n+p], s[i*n+q] = x, y, x, y
		x, y = vp[i], vq[i]
		vp[i], vq[i] = c*x-d*y, d*x+c*y
	}
	sp[p], sq[q], sp[q], sq[p] = pp-t*off, qq+t*off, 0, 0
}
