package decide

import (
	"fmt"
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/testdata/near"
)

// TestKnowledgeGradient against quadrature (golden_py.json, decision_3) and
// the five-dimensional cloud against the line.
func TestKnowledgeGradient(t *testing.T) {
	var g struct {
		D struct {
			Mu    []float64
			Cov   [][]float64
			Noise float64   `json:"kg_noise_var_per_shot"`
			Shots float64   `json:"kg_shots"`
			KG    []float64 `json:"kg"`
			PBest []float64 `json:"p_best"`
			EVPI  float64
		} `json:"decision_3"`
	}
	golden(t, "golden_py.json", &g)
	mu := make([]float64, 3)
	low := math.Inf(1)
	for i, v := range g.D.Mu {
		mu[i] = -v
		low = math.Min(low, -v)
	}
	for c, want := range g.D.KG {
		line, cloudy := make([]float64, 3), make([]float64, 15)
		for j := range line {
			line[j] = g.D.Cov[j][c] / math.Sqrt(g.D.Cov[c][c]+g.D.Noise/g.D.Shots)
			cloudy[5*j+1] = 0.6 * line[j] // the same step, split over two directions
			cloudy[5*j+3] = 0.8 * line[j]
		}
		near.Abs(t, "on a line", low-expectedLow(mu, line, 1), want, 0.01*want+0.002)
		near.Abs(t, "in the cloud", low-expectedLow(mu, cloudy, 5), want, 0.05*want+0.005)
	}
	// the same belief as draws: chance of being best and expected loss
	l := [3][3]float64{}
	for i := range 3 {
		for j := range i + 1 {
			v := g.D.Cov[i][j]
			for k := range j {
				v -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(v)
			} else {
				l[i][j] = v / l[j][j]
			}
		}
	}
	settings, changes := head80(3, 1)
	d, err := New(config(t, settings, changes, shot.Aim{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	const draws = 40000
	d.draws = draws
	rng := seed.Seed(2).Stream("belief")
	for i := range d.rows {
		d.rows[i] = row{cost: make([]float64, draws), level: make([]float64, draws)}
	}
	for k := range draws {
		z := [3]float64{rng.NormFloat64(), rng.NormFloat64(), rng.NormFloat64()}
		for i := range 3 {
			d.rows[i].cost[k] = mu[i]
			for j := range i + 1 {
				d.rows[i].cost[k] -= l[i][j] * z[j]
			}
			d.rows[i].level[k] = d.rows[i].cost[k]
		}
	}
	c := d.compare()
	for i, want := range g.D.PBest {
		near.Abs(t, "chance of being best", c.rows[i].out.PBest, want, 0.01)
	}
	near.Abs(t, "expected loss of the leader", c.rows[1].out.Loss, g.D.EVPI, 0.03)
	noise := math.Sqrt(g.D.Noise)
	d.perDraw, d.ref.cost = 2, []float64{noise / math.Sqrt2, -noise / math.Sqrt2}
	for c, v := range d.lookahead(c).gains([]int{0, 1, 2}, int(g.D.Shots))[0] {
		near.Abs(t, fmt.Sprint("from draws, ", c), v, g.D.KG[c], 0.1*g.D.KG[c]+0.02)
	}
}

// TestFewBallsADrawDoNotPassForDoubt: sixteen balls a draw scatter a draw's
// mean by more than the doubt; what is left is the doubt.
// means of groups of per.
func means(v []float64, per int) []float64 {
	out := make([]float64, len(v)/per)
	for i := range out {
		out[i] = mean(v[i*per : (i+1)*per])
	}
	return out
}

func TestFewBallsADrawDoNotPassForDoubt(t *testing.T) {
	rng := seed.Seed(6).Stream("quiet")
	for _, doubt := range []float64{0.03, 0.1, 0.3} {
		var raw, left float64
		const reps = 60
		for range reps {
			const draws, per = 150, 16
			balls := make([]float64, draws*per)
			for k := range draws {
				m := doubt * rng.NormFloat64()
				for b := range per {
					balls[k*per+b] = m + 0.4*rng.NormFloat64()
				}
			}
			level := means(balls, per)
			raw += math.Sqrt(variance(level)) / reps
			left += math.Sqrt(variance(quiet(level, within(balls, nil, per), per))) / reps
		}
		t.Logf("doubt %.2f: scatter of the draws %.3f, left %.3f", doubt, raw, left)
		if left < 0.95*doubt || left > 1.5*doubt || left > 1.1*doubt && doubt > 0.05 {
			t.Errorf("doubt %.2f: scatter of the draws %.3f, left %.3f", doubt, raw, left)
		}
	}
	if v := below([]float64{1, 1, 1}, 2); v != 1 {
		t.Errorf("certain, but %g", v)
	}
	if v := below([]float64{0, 0}, 0); v != 0.5 {
		t.Errorf("equal, but %g", v)
	}
}

// TestABallThatDecides: without it another setting leads, and that is said.
func TestABallThatDecides(t *testing.T) {
	settings, changes := head80(3, 1)
	d, err := New(config(t, settings, changes, shot.Aim{Goal: shot.GoalFairways}, nil))
	if err != nil {
		t.Fatal(err)
	}
	rng := seed.Seed(3).Stream("ball")
	d.draws = 150
	lik := make([]float64, 150)
	for i := range d.rows {
		d.rows[i] = row{cost: make([]float64, 150), level: make([]float64, 150), out: report.Setting{Setting: settings[i], Feasible: true, Strokes: report.Interval{}}}
	}
	for k := range 150 {
		z := rng.NormFloat64()
		d.rows[1].cost[k] = -0.02 + 0.05*z
		d.rows[2].cost[k] = -0.01 + 0.01*rng.NormFloat64()
		lik[k] = -0.8 * z // the ball is likelier where setting 1 does well
	}
	c := d.compare()
	groups := []influence{{Setting: -1, Line: 17, LogLik: lik}, {Setting: -1, Line: 18, LogLik: make([]float64, 150)}, {Setting: 2, LogLik: lik}, {Line: 3}}
	asked := 0
	ms := (&flips{comparison: c}).influences(report.Choice{Setting: 1}, groups, &asked)
	if len(ms) != 2 || ms[0].Key != "flip.ball" || ms[0].Args[1].Value != 17 || ms[1].Key != "flip.setting" || asked != 3 {
		t.Errorf("%d asked: %+v", asked, ms)
	}
}

// TestThousandsOfSettings: nothing but a few numbers a draw is kept, and the
// work grows in proportion.
func TestThousandsOfSettings(t *testing.T) {
	const n = 1200
	var settings []club.Setting
	var changes []club.Change
	for i := range n {
		settings = append(settings, club.Setting{Sleeve: fmt.Sprint("position ", i)})
		changes = append(changes, club.Change{Lean: 0.001 * float64(i%37)})
	}
	d, err := New(config(t, settings, changes, shot.Aim{}, hits(seed.Seed(1).Stream("x"), 5, 0, 7, 9, 0)))
	if err != nil {
		t.Fatal(err)
	}
	for i := range n {
		o := outcomes(settings[:1], []spec{{carry: 190 + 0.005*float64(i), doubt: 3}}, 40, 8, 1)
		if err := d.Add(i, &o[0]); err != nil {
			t.Fatal(err)
		}
	}
	r, err := d.Result()
	if err != nil || len(r.Settings) != n || len(r.Next) == 0 || len(r.Plan) == 0 {
		t.Fatalf("%v: %d settings", err, len(r.Settings))
	}
	if best := r.Choice.Setting; !r.Choice.Keep && best < n/2 {
		t.Errorf("%+v", r.Choice)
	}
}

// TestTheBallThatCarriesTheAdvice: the likelihoods are found from the launches.
func TestTheBallThatCarriesTheAdvice(t *testing.T) {
	settings, changes := head80(2, 1)
	o := outcomes(settings, []spec{{carry: 190, doubt: 4}, {carry: 192, doubt: 4}}, 150, 16, 4)
	shots := hits(seed.Seed(1).Stream("x"), 8, 0, 1)
	for i := range shots {
		shots[i].Values[shot.BallSpeed] = 60 + 190.0/4 + 0.5*float64(shots[i].Setting)
	}
	shots[15].Values[shot.BallSpeed] += 1.2
	d, err := New(config(t, settings, changes, shot.Aim{}, shots))
	if err != nil {
		t.Fatal(err)
	}
	for i := range o {
		if err := d.Add(i, &o[i]); err != nil {
			t.Fatal(err)
		}
	}
	groups := (&flips{d.compare(), nil, d.shots, d.cfg.Spread}).leftOut()
	if len(groups) != 17 { // one setting besides today's, and sixteen balls
		t.Fatalf("%d groups", len(groups))
	}
	fast := groups[16]
	before, after := mean(d.rows[1].cost), 0.0
	w, n := without(fast.LogLik)
	for k := range w {
		after += w[k] * d.rows[1].cost[k]
	}
	if !(after > before+0.001) || n < enough {
		t.Errorf("without the fast ball the setting is worth %.4f, with it %.4f; %.0f draws left", after, before, n)
	}
}
