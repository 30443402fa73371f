package bayes

import (
	"math"
	"testing"

	"ferrule/core/seed"
)

// known is a model of one rest feature whose Sigma is as good as known.
func known(sigma []float64, k int, sd float64, views ...View) *Model {
	const df = 1e9
	m := &Model{Dim: k, Rest: 1, RestMean: make([]float64, k), RestSD: make([]float64, k), Scale: make([]float64, k*k), ScaleDf: df, Views: views}
	for i := range sigma {
		m.Scale[i] = df * sigma[i]
	}
	for i := range k {
		m.RestSD[i] = sd
	}
	return m
}

// TestNoisyView: z = 2 (b + eps) + r with b ~ N(0, 1), eps ~ N(0, s) and
// r ~ N(0, R) tells of b as much as 4/(4 s + R) a row.
func TestNoisyView(t *testing.T) {
	const s, noise = .7, 3.
	z := []float64{1, 4, -2, 5}
	var rows []Row
	sum := 0.0
	for _, v := range z {
		rows = append(rows, Row{X: []float64{1}, Group: -1, Z: []float64{v}})
		sum += v
	}
	p, err := Fit(known([]float64{s}, 1, 1, View{Rows: 1, H: []float64{2}, R: []float64{noise}}), rows)
	if err != nil {
		t.Fatal(err)
	}
	precision := 1 + 4*4/(4*s+noise)
	mean := 2 * sum / (4*s + noise) / precision
	if math.Abs(p.Cov[0]-1/precision) > 1e-6 || math.Abs(p.Coef[0]-mean) > 1e-6 {
		t.Errorf("b is %.8f with variance %.8f, want %.8f and %.8f", p.Coef[0], p.Cov[0], mean, 1/precision)
	}
}

// TestWholeOfWhatAViewHides: of a row that shows the first of two responses,
// the whole residual shows that exactly, and draws the other from its normal
// given the first, mean S21/S11 r and variance S22 - S21^2/S11; with noise on
// what is shown, the first too is drawn about S11/(S11+R) r.
func TestWholeOfWhatAViewHides(t *testing.T) {
	sigma := []float64{1, .6, .6, 2}
	for _, noise := range []float64{0, .5} {
		v := View{Rows: 1, H: []float64{1, 0}}
		if noise > 0 {
			v.R = []float64{noise}
		}
		p, draws, err := Sample(known(sigma, 2, 1e-6, v), []Row{{X: []float64{1}, Group: -1, Z: []float64{1.5}}}, 1, seed.Seed(1).Stream("draw"))
		if err != nil {
			t.Fatal(err)
		}
		d, rng := &draws[0], seed.Seed(2).Stream("whole")
		r, eps := 1.5-d.Coef[0], make([]float64, 2)
		const n = 40000
		var s, ss [2]float64
		for range n {
			p.Whole(0, d, rng, eps)
			for k, x := range eps {
				s[k], ss[k] = s[k]+x/n, ss[k]+x*x/n
			}
		}
		seen := sigma[0] + noise
		for k := range eps {
			cross := sigma[k*2]
			mean, variance := cross/seen*r, sigma[k*2+k]-cross*cross/seen
			got := ss[k] - s[k]*s[k]
			if math.Abs(s[k]-mean) > 4*math.Sqrt(variance/n)+1e-6 || math.Abs(got-variance) > 5*variance*math.Sqrt(2./n)+1e-6 {
				t.Errorf("noise %g, response %d: mean %.4f, variance %.4f, want %.4f and %.4f", noise, k, s[k], got, mean, variance)
			}
		}
	}
}
