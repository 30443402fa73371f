package bayes_test

import (
	"fmt"

	"ferrule/core/bayes"
)

// One response and one effect: the balls say 1 m a degree, the book 2 m give or take
// 1 m. What is believed afterwards lies between, and is surer than either.
func ExampleFit() {
	m := &bayes.Model{Dim: 1, Effects: 1, Scale: []float64{1}, ScaleDf: 5, Tau: []float64{1},
		Alternatives: []bayes.Alternative{{Weight: 1, Mean: []float64{2}, Cov: []float64{1}}},
		Views:        []bayes.View{{Rows: 1, H: []float64{1}}}}
	var rows []bayes.Row
	for _, x := range []float64{-1, 0, 1, -1, 0, 1} {
		rows = append(rows, bayes.Row{X: []float64{x}, Group: -1, Z: []float64{x}})
	}
	p, err := bayes.Fit(m, rows)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.1f m a degree, variance %.2f\n", p.Coef[0], p.Cov[0])
	// Output:
	// 1.0 m a degree, variance 0.02
}
