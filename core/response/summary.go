package response

import (
	"math"

	"ferrule/core/bayes"
	"ferrule/core/impact"
	"ferrule/core/linear"
)

// summarise reads what is shown from the posterior.
func (r *Response) summarise(records []int) {
	l := &r.lay
	e := l.effects * K
	n := len(r.post.Coef)
	for k := range K {
		at := e + l.drift*K + k
		r.Drift[k] = r.post.Coef[at] * Scale[k]
		r.DriftSD[k] = math.Sqrt(r.post.Cov[at*n+at]) * Scale[k]
	}
	for k := range K {
		r.Tau[k] = r.post.Tau[k] * Scale[k]
	}
	r.Sigma = r.scatter(r.post)
	for k := range K {
		r.Spread[k] = math.Sqrt(r.Sigma[k*K+k])
	}
	prior := r.beliefs.prior
	r.Resquare = [2]float64{prior.Resquare, math.Sqrt(math.Max(prior.ResquareVar, 0))}
	r.Conflict, r.Physics = 1, 1
	if e == 0 {
		return
	}
	r.Physics = 0
	for _, b := range r.beliefs.record {
		r.Trusted = append(r.Trusted, make([]float64, max(0, b.Of+1-len(r.Trusted)))...)
	}
	for i, a := range r.others {
		if keepsTextbook(a) {
			r.Physics += r.post.Chosen[i]
		}
		if a.Name == nameRecord {
			r.Trusted[records[i-len(r.others)+len(records)]] += r.post.Chosen[i]
		}
	}
	mean, cov := r.beliefs.textbook()
	r.Conflict = conflict(r.post, mean, cov)
	if h, ok := r.beliefs.resquare(r.post, r.others, mean, cov); ok {
		r.Resquare = h
	}
}

// scatter is the covariance of a ball from shot to shot [SI], form and swing included.
func (d *design) scatter(post *bayes.Posterior) (out [K * K]float64) {
	l := &d.lay
	m := len(d.swing)
	for a := range K {
		for b := range K {
			v := post.Sigma[a*K+b] * (1 + post.Level*post.Level)
			for p := range m {
				for q := range m {
					v += d.cover[p*m+q] * post.Coef[(l.effects+l.swing+p)*K+a] * post.Coef[(l.effects+l.swing+q)*K+b]
				}
			}
			out[a*K+b] = v * Scale[a] * Scale[b]
		}
	}
	return out
}

// conflict is how far the shots' own estimate of the effects is from the
// textbook's, in units of both doubts. In coordinates where the textbook's
// doubt is round (C = L L') and the shots' information L'JL is diagonal with
// entries v, the textbook expects scores u ~ N(0, v + v^2); with z the scores
// over their expected size and w = v/(1+v) the share that the shots know of a
// direction,
//
//	kappa = sqrt(max(1, (4 + sum w z^2) / (4 + sum w)))
//
// so directions in which the shots say nothing count for nothing.
func conflict(post *bayes.Posterior, mean, cov []float64) float64 {
	e := len(mean)
	chol, ok := linear.Factor(e, cov)
	if !ok {
		return 1
	}
	j, u := post.Info, chol.U // L = U'
	jl, sym := make([]float64, e*e), make([]float64, e*e)
	for a := range e {
		for b := range e {
			for c := b; c < e; c++ {
				jl[a*e+b] += j[a*e+c] * u[b*e+c]
			}
		}
	}
	for a := range e {
		for b := range e {
			for c := a; c < e; c++ {
				v := u[a*e+c] * jl[c*e+b] / 2
				sym[a*e+b] += v
				sym[b*e+a] += v
			}
		}
	}
	score, along := make([]float64, e), make([]float64, e)
	for a := range e {
		score[a] = post.InfoVec[a] - linear.Dot(j[a*e:a*e+e], mean)
	}
	for a := range e {
		along[a] = linear.Dot(u[a*e+a:a*e+e], score[a:])
	}
	values, ok := linear.Eigen(e, sym)
	if !ok {
		return 1
	}
	q, rank := 0.0, 0.0
	for i, val := range values {
		if val < 1e-3 {
			continue
		}
		p := linear.Dot(sym[i*e:i*e+e], along)
		w := val / (1 + val)
		q, rank = q+w*p*p/(val+val*val), rank+w
	}
	return math.Sqrt(math.Max(1, (4+q)/(4+rank)))
}

// resquare conditions the re-squaring share on the effects that the shots
// showed, E[h|b] = h0 + c'C^-1 (b - m), over the beliefs that keep the
// textbook; the others leave the share as it was.
func (b *beliefs) resquare(post *bayes.Posterior, alternatives []bayes.Alternative, mean, cov []float64) (share [2]float64, ok bool) {
	e := len(mean)
	chol, ok := linear.Factor(e, cov)
	if !ok {
		return share, false
	}
	cross := make([]float64, e)
	for i, f := range b.feature {
		for k := range K {
			cross[i*K+k] = b.prior.ResquareCov[f*K+k] * featureUnit[f] / Scale[k]
		}
	}
	g := append([]float64(nil), cross...)
	if !chol.Solve(g) {
		return share, false
	}
	rest := math.Max(b.prior.ResquareVar-linear.Dot(g, cross), 0)
	sum, sq, total := 0.0, 0.0, 0.0
	for a, alt := range alternatives {
		w := post.Chosen[a]
		h, v := b.prior.Resquare, b.prior.ResquareVar
		if keepsTextbook(alt) {
			for i := range e {
				h += g[i] * (post.AltMean[a][i] - mean[i])
			}
			v = rest
			for i := range g {
				v += g[i] * linear.Dot(post.AltCov[a][i*e:i*e+e], g)
			}
		}
		sum, sq, total = sum+w*h, sq+w*(v+h*h), total+w
	}
	sum, sq = sum/total, sq/total
	return [2]float64{sum, math.Sqrt(math.Max(sq-sum*sum, 1e-6))}, true
}

// Measured is the share [0..1] of what is known of setting j's difference to
// the reference that comes from shots, its own and those with other settings
// that share its features: one less the ratio of the variance after the shots,
// over the draws, to the variance before them, averaged over the responses.
// Before stands for the beliefs as the shots have weighed them, so that trust
// lost in the textbook is not held against the shots. The reference's is 1.
func (r *Response) Measured(j int) float64 {
	if j == r.in.Reference {
		return 1
	}
	e := len(r.feature) * K
	sum := 0.0
	for k := range K {
		tau2 := r.deviation(k)
		before, mean := 2*tau2, 0.0 // its own deviation and the reference's
		for i, a := range r.others {
			m, v := 0.0, 0.0
			for p := range r.feature {
				m += r.x[j][p] * a.Mean[p*K+k]
				for q := range r.feature {
					v += r.x[j][p] * r.x[j][q] * a.Cov[(p*K+k)*e+q*K+k]
				}
			}
			before, mean = before+r.post.Chosen[i]*(v+m*m), mean+r.post.Chosen[i]*m
		}
		before -= mean * mean
		for _, p := range r.parts {
			if p.of[j] {
				before += p.sd[k] * p.sd[k]
			}
		}
		sum += math.Max(0, math.Min(1, 1-r.after(j, k)/before))
	}
	return sum / K
}

// Learned is the share [0..1] of what the textbook alone leaves unknown of
// setting j's difference to the reference that the shots have taken away: the
// deviation and the effects each by their own variance. It is less than
// Measured, and nothing where the shots have cost the textbook trust.
func (r *Response) Learned(j int) float64 {
	if j == r.in.Reference {
		return 1
	}
	e := len(r.feature) * K
	n := len(r.post.Coef)
	sum := 0.0
	for k := range K {
		tau2 := r.deviation(k)
		prior, post := 2*tau2, 0.0
		for _, g := range [2]int{r.group[j], r.group[r.in.Reference]} {
			if g >= 0 {
				post += r.post.GroupCov[g*K*K+k*K+k]
			} else {
				post += tau2
			}
		}
		for a, fa := range r.feature {
			for b, fb := range r.feature {
				x := r.x[j][a] * r.x[j][b]
				prior += x * r.beliefs.prior.Cov[(fa*K+k)*impact.F*K+fb*K+k] * featureUnit[fa] * featureUnit[fb] / (Scale[k] * Scale[k])
				post += x * r.post.Cov[(a*K+k)*n+b*K+k]
			}
		}
		for a, p := range r.parts {
			if !p.of[j] {
				continue
			}
			prior += p.sd[k] * p.sd[k]
			for b, q := range r.parts {
				if q.of[j] {
					post += r.post.Cov[(e+(r.lay.part+a)*K+k)*n+e+(r.lay.part+b)*K+k]
				}
			}
		}
		sum += math.Max(0, math.Min(1, 1-post/prior))
	}
	return sum / K
}

// after is the variance over the draws of setting j's difference to the
// reference in response k, in reference units squared, with the deviation of a
// setting never hit.
func (r *Response) after(j, k int) float64 {
	n := float64(len(r.Draws))
	var s, ss float64
	for d := range r.Draws {
		v := r.apart(d, j, k)
		s, ss = s+v, ss+v*v
	}
	v := (ss - s*s/n) / (n - 1)
	for _, g := range [2]int{r.group[j], r.group[r.in.Reference]} {
		if g < 0 {
			v += r.deviation(k)
		}
	}
	return v
}

// deviation is the variance of what a setting does beyond its features and its
// club in response k, in reference units squared.
func (r *Response) deviation(k int) float64 {
	return r.Tau[k] * r.Tau[k] / (Scale[k] * Scale[k])
}

// apart is the difference of setting j to the reference in response k under draw d, in
// reference units; what one never hit does of its own left out.
func (r *Response) apart(d, j, k int) float64 {
	draw := &r.Draws[d]
	v := 0.0
	if g := r.group[j]; g >= 0 {
		v = draw.Group[g*K+k]
	}
	if g := r.group[r.in.Reference]; g >= 0 {
		v -= draw.Group[g*K+k]
	}
	l := &r.lay
	for a := range l.effects {
		v += r.x[j][a] * draw.Coef[a*K+k]
	}
	for a := l.effects + l.part; a < l.effects+l.part+len(r.parts); a++ {
		v += r.x[j][a] * draw.Coef[a*K+k]
	}
	return v
}
