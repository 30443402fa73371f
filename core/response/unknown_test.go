package response

import (
	"math"
	"testing"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/units"
)

// What is believed of a setting that nobody described is what settings of
// adjustable heads do, and not many times that: the differences between all
// pairs of settings of a head by the textbook, its doubt and the misfit.
func TestAnUndescribedSettingIsNoWonder(t *testing.T) {
	h := club.Example()
	all := h.Settings()
	changes, err := h.Changes(all)
	if err != nil {
		t.Fatal(err)
	}
	p, err := impact.Effects(impact.Baseline{Launch: flight.Launch{Speed: 133 * units.MPH, Angle: 13 * units.Degree, Spin: 3000 * units.RPM, Axis: 3 * units.Degree}}, h, 1)
	if err != nil {
		t.Fatal(err)
	}
	var square [K]float64
	pairs := 0.0
	for i := range changes {
		for j := range i {
			x := impact.Features(changes[i], changes[j])
			pairs++
			for k := range K {
				mean, v := 0.0, p.Misfit[k]*p.Misfit[k]
				for f := range x {
					mean += x[f] * p.Mean[f][k]
					for g := range x {
						v += x[f] * x[g] * p.Cov[(f*K+k)*impact.F*K+g*K+k]
					}
				}
				square[k] += mean*mean + v
			}
		}
	}
	for k, s := range square {
		does := math.Sqrt(s/pairs) / Scale[k]
		t.Logf("%s: settings differ by %.2f reference units, undescribed ones by %.2f", quantities[k], does, unknownSD[k])
		if r := unknownSD[k] / does; r < 1 || r > 3 {
			t.Errorf("%s: %.1f times what settings of a head differ by", quantities[k], r)
		}
	}
}
