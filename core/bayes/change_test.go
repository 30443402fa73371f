package bayes

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The size of a change is drawn from its posterior: against the sum over the grid
// of the marginal likelihood y ~ N(0, v I + X P(s) X'), worked out by the dense
// matrix, which shares nothing with the sampler (Sigma is held by a prior of a
// million degrees of freedom).
func TestTheSizeOfAChangeHasItsPosterior(t *testing.T) {
	grid := Grid{Values: []float64{.1, .5, 1, 3}, Weight: []float64{.3, .3, .3, .1}}
	for _, truth := range []float64{0, 2} {
		rng := rand.New(rand.NewPCG(5, uint64(truth)))
		const n, v = 24, .5
		m := &Model{Dim: 1, Effects: 1, Rest: 3, RestMean: []float64{0, 0, 0}, RestSD: []float64{2, .4, .4}, Scale: []float64{v * 1e6}, ScaleDf: 1e6,
			Views: []View{{Rows: 1, H: []float64{1}}}, Alternatives: []Alternative{{Weight: 1, Mean: []float64{0}, Cov: []float64{1}}},
			Changes: []Change{{From: 1, To: 3, Sizes: grid}}}
		var rows []Row
		for i := range n {
			x := []float64{rng.NormFloat64(), 1, 0, 0}
			if i >= n/2 {
				x[2], x[3] = x[0], float64(i%2)
			}
			y := x[0] + truth*x[2] - truth*x[3]/2 + math.Sqrt(v)*rng.NormFloat64()
			rows = append(rows, Row{X: x, Group: -1, Z: []float64{y}})
		}
		mean, total := 0.0, 0.0
		for g, s := range grid.Values {
			p := []float64{1, 4, s * s * .16, s * s * .16}
			a := make([]float64, n*n)
			b := make([]float64, n)
			for i := range n {
				b[i] = rows[i].Z[0]
				for j := range n {
					for k := range p {
						a[i*n+j] += rows[i].X[k] * p[k] * rows[j].X[k]
					}
				}
				a[i*n+i] += v
			}
			c, err := factor(n, a)
			if err != nil {
				t.Fatal(err)
			}
			c.forward(b)
			log := math.Log(grid.Weight[g]) - c.logdet()/2
			for _, x := range b {
				log -= x * x / 2
			}
			w := math.Exp(log + 40)
			mean, total = mean+w*s*s, total+w
		}
		want := math.Sqrt(mean / total)
		p, _, err := Sample(m, rows, 12000, rand.New(rand.NewPCG(1, 2)))
		if err != nil {
			t.Fatal(err)
		}
		t.Logf("change %g: size %.3f, exactly %.3f", truth, p.Sizes[0], want)
		if math.Abs(p.Sizes[0]-want) > .05*want {
			t.Errorf("change %g: size %.3f, want %.3f", truth, p.Sizes[0], want)
		}
	}
}
