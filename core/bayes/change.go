package bayes

import "math"

// size is the factor of change i now.
func (c *chain) size(i int) float64 { return c.f.m.Changes[i].Sizes.Values[c.sizes[i]] }

// resize gives the coefficients of change i the prior of factor s.
func (c *chain) resize(i int, s float64) {
	ch, k := c.f.m.Changes[i], c.f.k
	for j := ch.From * k; j < ch.To*k; j++ {
		c.f.m.RestSD[j] = s * c.unit[j]
	}
}

// changes draws the factor of each change given the effects of d, with the
// change's own coefficients integrated out: a chain that held them could not move,
// since small coefficients keep the factor small and the other way round. With C
// and m the coefficients' covariance and mean at the factor of now, U their prior
// variances at factor 1 and s that factor, the rows alone say
//
//	J = C^-1 - (s^2 U)^-1    h = C^-1 m
//
// and a factor t has the evidence
//
//	log p(t) - log|t^2 U|/2 - log|J + (t^2 U)^-1|/2 + h'(J + (t^2 U)^-1)^-1 h/2
func (c *chain) changes(d *Draw) error {
	f, k := c.f, c.f.k
	for i, ch := range f.m.Changes {
		n, from := (ch.To-ch.From)*k, ch.From*k
		if n == 0 {
			continue
		}
		cov, mean := make([]float64, n*n), make([]float64, f.q)
		f.restGiven(d.Coef[:f.e], mean)
		column := make([]float64, f.q)
		for j := range n {
			clear(column)
			column[from+j] = 1
			f.rest.solve(column)
			copy(cov[j*n:(j+1)*n], column[from:from+n])
		}
		own, err := factor(n, cov)
		if err != nil {
			return err
		}
		h := append([]float64(nil), mean[from:from+n]...)
		own.solve(h)
		info := own.inverse()
		now := c.size(i)
		for j := range n {
			u := now * c.unit[from+j]
			info[j*n+j] -= 1 / (u * u)
		}
		log := make([]float64, len(ch.Sizes.Values))
		for t, s := range ch.Sizes.Values {
			a := append([]float64(nil), info...)
			for j := range n {
				u := s * c.unit[from+j]
				a[j*n+j] += 1 / (u * u)
			}
			of, err := factor(n, a)
			if err != nil {
				return err
			}
			x := append([]float64(nil), h...)
			of.forward(x)
			log[t] = math.Log(ch.Sizes.Weight[t]) - float64(n)*math.Log(s) - of.logdet()/2
			for _, v := range x {
				log[t] += v * v / 2
			}
		}
		c.sizes[i] = pickLog(c.rng, len(log), func(t int) float64 { return log[t] })
		c.resize(i, c.size(i))
	}
	return nil
}
