package bayes

import (
	"errors"
	"math"
	"strings"
	"testing"
)

// TestWhatCannotBeIsRefused breaks a good model and good rows one place at a
// time; the error names the place.
func TestWhatCannotBeIsRefused(t *testing.T) {
	good := func() (*Model, []Row) {
		return &Model{Dim: 1, Effects: 1, Rest: 1, Groups: 1, Alternatives: []Alternative{{Name: "one", Weight: 1, Mean: []float64{0}, Cov: []float64{1}}},
				RestMean: []float64{0}, RestSD: []float64{1}, Tau: []float64{1}, Scale: []float64{1}, ScaleDf: 4, Views: []View{{Rows: 1, H: []float64{1}}}},
			[]Row{{X: []float64{1, 1}, Group: 0, Z: []float64{1}}, {X: []float64{0, 1}, Group: -1, Z: []float64{2}}}
	}
	m, rows := good()
	if _, err := Fit(m, rows); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		says  string
		spoil func(m *Model, rows []Row)
	}{
		{"RestMean", func(m *Model, rows []Row) { m.RestMean = nil }},
		{"RestSD 0 is 0", func(m *Model, rows []Row) { m.RestSD[0] = 0 }},
		{"RestSD 0 is NaN", func(m *Model, rows []Row) { m.RestSD[0] = math.NaN() }},
		{"Tau has 0", func(m *Model, rows []Row) { m.Tau = nil }},
		{"Tau 0 is -1", func(m *Model, rows []Row) { m.Tau[0] = -1 }},
		{"Scale has 2", func(m *Model, rows []Row) { m.Scale = []float64{1, 1} }},
		{"without a prior", func(m *Model, rows []Row) { m.Alternatives = nil }},
		{`"one": 1 means, 2 covariances`, func(m *Model, rows []Row) { m.Alternatives[0].Cov = []float64{1, 1} }},
		{"no view", func(m *Model, rows []Row) { m.Views = nil }},
		{"view 0 of 1 rows: H and R have 2 and 0", func(m *Model, rows []Row) { m.Views[0].H = []float64{1, 1} }},
		{"view 0 of 1 rows: H and R have 1 and 2", func(m *Model, rows []Row) { m.Views[0].R = []float64{1, 1} }},
		{"view 0 of 0 rows", func(m *Model, rows []Row) { m.Views[0] = View{} }},
		{"row 1: view 1 of 1", func(m *Model, rows []Row) { rows[1].View = 1 }},
		{"row 0: 1 features", func(m *Model, rows []Row) { rows[0].X = rows[0].X[:1] }},
		{"row 0: 2 features, 1 values, group 1", func(m *Model, rows []Row) { rows[0].Group = 1 }},
		{"row 1: number 0 is NaN", func(m *Model, rows []Row) { rows[1].Z[0] = math.NaN() }},
		{"prior: number 0 is +Inf", func(m *Model, rows []Row) { m.RestMean[0] = math.Inf(1) }},
	} {
		m, rows := good()
		c.spoil(m, rows)
		if _, err := Fit(m, rows); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("error %v, want one that says %q", err, c.says)
		}
	}
	if _, err := Fit(m, nil); err == nil {
		t.Error("a fit of no rows")
	}
	m.Alternatives[0].Cov[0] = -1
	if _, err := Fit(m, rows); !errors.Is(err, errNotPositive) {
		t.Errorf("error %v of a negative variance, want errNotPositive", err)
	}
}

// TestAFitSaysWhetherItSettled: one round alone has not, thirty have, of rows with a
// ball far off.
func TestAFitSaysWhetherItSettled(t *testing.T) {
	m := &Model{Dim: 1, Rest: 1, RestMean: []float64{0}, RestSD: []float64{10}, Nu: 4, Tau: []float64{1}, Scale: []float64{1}, ScaleDf: 5,
		Views: []View{{Rows: 1, H: []float64{1}}}}
	var rows []Row
	for _, z := range []float64{1, 2, 1.5, 1.2, 40} {
		rows = append(rows, Row{X: []float64{1}, Group: -1, Z: []float64{z}})
	}
	for rounds, want := range map[int]bool{1: false, 0: true} {
		m.Iterations = rounds
		p, err := Fit(m, rows)
		if err != nil {
			t.Fatal(err)
		}
		if p.Settled != want {
			t.Errorf("with %d rounds (0 = as many as usual) settled is %t", rounds, p.Settled)
		}
	}
}
