package decide

import (
	"encoding/json"
	"math"
	"os"
	"slices"
	"strconv"
	"testing"

	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/testdata/near"
	"ferrule/testdata/rows"
)

const data = "../../testdata/score/"

// table reads a CSV of numbers with one header row.
func table(t *testing.T, name string) [][]float64 {
	t.Helper()
	rows := rows.Read(t, data+name)
	if len(rows) < 5 {
		t.Fatalf("%s: %d rows", name, len(rows))
	}
	out := make([][]float64, len(rows)-1)
	for i, r := range rows[1:] {
		for _, c := range r {
			v, err := strconv.ParseFloat(c, 64)
			if err != nil {
				t.Fatal(err)
			}
			out[i] = append(out[i], v)
		}
	}
	return out
}

func golden(t *testing.T, name string, into any) {
	t.Helper()
	raw, err := os.ReadFile(data + name)
	if err == nil {
		err = json.Unmarshal(raw, into)
	}
	if err != nil {
		t.Fatal(err)
	}
}

// tukey is the quantile of the studentized range of k means (key
// Tukey1949). Nothing compares all pairs; it holds what Dunnett inverts and
// integrates by against another table.
func tukey(p float64, k, df int) float64 {
	return invert(p, df, float64(k-1), func(q float64) float64 {
		total := 0.0
		for i := -40; i <= 40; i++ {
			z := 0.2 * float64(i)
			total += 0.2 * math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) * math.Pow(phi(z)-phi(z-q), float64(k-1))
		}
		return total * float64(k)
	})
}

func TestTukeyAndDunnett(t *testing.T) {
	for _, r := range table(t, "tukey_dunnett_quantiles.csv") {
		k, df, p := int(r[0]), int(r[1]), r[2]
		if df != 6 && df != 12 && df != 54 {
			continue // the others lie between
		}
		near.Abs(t, "Tukey", tukey(p, k, df), r[3], 2e-4*r[3])
		n := make([]int, k-1)
		for i := range n {
			n[i] = 4
		}
		near.Abs(t, "Dunnett", dunnett(p, 4, n, df), r[4], 2e-6*r[4])
	}
	var g struct {
		Rows []struct {
			Estimate, SE float64
			Df           int
			Hi           float64 `json:"upper.CL"`
		} `json:"dunnett_clean_mvt"`
	}
	golden(t, "golden_R.json", &g)
	// unequal balls: 5, 4, 2, 4, 3, 4 of the invented shots
	for _, r := range g.Rows {
		near.Abs(t, "Dunnett, unequal", dunnett(.95, 5, []int{4, 2, 4, 3, 4}, r.Df)*r.SE, r.Hi-r.Estimate, 5e-4*(r.Hi-r.Estimate)) // mvtnorm draws: its own error is about 1e-4
	}
}

func TestEllipseFactors(t *testing.T) {
	for _, r := range table(t, "ellipse_factors.csv") {
		near.Abs(t, "next ball", nextBall(int(r[0]), int(r[0])-1, r[1]), r[3], 1e-9*r[3])
	}
	var g struct {
		H struct {
			N    int
			Mean []float64
			Cov  []float64
			Pred struct {
				Axes  []float64 `json:"semi_axes"`
				Angle float64   `json:"angle_deg_of_major_from_carry_axis"`
			} `json:"pred_ellipse80"`
		} `json:"hotelling_one_sample_AF"`
	}
	golden(t, "golden_R.json", &g)
	e := ellipse(g.H.N, g.H.Mean[0], g.H.Mean[1], g.H.Cov[0], g.H.Cov[1], g.H.Cov[3], g.H.N-1, .8)
	near.Abs(t, "long axis", e.A, g.H.Pred.Axes[0], 1e-6)
	near.Abs(t, "short axis", e.B, g.H.Pred.Axes[1], 1e-6)
	near.Abs(t, "turn", e.Turn*180/math.Pi, g.H.Pred.Angle, 1e-6)
	if ellipse(4, 0, 0, 1, 0, 1, 20, .8).Kind != "" || ellipse(5, 0, 0, 1, 0, 1, 20, .8).Kind == "" || ellipse(5, 0, 0, 0, 0, 0, 20, .8).Kind != "" {
		t.Error("an ellipse from four balls, none from five, or one without any spread")
	}
}

// TestEllipseHoldsTheNextBall: pooled over six settings of five balls, the
// next ball is inside four times in five.
func TestEllipseHoldsTheNextBall(t *testing.T) {
	rng := seed.Seed(4).Stream("balls")
	inside, n := 0, 4000
	for range n {
		var x, z [6][5]float64
		var xx, xz, zz float64
		var mx, mz float64
		for s := range x {
			var ax, az float64
			for b := range x[s] {
				u := rng.NormFloat64()
				x[s][b], z[s][b] = 12*u, 8*u+15*rng.NormFloat64()
				ax, az = ax+x[s][b]/5, az+z[s][b]/5
			}
			for b := range x[s] {
				xx += (x[s][b] - ax) * (x[s][b] - ax)
				xz += (x[s][b] - ax) * (z[s][b] - az)
				zz += (z[s][b] - az) * (z[s][b] - az)
			}
			if s == 0 {
				mx, mz = ax, az
			}
		}
		e := ellipse(5, mx, mz, xx/24, xz/24, zz/24, 24, .8)
		u := rng.NormFloat64()
		dx, dz := 12*u-e.X, 8*u+15*rng.NormFloat64()-e.Z
		sin, cos := math.Sincos(e.Turn)
		if a, b := (dx*cos+dz*sin)/e.A, (dz*cos-dx*sin)/e.B; a*a+b*b <= 1 {
			inside++
		}
	}
	near.Abs(t, "next ball inside", float64(inside)/float64(n), .8, .02)
}

func TestBrownForsythe(t *testing.T) {
	var g struct {
		BF struct{ F, Df1, Df2, P float64 } `json:"brown_forsythe_carry_all"`
	}
	golden(t, "golden_R.json", &g)
	groups := map[string][]float64{}
	rows := rows.Read(t, data+"shots_invented.csv")
	for _, r := range rows[1:] {
		v, _ := strconv.ParseFloat(r[10], 64)
		groups[r[1]] = append(groups[r[1]], v)
	}
	var list [][]float64
	for _, k := range []string{"A", "B", "C", "D", "E", "F"} {
		list = append(list, groups[k])
	}
	F, df1, df2, p := brownForsythe(list...)
	near.Abs(t, "F", F, g.BF.F, 1e-9)
	near.Abs(t, "df", df1*100+df2, g.BF.Df1*100+g.BF.Df2, 0)
	near.Abs(t, "p", p, g.BF.P, 1e-9)
}

func TestBallsNeeded(t *testing.T) {
	// the trade's table (two means, 80 % of seeing it, 5 %)
	for _, c := range []struct{ sd, d, n float64 }{{15, 5, 141}, {25, 5, 393}, {15, 10, 35}, {25, 10, 98}, {16, 10, 40}, {25, 10, 98},
		{1.4, 1, 31}, {3.1, 1, 151}, {600, 300, 63}, {1000, 300, 174}} {
		near.Abs(t, "balls each", ballsEach(c.sd, c.d, .8), c.n, 0.75)
	}
	for _, r := range table(t, "power.csv") {
		if r[3] >= 5 {
			near.Abs(t, "balls each by the t test", ballsEach(r[0], r[1], r[2])+0.96, r[3], 0.02*r[3]+0.3)
		}
		near.Abs(t, "balls to pick", ballsToPick(r[0], r[1], r[2]), r[4], 1e-6*r[4]+1e-9)
	}
	if ballsMore(0, 1, 3) != -1 || ballsMore(10, 0, 3) != mostBalls || ballsMore(10, 10, 40) != 0 || ballsMore(10, 10, 6) != 11 {
		t.Errorf("%d %d %d %d", ballsMore(0, 1, 3), ballsMore(10, 0, 3), ballsMore(10, 10, 40), ballsMore(10, 10, 6))
	}
	// by simulation: that many balls do see it four times in five
	rng := seed.Seed(9).Stream("power")
	n, seen := int(math.Ceil(ballsEach(10, 10, .8)+0.96)), 0
	const runs = 3000
	for range runs {
		a, b := make([]float64, n), make([]float64, n)
		for i := range a {
			a[i], b[i] = 10*rng.NormFloat64(), 10+10*rng.NormFloat64()
		}
		se := math.Sqrt((variance(a) + variance(b)) / float64(n))
		if math.Abs(mean(b)-mean(a)) > tFactors(2*n - 2)[2]*se {
			seen++
		}
	}
	near.Abs(t, "chance of seeing it", float64(seen)/runs, .8, .03)
}

// TestRawAverages: the differences hold for all settings at once.
func TestRawAverages(t *testing.T) {
	rng := seed.Seed(3).Stream("null")
	const runs = 600
	missed := 0
	f := factors{}
	for range runs {
		s := session{shots: hits(rng, 4, 0, 1, 2, 3, 4, 5), counts: make([]Count, 6)}
		averages := s.averages(f)
		for i := 1; i < 6; i++ {
			for _, a := range averages[i].raw {
				if a.Quantity == shot.Carry && (a.Difference.Lo95 > 0 || a.Difference.Hi95 < 0) {
					missed++
					i = 6
					break
				}
			}
		}
	}
	near.Abs(t, "any of five differences called real when none is", float64(missed)/runs, .05, .025)
	// three balls and one ball
	one := (&session{shots: hits(rng, 1, 0, 1, 2), counts: make([]Count, 3)}).averages(f)[1]
	for _, a := range one.raw {
		if a.Value.Lo95 != a.Value.Mean || a.Spread != 0 || math.IsNaN(a.Difference.Mean) {
			t.Errorf("one ball each: %+v", a)
		}
	}
	if one.ellipse != (report.Ellipse{}) {
		t.Error("an ellipse from one ball")
	}
}

func TestSpreadIsComparedOnlyFromTenBalls(t *testing.T) {
	list, changes := head80(3, 1)
	of := &settings{list: list, changes: changes}
	for _, n := range []int{9, 40} {
		rng := seed.Seed(8).Stream("wide")
		shots := hits(rng, n, 0, 1)
		for i := range shots[n:] {
			v := shots[n+i].Values
			v[shot.Offline] *= 4
		}
		notes := (&session{shots: shots}).spreadNotes(of)
		if n < 10 && len(notes) != 0 || n > 10 && (len(notes) != 1 || notes[0].Key != "note.spread.wider") {
			t.Errorf("%d balls: %+v", n, notes)
		}
	}
}

// Of the draws 1..n the quantile p, linear between (i+.5)/n, is p n + .5.
func TestAnIntervalHoldsItsShare(t *testing.T) {
	draws := make([]float64, 1000)
	for i := range draws {
		draws[(i*7)%1000] = float64(i + 1) // in another order
	}
	v := (&order{}).interval(draws)
	for what, c := range map[string][2]float64{
		"mean": {v.Mean, 500.5}, "50 lo": {v.Lo50, 250.5}, "50 hi": {v.Hi50, 750.5}, "80 lo": {v.Lo80, 100.5}, "80 hi": {v.Hi80, 900.5},
		"95 lo": {v.Lo95, 25.5}, "95 hi": {v.Hi95, 975.5},
	} {
		near.Abs(t, what, c[0], c[1], 1e-9)
	}
}

// TestIntervalAgainstSorting: the quantiles are those of the sorted draws, ties
// and few draws included.
func TestIntervalAgainstSorting(t *testing.T) {
	rng := seed.Seed(5).Stream("order")
	d := &order{}
	for n := 1; n < 400; n++ {
		v := make([]float64, n)
		for i := range v {
			v[i] = rng.NormFloat64()
			if n%3 == 0 {
				v[i] = math.Round(4 * v[i])
			}
		}
		got := d.interval(v)
		slices.Sort(v)
		for _, q := range []struct{ got, p float64 }{{got.Lo95, .025}, {got.Lo80, .1}, {got.Lo50, .25}, {got.Hi50, .75}, {got.Hi80, .9}, {got.Hi95, .975}} {
			if want := quantile(v, q.p); q.got != want {
				t.Fatalf("%d draws, %g: %g, sorted %g", n, q.p, q.got, want)
			}
		}
	}
}
