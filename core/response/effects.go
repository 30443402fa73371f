package response

import (
	"math"

	"ferrule/core/impact"
	"ferrule/core/linear"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// quantities are the responses' names, in their order.
var quantities = [K]shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis}

// FeatureKeys are the text keys of the features, in impact's order.
var FeatureKeys = [impact.F]string{"feature.lean", "feature.upright", "feature.toe", "feature.back", "feature.mass"}

// FeatureUnit is the step to which an Effect belongs: one degree, one
// millimetre, one gram. [SI]
func FeatureUnit(f int) float64 { return featureUnit[f] }

// Effect is what one unit of one feature does to one quantity of the ball.
type Effect struct {
	Feature    int             // in impact's order
	Quantity   shot.Quantity   // a launch number, or carry, offline or apex
	Textbook   float64         // [SI of the quantity a degree, mm or g] before the shots
	TextbookSD float64         // [the same]
	Value      report.Interval // [the same] after the shots
	SD         float64         // [the same]
	Shots      float64         // [the same] what the shots say when the textbook is not asked
	ShotsSD    float64         // [the same]
	Surprise   float64         // [1] (Shots - Textbook) over both doubts; beyond +-2 they disagree
	Measured   float64         // [1] share of the knowledge that comes from shots: 1 - variance after/before, over the beliefs
}

// output is a quantity as a linear function of the responses.
type output struct {
	quantity shot.Quantity
	w        [K]float64 // [SI per reference unit]
}

// launchOutputs are the responses themselves.
func launchOutputs() []output {
	out := make([]output, K)
	for k := range out {
		out[k].quantity = quantities[k]
		out[k].w[k] = Scale[k]
	}
	return out
}

// Effects lists the effects on the launch of the features that this club can
// change, feature by feature.
func (r *Response) Effects() []Effect { return r.effects(launchOutputs()) }

// FlightEffects is Effects for carry, offline and apex: the effects on the
// launch through the flight map, linearised at the typical ball.
func (r *Response) FlightEffects() []Effect {
	out := make([]output, len(r.flight.slope))
	for i, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.Apex} {
		out[i] = output{q, r.flight.slope[i]}
	}
	return r.effects(out)
}

func (r *Response) effects(outputs []output) []Effect {
	mean, cov := r.beliefs.textbook()
	e := len(mean)
	if e == 0 {
		return nil
	}
	shots, doubt := r.shotsAlone()
	n := len(r.post.Coef)
	var out []Effect
	for i, f := range r.feature {
		for _, o := range outputs {
			at := func(v []float64) float64 { return linear.Dot(o.w[:], v[i*K:i*K+K]) }
			sd := func(c []float64, stride int) float64 { return math.Sqrt(form(o.w[:], c, i*K, stride)) }
			eff := Effect{Feature: f, Quantity: o.quantity, Textbook: at(mean), TextbookSD: sd(cov, e),
				SD: sd(r.post.Cov, n), Shots: at(shots), ShotsSD: sd(doubt, e)}
			var m, s []float64
			for a, weight := range r.post.Chosen {
				m, s = append(m, at(r.post.AltMean[a])), append(s, sd(r.post.AltCov[a], e))
				before := form(o.w[:], r.others[a].Cov, i*K, e)
				eff.Measured += weight * math.Max(0, 1-s[a]*s[a]/before)
			}
			q := func(p float64) float64 { return quantile(r.post.Chosen, m, s, p) }
			eff.Value = report.Interval{Mean: at(r.post.Coef), Lo50: q(.25), Hi50: q(.75), Lo80: q(.1), Hi80: q(.9), Lo95: q(.025), Hi95: q(.975)}
			eff.Surprise = (eff.Shots - eff.Textbook) / math.Hypot(eff.TextbookSD, eff.ShotsSD)
			out = append(out, eff)
		}
	}
	return out
}

// form is w'Cw of the block of C that begins at row and column at.
func form(w, c []float64, at, stride int) float64 {
	s := 0.0
	for a, va := range w {
		for b, vb := range w {
			s += va * vb * c[(at+a)*stride+at+b]
		}
	}
	return s
}

// quantile of a mixture of normals with weights w, by bisection.
func quantile(w, mean, sd []float64, p float64) float64 {
	lo, hi := math.Inf(1), math.Inf(-1)
	for a := range w {
		if w[a] >= 1e-6 {
			lo, hi = math.Min(lo, mean[a]-6*sd[a]), math.Max(hi, mean[a]+6*sd[a])
		}
	}
	for range 40 {
		mid := (lo + hi) / 2
		cdf := 0.0
		for a := range w {
			cdf += w[a] * .5 * math.Erfc((mean[a]-mid)/sd[a]/math.Sqrt2)
		}
		if cdf < p {
			lo = mid
		} else {
			hi = mid
		}
	}
	return (lo + hi) / 2
}

// shotsAlone is the posterior of the effects under a prior that knows no
// physics: zero mean, two reference units per full step of a club, so that what was never tried stays wide open.
func (r *Response) shotsAlone() (mean, cov []float64) {
	e := len(r.feature) * K
	a := append([]float64(nil), r.post.Info...)
	for i, f := range r.feature {
		for k := range K {
			x := i*K + k
			s := 2 / fullStep[f]
			a[x*e+x] += 1 / (s * s)
		}
	}
	mean = make([]float64, e)
	cov, ok := invert(e, a)
	if !ok {
		return mean, make([]float64, e*e)
	}
	for x := range e {
		mean[x] = linear.Dot(cov[x*e:x*e+e], r.post.InfoVec)
	}
	return mean, cov
}

// Contradictions says in words where the shots contradict the textbook: first
// that they do, when Conflict says so, then each effect that is off by more
// than two of both doubts, the worst first, at most three.
func (r *Response) Contradictions() []report.Message {
	if r.Conflict <= 1.5 {
		return nil
	}
	out := []report.Message{{Key: "response.conflict"}}
	effects := append(r.Effects(), r.FlightEffects()...)
	for range 3 {
		worst := -1
		for i, e := range effects {
			if math.Abs(e.Surprise) > 2 && (worst < 0 || math.Abs(e.Surprise) > math.Abs(effects[worst].Surprise)) {
				worst = i
			}
		}
		if worst < 0 {
			break
		}
		out = append(out, contradiction(effects[worst]))
		effects = append(effects[:worst], effects[worst+1:]...)
	}
	return out
}

func contradiction(e Effect) report.Message {
	kind, _ := shot.KindOf(e.Quantity)
	number := func(v float64) report.Arg {
		return report.Signed(v, kind.Dim, -1)
	}
	shots, textbook := number(e.Shots), number(e.Textbook)
	if kind.Compass { // a side is turned over for a left-hander, a sign is not
		shots.Form, textbook.Form = message.FormSide, message.FormSide
	}
	return report.Say("response.contradiction", message.Key(FeatureKeys[e.Feature]+".step"),
		report.Quantity(e.Quantity),
		shots, textbook)
}
