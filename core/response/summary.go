package response

import (
	"math"

	"gonum.org/v1/gonum/mat"

	"ferrule/core/bayes"
	"ferrule/core/impact"
	"ferrule/core/seed"
)

// summarise reads what is shown from the posterior.
func (r *Response) summarise(m *bayes.Model) {
	e := len(r.feature) * K
	n := e + r.rest*K
	for k := range K {
		at := e + restDrift*K + k
		r.Drift[k] = r.post.Coef[at] * Scale[k]
		r.DriftSD[k] = math.Sqrt(r.post.Cov[at*n+at]) * Scale[k]
		r.Spread[k] = math.Sqrt(r.post.Sigma[k*K+k]) * Scale[k]
	}
	r.Resquare = [2]float64{r.in.Prior.Resquare, math.Sqrt(math.Max(r.in.Prior.ResquareVar, 0))}
	r.Conflict, r.Physics = 1, 1
	if e == 0 {
		return
	}
	r.Physics = r.post.Chosen[0]
	r.Conflict = r.conflict(m.Alternatives[0])
	r.resquare(m.Alternatives[0])
}

// conflict is kappa = sqrt(max(1, (4 + Q)/(4 + rank))), Q the squared distance
// of the shots' own estimate of the effects from the textbook's, in units of
// both doubts: j - J m ~ N(0, J + J C J).
func (r *Response) conflict(physics bayes.Alternative) float64 {
	e := len(physics.Mean)
	j := mat.NewDense(e, e, append([]float64(nil), r.post.Info...))
	c := mat.NewDense(e, e, physics.Cov)
	var jc, jcj mat.Dense
	jc.Mul(j, c)
	jcj.Mul(&jc, j)
	jcj.Add(&jcj, j)
	sym := mat.NewSymDense(e, nil)
	for a := range e {
		for b := a; b < e; b++ {
			sym.SetSym(a, b, (jcj.At(a, b)+jcj.At(b, a))/2)
		}
	}
	d := mat.NewVecDense(e, append([]float64(nil), r.post.InfoVec...))
	var jm mat.VecDense
	jm.MulVec(j, mat.NewVecDense(e, physics.Mean))
	d.SubVec(d, &jm)
	var eig mat.EigenSym
	if !eig.Factorize(sym, true) {
		return 1
	}
	var v mat.Dense
	eig.VectorsTo(&v)
	values := eig.Values(nil)
	q, rank := 0.0, 0.0
	for i, l := range values {
		if l <= 1e-6*values[e-1] || l < 1e-9 {
			continue
		}
		p := mat.Dot(v.ColView(i), d)
		q, rank = q+p*p/l, rank+1
	}
	return math.Sqrt(math.Max(1, (4+q)/(4+rank)))
}

// resquare conditions the re-squaring share on the effects that the shots
// showed: E[h|b] = h0 + c'C^-1 (b - m), and its variance likewise.
func (r *Response) resquare(physics bayes.Alternative) {
	e := len(physics.Mean)
	c := mat.NewSymDense(e, physics.Cov)
	var chol mat.Cholesky
	if !chol.Factorize(c) {
		return
	}
	cross := mat.NewVecDense(e, nil)
	for i, f := range r.feature {
		for k := range K {
			cross.SetVec(i*K+k, r.in.Prior.ResquareCov[f*K+k]*featureUnit[f]/Scale[k])
		}
	}
	var g mat.VecDense
	if chol.SolveVecTo(&g, cross) != nil {
		return
	}
	mean := r.in.Prior.Resquare
	for i := range e {
		mean += g.AtVec(i) * (r.post.AltMean[0][i] - physics.Mean[i])
	}
	variance := r.in.Prior.ResquareVar - mat.Dot(&g, cross)
	post := mat.NewDense(e, e, r.post.AltCov[0])
	var pg mat.VecDense
	pg.MulVec(post, &g)
	variance += mat.Dot(&g, &pg)
	r.Resquare = [2]float64{mean, math.Sqrt(math.Max(variance, 1e-6))}
}

// Measured is the share [0..1] of what is known of setting j's difference to
// the reference that comes from shots: one less the ratio of posterior to
// prior variance, averaged over the responses. The reference's is 1.
func (r *Response) Measured(j int) float64 {
	if j == r.in.Reference {
		return 1
	}
	e := len(r.feature) * K
	n := e + r.rest*K
	sum := 0.0
	for k := range K {
		prior, post := r.Tau[k]*r.Tau[k]/(Scale[k]*Scale[k]), r.Tau[k]*r.Tau[k]/(Scale[k]*Scale[k])
		if g := r.group[j]; g >= 0 {
			post = r.post.GroupCov[g*K*K+k*K+k]
		}
		for a, fa := range r.feature {
			for b, fb := range r.feature {
				x := r.x[j][a] * r.x[j][b]
				prior += x * r.in.Prior.Cov[(fa*K+k)*impact.F*K+fb*K+k] * featureUnit[fa] * featureUnit[fb] / (Scale[k] * Scale[k])
				post += x * r.post.Cov[(a*K+k)*n+b*K+k]
			}
		}
		for i, u := range r.unknown {
			if u == j {
				at := e + (restFixed+i)*K + k
				prior, post = prior+1.5*1.5, post+r.post.Cov[at*n+at]
			}
		}
		sum += math.Max(0, math.Min(1, 1-post/prior))
	}
	return sum / K
}

// Tested reports whether a counted ball was hit with setting j.
func (r *Response) Tested(j int) bool { return r.group[j] >= 0 }

// Mean is the expected ball of setting j under draw d, at mid-session and a
// warm player [SI]. A setting never hit gets a deviation of its own, the same
// for every call.
func (r *Response) Mean(d, j int, deviations []float64) (y [K]float64) {
	mu := r.Draws[d].Mean(r.x[j], r.group[j], K)
	for k := range K {
		if r.group[j] < 0 {
			mu[k] += r.Tau[k] / Scale[k] * deviations[d*K+k]
		}
		y[k] = r.Centre[k] + mu[k]*Scale[k]
	}
	return y
}

// Deviations are standard normal numbers for the draws of setting j, by name,
// so that a setting's do not depend on which others are asked for.
func (r *Response) Deviations(s seed.Seed, name string) []float64 {
	rng := s.Stream("response.deviation." + name)
	z := make([]float64, len(r.Draws)*K)
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	return z
}

// Noise returns per ball deviations from the mean [SI], perDraw for each draw:
// a whole residual of a ball of the session with probability N/(N+5), which
// keeps real mis-hits in the outcome, else a draw of t_4(Sigma). The same for
// every setting (common random numbers).
func (r *Response) Noise(perDraw int, s seed.Seed) [][K]float64 {
	rng := s.Stream("response.noise")
	out := make([][K]float64, len(r.Draws)*perDraw)
	reuse := float64(len(r.full)) / float64(len(r.full)+5)
	z := make([]float64, K)
	for d := range r.Draws {
		draw := &r.Draws[d]
		for i := range perDraw {
			o := &out[d*perDraw+i]
			// stratified over the session's balls, so that few draws hold each of them alike
			pick := int(math.Floor(float64(len(r.full)) * (float64(i) + rng.Float64()) / float64(perDraw)))
			if rng.Float64() < reuse && pick < len(r.full) {
				row := &r.rows[r.full[pick]]
				mu := draw.Mean(row.X, row.Group, K)
				for k := range K {
					o[k] = (row.Z[k] - mu[k]) * Scale[k]
				}
				continue
			}
			chi := 0.0
			for range 4 {
				x := rng.NormFloat64()
				chi += x * x
			}
			f := math.Sqrt(4 / math.Max(chi, .2))
			for k := range K {
				z[k] = rng.NormFloat64()
			}
			for k := range K {
				v := 0.0
				for l := range k + 1 {
					v += draw.Sigma[k*K+l] * z[l]
				}
				o[k] = f * v * Scale[k]
			}
		}
	}
	return out
}

// Env is the environment of the fit.
func (r *Response) Input() Input { return r.in }
