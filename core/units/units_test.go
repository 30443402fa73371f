package units

import (
	"math"
	"testing"
)

// Each unit against an anchor that does not pass through its own constant:
// NIST SP 811 (2008), appendix B.8, unless said otherwise.
func TestUnitAnchors(t *testing.T) {
	for _, c := range []struct {
		u      Unit
		v, si  float64
		source string
	}{
		{UnitYd, 250, 228.6, "SP 811: yard 0.9144 m"},
		{UnitFt, 100, 30.48, "SP 811: foot 0.3048 m"},
		{UnitIn, 48, 1.2192, "SP 811: inch 25.4 mm"},
		{UnitMm, 42.67, 0.04267, "SI prefix"},
		{UnitMPH, 100, 44.704, "SP 811: mile an hour 0.44704 m/s"},
		{UnitKMH, 90, 25, "SP 811: km/h 0.2777778 m/s"},
		{UnitFPS, 250, 76.2, "SP 811: foot a second 0.3048 m/s (the ball rules' 250 ft/s)"},
		{UnitDeg, 180, math.Pi, "SI brochure table 8"},
		{UnitRPM, 2520, 42 * 2 * math.Pi, "42 rev/s, 2520 rpm: the distance standard's own pair"},
		{UnitC, 25, 298.15, "SI brochure: t/degC = T/K - 273.15"},
		{UnitF, 75, 297.0388888888889, "SP 811: (t + 459.67)/1.8"},
		{UnitF, 32, 273.15, "ice point"},
		{UnitHPa, 1013.25, 101325, "standard atmosphere"},
		{UnitInHg, 29.92, 101320.8, "29.92 inHg is the standard atmosphere to 4 Pa"},
		{UnitG, 45.93, 0.04593, "SI prefix"},
	} {
		if got := c.u.SI(c.v); math.Abs(got-c.si) > 1e-6*math.Abs(c.si) {
			t.Errorf("%s.SI(%g) = %.9g, want %.9g (%s)", c.u.Name, c.v, got, c.si, c.source)
		}
		if got := c.u.From(c.u.SI(c.v)); math.Abs(got-c.v) > 1e-9*math.Abs(c.v) {
			t.Errorf("%s: round trip of %g gives %.12g", c.u.Name, c.v, got)
		}
	}
	if got := 1.620 * Ounce / Gram; math.Abs(got-45.93) > 0.005 {
		t.Errorf("1.620 oz = %g g, want 45.93 (Equipment Rules part 4)", got)
	}
}

func TestEveryDimensionHasUnits(t *testing.T) {
	for d := None; d <= Pressure; d++ {
		for _, s := range []System{"", Imperial, Metric, MetricMPS} {
			u := s.Unit(d)
			same := u.Dim == d || (u.Dim == Length && (d == Height || d == Small)) || u == UnitOne
			if !same {
				t.Errorf("System(%q).Unit(%d) = %v of another dimension", s, d, u)
			}
		}
		if si := d.SI(); si.Scale != 1 || si.Offset != 0 {
			t.Errorf("Dimension(%d).SI() = %v is not SI", d, si)
		}
	}
}

func TestParseNumber(t *testing.T) {
	for text, want := range map[string]float64{
		"67.5": 67.5, "67,5": 67.5, " 1,234.5 ": 1234.5, "1.234,5": 1234.5,
		"1 234,5": 1234.5, "1\u202f234,5": 1234.5, "1'234.5": 1234.5, "2,85": 2.85,
		"\u22123.2": -3.2, "\u20133,2": -3.2, "+4": 4, "1,234,567": 1234567, "\uff11\uff12.5": 12.5, "-0": 0,
	} {
		if got, err := ParseNumber(text); err != nil || got != want {
			t.Errorf("ParseNumber(%q) = %v, %v; want %v", text, got, err, want)
		}
	}
	for _, text := range []string{"", "abc", "1.2.3", "NaN", "Inf", "0x10", "12 R", "--3", "1e999"} {
		if got, err := ParseNumber(text); err == nil {
			t.Errorf("ParseNumber(%q) = %v, want an error", text, got)
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		v    float64
		d    int
		mark rune
		want string
	}{
		{-0.04, 1, 0, "0.0"}, {-1.25, 2, ',', "\u22121,25"}, {1234.5, 1, 0, "1234.5"}, {math.Copysign(0, -1), 0, 0, "0"},
	} {
		if got := Format(c.v, c.d, c.mark); got != c.want {
			t.Errorf("Format(%v, %d, %q) = %q, want %q", c.v, c.d, c.mark, got, c.want)
		}
	}
}

func FuzzNumberRoundTrip(f *testing.F) {
	f.Add(1234.5678, uint8(2), true)
	f.Fuzz(func(t *testing.T, v float64, digits uint8, comma bool) {
		if math.IsNaN(v) || math.Abs(v) > 1e12 {
			return
		}
		d, mark := int(digits%6), '.'
		if comma {
			mark = ','
		}
		got, err := ParseNumber(Format(v, d, mark))
		if err != nil || math.Abs(got-v) > 0.5000001*math.Pow10(-d)+1e-9*math.Abs(v) {
			t.Errorf("Format(%v, %d, %q) reads back as %v, %v", v, d, mark, got, err)
		}
	})
}
