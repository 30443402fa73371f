package main

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ferrule/core/flight"
)

// TestFlightCases computes every row of cases.csv with the default model; the
// misses are named, each with why, and a miss that no longer misses fails too.
// Kind "practice" is common practice without a source: memory, not proof.
func TestFlightCases(t *testing.T) {
	list, err := flightCases()
	if err != nil {
		t.Fatal(err)
	}
	got := computed(flight.Compromise{})
	for _, c := range list {
		v, ok := got[c.name]
		if !ok {
			t.Errorf("case %q is not computed", c.name)
			continue
		}
		t.Logf("proof\tabs\t%s\t%.6g\t%.6g\t%g\t%s", c.name, v, c.expected, c.tolerance, known[c.name]) // read by cmd/proof
		inside := math.Abs(v-c.expected) <= c.tolerance
		if why := known[c.name]; inside == (why != "") {
			t.Errorf("case %q = %.4g, want %.4g ± %g (%s; known miss: %q)", c.name, v, c.expected, c.tolerance, c.source, why)
		}
	}
	if len(list)+1 != len(got) {
		t.Errorf("%d cases computed, %d in the file", len(got)-1, len(list))
	}
}

func TestFlyCasesCommand(t *testing.T) {
	status, out, errs := flyOn(t, "", "-cases")
	if status != exitDone || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	for _, want := range []string{"COMP", "BH76", "O1 total", "sources of the cases", "arXiv:1806.00378", "known misses", "good to ± 10 yd"} {
		if !strings.Contains(out, want) {
			t.Errorf("the table lacks %q", want)
		}
	}
	// Published models disagree on the sign of carry against spin.
	up, down := false, false
	for _, a := range flight.Published {
		x := computed(a)[spinSweep]
		up, down = up || x > .5, down || x < -.5
	}
	if !up || !down {
		t.Error("the published models agree on the sign of carry against spin: the text of the table is wrong")
	}
}

// TestPopulation: what package flight holds of the published points is what the
// fit to them says today: the mean ball, and the spread of balls about the default.
func TestPopulation(t *testing.T) {
	points, err := coefficients()
	if err != nil {
		t.Fatal(err)
	}
	h := newHierarchy(points)
	if err := h.fit(); err != nil {
		t.Fatal(err)
	}
	for k, x := range h.mean {
		if math.Abs(x-flight.PointsShape[k]) > 6e-5 {
			t.Errorf("the mean ball's %s is %.4f, package flight says %.4f", shapeNames[k], x, flight.PointsShape[k])
		}
	}
	_, cov := h.population()
	is := flight.Balls().Cov
	for i := range cov {
		for j := range cov {
			if i == flight.TraitCurve || i == flight.TraitDecay || cov[i][i] == 0 || cov[j][j] == 0 {
				continue
			}
			if d := (cov[i][j] - is[i][j]) / math.Sqrt(cov[i][i]*cov[j][j]); math.Abs(d) > .015 {
				t.Errorf("%s and %s: covariance %.4f, package flight says %.4f", traitNames[i], traitNames[j], cov[i][j], is[i][j])
			}
		}
	}
	status, out, _ := flyOn(t, "", "-fit", "../../testdata/measured/drives.csv")
	if status != exitDone || strings.Count(out, "drives a:") != 2 || !strings.Contains(out, "residuals by source") {
		t.Errorf("status %d, %q", status, out)
	}
	var apart float64
	if _, line, _ := strings.Cut(out, "13 balls of this population carry "); line == "" {
		t.Error("the spread of 13 balls is not printed")
	} else if _, err := fmt.Sscan(line, &apart); err != nil || math.Abs(apart-18) > 6 {
		t.Errorf("13 balls carry %.1f m apart, %v; published of 13 production balls: 18 ± 6 m [LKS18]", apart, err)
	}
}

// TestHierarchyFindsBalls: of points made of a known mean ball and of balls that
// differ as known, the fit finds both, a gross error among them or not.
func TestHierarchyFindsBalls(t *testing.T) {
	points, err := coefficients()
	if err != nil {
		t.Fatal(err)
	}
	truth := [shapes]float64{.22, .025, .5, 1, .006, .17, .8, .4, .009, .005}
	r := rand.New(rand.NewPCG(1, 1))
	differ := map[string][differences]float64{}
	for i, c := range points {
		z, ok := differ[c.ball]
		if !ok {
			for k, sd := range [differences]float64{.02, .1, .015, .1, .2} {
				z[k] = sd * r.NormFloat64() / math.Sqrt(sourceOf(c.source).balls)
			}
			differ[c.ball] = z
		}
		points[i].value = .1 * c.sd * r.NormFloat64()
		for k, x := range c.shape() {
			points[i].value += x * truth[k]
		}
		for k, x := range c.own(truth[atLoss]) {
			points[i].value += x * z[k]
		}
	}
	points[3].value += .5
	h := newHierarchy(points)
	if err := h.fit(); err != nil {
		t.Fatal(err)
	}
	for k, x := range h.mean {
		if !(math.Abs(x-truth[k]) < 3*h.se[k]) {
			t.Errorf("%s = %.4f ± %.4f, want %.4f", shapeNames[k], x, h.se[k], truth[k])
		}
	}
	if h.weight[3] > .1 {
		t.Errorf("the gross error weighs %.2f", h.weight[3])
	}
	if d := math.Sqrt(h.cov[0][0]); d < .009 || d > .03 {
		t.Errorf("balls spread by %.4f in drag, want about .02", d)
	}
}

func TestFlyWhatIfAndLevel(t *testing.T) {
	status, out, errs := flyOn(t, `{"ball_speed_mph":150,"launch_deg":12,"spin_rpm":2700,"wind_mps":5,"altitude_m":900,"carry_m":205,"apex_m":27}`, "-json", "-what-if", "-level")
	if status != exitDone || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	for _, want := range []string{`"air":"head"`, `"reach":{"launch_rad":`, `"raw":{"carry_m":205,"apex_m":27}`, `"standard":{"carry_m":2`} {
		if !strings.Contains(out, want) {
			t.Errorf("no %s in %s", want, out)
		}
	}
	if status, out, _ = flyOn(t, "", "-what-if", "150", "12", "2700"); status != exitDone || !strings.Contains(out, "head wind") || !strings.Contains(out, "best within reach") {
		t.Errorf("status %d, %q", status, out)
	}
	if status, out, _ = flyOn(t, "", "-model=nms04", "150", "12", "2700"); status != exitDone || !strings.Contains(out, "carry") {
		t.Errorf("status %d, %q", status, out)
	}
	if status, _, errs = flyOn(t, "", "-model=none", "150", "12", "2700"); status != exitUsage || !strings.Contains(errs, "NMS04") {
		t.Errorf("status %d, %q", status, errs)
	}
	if status, _, errs = flyOn(t, "", "-measured", "no-such-file"); status != exitInput || !strings.Contains(errs, "no-such-file") {
		t.Errorf("status %d, %q", status, errs)
	}
	if status, out, _ = flyOn(t, "", "-measured", "../../testdata/measured/drives.csv"); status != exitDone {
		t.Errorf("status %d, %q", status, out)
	}
	for _, want := range []string{"c adjusted, all turns", "by regression alone", "a offline by what the model says of its curve", "slow swings", "a < 120 mph"} {
		if !strings.Contains(out, want) {
			t.Errorf("no %q in %s", want, out)
		}
	}
}

// TestRegression: what was put in is found, a wild value among it or not.
func TestRegression(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 2))
	one, x, y := make([]float64, 60), make([]float64, 60), make([]float64, 60)
	for i := range y {
		one[i], x[i] = 1, r.NormFloat64()
		y[i] = 2 - 3*x[i] + .1*r.NormFloat64()
	}
	y[5] += 50
	b, se, err := regression(y, [][]float64{one, x})
	if err != nil || math.Abs(b[0]-2) > .06 || math.Abs(b[1]+3) > .06 || !(se[1] > .005 && se[1] < .05) {
		t.Errorf("%.3f ± %.3f, %v, want 2 and -3", b, se, err)
	}
	if _, _, err := regression(y[:1], [][]float64{one[:1], x[:1]}); err == nil {
		t.Error("one value determined two columns")
	}
}
