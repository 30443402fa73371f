// Package bayes fits Bayesian linear models with several responses. It knows
// vectors and matrices, no golf.
//
// The model of Fit, for ball i in group s with features x (length P) and
// responses of dimension K that are seen through a view (H, R):
//
//	z_i = H (B' x_i + delta_s + u_i + eps_i) + C_i c + r_i
//	eps_i ~ t_nu(0, Sigma)       r_i ~ N(0, R), scaled by the same t weight
//	delta_s,k ~ N(0, tau_k^2)    partial pooling of the groups, tau_k learned
//	u_i = rho u_j + sqrt(1-rho^2) v_i, v_i ~ N(0, kappa^2 Sigma)
//	                             a level that wanders from row j to the next of a chain, kappa and rho learned
//	c ~ N(0, SharedSD^2)         offsets that seen numbers share
//	Sigma ~ IW(ScaleDf, Scale)
//	B = (effects; rest): rest independent normal, effects a mixture of normals
//
// A missing response is a view whose H lacks that row, so nothing is imputed.
// The mixture is the guard against a confident prior that is wrong: each
// Alternative is weighed by how well it predicted the rows (its evidence).
//
// Fit is a deterministic approximation with tau fixed and no levels; Sample
// draws from the whole posterior. Main types in reading order: Model, View, Row,
// Alternative, Fit, Sample, Posterior, Draw. References are keys of core/REFERENCES.md.
//
// Begin with Fit and its example.
package bayes

import (
	"errors"
	"fmt"
	"math"
)

// Model says what is believed before the rows are seen. Coefficients are laid
// out row-major: coefficient of feature p in response k has index p*Dim+k, the
// Effects features first. All numbers are in the units of the rows.
type Model struct {
	Dim     int // K, number of responses
	Effects int // leading features whose coefficients have the mixture prior
	Rest    int // further features, independent normal priors
	Groups  int // number of groups

	Alternatives []Alternative // at least one when Effects > 0
	RestMean     []float64     // [response unit per feature unit] Rest*Dim
	RestSD       []float64     // [response unit per feature unit] Rest*Dim; +Inf = flat
	Tau          []float64     // [response unit] Dim, standard deviation of group deviations, > 0
	Deviations   Grid          // multiples of Tau that Sample chooses among, for each response; empty = fixed
	Chains       [][]int       // rows in the order in which their level wanders, each in one chain at most; none = no levels
	Levels       Grid          // kappa, the standard deviations of levels in units of Sigma's
	Keeps        Grid          // rho, what of a level is left at the next row, < 1
	SharedSD     []float64     // [seen unit] of each shared offset, > 0
	Changes      []Change      // parts of the rest whose size Sample learns
	Nu           float64       // [1] degrees of freedom of the errors; 0 = normal errors
	Scale        []float64     // [response unit squared] Dim*Dim, of the inverse Wishart
	ScaleDf      float64       // [1] degrees of freedom of the inverse Wishart
	Views        []View        // view 0 is used by rows that say nothing else

	Iterations int // at most, 0 = 30
}

// Grid is a prior on a few values.
type Grid struct {
	Values []float64 // [1] > 0
	Weight []float64 // [1] as many, > 0
}

// Change is a run of features of the rest, From up to and without To, whose RestSD
// are known up to one factor that Sample learns; Fit takes RestSD as they are.
type Change struct {
	From, To int
	Sizes    Grid // of the factor
}

// Alternative is one belief about the effects: N(Mean, Cov).
type Alternative struct {
	Name   string
	Weight float64   // [1] prior probability, > 0; scaled to sum to 1
	Mean   []float64 // [response unit per feature unit] Effects*Dim
	Cov    []float64 // [those squared] (Effects*Dim)^2, positive definite
}

// View is what can be seen of a ball: z = H y + noise of covariance R.
type View struct {
	Rows int
	H    []float64 // [seen unit per response unit] Rows*Dim
	R    []float64 // [seen unit squared] Rows*Rows, nil = none
}

// Row is one ball.
type Row struct {
	X     []float64 // [feature units] Effects+Rest
	Group int       // -1 = none
	View  int
	Z     []float64 // [seen units] as long as its view has rows
	MaxW  float64   // [1] upper bound of its weight, 0 = none
	MinW  float64   // [1] lower bound of its weight

	Shared [][2]int // of each number, the shared offsets that it has, -1 = none; nil = none has any
}

// errNotPositive says that a covariance or a system was not positive definite.
var errNotPositive = errors.New("bayes: matrix is not positive definite")

func (m *Model) features() int { return m.Effects + m.Rest }

// check reports shapes that cannot be and numbers that are not.
func (m *Model) check(rows []Row) error {
	k, e, r := m.Dim, m.Effects*m.Dim, m.Rest*m.Dim
	switch {
	case k < 1 || m.features() < 1:
		return fmt.Errorf("bayes: %d responses and %d features, at least one of each is needed", k, m.features())
	case len(m.RestMean) != r || len(m.RestSD) != r:
		return fmt.Errorf("bayes: RestMean and RestSD have %d and %d numbers, expected %d", len(m.RestMean), len(m.RestSD), r)
	case m.Groups > 0 && len(m.Tau) != k:
		return fmt.Errorf("bayes: Tau has %d numbers, expected %d", len(m.Tau), k)
	case len(m.Scale) != k*k:
		return fmt.Errorf("bayes: Scale has %d numbers, expected %d", len(m.Scale), k*k)
	case m.Effects > 0 && len(m.Alternatives) == 0:
		return errors.New("bayes: effects without a prior alternative")
	case len(m.Views) == 0:
		return errors.New("bayes: no view")
	}
	for i, sd := range m.RestSD {
		if !(sd > 0) {
			return fmt.Errorf("bayes: RestSD %d is %g, expected > 0 or +Inf", i, sd)
		}
	}
	for i, tau := range m.Tau {
		if !(tau > 0) {
			return fmt.Errorf("bayes: Tau %d is %g, expected > 0", i, tau)
		}
	}
	for i, sd := range m.SharedSD {
		if !(sd > 0) {
			return fmt.Errorf("bayes: SharedSD %d is %g, expected > 0", i, sd)
		}
	}
	for _, g := range []Grid{m.Deviations, m.Levels, m.Keeps} {
		if len(g.Values) != len(g.Weight) {
			return fmt.Errorf("bayes: a grid of %d values and %d weights", len(g.Values), len(g.Weight))
		}
	}
	seen := make([]bool, len(rows))
	for _, c := range m.Chains {
		for _, i := range c {
			if i < 0 || i >= len(rows) || seen[i] {
				return fmt.Errorf("bayes: row %d of %d in a chain, or twice", i, len(rows))
			}
			seen[i] = true
		}
	}
	if len(m.Chains) > 0 && (len(m.Levels.Values) == 0 || len(m.Keeps.Values) == 0) {
		return errors.New("bayes: chains without a grid of levels and of what is kept")
	}
	for i, v := range m.Views {
		if v.Rows < 1 || len(v.H) != v.Rows*k || v.R != nil && len(v.R) != v.Rows*v.Rows {
			return fmt.Errorf("bayes: view %d of %d rows: H and R have %d and %d numbers, expected %d and %d or none", i, v.Rows, len(v.H), len(v.R), v.Rows*k, v.Rows*v.Rows)
		}
	}
	for _, a := range m.Alternatives {
		if len(a.Mean) != e || len(a.Cov) != e*e || !(a.Weight > 0) {
			return fmt.Errorf("bayes: alternative %q: %d means, %d covariances, weight %g; expected %d, %d and > 0", a.Name, len(a.Mean), len(a.Cov), a.Weight, e, e*e)
		}
		if err := finite(a.Name, a.Mean, a.Cov); err != nil {
			return err
		}
	}
	if len(rows) == 0 {
		return errors.New("bayes: no rows")
	}
	for i, row := range rows {
		if row.View < 0 || row.View >= len(m.Views) {
			return fmt.Errorf("bayes: row %d: view %d of %d", i, row.View, len(m.Views))
		}
		if len(row.X) != m.features() || len(row.Z) != m.Views[row.View].Rows || row.Group < -1 || row.Group >= m.Groups {
			return fmt.Errorf("bayes: row %d: %d features, %d values, group %d; expected %d, %d and below %d", i, len(row.X), len(row.Z), row.Group, m.features(), m.Views[row.View].Rows, m.Groups)
		}
		if row.Shared != nil && len(row.Shared) != len(row.Z) {
			return fmt.Errorf("bayes: row %d: %d numbers of %d with shared offsets", i, len(row.Shared), len(row.Z))
		}
		if err := finite(fmt.Sprintf("row %d", i), row.X, row.Z); err != nil {
			return err
		}
	}
	return finite("prior", m.RestMean, m.Tau, m.Scale)
}

func finite(what string, lists ...[]float64) error {
	for _, l := range lists {
		for i, v := range l {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("bayes: %s: number %d is %g, expected a finite number", what, i, v)
			}
		}
	}
	return nil
}
