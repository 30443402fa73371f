package bayes

import (
	"math"

	"ferrule/core/linear"
)

// wander is the state of the levels' spread and persistence.
type wander struct {
	spread, keep float64   // kappa, rho; 0 without chains
	mean         []float64 // rows*K filtered means, in units of Sigma's factor
	v            []float64 // rows: filtered variances
	first        []bool    // of a chain
	all          []int     // rows of all chains, one after the other
}

func newWander(m *Model, rows int) wander {
	w := wander{}
	if len(m.Chains) == 0 {
		return w
	}
	w.spread, w.keep = m.Levels.Values[nearest(m.Levels.Values, 0)], m.Keeps.Values[0]
	w.mean, w.v = make([]float64, rows*m.Dim), make([]float64, rows)
	for _, c := range m.Chains {
		for j, i := range c {
			w.all, w.first = append(w.all, i), append(w.first, j == 0)
		}
	}
	return w
}

// levels draws spread and persistence with the levels integrated out, then the
// levels: a Kalman filter forwards and draws backwards (Carter and Kohn), in
// units of Sigma's factor, in which the responses are unrelated.
func (c *chain) levels() {
	f, k, w := c.f, c.f.k, &c.wander
	if len(w.all) == 0 {
		return
	}
	y := make([]float64, len(c.whole))
	copy(y, c.whole)
	for _, i := range w.all {
		c.sigma.forward(y[i*k : (i+1)*k])
	}
	keeps := f.m.Keeps
	at := pickLog(c.rng, len(f.m.Levels.Values)*len(keeps.Values), func(n int) float64 {
		s, r := f.m.Levels.Values[n/len(keeps.Values)], keeps.Values[n%len(keeps.Values)]
		return math.Log(f.m.Levels.Weight[n/len(keeps.Values)]*keeps.Weight[n%len(keeps.Values)]) + c.filter(y, s, r)
	})
	w.spread, w.keep = f.m.Levels.Values[at/len(keeps.Values)], keeps.Values[at%len(keeps.Values)]
	c.filter(y, w.spread, w.keep)
	u := make([]float64, k) // of the row after, in units of Sigma's factor
	for n := len(w.all) - 1; n >= 0; n-- {
		i := w.all[n]
		m, v := w.mean[i*k:(i+1)*k], w.v[i]
		gain := 0.0
		if n < len(w.all)-1 && !w.first[n+1] {
			gain = v * w.keep / (w.keep*w.keep*v + w.push())
		}
		sd := math.Sqrt(v * (1 - gain*w.keep))
		for a := range u {
			u[a] = m[a] + gain*(u[a]-w.keep*m[a]) + sd*c.rng.NormFloat64()
		}
		for a := range k {
			c.u[i*k+a] = linear.Dot(c.sigma.l[a*k:a*k+a+1], u[:a+1])
			c.whole[i*k+a] -= c.u[i*k+a]
		}
	}
}

// push is the variance of what is new in a level.
func (w *wander) push() float64 { return w.spread * w.spread * (1 - w.keep*w.keep) }

// filter fills the filtered means and variances for errors y and returns their
// log likelihood.
func (c *chain) filter(y []float64, spread, keep float64) (log float64) {
	f, k, w := c.f, c.f.k, &c.wander
	push := spread * spread * (1 - keep*keep)
	var m []float64
	v := 0.0
	for n, i := range w.all {
		before, var0 := keep, keep*keep*v+push
		if w.first[n] {
			before, var0 = 0, spread*spread
		}
		all := var0 + 1/f.weight[i]
		gain := var0 / all
		at, sum := w.mean[i*k:(i+1)*k], 0.0
		for a := range at {
			said := 0.0
			if before > 0 {
				said = before * m[a]
			}
			off := y[i*k+a] - said
			sum += off * off
			at[a] = said + gain*off
		}
		log -= sum/(2*all) + float64(k)/2*math.Log(all)
		v = var0 * (1 - gain)
		w.v[i], m = v, at
	}
	return log
}

// pushes hands what is new in each level, and one over its variance in units of
// Sigma, to add, and returns how many there were.
func (c *chain) pushes(add func(v []float64, w float64)) float64 {
	k, w := c.f.k, &c.wander
	fresh := make([]float64, k)
	for n, i := range w.all {
		c.fresh(n, i, fresh)
		add(fresh, 1/w.variance(n))
	}
	return float64(len(w.all))
}

// variance of what is new in the level of the n-th row.
func (w *wander) variance(n int) float64 {
	if w.first[n] {
		return w.spread * w.spread
	}
	return w.push()
}

// fresh is what is new in the level of row i, the n-th.
func (c *chain) fresh(n, i int, out []float64) {
	k, w := c.f.k, &c.wander
	copy(out, c.u[i*k:(i+1)*k])
	if !w.first[n] {
		before := w.all[n-1]
		for a := range out {
			out[a] -= w.keep * c.u[before*k+a]
		}
	}
}

// shift moves each group's deviation against the levels of its rows, which
// changes nothing that was seen: where a group's rows follow each other the two
// are known together far better than apart, and draws in turn would creep. The
// move is drawn from what it leaves of both priors,
//
//	-2 log p(m) = (delta+m)' T^-1 (delta+m) + sum (v_i - a_i m)' Sigma^-1 (v_i - a_i m)/q_i
//
// with v_i what is new in a level, q_i its variance and a_i by how much of the
// move that changes: 1 or 0 less rho times the same of the row before.
func (c *chain) shift(d *Draw) error {
	f, k, w := c.f, c.f.k, &c.wander
	if len(w.all) == 0 || len(f.group) == 0 {
		return nil
	}
	inverse := c.sigma.inverse()
	fresh, sum, by := make([]float64, k), make([]float64, k), make([]float64, k)
	a := make([]float64, k*k)
	for s := range f.group {
		if !f.group[s].used {
			continue
		}
		clear(sum)
		all := 0.0
		for n, i := range w.all {
			own := 0.0
			if f.rows[i].Group == s {
				own = 1
			}
			if !w.first[n] && f.rows[w.all[n-1]].Group == s {
				own -= w.keep
			}
			if own == 0 {
				continue
			}
			q := own / w.variance(n)
			c.fresh(n, i, fresh)
			all += own * q
			for j := range sum {
				sum[j] += q * fresh[j]
			}
		}
		delta := d.Group[s*k : (s+1)*k]
		for i := range k {
			by[i] = linear.Dot(inverse[i*k:(i+1)*k], sum) - delta[i]/f.tau2[i]
			for j := range k {
				a[i*k+j] = all * inverse[i*k+j]
			}
			a[i*k+i] += 1 / f.tau2[i]
		}
		l, err := factorCopy(k, a)
		if err != nil {
			return err
		}
		l.forward(by)
		for i := range by {
			by[i] += c.rng.NormFloat64()
		}
		l.backward(by)
		for i := range f.rows {
			if f.rows[i].Group == s {
				for j, v := range by {
					c.u[i*k+j] -= v
				}
			}
		}
		for j, v := range by {
			delta[j] += v
		}
	}
	return nil
}

// together is how many balls' weight shares the level of each row, near ones more.
func (c *chain) together(weight []float64, keep float64) []float64 {
	out := make([]float64, len(c.f.rows))
	for _, rows := range c.f.m.Chains {
		before, after := 0.0, 0.0
		for j, i := range rows {
			before = keep*before + weight[i]
			out[i] += before
			l := rows[len(rows)-1-j]
			after *= keep
			out[l] += after
			after += weight[l]
		}
	}
	return out
}
