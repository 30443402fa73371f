package flight

import (
	"encoding/csv"
	"math"
	"os"
	"strconv"
	"testing"

	"ferrule/core/air"
	"ferrule/core/units"
)

// reference is a row of testdata/flight/cases.csv.
type reference struct {
	id, kind, quantity, unit, source, status string
	expected, tolerance                      float64
}

func references(t *testing.T) []reference {
	t.Helper()
	f, err := os.Open("../../testdata/flight/cases.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var refs []reference
	for _, r := range rows[1:] {
		e, err1 := strconv.ParseFloat(r[12], 64)
		tol, err2 := strconv.ParseFloat(r[14], 64)
		if r[12] == "identity" {
			e, err1 = math.NaN(), nil
		}
		if err1 != nil || err2 != nil {
			t.Fatalf("case %s: %v %v", r[0], err1, err2)
		}
		refs = append(refs, reference{r[0], r[1], r[11], r[13], r[16], r[17], e, tol})
	}
	return refs
}

// TestFlightCases computes every row of cases.csv that is no closed form (those
// are in TestClosedForms, the independent solver in TestOracle) and prints the
// table. Kind "practice" is common practice without a source: memory, not proof.
func TestFlightCases(t *testing.T) {
	warm := Env{Air: celsius(25)}
	odd := Env{Air: celsius(23.9)}
	drag := func(l Launch, e Env, by float64) float64 {
		f := newFlyer(l, newAero(e.filled()))
		f.own = false
		f.fixed = func(r, s float64) (float64, float64) {
			cd, cl := Compromise{}.Coefficients(r, s)
			return cd + by, cl
		}
		f.run(nil)
		return f.x / units.Yard
	}
	paper := launch(159.9, 6, 0, 3000, 0)
	high := warm
	high.Air.Pressure = air.AtAltitude(7800 * units.Foot)
	tour := launch(168, 10.7, 0, 2650, 0)
	low, up := mustFly(t, tour, warm), mustFly(t, tour, high)
	coefficient := func(re, s float64, lift bool) float64 {
		cd, cl := Default().Coefficients(re, s)
		if lift {
			return cl
		}
		return cd
	}
	p1, p2 := mustFly(t, launch(167, 12.2, 0, 2300, 0), warm), mustFly(t, launch(165, 15.3, 0, 2900, 0), warm)
	p3, p4 := mustFly(t, launch(166, 13, 0, 2185, 0), warm), mustFly(t, launch(166.5, 12.5, 0, 2300, 0), warm)
	o1, o2 := mustFly(t, launch(176, 10, 0, 2520, 0), odd), mustFly(t, launch(183, 11, 0, 2200, 0), odd)
	got := map[string]float64{
		"C1 CL": coefficient(1.5e5, .15, true), "C2 CD": coefficient(1.5e5, .15, false),
		"C3 CL": coefficient(2e5, .092, true), "C4 CD": coefficient(2e5, .092, false),
		"L1 d carry for +0.0025 CD":              drag(paper, Env{}, .0025) - drag(paper, Env{}, 0),
		"L2 carry spread of 13 production balls": drag(paper, Env{}, -.01) - drag(paper, Env{}, .01),
		"P1 apex":                                p1.Apex / units.Foot, "P2 apex": p2.Apex / units.Foot, "P2 carry": p2.Carry / units.Yard,
		"P3 carry": p3.Carry / units.Yard, "P3 total": p3.Total / units.Yard, "P3 apex": p3.Apex / units.Foot,
		"P4 carry": p4.Carry / units.Yard, "P4 total": p4.Total / units.Yard,
		"O1 total (limit 317 + 3 yd; best conforming balls sit just under)":   o1.Total / units.Yard,
		"O2 total of a present-day ball (317 + the 13-15 yd said to be lost)": o2.Total / units.Yard,
		"H1 carry change": 100 * (up.Carry/low.Carry - 1), "H2 apex change": 100 * (up.Apex/low.Apex - 1),
		"H3 descent change":              (up.Descent - low.Descent) / units.Degree,
		"F1 carry with perfect delivery": coupled(t, 135, warm), "F2 carry with perfect delivery": coupled(t, 150, warm),
	}
	// Cases that the model misses, with why; each must still miss, or leave here.
	misses := map[string]string{
		"C1 CL":                          "a computed flow round one smooth-dimpled sphere; wind-tunnel balls lift more",
		"C4 CD":                          "one patent's example ball; 27 points of many balls pass below it",
		"P3 apex":                        "practice flights climb 5-10 ft higher than the unscaled compromise; scaling it up spoils the measured drives",
		"F1 carry with perfect delivery": "the page's golfer is not free to reach the best launch and spin that this search finds",
	}
	seen := 0
	for _, r := range references(t) {
		name := r.id + " " + r.quantity
		v, ok := got[name]
		if !ok {
			if r.kind != "analytic" && r.id != "N1" && r.kind != "spin" && r.id != "S1" {
				t.Errorf("case %q is not computed", name)
			}
			continue
		}
		seen++
		inside := math.Abs(v-r.expected) <= r.tolerance
		t.Logf("%-11s %-30.30s got %8.3f  expected %8.3f ± %-6g %-3s %v", r.kind, name, v, r.expected, r.tolerance, r.unit, inside)
		why, known := misses[name]
		t.Logf("proof\tabs\t%s\t%.6g\t%.6g\t%g\t%s", name, v, r.expected, r.tolerance, why) // read by cmd/proof
		if inside == known {
			t.Errorf("case %q = %.4g, want %.4g ± %g (%s; known miss: %q)", name, v, r.expected, r.tolerance, r.source, why)
		}
	}
	if seen != len(got) {
		t.Errorf("%d cases computed, %d found in the file", len(got), seen)
	}
}

// coupled is the best carry [yd] at a ball speed [mph] when spin follows
// launch as a rigid ball on a level attack: launch = .855 of the spin loft and
// spin = 127 eta V sin(spin loft), eta .85, ball speed 1.5 of club speed.
func coupled(t *testing.T, mph float64, e Env) float64 {
	best := 0.
	for loft := 6.; loft < 24; loft += .25 {
		rpm := 127 * .85 * mph / 1.5 * math.Sin(loft*units.Degree)
		for attack := 0.; attack <= 4; attack += 4 {
			g := mustFly(t, launch(mph, .855*loft+attack, 0, rpm, 0), e)
			best = math.Max(best, g.Carry/units.Yard)
		}
	}
	return best
}
