package flight

import (
	"math"
	"testing"

	"ferrule/core/units"
)

// TestCalibrateMeasuredDrives does to the measured drives what the program does
// to a session: it calibrates on every second ball of a class, as a user's
// session would, and reports the others. The default model stays untuned.
func TestCalibrateMeasuredDrives(t *testing.T) {
	for _, c := range []struct {
		class          string
		carry, offline float64 // [yd] held on the other half, what the first run printed, rounded up
	}{{"a", 4.9, 4.5}, {"b", 8.6, 5.4}, {"c", 5.7, 4.6}} {
		var learn []Observation
		var rest []drive
		i := 0
		for _, d := range drives(t) {
			if d.class != c.class {
				continue
			}
			if i++; i%2 == 0 {
				rest = append(rest, d)
				continue
			}
			learn = append(learn, Observation{Launch: d.l, Carry: &d.carry, Apex: &d.apex, Offline: &d.offline})
		}
		m, fit, err := Calibrate(learn, Env{})
		if err != nil {
			t.Fatal(err)
		}
		rms := func(m Model) (carry, offline, apex float64) {
			for _, d := range rest {
				g := mustFly(t, d.l, Env{Model: m})
				carry += math.Pow((g.Distance()-d.carry)/units.Yard, 2)
				offline += math.Pow((g.Offline-d.offline)/units.Yard, 2)
				apex += math.Pow((g.Apex-d.apex)/units.Foot, 2)
			}
			n := float64(len(rest))
			return math.Sqrt(carry / n), math.Sqrt(offline / n), math.Sqrt(apex / n)
		}
		c0, o0, a0 := rms(Default())
		c1, o1, a1 := rms(m)
		t.Logf("class %s: learnt from %d, KD %.3f KL %.3f KS %.2f Curve %.2f ± %.2f; the other %d, rms before and after: carry %.2f %.2f yd, offline %.2f %.2f yd, apex %.2f %.2f ft",
			c.class, len(learn), m.KD, m.KL, m.KS, m.Curve, fit.CurveSD, len(rest), c0, c1, o0, o1, a0, a1)
		if c1 > c.carry || o1 > c.offline || o1 > o0 {
			t.Errorf("class %s after calibration: carry %.2f yd, offline %.2f yd; held at %.1f, %.1f", c.class, c1, o1, c.carry, c.offline)
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
