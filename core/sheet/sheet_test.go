package sheet

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/chart"
	"ferrule/core/chart/charttest"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

var update = flag.Bool("update", false, "rewrite testdata/chart/sheet.html and sheet.txt")

func session() shot.Session {
	temperature, altitude, handicap := units.ZeroC+18, 60.0, 16.0
	return shot.Session{Title: "Saturday range", Created: 1_780_000_000, Ball: "the same ball", Head: charttest.Head(),
		Player:     shot.Player{Name: "A. Player", Hand: frame.Right, Handicap: &handicap},
		Conditions: shot.Conditions{Temperature: &temperature, Altitude: &altitude, Wind: 2},
		Bench:      map[string]string{"place": "mat 4"}}
}

// TestGolden holds the sheet of the invented report; rewrite with -update.
func TestGolden(t *testing.T) {
	s, r := session(), charttest.Report()
	for file, got := range map[string]string{
		"../../testdata/chart/sheet.html": HTML(s, r, text.Reader{}, Options{}),
		"../../testdata/chart/sheet.txt":  Plain(s, r, text.Reader{System: units.Metric}, Options{Names: true}),
	} {
		if *update {
			if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		if string(want) != got {
			t.Errorf("%s differs; run go test ./core/sheet -update and look at it", file)
		}
	}
}

// Job by job, the fields that a work order must hold, each with its value once
// it is known; what nobody measured or wrote is not printed.
func TestEveryFieldIsThere(t *testing.T) {
	s := session()
	html := HTML(s, charttest.Report(), text.Reader{}, Options{})
	for _, k := range []string{"torque", "initials", "words", "shop"} {
		if strings.Contains(html, "<dt>"+text.Reader{}.Word("paper.field."+k)) {
			t.Errorf("field %q is printed and nobody filled it", k)
		}
	}
	for _, k := range Open {
		if s.Bench[k] == "" {
			s.Bench[k] = "filled " + k
		}
	}
	html = HTML(s, charttest.Report(), text.Reader{}, Options{Names: true})
	to := text.Reader{}
	keys := append([]string{"player", "hand", "handicap", "date", "where", "ball", "weather", "head", "loft_stated", "loft_measured", "lie", "hold",
		"sleeve", "length", "swing", "total", "shaft_mass", "grip_mass"}, Open...)
	if len(keys) < 30 {
		t.Errorf("%d fields, a work order has 30 and more", len(keys))
	}
	for _, k := range keys {
		label := chart.Escape(to.Word("paper.field." + k))
		if !regexp.MustCompile(`<dt[^>]*>` + regexp.QuoteMeta(label) + `</dt> <dd[^>]*>[^<]+</dd>`).MatchString(html) {
			t.Errorf("field %q is missing or empty", label)
		}
	}
	for field, value := range map[string]string{"Place": "mat 4", "Loft, measured": "10.1°", "Swing weight": "computed"} {
		if !regexp.MustCompile(`<dt>` + field + `</dt> <dd[^>]*>[^<]*` + value).MatchString(html) {
			t.Errorf("%s does not say %q", field, value)
		}
	}
	for _, must := range []string{"4.1a(3)", "own tool", "loose head", "pain", "not promises", "What was not tried", "Tried (balls): flat / middle (12)", "When to test again", "20 drives", "<svg", "2026-06-18"} {
		if !strings.Contains(html, must) {
			t.Errorf("the sheet does not hold %q", must)
		}
	}
}

func TestSelfContained(t *testing.T) {
	html := HTML(session(), charttest.Report(), text.Reader{}, Options{Link: "https://example.invalid/shared#s=abc", QR: "M0 0h1v1H0z", QRSize: 29})
	for _, bad := range []string{"<script", "<link", "<img", "@import", "url(http", "NaN", "[paper.", "[chart.", "[quantity.", "var(--"} {
		if strings.Contains(html, bad) {
			t.Errorf("the sheet holds %q", bad)
		}
	}
	if n := strings.Count(html, "src="); n > 0 {
		t.Errorf("%d sources outside the page", n)
	}
}

func TestNamesOnlyWhenAsked(t *testing.T) {
	for _, names := range []bool{false, true} {
		if got := strings.Contains(HTML(session(), charttest.Report(), text.Reader{}, Options{Names: names}), "A. Player"); got != names {
			t.Errorf("names %v: the name is printed: %v", names, got)
		}
	}
}

func TestTypedTextStaysText(t *testing.T) {
	s, r := session(), charttest.Report()
	const evil = `</dd><script>x</script>"'&`
	s.Title, s.Ball, s.Head.Name, s.Player.Name = evil, evil, evil, evil
	s.Bench = map[string]string{"place": evil}
	for i := range r.Settings {
		r.Settings[i].Setting.Sleeve = evil
	}
	if strings.Contains(HTML(s, r, text.Reader{}, Options{Names: true, Link: evil, QR: evil, QRSize: 3}), "<script") {
		t.Error("typed text became markup")
	}
}

// A left-hander's sheet is the mirror image: right and left change, nothing else.
func TestLeftHanded(t *testing.T) {
	s := session()
	a, b := charttest.Report(), charttest.Mirrored()
	a.Answer.Then.Aim, b.Answer.Then.Aim = -0.02*a.Answer.Then.Carry, 0.02*b.Answer.Then.Carry
	right := Plain(s, a, text.Reader{}, Options{})
	s.Player.Hand = frame.Left
	left := Plain(s, b, text.Reader{}, Options{})
	if !strings.Contains(right, "Aim 4\u00a0yd left") || !strings.Contains(left, "Aim 4\u00a0yd right") {
		t.Error("the aim is not mirrored")
	}
	for _, own := range []string{"toward the heel", "more closed when set down"} {
		if strings.Count(right, own) != strings.Count(left, own) {
			t.Errorf("%q is the club's own term and must not change", own)
		}
	}
}

// Nothing analysed, keep the club, an undescribed position: each is said.
func TestThinSheets(t *testing.T) {
	if got := Plain(shot.Session{}, report.Report{}, text.Reader{}, Options{}); !strings.Contains(got, "No setting was worked out yet") || !strings.Contains(got, "4.1a(3)") {
		t.Errorf("an empty sheet says:\n%s", got)
	}
	keep := charttest.Report()
	keep.Choice = report.Choice{Setting: 0, Keep: true, RunnerUp: -1}
	got := Plain(session(), keep, text.Reader{}, Options{})
	if !strings.Contains(got, "Keep the club as it is") || strings.Contains(got, "Expected gain") || strings.Contains(got, "after:") {
		t.Errorf("a sheet that keeps the club says:\n%s", got)
	}
	dark := charttest.Report()
	dark.Settings[dark.Choice.Setting].Change.Unknown = true
	if got := Make(session(), dark, text.Reader{}, Options{}); strings.Contains(got.Degrees, "°") {
		t.Errorf("an undescribed position is given in degrees: %s", got.Degrees)
	}
}
