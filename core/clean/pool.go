package clean

import (
	"math"

	"ferrule/core/robust"
)

// pooled is a quantity against the median of its own setting, with one scale
// for all settings: a scale from the three balls of one setting is useless.
type pooled struct {
	residual []float64 // by shot, NaN where nothing was measured
	centre   []float64 // by shot: the median of its setting
	scale    float64   // [unit of the quantity] 0 = too few shots to say
	n        int
}

// pool computes the residuals of the shots in idx from the median of their own
// setting, key naming the setting of every shot of the session, and one scale
// of all of them, at least floor:
//
//	1.4826 MAD sqrt(N/(N-S)), N residuals from S medians
//
// The residuals of one or two balls from their own median are zero or shrunken,
// so a setting with fewer than three is held against the median of all shots.
func pool(idx []int, key []string, value func(int) (float64, bool), floor float64) pooled {
	p := pooled{residual: make([]float64, len(key)), centre: make([]float64, len(key))}
	for i := range p.residual {
		p.residual[i] = math.NaN()
	}
	bySetting := map[string][]float64{}
	var all []float64
	for _, i := range idx {
		if v, ok := value(i); ok {
			bySetting[key[i]] = append(bySetting[key[i]], v)
			all = append(all, v)
		}
	}
	whole := robust.Median(all)
	var abs []float64
	middle := map[string]float64{} // of each setting, worked out once: thousands of balls share one
	for k, vs := range bySetting {
		if len(vs) >= 3 {
			middle[k] = robust.Median(vs)
		}
	}
	centres := map[string]bool{}
	for _, i := range idx {
		v, ok := value(i)
		if !ok {
			continue
		}
		k := key[i]
		p.centre[i] = whole
		if m, ok := middle[k]; ok {
			p.centre[i] = m
			centres[k] = true
		} else {
			centres["\x00all"] = true // no setting's key
		}
		p.residual[i] = v - p.centre[i]
		abs = append(abs, math.Abs(p.residual[i]))
	}
	p.n = len(abs)
	if s := len(centres); p.n >= 5 && p.n > s {
		p.scale = math.Max(floor, robust.ToSigma*robust.Median(abs)*math.Sqrt(float64(p.n)/float64(p.n-s)))
	}
	return p
}

// slope fits y = a_k + b x with one intercept for each group k and returns b
// with its standard error. ok is false with fewer than 6 points or 3 degrees
// of freedom.
func slope(x, y []float64, group []string) (b, se float64, ok bool) {
	type sum struct{ n, x, y float64 }
	g := map[string]*sum{}
	for i := range x {
		s := g[group[i]]
		if s == nil {
			s = &sum{}
			g[group[i]] = s
		}
		s.n, s.x, s.y = s.n+1, s.x+x[i], s.y+y[i]
	}
	var sxx, sxy float64
	for i := range x {
		s := g[group[i]]
		dx, dy := x[i]-s.x/s.n, y[i]-s.y/s.n
		sxx, sxy = sxx+dx*dx, sxy+dx*dy
	}
	df := len(x) - len(g) - 1
	if len(x) < 6 || df < 3 || sxx == 0 {
		return 0, 0, false
	}
	b = sxy / sxx
	var rss float64
	for i := range x {
		s := g[group[i]]
		e := y[i] - s.y/s.n - b*(x[i]-s.x/s.n)
		rss += e * e
	}
	return b, math.Sqrt(rss / float64(df) / sxx), true
}
