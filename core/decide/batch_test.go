package decide

import (
	"math"
	"testing"

	"ferrule/core/seed"
)

// TestABatchLearnsAsNormalBeliefsDo: after a visit that shows one number the
// draws have the covariance of the exact normal update, C - c c' / (v + noise),
// and the value of one visit is that of the closed form E min(0, m + s Z).
func TestABatchLearnsAsNormalBeliefsDo(t *testing.T) {
	const n = 400
	rng := seed.Seed(3).Stream("batch")
	draw := func(by float64, with []float64, share float64) []float64 {
		v := make([]float64, n)
		for k := range v {
			v[k] = by * rng.NormFloat64()
			if with != nil {
				v[k] += share * with[k]
			}
		}
		m := mean(v)
		for k := range v {
			v[k] -= m
		}
		return v
	}
	cov := func(a, b []float64) float64 {
		s := 0.0
		for k := range a {
			s += a[k] * b[k] / (n - 1)
		}
		return s
	}
	y := draw(1, nil, 0)
	x := draw(.5, y, .8)
	p := &probe{dims: 1, y: append([]float64{}, y...), noise: 2}
	p.cov = p.with(p.y, 1)
	e := &ensemble{n: n, dev: append(make([]float64, n), x...), probes: []*probe{p}}
	for range results {
		e.low = append(e.low, 0, .3)
	}
	noise := p.noise / visit
	step := cov(x, y) / math.Sqrt(cov(y, y)+noise)
	z := .3 / step
	want := step*math.Exp(-z*z/2)/math.Sqrt(2*math.Pi) - .3*phi(-z)
	if got, _ := e.value(0, 0); math.Abs(got-want) > .03*step {
		t.Errorf("one visit is worth %.4f, want %.4f", got, want)
	}
	wantVar := cov(x, x) - cov(x, y)*cov(x, y)/(cov(y, y)+noise)
	e.learn(0)
	if got := cov(e.dev[n:], e.dev[n:]); math.Abs(got-wantVar) > 1e-9 {
		t.Errorf("variance after the visit %.6f, want %.6f", got, wantVar)
	}
	if got, want := p.cov[0], cov(y, y)*noise/(cov(y, y)+noise); math.Abs(got-want) > 1e-9 {
		t.Errorf("variance of the next visit %.6f, want %.6f", got, want)
	}
}
