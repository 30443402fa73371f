package bayes

import (
	"ferrule/core/linear"
)

// widest is the largest number of rows of a view.
func (f *fit) widest() int {
	n := 0
	for i := range f.m.Views {
		n = max(n, f.m.Views[i].Rows)
	}
	return n
}

// residual sets r, as long as row i has numbers, to what the row shows beyond
// its mean under the coefficients and group deviations of d. mu of Dim numbers
// is overwritten by that mean, B'x + delta_group.
func (f *fit) residual(i int, d *Draw, mu, r []float64) {
	k, row := f.k, &f.rows[i]
	if g := row.Group; g >= 0 {
		copy(mu, d.Group[g*k:(g+1)*k])
	} else {
		clear(mu)
	}
	for a, xa := range row.X {
		if xa == 0 {
			continue
		}
		for j := range mu {
			mu[j] += xa * d.Coef[a*k+j]
		}
	}
	view := &f.m.Views[row.View]
	for j, z := range f.z[i] {
		r[j] = z - linear.Dot(view.H[j*k:(j+1)*k], mu)
	}
	for j, two := range row.Shared {
		for _, at := range two {
			if at >= 0 {
				r[j] -= d.Coef[f.shared+at]
			}
		}
	}
}

// now is what is believed at this point of the iteration.
func (f *fit) now() *Draw { return &Draw{Coef: f.coef, Group: f.delta} }

// updateScatter renews the scale of Sigma: prior, weighted residuals (whole
// residuals in expectation where a view hides a part), and the spread of the
// means themselves.
func (f *fit) updateScatter() {
	k := f.k
	copy(f.scatter, f.m.Scale)
	mu, eps, buf := make([]float64, k), make([]float64, k), make([]float64, f.widest())
	now := f.now()
	for i := range f.rows {
		row := &f.rows[i]
		r := buf[:len(row.Z)]
		f.residual(i, now, mu, r)
		f.whole(row.View, r, mu, eps)
		w := f.weight[i]
		for a := range k {
			for b := range a + 1 {
				f.scatter[a*k+b] += w * eps[a] * eps[b]
			}
		}
	}
	for v := range f.m.Views {
		if f.count[v] == 0 {
			continue
		}
		f.addHidden(v)
		f.addSpread(v)
	}
	for a := range k {
		for b := range a {
			f.scatter[b*k+a] = f.scatter[a*k+b]
		}
	}
	df := f.m.ScaleDf + float64(len(f.rows))
	for i, s := range f.scatter {
		f.sigma[i] = s / df
	}
}

// whole sets eps to E[eps | seen residual r] = Sigma H'(HSH'+R)^-1 r. (The
// view's gain belongs to the Sigma with which it was made.) y of Dim numbers is
// overwritten.
func (f *fit) whole(v int, r, y, eps []float64) {
	if f.plain[v] {
		copy(eps, r)
		return
	}
	k, m := f.k, f.m.Views[v].Rows
	for a := range k {
		y[a] = linear.Dot(f.gain[v][a*m:(a+1)*m], r)
	}
	for a := range k {
		eps[a] = linear.Dot(f.viewSigma(a), y)
	}
}

func isIdentity(h []float64, k int) bool {
	for i := range k {
		for j := range k {
			want := 0.0
			if i == j {
				want = 1
			}
			if h[i*k+j] != want {
				return false
			}
		}
	}
	return true
}

// viewSigma is row a of the Sigma used in the current solution.
func (f *fit) viewSigma(a int) []float64 { return f.sigma[a*f.k : (a+1)*f.k] }

// addHidden adds the variance of what view v does not show: for each of its
// rows Sigma - Sigma H'(HSH'+R)^-1 H Sigma.
func (f *fit) addHidden(v int) {
	k := f.k
	if f.plain[v] {
		return
	}
	si, sis := f.kk[0], f.kk[1]
	mul(f.sigma, k, k, f.info[v], k, si)
	mul(si, k, k, f.sigma, k, sis)
	for i := range k * k {
		f.scatter[i] += f.count[v] * (f.sigma[i] - sis[i])
	}
}

// addSpread adds sum_i w_i Var(mean_i), seen through view v.
func (f *fit) addSpread(v int) {
	k, n, used := f.k, f.n, f.used[v]
	s := f.kk[0]
	clear(s)
	for ia, a := range used {
		for ib, b := range used {
			g := f.gram[v][ia*len(used)+ib]
			if g == 0 {
				continue
			}
			for i := range k {
				for j := range k {
					s[i*k+j] += g * f.cov[(a*k+i)*n+b*k+j]
				}
			}
		}
	}
	for _, c := range f.byView[v] {
		f.addGroupSpread(&f.cells[c], s, 1)
	}
	if !f.plain[v] {
		// what is seen of the spread: (Sigma W) s (Sigma W)'
		t, ts := f.kk[1], f.kk[2]
		mul(f.sigma, k, k, f.info[v], k, t)
		mul(t, k, k, s, k, ts)
		mulT(ts, k, k, t, k, s)
	}
	for i := range s {
		f.scatter[i] += s[i]
	}
}

// addGroupSpread adds scale times the part of the cell's spread that involves
// its group: n Var(delta) + cross terms with the coefficients.
func (f *fit) addGroupSpread(c *cell, s []float64, scale float64) {
	k, n := f.k, f.n
	d := f.deltaCov[c.group*k*k : (c.group+1)*k*k]
	uc := f.uc[c.group]
	for i := range k {
		for j := range k {
			v := c.n * d[i*k+j]
			for _, a := range f.used[c.view] {
				x := c.x[a]
				// Cov(delta_i, coef_aj) = -uc[i, a*k+j]
				v -= x * (uc[i*n+a*k+j] + uc[j*n+a*k+i])
			}
			s[i*k+j] += scale * v
		}
	}
}

// updateWeights renews the t weights, (nu+m)/(nu+E[e'Sigma^-1 e]).
func (f *fit) updateWeights() {
	nu := f.m.Nu
	if nu == 0 {
		return
	}
	// The new Sigma needs its own factors.
	if err := f.views(); err != nil {
		return
	}
	k := f.k
	s := make([]float64, k*k)
	for c := range f.cells {
		cl := &f.cells[c]
		f.cellSpread(cl, s)
		cl.spread = linear.Dot(f.info[cl.view], s)
	}
	mu, buf, now := make([]float64, k), make([]float64, f.widest()), f.now()
	for i := range f.rows {
		row := &f.rows[i]
		r := buf[:len(row.Z)]
		f.residual(i, now, mu, r)
		f.quad[row.View].forward(r)
		d := linear.Dot(r, r) + f.cells[f.at[i]].spread
		f.weight[i] = row.bound((nu + float64(len(row.Z))) / (nu + d))
	}
}

// cellSpread sets s to the variance of the mean at the cell's mean features.
func (f *fit) cellSpread(c *cell, s []float64) {
	k, n := f.k, f.n
	clear(s)
	if c.n == 0 {
		return
	}
	for a, xa := range c.x {
		if xa == 0 {
			continue
		}
		for b, xb := range c.x {
			g := xa * xb / (c.n * c.n)
			if g == 0 {
				continue
			}
			for i := range k {
				for j := range k {
					s[i*k+j] += g * f.cov[(a*k+i)*n+b*k+j]
				}
			}
		}
	}
	if c.group >= 0 {
		f.addGroupSpread(c, s, 1/c.n)
	}
}
