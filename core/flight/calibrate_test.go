package flight

import (
	"math"
	"testing"

	"ferrule/core/units"
	"ferrule/testdata/near"
)

// TestCalibrateMeasuredDrives does to the measured drives what the program does
// to a session: it calibrates on a fifth of a class, every fifth ball in five
// turns, and reports the other four fifths (`ferrule fly -measured FILE` prints
// more). The default model stays untuned. The limits on carry are what a trial
// of another program reached on classes b and c; class a is a ball that the
// default fits already, and calibrating may cost it a yard at most.
func TestCalibrateMeasuredDrives(t *testing.T) {
	for _, c := range []struct {
		class string
		carry float64 // [yd] root mean square
	}{{"a", 4.9}, {"b", 9.5}, {"c", 5.9}} {
		var all []drive
		for _, d := range drives(t) {
			if d.class == c.class {
				all = append(all, d)
			}
		}
		var sum [2][3]float64 // published, adjusted; carry, offline, apex squared
		n := 0.
		for turn := range 5 {
			var learn []Observation
			var rest []drive
			for i, d := range all {
				if i%5 != turn {
					rest = append(rest, d)
					continue
				}
				learn = append(learn, Observation{Launch: d.l, Carry: &d.carry, Apex: &d.apex, Offline: &d.offline})
			}
			m, _, err := Calibrate(learn, Env{})
			if err != nil {
				t.Fatal(err)
			}
			for k, ball := range []Model{Default(), m} {
				for _, d := range rest {
					g := mustFly(t, d.l, Env{Model: ball})
					sum[k][0] += math.Pow((g.Distance()-d.carry)/units.Yard, 2)
					sum[k][1] += math.Pow((g.Offline-d.offline)/units.Yard, 2)
					sum[k][2] += math.Pow((g.Apex-d.apex)/units.Foot, 2)
				}
			}
			n += float64(len(rest))
		}
		rms := func(k, q int) float64 { return math.Sqrt(sum[k][q] / n) }
		t.Logf("class %s, four fifths after learning from one, five turns, rms published and adjusted: carry %.2f %.2f yd, offline %.2f %.2f yd, apex %.2f %.2f ft",
			c.class, rms(0, 0), rms(1, 0), rms(0, 1), rms(1, 1), rms(0, 2), rms(1, 2))
		if rms(1, 0) > c.carry || rms(1, 1) > rms(0, 1) || rms(1, 2) > rms(0, 2) {
			t.Errorf("class %s after calibration: carry %.2f yd, want at most %.1f; offline %.2f, apex %.2f ft, want better than %.2f and %.2f",
				c.class, rms(1, 0), c.carry, rms(1, 1), rms(1, 2), rms(0, 1), rms(0, 2))
		}
	}
}

// Curve is found again, a steady error of the start line does not pass for it,
// and without sideways places it stays 1.
func TestCalibrateCurve(t *testing.T) {
	truth := Default()
	truth.Curve = 1.3
	var obs []Observation
	for i := range 60 {
		l := launch(140+10*sample(i, 0), 12+3*sample(i, 1), 2*sample(i, 2), 2800+600*sample(i, 3), 4+16*sample(i, 4))
		g := mustFly(t, l, Env{Model: truth})
		carry, offline := g.Distance(), g.Offline-2 // the device's line is off by 2 m
		obs = append(obs, Observation{Launch: l, Carry: &carry, Offline: &offline})
	}
	m, fit, err := Calibrate(obs, Env{})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(m.Curve-1.3) > .06 || fit.CurveSD > .1 || fit.CurveSD <= 0 {
		t.Errorf("Curve = %.3f ± %.3f, want 1.3", m.Curve, fit.CurveSD)
	}
	for i := range obs {
		obs[i].Offline = nil
	}
	if m, fit, _ = Calibrate(obs, Env{}); m.Curve != 1 || fit.CurveSD != 0 {
		t.Errorf("without sideways places: Curve %g ± %g, want 1 and 0", m.Curve, fit.CurveSD)
	}
	topped := launch(120, 10, 0, 2000, 170)
	if a, b := mustFly(t, topped, Env{Model: truth}), mustFly(t, topped, Env{}); b.Apex > a.Apex+3 || a.Apex > b.Apex+3 {
		t.Errorf("topped ball: apex %.1f m with Curve 1.3, %.1f without", a.Apex, b.Apex)
	}
}

// TestPriorIsTheSpread: the belief about a ball before its flights are seen is
// how the published models spread about the default along a drive. The two
// numbers may differ by a third, because six models are few.
func TestPriorIsTheSpread(t *testing.T) {
	var rms [3]float64
	along := [][2]float64{{1.5, .13}, {1.2, .15}, {.9, .2}} // R and S after the launch, on the way up, falling
	for _, at := range along {
		c0, l0 := Compromise{}.Coefficients(at[0], at[1])
		b0, _ := Compromise{}.Coefficients(at[0], at[1]-.03)
		for _, a := range Published[1:] {
			c, l := a.Coefficients(at[0], at[1])
			b, _ := a.Coefficients(at[0], at[1]-.03)
			for i, x := range []float64{c/c0 - 1, l/l0 - 1, (c-b)/(c0-b0) - 1} {
				rms[i] += x * x / float64(len(along)*(len(Published)-1))
			}
		}
	}
	for i, name := range []string{"drag", "lift", "drag for spin"} {
		got := math.Sqrt(rms[i])
		t.Logf("%s: published models %.3f about the default, prior %.2f", name, got, scaleSD[i])
		if !(math.Abs(got/scaleSD[i]-1) < 1./3) {
			t.Errorf("%s: published models spread by %.3f about the default, the prior says %.2f", name, got, scaleSD[i])
		}
	}
}

// Drawn as Doubt says, a calibrated ball varies as its posterior does.
func TestFitDoubt(t *testing.T) {
	f := Fit{Cov: [3][3]float64{{.0016, .0004, -.002}, {.0004, .0009, 0}, {-.002, 0, .01}}}
	m := Default()
	m.KD, m.KS = 1.25, .8
	rows := f.Doubt(m)
	scale, least := [3]float64{m.KD, m.KL, m.KS}, [3]float64{.01, .01, .1}
	for i := range 3 {
		for j := range 3 {
			got, want := 0., f.Cov[i][j]/(scale[i]*scale[j])
			if i == j {
				want += least[i] * least[i]
			}
			for _, cause := range rows {
				got += cause[i] * cause[j]
			}
			near.Abs(t, "covariance", got, want, 1e-12)
		}
	}
}
