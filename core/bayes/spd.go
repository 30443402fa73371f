package bayes

import (
	"math"

	"gonum.org/v1/gonum/blas"
	"gonum.org/v1/gonum/blas/blas64"
	"gonum.org/v1/gonum/lapack/lapack64"

	"ferrule/core/linear"
)

// small is the order up to which plain loops beat a call into lapack.
const small = 8

// chol is the lower Cholesky factor of a symmetric positive definite matrix,
// A = L L', row-major n*n.
type chol struct {
	n int
	l []float64
}

// factor overwrites the lower triangle of a by its Cholesky factor.
func factor(n int, a []float64) (chol, error) {
	if n <= small {
		for j := range n {
			for i := j; i < n; i++ {
				s := a[i*n+j]
				for q := range j {
					s -= a[i*n+q] * a[j*n+q]
				}
				if i == j {
					if !(s > 0) {
						return chol{}, errNotPositive
					}
					a[i*n+i] = math.Sqrt(s)
				} else {
					a[i*n+j] = s / a[j*n+j]
				}
			}
		}
	} else if _, ok := lapack64.Potrf(blas64.Symmetric{Uplo: blas.Lower, N: n, Stride: n, Data: a}); !ok {
		return chol{}, errNotPositive
	}
	for i := range n {
		if d := a[i*n+i]; math.IsNaN(d) || math.IsInf(d, 0) {
			return chol{}, errNotPositive
		}
		clear(a[i*n+i+1 : i*n+n])
	}
	return chol{n, a}, nil
}

func factorCopy(n int, a []float64) (chol, error) {
	return factor(n, append([]float64(nil), a[:n*n]...))
}

func (c chol) tri() blas64.Triangular {
	return blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: c.n, Stride: c.n, Data: c.l}
}

// forward overwrites x by L^-1 x.
func (c chol) forward(x []float64) {
	n := c.n
	for i := range n {
		row := c.l[i*n : i*n+i]
		s := x[i]
		for q, v := range row {
			s -= v * x[q]
		}
		x[i] = s / c.l[i*n+i]
	}
}

// backward overwrites x by L^-T x.
func (c chol) backward(x []float64) {
	n := c.n
	for i := n - 1; i >= 0; i-- {
		x[i] /= c.l[i*n+i]
		row := c.l[i*n : i*n+i]
		for q, v := range row {
			x[q] -= v * x[i]
		}
	}
}

// solve overwrites x by A^-1 x.
func (c chol) solve(x []float64) { c.forward(x); c.backward(x) }

// forwardAll overwrites the n*cols matrix b by L^-1 b.
func (c chol) forwardAll(b []float64, cols int) {
	if cols == 0 || c.n == 0 {
		return
	}
	blas64.Trsm(blas.Left, blas.NoTrans, 1, c.tri(), blas64.General{Rows: c.n, Cols: cols, Stride: cols, Data: b})
}

// backwardAll overwrites the n*cols matrix b by L^-T b.
func (c chol) backwardAll(b []float64, cols int) {
	if cols == 0 || c.n == 0 {
		return
	}
	blas64.Trsm(blas.Left, blas.Trans, 1, c.tri(), blas64.General{Rows: c.n, Cols: cols, Stride: cols, Data: b})
}

// inverse returns A^-1, both triangles filled.
func (c chol) inverse() []float64 {
	out := make([]float64, len(c.l))
	c.inverseTo(out)
	return out
}

func (c chol) inverseTo(out []float64) {
	n := c.n
	copy(out, c.l)
	if n == 0 {
		return
	}
	if n <= small {
		c.smallInverse(out)
		return
	}
	lapack64.Potri(blas64.Triangular{Uplo: blas.Lower, Diag: blas.NonUnit, N: n, Stride: n, Data: out})
	for i := range n {
		for j := range i {
			out[j*n+i] = out[i*n+j]
		}
	}
}

// smallInverse fills out, a copy of the factor, with A^-1 by plain loops.
func (c chol) smallInverse(out []float64) {
	n := c.n
	var m [small * small]float64 // L^-1
	for j := range n {
		m[j*n+j] = 1 / c.l[j*n+j]
		for i := j + 1; i < n; i++ {
			s := 0.0
			for q := j; q < i; q++ {
				s -= c.l[i*n+q] * m[q*n+j]
			}
			m[i*n+j] = s / c.l[i*n+i]
		}
	}
	for i := range n {
		for j := range i + 1 {
			s := 0.0
			for q := i; q < n; q++ {
				s += m[q*n+i] * m[q*n+j]
			}
			out[i*n+j], out[j*n+i] = s, s
		}
	}
}

// logdet is the logarithm of the determinant of A.
func (c chol) logdet() float64 {
	s := 0.0
	for i := range c.n {
		s += math.Log(c.l[i*c.n+i])
	}
	return 2 * s
}

// subTT subtracts t't from the n*n matrix a, where t is rows*n.
func subTT(a, t []float64, rows, n int) {
	if rows == 0 || n == 0 {
		return
	}
	gemm(blas.Trans, blas.NoTrans, -1, t, rows, n, t, rows, n, 1, a, n, n)
}

// mul sets c = a b for row-major matrices.
func mul(a []float64, ar, ac int, b []float64, bc int, c []float64) {
	if ar == 0 || ac == 0 || bc == 0 {
		return
	}
	if ar <= small && ac <= small && bc <= small {
		for i := range ar {
			row := c[i*bc : i*bc+bc]
			clear(row)
			for q, v := range a[i*ac : i*ac+ac] {
				if v == 0 { // views and factors have many
					continue
				}
				for j, w := range b[q*bc : q*bc+bc] {
					row[j] += v * w
				}
			}
		}
		return
	}
	gemm(blas.NoTrans, blas.NoTrans, 1, a, ar, ac, b, ac, bc, 0, c, ar, bc)
}

// mulT sets c = a b' for row-major matrices, b being br*ac.
func mulT(a []float64, ar, ac int, b []float64, br int, c []float64) {
	if ar == 0 || ac == 0 || br == 0 {
		return
	}
	if ar <= small && ac <= small && br <= small {
		for i := range ar {
			for j := range br {
				c[i*br+j] = linear.Dot(a[i*ac:i*ac+ac], b[j*ac:j*ac+ac])
			}
		}
		return
	}
	gemm(blas.NoTrans, blas.Trans, 1, a, ar, ac, b, br, ac, 0, c, ar, br)
}

func gemm(ta, tb blas.Transpose, alpha float64, a []float64, ar, ac int, b []float64, br, bc int, beta float64, c []float64, cr, cc int) {
	blas64.Gemm(ta, tb, alpha,
		blas64.General{Rows: ar, Cols: ac, Stride: ac, Data: a},
		blas64.General{Rows: br, Cols: bc, Stride: bc, Data: b},
		beta, blas64.General{Rows: cr, Cols: cc, Stride: cc, Data: c})
}
