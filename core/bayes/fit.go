package bayes

import (
	"cmp"
	"math"

	"ferrule/core/linear"
)

// cell gathers the rows of one group in one view.
type cell struct {
	group, view int
	n           float64   // sum of weights
	x           []float64 // P: sum of w x
	z           []float64 // rows of the view: sum of w z
	shared      []float64 // shared offsets * rows of the view: sum of w where a number has one
	spread      float64   // trace(Sigma^-1 Var(mean)) at the cell's mean features
}

// fit is the state of the iteration. With E = Effects*Dim, q = Rest*Dim and as
// many more as there are shared offsets, and n = E+q, the vector of coefficients
// is (effects; rest; shared).
type fit struct {
	m            *Model
	rows         []Row
	k, p, e, q   int
	shared       int         // where the shared offsets begin
	settled      bool        // no coefficient moved any more in the last round
	z            [][]float64 // what the rows show beyond their level
	n            int
	cells        []cell
	at           []int // row -> cell
	byGroup      [][]int
	byView       [][]int     // view -> cells that have a group
	used         [][]int     // view -> U features that a row of it has; others count nothing
	shows        [][][]int   // view, its row -> responses that it shows
	gram         [][]float64 // view -> U*U: sum of w x x'
	cross        [][]float64 // view -> U*rows: sum of w x z'
	count        []float64   // view -> rows
	weight       []float64
	sigma        []float64 // K*K plug-in, E[Sigma^-1]^-1
	scatter      []float64 // K*K posterior scale of the inverse Wishart
	tau2         []float64
	info, gain   [][]float64 // view -> K*K: H'(HSH'+R)^-1 H and K*rows: H'(HSH'+R)^-1
	quad         []chol      // view -> factor of HSH'+R
	quadInverse  [][]float64 // view -> its inverse, where there are shared offsets
	plain        []bool      // view -> sees every response exactly
	a            []float64   // n*n
	b            []float64   // n
	group        []groupPart
	rest         chol
	dcoef        []float64 // q*E: A_rr^-1 A_rE
	j            []float64 // E*E information of the rows on the effects
	jv           []float64 // E
	alts         []altPart
	coef         []float64 // n
	cov          []float64 // n*n
	delta        []float64 // Groups*K
	deltaCov     []float64 // Groups*K*K
	uc           [][]float64
	restA, restB []float64
	scratch      []float64 // as long as the widest view has rows
	space        []float64 // as long as there are coefficients
	wide         []float64 // K*n or q*E, whichever is more
	hs, ht       []float64 // K times as long as the widest view has rows
	kk           [3][]float64
}

type groupPart struct {
	a    []float64 // memory of f
	f    chol
	b    []float64
	aP   []float64 // K*n: A_sP
	u    []float64 // K*n: A_ss^-1 A_sP
	used bool
}

// Fit returns the posterior of m given rows: variational Bayes for
// (coefficients, Sigma, weights), started at weights 1 and the prior's Sigma.
// Given weights and Sigma the coefficients are Gaussian (a mixture of
// Gaussians over the alternatives) and exact; groups are eliminated by their
// Schur complements, so that the work grows linearly with rows and groups.
// The iteration is deterministic: it uses no randomness.
//
// Errors say which shape or number is wrong; errNotPositive that a prior or
// the system is singular.
//
// [Lange1989] for the weights (nu+m)/(nu+e'Sigma^-1 e) of t errors.
func Fit(m *Model, rows []Row) (*Posterior, error) {
	f, err := iterate(m, rows)
	if err != nil {
		return nil, err
	}
	return f.posterior()
}

// iterate is Fit up to where the posterior is written out.
func iterate(m *Model, rows []Row) (*fit, error) {
	if err := m.check(rows); err != nil {
		return nil, err
	}
	f := newFit(m, rows)
	if err := f.prepareAlternatives(); err != nil {
		return nil, err
	}
	iterations := cmp.Or(m.Iterations, 30)
	const tolerance = 1e-4 // [1] it stops when no coefficient moves by more, relative to 1 + its size
	last := make([]float64, f.n)
	for it := range iterations {
		f.accumulate()
		if err := f.solve(); err != nil {
			return nil, err
		}
		f.updateScatter()
		f.updateWeights()
		if f.settled = it > 3 && converged(last, f.coef, tolerance); f.settled {
			break
		}
		copy(last, f.coef)
	}
	f.accumulate()
	return f, f.solve()
}

// converged asks for more than is ever shown, so that a stop one round earlier
// on another machine can't be seen.
func converged(a, b []float64, tolerance float64) bool {
	for i, v := range a {
		if math.Abs(v-b[i]) > tolerance*(1+math.Abs(v)) {
			return false
		}
	}
	return true
}

func identity(k int) []float64 {
	a := make([]float64, k*k)
	for i := range k {
		a[i*k+i] = 1
	}
	return a
}

func (r Row) bound(w float64) float64 {
	if r.MaxW > 0 && w > r.MaxW {
		w = r.MaxW
	}
	return math.Max(w, r.MinW)
}

// accumulate gathers the weighted sums that the solution needs: the one pass
// over the rows, all else is independent of their number.
func (f *fit) accumulate() {
	for c := range f.cells {
		f.cells[c].n = 0
		clear(f.cells[c].x)
		clear(f.cells[c].z)
		clear(f.cells[c].shared)
	}
	for v := range f.gram {
		clear(f.gram[v])
		clear(f.cross[v])
	}
	for i := range f.rows {
		r, w := &f.rows[i], f.weight[i]
		c := &f.cells[f.at[i]]
		c.n += w
		for d, z := range f.z[i] {
			c.z[d] += w * z
		}
		g, cr, nz := f.gram[r.View], f.cross[r.View], len(r.Z)
		for d, two := range r.Shared {
			for _, at := range two {
				if at >= 0 {
					c.shared[at*nz+d] += w
				}
			}
		}
		used := f.used[r.View]
		for ia, a := range used {
			xa := r.X[a]
			if xa == 0 {
				continue
			}
			wx := w * xa
			c.x[a] += wx
			row := g[ia*len(used) : (ia+1)*len(used)]
			for ib, b := range used {
				row[ib] += wx * r.X[b]
			}
			for d, z := range f.z[i] {
				cr[ia*nz+d] += wx * z
			}
		}
	}
}

// views works out, for each view, the information that one ball of weight 1
// carries about its mean.
func (f *fit) views() error {
	k := f.k
	for v, view := range f.m.Views {
		m := view.Rows
		hs, s := f.hs[:m*k], f.quad[v].l
		mul(view.H, m, k, f.sigma, k, hs)
		for a := range m { // the lower triangle, which alone is read
			for b := range a + 1 {
				sum := 0.0
				for _, j := range f.shows[v][b] {
					sum += hs[a*k+j] * view.H[b*k+j]
				}
				if view.R != nil {
					sum += view.R[a*m+b]
				}
				s[a*m+b] = sum
			}
		}
		c, err := factor(m, s)
		if err != nil {
			return err
		}
		t := f.ht[:m*k]
		copy(t, view.H)
		c.forwardAll(t, k)
		c.backwardAll(t, k) // (HSH'+R)^-1 H, m*k
		for a := range k {
			for b := range m {
				f.gain[v][a*m+b] = t[b*k+a]
			}
		}
		mul(f.gain[v], k, m, view.H, k, f.info[v])
		if len(f.m.SharedSD) > 0 {
			c.inverseTo(f.quadInverse[v])
		}
	}
	return nil
}

// assemble builds the normal equations of the coefficients with the groups
// eliminated.
func (f *fit) assemble() error {
	k, n := f.k, f.n
	clear(f.a)
	clear(f.b)
	for v, view := range f.m.Views {
		if f.count[v] == 0 {
			continue
		}
		w, used := f.info[v], f.used[v]
		for ia, a := range used {
			for ib, b := range used {
				g := f.gram[v][ia*len(used)+ib]
				if g == 0 {
					continue
				}
				for i := range k {
					row := f.a[(a*k+i)*n+b*k : (a*k+i)*n+b*k+k]
					for j := range row {
						row[j] += g * w[i*k+j]
					}
				}
			}
			for i := range k {
				f.b[a*k+i] += linear.Dot(f.gain[v][i*view.Rows:(i+1)*view.Rows], f.cross[v][ia*view.Rows:(ia+1)*view.Rows])
			}
		}
	}
	for i, sd := range f.m.RestSD {
		if !math.IsInf(sd, 1) {
			at := f.e + i
			f.a[at*n+at] += 1 / (sd * sd)
			f.b[at] += f.m.RestMean[i] / (sd * sd)
		}
	}
	f.assembleShared()
	for s := range f.group {
		if err := f.eliminate(s); err != nil {
			return err
		}
	}
	return nil
}

// assembleShared adds the rows' information on the shared offsets, C'QC with
// Q = (HSH'+R)^-1, and on them together with the coefficients, x H'QC.
func (f *fit) assembleShared() {
	if len(f.m.SharedSD) == 0 {
		return
	}
	n, k := f.n, f.k
	for i, sd := range f.m.SharedSD {
		at := f.shared + i
		f.a[at*n+at] += 1 / (sd * sd)
	}
	for i := range f.rows {
		r, w := &f.rows[i], f.weight[i]
		m := len(r.Z)
		for d, two := range r.Shared {
			for _, c := range two {
				if c < 0 {
					continue
				}
				at := f.shared + c
				q := f.quadInverse[r.View][d*m : d*m+m]
				f.b[at] += w * linear.Dot(q, f.z[i])
				for o, others := range r.Shared {
					for _, to := range others {
						if to >= 0 {
							f.a[at*n+f.shared+to] += w * q[o]
						}
					}
				}
				for a, x := range r.X {
					if x == 0 {
						continue
					}
					for j := range k {
						v := w * x * f.gain[r.View][j*m+d]
						f.a[at*n+a*k+j] += v
						f.a[(a*k+j)*n+at] += v
					}
				}
			}
		}
	}
}

// eliminate takes the deviation of group s out of the normal equations:
// A -= A_Ps A_ss^-1 A_sP, b -= A_Ps A_ss^-1 b_s.
func (f *fit) eliminate(s int) error {
	k, n := f.k, f.n
	g := &f.group[s]
	if g.a == nil {
		g.a = make([]float64, k*k)
	}
	a := g.a
	clear(a)
	clear(g.b)
	clear(g.aP)
	g.used = len(f.byGroup[s]) > 0
	for _, ci := range f.byGroup[s] {
		c := &f.cells[ci]
		w, m := f.info[c.view], len(c.z)
		for i := range k {
			for j := range k {
				a[i*k+j] += c.n * w[i*k+j]
			}
			g.b[i] += linear.Dot(f.gain[c.view][i*m:(i+1)*m], c.z)
			for _, x := range f.used[c.view] {
				for j := range k {
					g.aP[i*n+x*k+j] += c.x[x] * w[i*k+j]
				}
			}
			for s := range f.m.SharedSD {
				g.aP[i*n+f.shared+s] += linear.Dot(f.gain[c.view][i*m:(i+1)*m], c.shared[s*m:(s+1)*m])
			}
		}
	}
	for i := range k {
		a[i*k+i] += 1 / f.tau2[i]
	}
	var err error
	if g.f, err = factor(k, a); err != nil {
		return err
	}
	if !g.used {
		clear(g.u)
		return nil
	}
	t := f.wide[:k*n]
	copy(t, g.aP)
	g.f.forwardAll(t, n)
	subTT(f.a, t, k, n)
	y := f.space[:k]
	copy(y, g.b)
	g.f.forward(y)
	for i := range k {
		for x := range n {
			f.b[x] -= t[i*n+x] * y[i]
		}
	}
	g.f.backwardAll(t, n)
	copy(g.u, t)
	return nil
}

// solve finds the coefficients and their covariance given weights and Sigma.
func (f *fit) solve() error {
	if err := f.reduce(); err != nil {
		return err
	}
	effects, cov, err := f.mix()
	if err != nil {
		return err
	}
	f.expand(effects, cov)
	return nil
}

// reduce brings the normal equations down to the effects: their information j
// and jv, with groups and rest eliminated.
func (f *fit) reduce() error {
	if err := f.views(); err != nil {
		return err
	}
	if err := f.assemble(); err != nil {
		return err
	}
	e, q, n := f.e, f.q, f.n
	for i := range q {
		copy(f.restA[i*q:(i+1)*q], f.a[(e+i)*n+e:(e+i)*n+n])
		copy(f.restB[i*e:(i+1)*e], f.a[(e+i)*n:(e+i)*n+e])
	}
	var err error
	if f.rest, err = factorCopy(q, f.restA); err != nil {
		return err
	}
	t := f.wide[:q*e]
	copy(t, f.restB)
	f.rest.forwardAll(t, e)
	br := f.space[:q]
	copy(br, f.b[e:])
	f.rest.forward(br)
	for i := range e {
		copy(f.j[i*e:(i+1)*e], f.a[i*n:i*n+e])
		f.jv[i] = f.b[i]
		for r := range q {
			f.jv[i] -= t[r*e+i] * br[r]
		}
	}
	subTT(f.j, t, q, e)
	f.rest.backwardAll(t, e)
	copy(f.dcoef, t)
	return nil
}

// expand carries the effects over to the rest and the groups.
func (f *fit) expand(effects, cov []float64) {
	e, q, n, k := f.e, f.q, f.n, f.k
	copy(f.coef, effects)
	f.restGiven(f.coef[:e], f.coef[e:])
	inv := f.rest.inverse()
	dc := make([]float64, q*e)
	mul(f.dcoef, q, e, cov, e, dc)
	dd := make([]float64, q*q)
	mulT(dc, q, e, f.dcoef, q, dd)
	for i := range n {
		for j := range n {
			var v float64
			switch {
			case i < e && j < e:
				v = cov[i*e+j]
			case i >= e && j >= e:
				v = inv[(i-e)*q+j-e] + dd[(i-e)*q+j-e]
			case i >= e:
				v = -dc[(i-e)*e+j]
			default:
				v = -dc[(j-e)*e+i]
			}
			f.cov[i*n+j] = v
		}
	}
	for s := range f.group {
		g := &f.group[s]
		f.groupGiven(s, f.coef, f.delta[s*k:(s+1)*k])
		d := f.deltaCov[s*k*k : (s+1)*k*k]
		copy(d, g.f.inverse())
		if !g.used {
			clear(f.uc[s])
			continue
		}
		mul(g.u, k, n, f.cov, n, f.uc[s])
		for i := range k {
			for j := range k {
				d[i*k+j] += linear.Dot(f.uc[s][i*n:(i+1)*n], g.u[j*n:(j+1)*n])
			}
		}
	}
}

// restGiven sets rest to its mean given the effects.
func (f *fit) restGiven(effects, rest []float64) {
	e := f.e
	for i := range rest {
		rest[i] = f.b[e+i] - linear.Dot(f.restB[i*e:(i+1)*e], effects)
	}
	f.rest.solve(rest)
}

// groupGiven sets d to the mean deviation of group s given all coefficients.
func (f *fit) groupGiven(s int, coef, d []float64) {
	g := &f.group[s]
	for i := range d {
		d[i] = g.b[i]
		if g.used {
			d[i] -= linear.Dot(g.aP[i*f.n:(i+1)*f.n], coef)
		}
	}
	g.f.solve(d)
}
