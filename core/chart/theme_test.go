package chart

import (
	"math"
	"strconv"
	"strings"
	"testing"
)

type rgb [3]float64 // linear, 0..1

func parse(t *testing.T, s string) rgb {
	t.Helper()
	n, err := strconv.ParseUint(strings.TrimPrefix(s, "#"), 16, 32)
	if err != nil || len(s) != 7 {
		t.Fatalf("colour %q is not #rrggbb", s)
	}
	var c rgb
	for i := range c {
		v := float64(n>>(16-8*i)&255) / 255
		if v <= 0.04045 { // IEC 61966-2-1, the sRGB transfer function
			c[i] = v / 12.92
		} else {
			c[i] = math.Pow((v+0.055)/1.055, 2.4)
		}
	}
	return c
}

// contrast is the ratio of WCAG 2.2 ("contrast ratio", "relative luminance").
func contrast(a, b rgb) float64 {
	l := func(c rgb) float64 { return 0.2126*c[0] + 0.7152*c[1] + 0.0722*c[2] + 0.05 }
	return math.Max(l(a), l(b)) / math.Min(l(a), l(b))
}

func TestContrast(t *testing.T) {
	for _, th := range Themes {
		p := func(s string) rgb { return parse(t, s) }
		need := func(name, a, b string, least float64) {
			if c := contrast(p(a), p(b)); c < least {
				t.Errorf("%s: %s has a contrast of %.2f, needs %.1f", th.Name, name, c, least)
			}
		}
		for _, ground := range []struct{ name, color string }{{"paper", th.Paper}, {"wash", th.Wash}, {"fairway", th.Fairway}} {
			need("ink on "+ground.name, th.Ink, ground.color, 7)
			need("soft text on "+ground.name, th.Soft, ground.color, 4.5)
			for i, s := range th.Series {
				need("series "+strconv.Itoa(i)+" on "+ground.name, s, ground.color, 3)
			}
			need("accent on "+ground.name, th.Accent, ground.color, 4.5)
			need("trouble on "+ground.name, th.Trouble, ground.color, 3)
		}
		need("error text", th.Bad, th.Paper, 4.5)
		need("error text on wash", th.Bad, th.Wash, 4.5)
		need("text on accent", th.OnInk, th.Accent, 4.5)
		if th.Name == "sun" {
			need("thin lines in the sun", th.Rule, th.Paper, 3)
			need("soft text in the sun", th.Soft, th.Paper, 7)
		}
	}
}

// Matrices of Machado, Oliveira, Fernandes 2009 ("A physiologically-based
// model for simulation of color vision deficiency", IEEE TVCG 15:1291) at full
// severity, in linear RGB; values as public copies print them.
var blindness = map[string][3][3]float64{
	"none":   {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
	"protan": {{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
	"deutan": {{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
	"tritan": {{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
}

// oklab is Ottosson 2020, "A perceptual color space for image processing".
func oklab(c rgb) [3]float64 {
	l := math.Cbrt(0.4122214708*c[0] + 0.5363325363*c[1] + 0.0514459929*c[2])
	m := math.Cbrt(0.2119034982*c[0] + 0.6806995451*c[1] + 0.1073969566*c[2])
	s := math.Cbrt(0.0883024619*c[0] + 0.2817188376*c[1] + 0.6299787005*c[2])
	return [3]float64{0.2104542553*l + 0.7936177850*m - 0.0040720468*s,
		1.9779984951*l - 2.4285922050*m + 0.4505937099*s,
		0.0259040371*l + 0.7827717662*m - 0.8086757660*s}
}

// TestSeriesStayApart: any two series differ by at least 0.1 in OKLab (about
// five times what is just seen side by side) for each kind of colour vision.
func TestSeriesStayApart(t *testing.T) {
	for kind, m := range blindness {
		for i := range m {
			if sum := m[i][0] + m[i][1] + m[i][2]; math.Abs(sum-1) > 2e-6 {
				t.Errorf("%s: row %d sums to %g, white would not stay white", kind, i, sum)
			}
		}
		for _, th := range Themes {
			var seen [Series][3]float64
			for i, s := range th.Series {
				c := parse(t, s)
				var v rgb
				for k := range v {
					v[k] = clamp(m[k][0]*c[0]+m[k][1]*c[1]+m[k][2]*c[2], 0, 1)
				}
				seen[i] = oklab(v)
			}
			for i := range seen {
				for j := range i {
					d := math.Hypot(math.Hypot(seen[i][0]-seen[j][0], seen[i][1]-seen[j][1]), seen[i][2]-seen[j][2])
					if d < 0.1 {
						t.Errorf("%s, %s: series %d and %d are only %.3f apart", th.Name, kind, j, i, d)
					}
				}
			}
		}
	}
}

func TestCSSNamesEveryVariable(t *testing.T) {
	css := CSS()
	c := newCanvas(Style{ID: "x"})
	for r := range series0 + Series {
		v := c.color(r)
		name := v[len("var("):strings.IndexByte(v, ',')]
		if n := strings.Count(css, name+":"); n != 5 {
			t.Errorf("%s stands %d times in the style sheet, want 5", name, n)
		}
	}
}
