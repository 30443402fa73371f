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

// beliefs are what is thought of the effects before the balls.
type beliefs struct {
	prior   *impact.Prior
	feature []int // columns of impact.Features in use
	record  []Belief
}

// priors are what all that is believed before the balls rests on.
type priors struct {
	in *pooled
	centre
	*design
	*beliefs
}

// model is what is believed before the balls; records are whose each of the last
// alternatives is.
func (p *priors) model(e *evidence) (m *bayes.Model, records []int) {
	l := &p.lay
	groups := 0
	for _, g := range p.group {
		groups = max(groups, g+1)
	}
	m = &bayes.Model{Dim: K, Effects: l.effects, Rest: l.all, Groups: groups, Nu: 4, Views: e.views,
		Tau: make([]float64, K), Scale: make([]float64, K*K), ScaleDf: 9,
		Deviations: deviations, Chains: p.chains, Levels: levels, Keeps: keeps, SharedSD: e.shared}
	h := usualSpread(p.in.Handicap)
	for k := range K {
		m.Tau[k] = h * math.Max(misfitShare*p.prior.Misfit[k]/Scale[k], tauShare[k])
		if l.effects == 0 && len(p.in.Parts) == 0 { // nobody has described any setting
			m.Tau[k] = undescribedShare * unknownSD[k]
		}
		m.Scale[k*K+k] = 3 * h * h // IW(9, 3 h^2 I): prior mean h^2 I
	}
	p.rest(m)
	if l.effects > 0 {
		m.Alternatives, records = p.alternatives()
	}
	return m, records
}

// usualSpread is that from shot to shot in reference units by handicap group
// (invented groups; the shots overrule it after a dozen balls).
func usualSpread(handicap *float64) float64 {
	switch {
	case handicap == nil:
		return 1
	case *handicap < 8:
		return .8
	case *handicap < 15:
		return 1
	}
	return 1.2
}

// rest sets the priors of all but the effects.
func (p *priors) rest(m *bayes.Model) {
	l := &p.lay
	m.RestMean, m.RestSD = make([]float64, l.all*K), make([]float64, l.all*K)
	set := func(col, k int, mean, sd float64) { m.RestMean[col*K+k], m.RestSD[col*K+k] = mean, sd }
	for k := range K {
		if p.measured[k] {
			set(l.intercept, k, 0, 5)
		} else { // what players are like, not more
			set(l.intercept, k, (p.usual[k]-p.at[k])/Scale[k], usualSD[k])
		}
		set(l.drift, k, 0, .5)
		set(l.warm, k, 0, .5)
		set(l.tire, k, 0, .3)
		for i, c := range p.swing {
			s := c.slope[k] * c.unit / Scale[k]
			set(l.swing+i, k, s, .15+.4*math.Abs(s))
		}
		for i, q := range p.parts {
			set(l.part+i, k, q.mean[k], q.sd[k])
		}
		for i := range p.balls {
			set(l.ball+i, k, 0, 1)
		}
		for i, d := range p.days {
			set(l.day+i, k, 0, p.daySD(d, k))
		}
	}
	p.visits(m, set)
}

// textbook is its mean and covariance of the effects in use, in
// reference units per degree, millimetre and gram.
func (b *beliefs) textbook() (mean, cov []float64) {
	e := len(b.feature) * K
	mean, cov = make([]float64, e), make([]float64, e*e)
	for i, f := range b.feature {
		for k := range K {
			mean[i*K+k] = b.prior.Mean[f][k] * featureUnit[f] / Scale[k]
			for j, g := range b.feature {
				for n := range K {
					u := featureUnit[f] * featureUnit[g] / (Scale[k] * Scale[n])
					cov[(i*K+k)*e+j*K+n] = b.prior.Cov[(f*K+k)*impact.F*K+g*K+n] * u
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

// alternatives are the beliefs of the guard; records are whose each of the last is.
func (b *beliefs) alternatives() (out []bayes.Alternative, records []int) {
	mean, cov := b.textbook()
	for _, one := range mixture() {
		out = append(out, b.alternative(one, mean, cov))
	}
	return b.withRecord(out, out[1])
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
func (b *beliefs) alternative(of belief, mean, cov []float64) bayes.Alternative {
	e := len(mean)
	alt := bayes.Alternative{Name: of.name, Weight: of.weight, Mean: make([]float64, e), Cov: make([]float64, e*e)}
	for i, f := range b.feature {
		for k := range K {
			x := i*K + k
			alt.Mean[x] = of.keep[family(f)] * mean[x]
			for j, g := range b.feature {
				for n := range K {
					y := j*K + n
					p, q := family(f), family(g)
					c := of.inflate[p] * of.inflate[q] * cov[x*e+y]
					if (of.apart[p] || of.apart[q]) && x != y {
						c = 0
					}
					c += of.size * of.size * mean[x] * mean[y]
					if p == q {
						c += of.familySize[p] * of.familySize[p] * mean[x] * mean[y]
					}
					if x == y {
						step := of.floor / fullStep[f]
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
