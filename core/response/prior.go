package response

import (
	"math"

	"ferrule/core/bayes"
	"ferrule/core/impact"
)

// tauShare is the usual spread of what a setting does beyond its features, in
// reference units of each response, set on rough golfers (core/decide/README.md).
// misfitShare is how much of the textbook's own
// judgement of it is taken, where that is more. Who scatters more also adapts less
// alike from setting to setting. The session's balls choose among multiples of it.
var tauShare = [K]float64{.24, .24, .26, .24, .39}

const misfitShare = .5

// deviations are the multiples and how likely each is thought to be the usual
// one of a session; levels how far a player's form wanders from its middle, in
// units of the scatter, and keeps what of that is left at the next ball.
var (
	deviations = bayes.Grid{Values: []float64{.25, .5, 1, 2, 4}, Weight: []float64{.3, .27, .22, .14, .07}}
	levels     = bayes.Grid{Values: []float64{.05, .15, .3, .5, .8}, Weight: []float64{.04, .1, .2, .33, .33}}
	keeps      = bayes.Grid{Values: []float64{.75, .95}, Weight: []float64{.5, .5}}
)

// priors lays out what is believed before the shots.
func (r *Response) priors() {
	l := &r.lay
	groups := 0
	for _, g := range r.group {
		groups = max(groups, g+1)
	}
	m := &bayes.Model{Dim: K, Effects: l.effects, Rest: l.all, Groups: groups, Nu: 4, Views: r.views,
		Tau: make([]float64, K), Scale: make([]float64, K*K), ScaleDf: 9,
		Deviations: deviations, Chains: r.chains, Levels: levels, Keeps: keeps, SharedSD: r.shared}
	h := r.level()
	for k := range K {
		m.Tau[k] = h * math.Max(misfitShare*r.in.Prior.Misfit[k]/Scale[k], tauShare[k])
		if len(r.feature) == 0 && len(r.in.Parts) == 0 { // nobody has described any setting
			m.Tau[k] = undescribedShare * unknownSD[k]
		}
		m.Scale[k*K+k] = 3 * h * h // IW(9, 3 h^2 I): prior mean h^2 I
	}
	r.model = m
	r.restPriors()
	if l.effects > 0 {
		m.Alternatives = r.alternatives()
	}
}

// level is the usual shot-to-shot spread in reference units by handicap group
// (invented groups; the shots overrule it after a dozen balls).
func (r *Response) level() float64 {
	switch {
	case r.in.Handicap == nil:
		return 1
	case *r.in.Handicap < 8:
		return .8
	case *r.in.Handicap < 15:
		return 1
	}
	return 1.2
}

func (r *Response) restPriors() {
	m, l := r.model, &r.lay
	m.RestMean, m.RestSD = make([]float64, l.all*K), make([]float64, l.all*K)
	set := func(col, k int, mean, sd float64) { m.RestMean[col*K+k], m.RestSD[col*K+k] = mean, sd }
	for k := range K {
		if r.measured[k] {
			set(l.intercept, k, 0, 5)
		} else { // what players are like, not more
			set(l.intercept, k, (r.usual[k]-r.Centre[k])/Scale[k], usualSD[k])
		}
		set(l.drift, k, 0, .5)
		set(l.warm, k, 0, .5)
		set(l.tire, k, 0, .3)
		for i, c := range r.swing {
			s := c.slope[k] * c.unit / Scale[k]
			set(l.swing+i, k, s, .15+.4*math.Abs(s))
		}
		for i, p := range r.parts {
			set(l.part+i, k, p.mean[k], p.sd[k])
		}
		for i := range r.balls {
			set(l.ball+i, k, 0, 1)
		}
		for i, d := range r.days {
			set(l.day+i, k, 0, r.daySD(d, k))
		}
	}
	r.visitPriors(set)
}

// physics is the textbook's mean and covariance of the effects in use, in
// reference units per degree, millimetre and gram.
func (r *Response) physics() (mean, cov []float64) {
	e := len(r.feature) * K
	mean, cov = make([]float64, e), make([]float64, e*e)
	for i, f := range r.feature {
		for k := range K {
			mean[i*K+k] = r.in.Prior.Mean[f][k] * featureUnit[f] / Scale[k]
			for j, g := range r.feature {
				for n := range K {
					u := featureUnit[f] * featureUnit[g] / (Scale[k] * Scale[n])
					cov[(i*K+k)*e+j*K+n] = r.in.Prior.Cov[(f*K+k)*impact.F*K+g*K+n] * u
				}
			}
		}
	}
	for i := range e {
		cov[i*e+i] += 1e-6
	}
	return mean, cov
}

// belief is a recipe for an alternative, given the textbook's mean m and
// covariance C: N(keep m, inflate^2 C' + size^2 m m' + floor), where C' is C,
// or its diagonal when apart; size is how far the textbook's whole pattern may
// be off in size and sign; familySize the same for each family of effects.
type belief struct {
	name       string
	weight     float64
	keep       [families]float64
	inflate    [families]float64
	size       float64
	familySize [families]float64
	apart      [families]bool
	floor      float64 // standard deviation of every effect of a full step, in reference units
}

// families of effects that can be wrong together: loft, lie, weights.
const families = 3

func family(f int) int { return min(f, families-1) }

// alternatives are the beliefs of the guard.
func (r *Response) alternatives() []bayes.Alternative {
	mean, cov := r.physics()
	var out []bayes.Alternative
	for _, b := range mixture() {
		out = append(out, r.alternative(b, mean, cov))
	}
	return r.withRecord(out, out[1])
}

func all(v float64) [families]float64 { return [families]float64{v, v, v} }

// mixture lists the beliefs. Most of it does not hold the textbook's means: with
// more on them, and patterns as large as theirs, the answer promises more than
// is true (ferrule simulate, seeds that are not published); the price is a
// little lost where physics is right.
func mixture() []belief {
	yes := [families]bool{true, true, true}
	out := []belief{
		{name: nameTextbook, weight: .20, keep: all(1), inflate: all(1)},
		{name: nameWide, weight: .20, keep: all(1), inflate: all(1), floor: .12},
		{name: "pattern", weight: .35, inflate: all(1), size: offPattern, floor: .05},
		{name: "free", weight: .13, inflate: all(1), familySize: all(offPattern), apart: yes, floor: .15},
	}
	for f := range families {
		b := belief{name: "free", weight: .04, keep: all(1), inflate: all(1), floor: .15}
		b.keep[f], b.familySize[f], b.apart[f] = 0, offPattern, true
		out = append(out, b)
	}
	return out
}

// offPattern is the size that effects are thought to have, in either sign, by
// the beliefs that do not hold the textbook's means, as a share of those.
const offPattern = .4

// fullStep is about what a club can do of each feature: degrees, millimetres,
// grams.
var fullStep = [impact.F]float64{1.5, 1.5, 1.2, 1.2, 6}

// The beliefs that hold the textbook's means.
const (
	nameTextbook = "textbook"
	nameWide     = "wide"
)

func keepsTextbook(a bayes.Alternative) bool { return a.Name == nameTextbook || a.Name == nameWide }

// alternative is a belief about the effects of the textbook's mean and
// covariance cov, laid out as physics gives them.
func (r *Response) alternative(b belief, mean, cov []float64) bayes.Alternative {
	e := len(mean)
	alt := bayes.Alternative{Name: b.name, Weight: b.weight, Mean: make([]float64, e), Cov: make([]float64, e*e)}
	for i, f := range r.feature {
		for k := range K {
			x := i*K + k
			alt.Mean[x] = b.keep[family(f)] * mean[x]
			for j, g := range r.feature {
				for n := range K {
					y := j*K + n
					p, q := family(f), family(g)
					c := b.inflate[p] * b.inflate[q] * cov[x*e+y]
					if (b.apart[p] || b.apart[q]) && x != y {
						c = 0
					}
					c += b.size * b.size * mean[x] * mean[y]
					if p == q {
						c += b.familySize[p] * b.familySize[p] * mean[x] * mean[y]
					}
					if x == y {
						step := b.floor / fullStep[f]
						c += step * step
					}
					alt.Cov[x*e+y] = c
				}
			}
		}
	}
	return alt
}

// unknownSD is how much a setting that nobody has described may do, in
// reference units: about one and a half times what two settings of a head with
// a tilt of 1.5 to 2 degrees and a sliding weight differ by after the textbook
// and its doubt, more in direction, since a name may also stand for another
// shaft (TestAnUndescribedSettingIsNoWonder). With 1.5 for all, a ball or two of a
// setting were believed nearly whole, and settings that were all alike looked
// unlike.
//
// Where no setting is described, what they do is all deviation and its spread is
// learned, about undescribedShare of that.
var unknownSD = [K]float64{.75, 1.1, .7, 1.2, .8}

const undescribedShare = .5
