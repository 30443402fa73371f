package bayes

import (
	"math"

	"ferrule/core/linear"
)

// altPart is one alternative at work.
type altPart struct {
	prior  float64   // log prior probability
	prec   []float64 // Cov^-1
	pm     []float64 // Cov^-1 mean
	c      float64   // log|prec|/2 - mean' prec mean/2
	post   chol      // factor of J + prec
	mean   []float64
	sum    []float64 // memory of post
	weight float64   // posterior probability
	logZ   float64
}

func (f *fit) prepareAlternatives() error {
	total := 0.0
	for _, a := range f.m.Alternatives {
		total += a.Weight
	}
	for _, a := range f.m.Alternatives {
		c, err := factorCopy(f.e, a.Cov)
		if err != nil {
			return err
		}
		p := altPart{prior: math.Log(a.Weight / total), prec: c.inverse(), pm: append([]float64(nil), a.Mean...)}
		c.solve(p.pm)
		p.c = -c.logdet()/2 - linear.Dot(p.pm, a.Mean)/2
		f.alts = append(f.alts, p)
	}
	return nil
}

// weigh weighs the alternatives by their evidence. With J and j the information
// of the rows on the effects,
//
//	log Z = log p + log|C^-1|/2 - m'C^-1 m/2 - log|J+C^-1|/2 + mu'(J+C^-1) mu/2
//	mu = (J+C^-1)^-1 (j + C^-1 m)
func (f *fit) weigh() (err error) {
	e := f.e
	chance := make([]float64, len(f.alts))
	for i := range f.alts {
		a := &f.alts[i]
		if a.mean == nil {
			a.sum, a.mean = make([]float64, e*e), make([]float64, e)
		}
		s := a.sum
		for x := range s {
			s[x] = f.j[x] + a.prec[x]
		}
		if a.post, err = factor(e, s); err != nil {
			return err
		}
		for x := range a.mean {
			a.mean[x] = f.jv[x] + a.pm[x]
		}
		a.post.forward(a.mean)
		a.logZ = a.prior + a.c - a.post.logdet()/2 + linear.Dot(a.mean, a.mean)/2
		a.post.backward(a.mean)
		chance[i] = a.logZ
	}
	linear.Shares(chance)
	for i := range f.alts {
		f.alts[i].weight = chance[i]
	}
	return nil
}

// mix returns the mean and the covariance of the effects over all alternatives.
func (f *fit) mix() (mean, cov []float64, err error) {
	e := f.e
	mean, cov = make([]float64, e), make([]float64, e*e)
	if err := f.weigh(); err != nil {
		return nil, nil, err
	}
	for i := range f.alts {
		for x, v := range f.alts[i].mean {
			mean[x] += f.alts[i].weight * v
		}
	}
	for i := range f.alts {
		a := &f.alts[i]
		if a.weight < 1e-6 {
			continue
		}
		inv := a.post.inverse()
		for x := range e {
			dx := a.mean[x] - mean[x]
			for y := range e {
				cov[x*e+y] += a.weight * (inv[x*e+y] + dx*(a.mean[y]-mean[y]))
			}
		}
	}
	return mean, cov, nil
}
