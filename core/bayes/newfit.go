package bayes

import (
	"math"
	"slices"
)

func newFit(m *Model, rows []Row) *fit {
	f := &fit{m: m, rows: rows, k: m.Dim, p: m.features()}
	f.shared = f.p * f.k
	f.e, f.q = m.Effects*m.Dim, m.Rest*m.Dim+len(m.SharedSD)
	f.n = f.e + f.q
	f.sort()
	f.see()
	f.weight = make([]float64, len(rows))
	for i, r := range rows {
		f.weight[i] = r.bound(1)
		f.z = append(f.z, r.Z)
	}
	f.sigma = append([]float64(nil), m.Scale...)
	for i := range f.sigma {
		f.sigma[i] /= math.Max(m.ScaleDf-float64(f.k)-1, 1)
	}
	if m.ScaleDf == 0 {
		f.sigma = identity(f.k)
	}
	f.scatter = append([]float64(nil), m.Scale...)
	f.tau2 = make([]float64, f.k)
	for k := range m.Tau {
		f.tau2[k] = m.Tau[k] * m.Tau[k]
	}
	f.room()
	return f
}

// sort puts the rows into cells, one for each group and view, and notes which
// features a view's rows use.
func (f *fit) sort() {
	m := f.m
	type key struct{ g, v int }
	index := map[key]int{}
	f.at = make([]int, len(f.rows))
	f.byGroup, f.byView, f.used = make([][]int, m.Groups), make([][]int, len(m.Views)), make([][]int, len(m.Views))
	f.count = make([]float64, len(m.Views))
	for i, r := range f.rows {
		c, seen := index[key{r.Group, r.View}]
		if !seen {
			c = len(f.cells)
			index[key{r.Group, r.View}] = c
			f.cells = append(f.cells, cell{group: r.Group, view: r.View, x: make([]float64, f.p), z: make([]float64, m.Views[r.View].Rows),
				shared: make([]float64, len(m.SharedSD)*m.Views[r.View].Rows)})
			if r.Group >= 0 {
				f.byGroup[r.Group], f.byView[r.View] = append(f.byGroup[r.Group], c), append(f.byView[r.View], c)
			}
		}
		f.at[i] = c
		f.count[r.View]++
		for a, x := range r.X {
			if x != 0 && !slices.Contains(f.used[r.View], a) {
				f.used[r.View] = append(f.used[r.View], a)
			}
		}
	}
}

// see notes what each view shows and makes room for its sums.
func (f *fit) see() {
	m, nv := f.m, len(f.m.Views)
	f.gram, f.cross = make([][]float64, nv), make([][]float64, nv)
	f.quadInverse = make([][]float64, nv)
	f.info, f.gain, f.quad = make([][]float64, nv), make([][]float64, nv), make([]chol, nv)
	for v, view := range m.Views {
		slices.Sort(f.used[v])
		u := len(f.used[v])
		f.gram[v], f.cross[v] = make([]float64, u*u), make([]float64, u*view.Rows)
		f.quad[v] = chol{view.Rows, make([]float64, view.Rows*view.Rows)}
		if len(m.SharedSD) > 0 {
			f.quadInverse[v] = make([]float64, view.Rows*view.Rows)
		}
		shows := make([][]int, view.Rows)
		for i := range shows {
			for j := range f.k {
				if view.H[i*f.k+j] != 0 {
					shows[i] = append(shows[i], j)
				}
			}
		}
		f.shows = append(f.shows, shows)
		f.plain = append(f.plain, view.R == nil && view.Rows == f.k && isIdentity(view.H, f.k))
		f.info[v], f.gain[v] = make([]float64, f.k*f.k), make([]float64, f.k*view.Rows)
	}
}

// room makes what the rounds write into.
func (f *fit) room() {
	groups := f.m.Groups
	f.a, f.b = make([]float64, f.n*f.n), make([]float64, f.n)
	f.coef, f.cov = make([]float64, f.n), make([]float64, f.n*f.n)
	f.delta, f.deltaCov = make([]float64, groups*f.k), make([]float64, groups*f.k*f.k)
	f.group, f.uc = make([]groupPart, groups), make([][]float64, groups)
	for s := range f.group {
		f.group[s] = groupPart{b: make([]float64, f.k), aP: make([]float64, f.k*f.n), u: make([]float64, f.k*f.n)}
		f.uc[s] = make([]float64, f.k*f.n)
	}
	f.scratch = make([]float64, f.widest())
	f.hs, f.ht = make([]float64, f.widest()*f.k), make([]float64, f.widest()*f.k)
	for i := range f.kk {
		f.kk[i] = make([]float64, f.k*f.k)
	}
	f.space, f.wide = make([]float64, max(f.n, f.k)), make([]float64, max(f.k*f.n, f.q*f.e))
	f.dcoef = make([]float64, f.q*f.e)
	f.j, f.jv = make([]float64, f.e*f.e), make([]float64, f.e)
	f.restA, f.restB = make([]float64, f.q*f.q), make([]float64, f.q*f.e)
}
