package bayes

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"ferrule/testdata/near"
	"ferrule/testdata/rows"
)

const data = "../../testdata/statistics"

func golden(t *testing.T, file string, into any) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(data, file))
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(raw, into); err != nil {
		t.Fatal(err)
	}
}

// The certified values of NIST StRD, to the digits that a double can keep.
func TestLeastSquaresOfNIST(t *testing.T) {
	var strd struct {
		Longley struct {
			Y          [][]float64 `json:"y_x1_x6"`
			Beta, SE   []float64
			ResidualSD float64 `json:"resid_sd"`
		}
		Wampler4 struct{ Y, Beta, SE []float64 }
		Norris   struct {
			Beta, SE   []float64
			ResidualSD float64 `json:"resid_sd"`
		}
	}
	golden(t, "nist_strd.json", &strd)

	var x, y []float64
	for _, r := range strd.Longley.Y {
		y = append(y, r[0])
		x = append(append(x, 1), r[1:]...)
	}
	check := func(name string, x, y, beta, se []float64, tol float64) *Line {
		l, err := Regress(x, y, len(beta), nil)
		if err != nil {
			t.Fatalf("%s: %v", name, err)
		}
		for j := range beta {
			near.Rel(t, name+" coefficient "+strconv.Itoa(j), l.Coef[j], beta[j], tol)
			near.Rel(t, name+" standard error "+strconv.Itoa(j), l.SE(j), se[j], tol)
		}
		return l
	}
	l := check("Longley", x, y, strd.Longley.Beta, strd.Longley.SE, 1e-9)
	near.Rel(t, "Longley residual sd", math.Sqrt(l.S2()), strd.Longley.ResidualSD, 1e-10)

	x = nil
	for i := range strd.Wampler4.Y {
		for p := range 6 {
			x = append(x, math.Pow(float64(i), float64(p)))
		}
	}
	check("Wampler4", x, strd.Wampler4.Y, strd.Wampler4.Beta, strd.Wampler4.SE, 1e-6)

	x, y = nil, nil
	for _, r := range table(t, "nist/Norris.dat", 60, 2) {
		y, x = append(y, r[0]), append(x, 1, r[1])
	}
	l = check("Norris", x, y, strd.Norris.Beta, strd.Norris.SE, 1e-11)
	near.Rel(t, "Norris residual sd", math.Sqrt(l.S2()), strd.Norris.ResidualSD, 1e-12)
}

// table reads the numbers of a .dat file after a number of lines.
func table(t *testing.T, file string, skip, columns int) (out [][]float64) {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join(data, file))
	if err != nil {
		t.Fatal(err)
	}
	for _, line := range strings.Split(string(raw), "\n")[skip:] {
		f := strings.Fields(line)
		if len(f) != columns {
			continue
		}
		row := make([]float64, columns)
		for i := range f {
			if row[i], err = strconv.ParseFloat(f[i], 64); err != nil {
				t.Fatal(err)
			}
		}
		out = append(out, row)
	}
	return out
}

func TestOneWayOfNIST(t *testing.T) {
	var strd struct {
		Anova map[string]struct {
			SSBetween float64 `json:"ss_between"`
			SSWithin  float64 `json:"ss_within"`
			F         float64
		}
	}
	golden(t, "nist_strd.json", &strd)
	for name, tol := range map[string]float64{"SiRstv": 1e-12, "AtmWtAg": 1e-8, "SmLs01": 1e-9, "SmLs04": 1e-8, "SmLs07": 1e-4} {
		var groups [][]float64
		for _, r := range table(t, "nist/"+name+".dat", 60, 2) {
			g := int(r[0])
			for len(groups) < g {
				groups = append(groups, nil)
			}
			groups[g-1] = append(groups[g-1], r[1])
		}
		v, want := OneWay(groups), strd.Anova[name]
		near.Rel(t, name+" between", v.Between, want.SSBetween, tol)
		near.Rel(t, name+" within", v.Within, want.SSWithin, tol)
		near.Rel(t, name+" F", v.F(), want.F, tol)
	}
	var hand struct {
		Anova3 struct {
			Data map[string][]float64
			SST  float64 `json:"ss_treatment"`
			F    float64
		}
	}
	golden(t, "handbook_cases.json", &hand)
	v := OneWay([][]float64{hand.Anova3.Data["1"], hand.Anova3.Data["2"], hand.Anova3.Data["3"]})
	near.Rel(t, "handbook between", v.Between, hand.Anova3.SST, 1e-12)
	near.Rel(t, "handbook F", v.F(), hand.Anova3.F, 1e-11)
}

type invented struct {
	x           []float64 // 1, loft, lie, cg, time
	carry, side []float64
	setting     []int
	order       []int
}

func shots(t *testing.T) (s invented) {
	t.Helper()
	rows := rows.Read(t, filepath.Join(data, "shots_invented.csv"))
	n := len(rows) - 1
	for i, r := range rows[1:] {
		num := func(c int) float64 { v, _ := strconv.ParseFloat(r[c], 64); return v }
		s.x = append(s.x, 1, num(2), num(3), num(4), float64(i)/float64(n-1)-.5)
		s.carry, s.side = append(s.carry, num(10)), append(s.side, num(11))
		s.setting, s.order = append(s.setting, int(r[1][0]-'A')), append(s.order, i+1)
	}
	return s
}

// scipy's conjugate posterior with known sigma, by Fit and by Regress.
func TestConjugateKnownSigma(t *testing.T) {
	var g struct {
		Known struct {
			M0, S0   []float64
			Sigma    float64
			PostMean []float64   `json:"post_mean"`
			PostCov  [][]float64 `json:"post_cov"`
			Log      float64     `json:"log_marginal"`
		} `json:"conjugate_known_sigma"`
	}
	golden(t, "golden_py.json", &g)
	k, s := g.Known, shots(t)
	const known = 1e13 // degrees of freedom that leave Sigma no doubt
	m := &Model{Dim: 1, Rest: 5, RestMean: k.M0, RestSD: k.S0, Scale: []float64{k.Sigma * k.Sigma * known}, ScaleDf: known, Views: []View{Whole(1)}}
	var rows []Row
	for i := range s.carry {
		rows = append(rows, Row{X: s.x[i*5 : i*5+5], Group: -1, Z: s.carry[i : i+1]})
	}
	p, err := Fit(m, rows)
	if err != nil {
		t.Fatal(err)
	}
	prior := NIG{Mean: k.M0, Var: make([]float64, 5)}
	for j := range k.S0 {
		prior.Var[j] = k.S0[j] * k.S0[j] / k.Sigma / k.Sigma
	}
	l, err := Regress(s.x, s.carry, 5, &prior)
	if err != nil {
		t.Fatal(err)
	}
	for i := range 5 {
		near.Rel(t, "Fit mean", p.Coef[i], k.PostMean[i], 1e-9)
		near.Rel(t, "Regress mean", l.Coef[i], k.PostMean[i], 1e-11)
		for j := range 5 {
			near.Rel(t, "Fit covariance", p.Cov[i*5+j], k.PostCov[i][j], 1e-8)
			near.Rel(t, "Regress covariance", l.V[i*5+j]*k.Sigma*k.Sigma, k.PostCov[i][j], 1e-11)
		}
	}
	lm, err := LogMarginal(s.x, s.carry, 5, prior, k.Sigma)
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "log marginal", lm, k.Log, 1e-12)
}

// The evidence that weighs alternatives is the same log marginal: differences
// between two priors must agree with the closed form.
func TestEvidenceOfAlternatives(t *testing.T) {
	s := shots(t)
	const sigma, known = 7.0, 1e13
	means := [][]float64{{215, 2, 0, 0, 0}, {215, -2, 1, 0, 0}}
	sds := [][]float64{{40, 3, 2, 4, 6}, {40, 1, 2, 1, 6}}
	m := &Model{Dim: 1, Effects: 5, Scale: []float64{sigma * sigma * known}, ScaleDf: known, Views: []View{Whole(1)}}
	var want [2]float64
	for a := range means {
		cov := make([]float64, 25)
		prior := NIG{Mean: means[a], Var: make([]float64, 5)}
		for j, v := range sds[a] {
			cov[j*5+j] = v * v
			prior.Var[j] = v * v / sigma / sigma
		}
		m.Alternatives = append(m.Alternatives, Alternative{Weight: 1, Mean: means[a], Cov: cov})
		var err error
		if want[a], err = LogMarginal(s.x, s.carry, 5, prior, sigma); err != nil {
			t.Fatal(err)
		}
	}
	var rows []Row
	for i := range s.carry {
		rows = append(rows, Row{X: s.x[i*5 : i*5+5], Group: -1, Z: s.carry[i : i+1]})
	}
	p, err := Fit(m, rows)
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "log Bayes factor", p.Evidence[0]-p.Evidence[1], want[0]-want[1], 1e-7)
	near.Rel(t, "posterior odds", p.Chosen[0]/p.Chosen[1], math.Exp(want[0]-want[1]), 1e-6)
}

func TestNormalInverseGamma(t *testing.T) {
	var g struct {
		Known struct {
			M0   []float64
			XNew []float64 `json:"x_new"`
		} `json:"conjugate_known_sigma"`
		NIG struct {
			A0, B0, An, Bn float64
			V0             []float64 `json:"V0_diag"`
			Mn             []float64
			Df             float64 `json:"pred_df"`
			Loc            float64 `json:"pred_loc"`
			Scale          float64 `json:"pred_scale"`
		}
	}
	golden(t, "golden_py.json", &g)
	s := shots(t)
	l, err := Regress(s.x, s.carry, 5, &NIG{Mean: g.Known.M0, Var: g.NIG.V0, A: g.NIG.A0, B: g.NIG.B0})
	if err != nil {
		t.Fatal(err)
	}
	for j := range g.NIG.Mn {
		near.Rel(t, "mean", l.Coef[j], g.NIG.Mn[j], 1e-11)
	}
	near.Rel(t, "a", l.A, g.NIG.An, 1e-14)
	near.Rel(t, "b", l.B, g.NIG.Bn, 1e-11)
	df, loc, scale := l.Predict(g.Known.XNew)
	near.Rel(t, "df", df, g.NIG.Df, 1e-14)
	near.Rel(t, "location", loc, g.NIG.Loc, 1e-12)
	near.Rel(t, "scale", scale, g.NIG.Scale, 1e-11)
}

// scipy's maximum likelihood under t errors: the line at its own weights and
// scale, and its weights from that line.
func TestStudentTWeights(t *testing.T) {
	var g struct {
		T struct {
			Beta, Weights []float64
			Scale         float64
		} `json:"student_t_em_nu4"`
	}
	golden(t, "golden_py.json", &g)
	s := shots(t)
	inf := math.Inf(1)
	const known = 1e13
	m := &Model{Dim: 1, Rest: 2, RestMean: make([]float64, 2), RestSD: []float64{inf, inf}, Nu: 4,
		Scale: []float64{g.T.Scale * g.T.Scale * known}, ScaleDf: known, Views: []View{Whole(1)}}
	var rows []Row
	for i := range s.carry {
		rows = append(rows, Row{X: s.x[i*5 : i*5+2], Group: -1, Z: s.carry[i : i+1], MinW: g.T.Weights[i], MaxW: g.T.Weights[i]})
	}
	f, err := iterate(m, rows)
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "intercept", f.coef[0], g.T.Beta[0], 1e-6)
	near.Rel(t, "loft", f.coef[1], g.T.Beta[1], 1e-5)
	for c := range f.cells { // scipy has no doubt of the line
		clear(f.cells[c].x)
	}
	for i := range rows {
		rows[i].MinW, rows[i].MaxW = 0, 0
	}
	f.updateWeights()
	for i, w := range g.T.Weights {
		near.Rel(t, "weight "+strconv.Itoa(i), f.weight[i], w, 1e-5)
	}
}

// lme4's random intercepts, at its own variance components: fixed effect, its
// standard error, and the shrunken deviation of each setting, unequal counts.
func TestRandomInterceptsOfLme4(t *testing.T) {
	var g struct {
		Side struct {
			Fixef     map[string]float64
			SE        float64
			SDSetting float64 `json:"sd_setting"`
			SDResid   float64 `json:"sd_resid"`
			Blup      map[string]float64
		} `json:"lmer_side_clean"`
	}
	golden(t, "golden_R.json", &g)
	s := shots(t)
	const known = 1e13
	m := &Model{Dim: 1, Rest: 1, Groups: 6, RestMean: []float64{0}, RestSD: []float64{math.Inf(1)}, Tau: []float64{g.Side.SDSetting},
		Scale: []float64{g.Side.SDResid * g.Side.SDResid * known}, ScaleDf: known, Views: []View{Whole(1)}}
	var rows []Row
	for i := range s.side {
		if s.order[i] != 7 && s.order[i] != 18 {
			rows = append(rows, Row{X: []float64{1}, Group: s.setting[i], Z: s.side[i : i+1]})
		}
	}
	p, err := Fit(m, rows)
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "fixed effect", p.Coef[0], g.Side.Fixef["(Intercept)"], 1e-7)
	near.Rel(t, "its standard error", math.Sqrt(p.Cov[0]), g.Side.SE, 1e-7)
	for name, want := range g.Side.Blup {
		near.Rel(t, "setting "+name, p.Group[name[0]-'A'], want, 1e-7)
	}
}

// R's additive least squares on the clean shots, in the limit of flat priors.
func TestAdditiveLeastSquaresOfR(t *testing.T) {
	var g struct {
		LM struct {
			Coef, SE map[string]float64
			Sigma    float64
		} `json:"additive_lm_clean"`
	}
	golden(t, "golden_R.json", &g)
	s := shots(t)
	var x, y []float64
	for i := range s.carry {
		if s.order[i] != 7 && s.order[i] != 18 {
			x, y = append(x, s.x[i*5:i*5+5]...), append(y, s.carry[i])
		}
	}
	l, err := Regress(x, y, 5, nil)
	if err != nil {
		t.Fatal(err)
	}
	near.Rel(t, "sigma", math.Sqrt(l.S2()), g.LM.Sigma, 1e-11)
	for j, name := range []string{"(Intercept)", "loft", "lie", "cg", "tc"} {
		near.Rel(t, name, l.Coef[j], g.LM.Coef[name], 1e-10)
		near.Rel(t, "se of "+name, l.SE(j), g.LM.SE[name], 1e-10)
	}
}
