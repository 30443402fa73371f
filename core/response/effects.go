package response

import (
	"math"

	"ferrule/core/impact"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Quantities are the responses' names, in their order.
var Quantities = [K]shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis}

// FeatureKeys are the text keys of the features, in impact's order.
var FeatureKeys = [impact.F]string{"feature.lean", "feature.upright", "feature.toe", "feature.back", "feature.mass"}

// FeatureUnit is the step to which an Effect belongs: one degree, one
// millimetre, one gram. [SI]
func FeatureUnit(f int) float64 { return featureUnit[f] }

// Effect is what one unit of one feature does to one response.
type Effect struct {
	Feature    int             // in impact's order
	Response   int             // in impact's order
	Textbook   float64         // [SI of the response a degree, mm or g] before the shots
	TextbookSD float64         // [the same]
	Value      report.Interval // [the same] after the shots
	SD         float64         // [the same]
	Shots      float64         // [the same] what the shots say when the textbook is not asked
	ShotsSD    float64         // [the same]
	Surprise   float64         // [1] (Shots - Textbook) over both doubts; beyond +-2 they disagree
	Measured   float64         // [1] share of the knowledge that comes from shots, 1 - SD^2/TextbookSD^2
}

// Effects lists the effects of the features that this club can change.
func (r *Response) Effects() []Effect {
	mean, cov := r.physics()
	e := len(mean)
	if e == 0 {
		return nil
	}
	shots, doubt := r.shotsAlone()
	n := e + r.lay.all*K
	var out []Effect
	for i, f := range r.feature {
		for k := range K {
			x := i*K + k
			eff := Effect{Feature: f, Response: k, Textbook: mean[x] * Scale[k], TextbookSD: math.Sqrt(cov[x*e+x]) * Scale[k],
				SD: math.Sqrt(r.post.Cov[x*n+x]) * Scale[k], Shots: shots[x] * Scale[k], ShotsSD: doubt[x] * Scale[k]}
			q := func(p float64) float64 { return r.quantile(x, p) * Scale[k] }
			eff.Value = report.Interval{Mean: r.post.Coef[x] * Scale[k], Lo50: q(.25), Hi50: q(.75), Lo80: q(.1), Hi80: q(.9), Lo95: q(.025), Hi95: q(.975)}
			eff.Surprise = (eff.Shots - eff.Textbook) / math.Hypot(eff.TextbookSD, eff.ShotsSD)
			eff.Measured = math.Max(0, 1-eff.SD*eff.SD/(eff.TextbookSD*eff.TextbookSD))
			out = append(out, eff)
		}
	}
	return out
}

// quantile of effect x under the mixture of beliefs, by bisection.
func (r *Response) quantile(x int, p float64) float64 {
	e := len(r.feature) * K
	lo, hi := math.Inf(1), math.Inf(-1)
	for a, w := range r.post.Chosen {
		if w < 1e-6 {
			continue
		}
		m, s := r.post.AltMean[a][x], math.Sqrt(r.post.AltCov[a][x*e+x])
		lo, hi = math.Min(lo, m-6*s), math.Max(hi, m+6*s)
	}
	for range 60 {
		mid := (lo + hi) / 2
		cdf := 0.0
		for a, w := range r.post.Chosen {
			m, s := r.post.AltMean[a][x], math.Sqrt(r.post.AltCov[a][x*e+x])
			cdf += w * .5 * math.Erfc((m-mid)/s/math.Sqrt2)
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
// physics: zero mean, two reference units per full step of a club (1.5 degrees,
// 1.2 mm of centre of mass), so that what was never tried stays wide open.
func (r *Response) shotsAlone() (mean, sd []float64) {
	e := len(r.feature) * K
	span := [impact.F]float64{1.5, 1.5, 1.2, 1.2, 6}
	a := append([]float64(nil), r.post.Info...)
	for i, f := range r.feature {
		for k := range K {
			x := i*K + k
			s := 2 / span[f]
			a[x*e+x] += 1 / (s * s)
		}
	}
	mean, sd = append([]float64(nil), r.post.InfoVec...), make([]float64, e)
	inv, ok := invert(e, a)
	if !ok {
		return make([]float64, e), sd
	}
	b := append([]float64(nil), mean...)
	for x := range e {
		mean[x], sd[x] = 0, math.Sqrt(inv[x*e+x])
		for y := range e {
			mean[x] += inv[x*e+y] * b[y]
		}
	}
	return mean, sd
}

// Contradictions says in words where the shots contradict the textbook: first
// that they do, when Conflict says so, then each effect that is off by more
// than two of both doubts, the worst first, at most three.
func (r *Response) Contradictions() []report.Message {
	if r.Conflict <= 1.5 {
		return nil
	}
	out := []report.Message{{Key: "response.conflict"}}
	effects := r.Effects()
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
	dim := units.Angle
	switch e.Response {
	case 0:
		dim = units.Speed
	case 3:
		dim = units.Spin
	}
	number := func(v float64) report.Arg {
		return report.Arg{Form: report.FormSigned, Value: v, Dim: dim, Digits: -1}
	}
	return report.Message{Key: "response.contradiction", Args: []report.Arg{
		{Form: report.FormKey, Text: FeatureKeys[e.Feature] + ".step"},
		{Form: report.FormQuantity, Text: string(Quantities[e.Response])},
		number(e.Shots), number(e.Textbook)}}
}
