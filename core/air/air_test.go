package air

import (
	"encoding/csv"
	"fmt"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/units"
	"ferrule/testdata/near"
)

// An anchor from outside the formulas: Penner 2001 uses 1.204 kg/m^3.
func TestAnchors(t *testing.T) {
	dry := Standard()
	dry.Humidity = 0
	near.Abs(t, "dry density", dry.Density(), 1.2041, 6e-4)
	if !(Standard().Density() < dry.Density()) {
		t.Error("moist air is not lighter than dry air")
	}
	near.Abs(t, "standard density", Air{Temperature: 288.15, Pressure: 101325}.Density(), Density0, 1e-3)
	near.Abs(t, "pressure at sea level", AtAltitude(0), SeaLevel, 1e-9)
}

func TestWind(t *testing.T) {
	near.Abs(t, "wind at 10 m", Profile(10), 1, 1e-3) // the rounded height is 10.05 m there
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
		"wind from":   func() (Air, error) { return From(nil, nil, nil, nil, 1, math.NaN()) },
	} {
		if _, err := f(); err == nil || !strings.Contains(err.Error(), what) {
			t.Errorf("bad %s: %v", what, err)
		}
	}
}

// cipm is the density of moist air by the whole formula [CIPM2007], 400 ppm of
// carbon dioxide; the coefficients came from memory and stand against iapws in
// TestMoistAir.
func cipm(p, t, h float64) float64 {
	c := t - 273.15
	vapour := math.Exp(1.2378847e-5*t*t - 1.9121316e-2*t + 33.93711047 - 6343.1645/t)
	x := h * (1.00062 + 3.14e-8*p + 5.6e-7*c*c) * vapour / p
	z := 1 - p/t*(1.58123e-6-2.9331e-8*c+1.1043e-10*c*c+(5.707e-6-2.051e-8*c)*x+(1.9898e-4-2.376e-6*c)*x*x) + p*p/t/t*(1.83e-11-.765e-8*x*x)
	return 3.483740e-3 * p / (z * t) * (1 - .3780*x)
}

// rowsOf reads a table of testdata/air; SOURCE.md there says which program
// printed it.
func rowsOf(t *testing.T, name string, columns int) [][]float64 {
	t.Helper()
	f, err := os.Open("../../testdata/air/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out [][]float64
	for _, r := range all[1:] {
		var row []float64
		for _, cell := range r {
			v, err := strconv.ParseFloat(cell, 64)
			if err != nil {
				t.Fatal(err)
			}
			row = append(row, v)
		}
		if len(row) != columns {
			t.Fatalf("%s: %d columns in %v, want %d", name, len(row), r, columns)
		}
		out = append(out, row)
	}
	if len(out) == 0 {
		t.Fatalf("%s is empty", name)
	}
	return out
}

// The short form is within a thousandth of iapws, and so of the whole formula,
// wherever golf is played: that is .1 yd of carry.
func TestMoistAir(t *testing.T) {
	for _, r := range rowsOf(t, "moist.csv", 4) {
		a := Air{Pressure: r[0], Temperature: r[1] + units.ZeroC, Humidity: r[2]}
		where := fmt.Sprintf("at %g hPa, %g °C, %g %%", r[0]/units.HPa, r[1], 100*r[2])
		near.Rel(t, "density "+where, a.Density(), r[3], 1e-3)
		if got := cipm(r[0], a.Temperature, r[2]); math.Abs(got/r[3]-1) > 2e-4 {
			t.Errorf("CIPM-2007 %s = %.7g, iapws says %.7g", where, got, r[3])
		}
	}
}

// The short form below freezing, where iapws has no saturation over water.
func TestColdAirAgainstCIPM2007(t *testing.T) {
	for _, p := range []float64{75000, 90000, 101325, 104000} {
		for _, h := range []float64{0, .3, .6, .95} {
			a := Air{Pressure: p, Temperature: units.ZeroC - 5, Humidity: h}
			near.Abs(t, "density at -5 °C over the whole formula's", a.Density()/cipm(p, a.Temperature, h), 1, 1e-3)
		}
	}
}

// The standard atmosphere [USSA1976], [ISO2533] as fluids computes it, by
// geopotential altitude.
func TestStandardAtmosphere(t *testing.T) {
	for _, r := range rowsOf(t, "standard.csv", 5) {
		a := Air{Temperature: r[1], Pressure: AtAltitude(r[0])}
		at := fmt.Sprintf(" at %g m", r[0])
		near.Rel(t, "pressure"+at, a.Pressure, r[2], 2e-6)
		near.Rel(t, "density"+at, a.Density(), r[3], 5e-4)
		near.Rel(t, "viscosity"+at, a.Viscosity(), r[4], 1e-6)
		if got := AltitudeOf(a.Pressure); !(math.Abs(got-r[0]) <= 1e-6) { // the inverse, and no number of theirs
			t.Errorf("the pressure of %g m is that of %.7g m", r[0], got)
		}
	}
}
