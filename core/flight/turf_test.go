package flight

import (
	"math"
	"testing"

	"ferrule/core/units"
)

// The bounce of a rigid ball against the line that flights use, for drives of
// 100 to 170 mph: both see less run for a steeper landing and more on firm
// ground, and their difference lies within the doubt that is stated of a run.
func TestTurf(t *testing.T) {
	worst := 0.
	for _, l := range []Launch{launch(100, 16, 0, 3400, 0), launch(120, 14, 0, 3000, 0), launch(140, 12, 0, 2700, 0), launch(150, 14, 0, 3200, 0), launch(165, 12.5, 0, 2500, 0), launch(170, 10, 0, 2200, 0)} {
		f := newFlyer(l, newAero(Env{}.filled()))
		f.run(nil)
		g := f.landing(l, 0)
		speed := math.Hypot(f.vx, f.vy)
		run, bounces := turfOf(0).run(speed, g.Descent, f.spin())
		firm, _ := turfOf(1).run(speed, g.Descent, f.spin())
		soft, _ := turfOf(-1).run(speed, g.Descent, f.spin())
		steep, _ := turfOf(0).run(speed, g.Descent+10*units.Degree, f.spin())
		t.Logf("%.0f mph: lands at %.1f m/s, %.0f deg, %.0f rpm: turf %.1f yd in %d bounces (soft %.1f, firm %.1f, 10 deg steeper %.1f), line %.1f yd", l.Speed/units.MPH,
			speed, g.Descent/units.Degree, f.spin()/units.RPM, run/yard, bounces, soft/yard, firm/yard, steep/yard, (g.Total-g.Carry)/yard)
		if !(soft < run && run < firm && steep < run) {
			t.Errorf("soft %.1f, average %.1f, firm %.1f, steep %.1f m", soft, run, firm, steep)
		}
		worst = math.Max(worst, math.Abs(run-(g.Total-g.Carry)))
		if line, physics, n, err := Bounced(l, Env{}); err != nil || n != bounces || math.Abs(physics-run) > 1e-9 || math.Abs(line-(g.Total-g.Carry)) > 1e-9 {
			t.Errorf("Bounced: %.3f and %.3f m in %d bounces, %v", line, physics, n, err)
		}
	}
	if worst > RunDoubt {
		t.Errorf("turf and line differ by %.1f yd, the doubt stated of a run is %.0f yd", worst/yard, RunDoubt/yard)
	}
	if r, _ := turfOf(0).run(0, .5, 0); r != 0 {
		t.Errorf("a ball at rest runs %g m", r)
	}
	for _, bad := range []float64{math.NaN(), math.Inf(1)} {
		if r, n := turfOf(0).run(bad, .6, 200); n > 50 || r > 1e300 {
			t.Errorf("speed %g: %g m in %d bounces", bad, r, n)
		}
	}
}
