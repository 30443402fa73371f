package air

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/units"
)

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.7g, want %.7g ± %g", what, got, want, tolerance)
	}
}

// Anchors from outside the formulas: Penner 2001 uses 1.204 kg/m^3; the standard
// atmosphere's tables print 898.75 hPa and 794.95 hPa at geopotential altitudes
// of 1000 and 2000 m, and a viscosity of 1.7894e-5 Pa s at 15 degC (from memory).
func TestAnchors(t *testing.T) {
	dry := Standard()
	dry.Humidity = 0
	near(t, "dry density", dry.Density(), 1.2041, 6e-4)
	if !(Standard().Density() < dry.Density()) {
		t.Error("moist air is not lighter than dry air")
	}
	near(t, "standard density", Air{Temperature: 288.15, Pressure: 101325}.Density(), Density0, 1e-3)
	near(t, "pressure at 1000 m", AtAltitude(1000)/units.HPa, 898.75, .02)
	near(t, "pressure at 2000 m", AtAltitude(2000)/units.HPa, 794.95, .02)
	near(t, "pressure at sea level", AtAltitude(0), SeaLevel, 1e-9)
	near(t, "viscosity", Air{Temperature: 288.15}.Viscosity(), 1.7894e-5, 2e-8)
}

func TestWind(t *testing.T) {
	near(t, "wind at 10 m", Profile(10), 1, 1e-3) // the rounded height is 10.05 m there
	if !(Profile(0) > .5 && Profile(0) < .7 && Profile(30) > 1.1) {
		t.Errorf("profile: %g at the ground, %g at 30 m", Profile(0), Profile(30))
	}
	a := Air{Wind: 5}
	if x, z := a.WindVector(); x != -5 || z != 0 {
		t.Errorf("head wind = (%g, %g), want (-5, 0)", x, z)
	}
	a.WindFrom = math.Pi / 2
	if x, z := a.WindVector(); math.Abs(x) > 1e-12 || z != -5 {
		t.Errorf("wind from the right = (%g, %g), want (0, -5)", x, z)
	}
}

func TestFrom(t *testing.T) {
	p := func(v float64) *float64 { return &v }
	a, err := From(nil, nil, nil, nil, 0, 0)
	if err != nil || a != Standard() {
		t.Errorf("From(nothing) = %+v, %v", a, err)
	}
	a, err = From(p(300), nil, p(.2), p(1500), 3, .1)
	if err != nil || a.Pressure != AtAltitude(1500) || a.Temperature != 300 || a.Wind != 3 {
		t.Errorf("From = %+v, %v", a, err)
	}
	if a, _ = From(nil, p(95000), nil, p(1500), 0, 0); a.Pressure != 95000 {
		t.Errorf("a stated pressure lost to the altitude: %g", a.Pressure)
	}
	for what, f := range map[string]func() (Air, error){
		"temperature": func() (Air, error) { return From(p(20), nil, nil, nil, 0, 0) },
		"pressure":    func() (Air, error) { return From(nil, p(1013), nil, nil, 0, 0) },
		"humidity":    func() (Air, error) { return From(nil, nil, p(50), nil, 0, 0) },
		"altitude":    func() (Air, error) { return From(nil, nil, nil, p(math.NaN()), 0, 0) },
		"wind":        func() (Air, error) { return From(nil, nil, nil, nil, math.Inf(1), 0) },
		"direction":   func() (Air, error) { return From(nil, nil, nil, nil, 1, math.NaN()) },
	} {
		if _, err := f(); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("bad %s: %v", what, err)
		}
	}
}
