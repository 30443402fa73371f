package chart

import (
	"encoding/xml"
	"flag"
	"io"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

var update = flag.Bool("update", false, "rewrite the golden drawings in testdata/chart")

const goldens = "../../testdata/chart"

func address(r report.Report, i int) Address {
	h := charttest.Head()
	return Address{Head: h, Setting: r.Settings[i].Setting, Change: r.Settings[i].Change, Reference: r.Settings[r.Reference].Change, Hand: r.Hand}
}

// drawings makes every kind of drawing of a report, by the name of its golden.
func drawings(r report.Report, st Style) map[string]Drawing {
	at := func(id string) Style { s := st; s.ID = id; return s }
	all := map[string]Drawing{
		"landing":             Landing(r, at("landing")),
		"flight":              Flight(r, at("flight")),
		"differences-strokes": Differences(r, strokes, at("ds")),
		"differences-carry":   Differences(r, shot.Carry, at("dc")),
		"differences-offline": Differences(r, shot.Offline, at("do")),
	}
	if c := r.Choice.Setting; c >= 0 && c < len(r.Settings) {
		all["head"] = Head(address(r, c), at("head"))
	}
	return all
}

// TestGolden holds the drawings of testdata/chart: run with -update to rewrite
// them, and look at each changed one.
func TestGolden(t *testing.T) {
	made := map[string]string{}
	for name, d := range drawings(charttest.Report(), Style{}) {
		made[name+".svg"] = d.SVG
	}
	for name, d := range drawings(charttest.Mirrored(), Style{Reader: text.Reader{System: units.Metric}, Theme: &Light, Print: true, Width: 640}) {
		made[name+"-left-metric-print.svg"] = d.SVG
	}
	if *update {
		old, _ := filepath.Glob(goldens + "/*.svg")
		for _, f := range old {
			os.Remove(f)
		}
		for name, svg := range made {
			if err := os.WriteFile(filepath.Join(goldens, name), []byte(svg), 0o644); err != nil {
				t.Fatal(err)
			}
		}
	}
	stored, _ := filepath.Glob(goldens + "/*.svg")
	if len(stored) != len(made) {
		t.Errorf("testdata/chart holds %d drawings, the test makes %d", len(stored), len(made))
	}
	for name, svg := range made {
		want, err := os.ReadFile(filepath.Join(goldens, name))
		if err != nil {
			t.Errorf("%s: %v", name, err)
		} else if string(want) != svg {
			t.Errorf("%s differs from its golden; run go test ./core/chart -update and look at it", name)
		}
	}
}

// TestWellFormed reads each drawing as XML: one svg root, unique ids, every
// reference to an id answered, no NaN, no word missing.
func TestWellFormed(t *testing.T) {
	for name, d := range drawings(charttest.Report(), Style{}) {
		ids, refs := map[string]bool{}, []string{}
		dec := xml.NewDecoder(strings.NewReader(d.SVG))
		root := ""
		for {
			tok, err := dec.Token()
			if err == io.EOF {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			e, ok := tok.(xml.StartElement)
			if !ok {
				continue
			}
			if root == "" {
				root = e.Name.Local
			}
			for _, a := range e.Attr {
				switch {
				case a.Name.Local == "id":
					if ids[a.Value] {
						t.Errorf("%s: id %q twice", name, a.Value)
					}
					ids[a.Value] = true
				case a.Name.Local == "aria-labelledby":
					refs = append(refs, strings.Fields(a.Value)...)
				case strings.HasPrefix(a.Value, "url(#"):
					refs = append(refs, strings.TrimSuffix(strings.TrimPrefix(a.Value, "url(#"), ")"))
				case a.Name.Local == "style":
					t.Errorf("%s: a style attribute, which the content security policy forbids", name)
				}
			}
		}
		if root != "svg" {
			t.Errorf("%s: root %q", name, root)
		}
		for _, r := range refs {
			if !ids[r] {
				t.Errorf("%s: nothing has id %q", name, r)
			}
		}
		for _, bad := range []string{"NaN", "Inf", "[chart.", "[quantity.", "[side."} {
			if strings.Contains(d.SVG+d.Summary+d.Table.TSV(), bad) {
				t.Errorf("%s holds %q", name, bad)
			}
		}
		if d.Summary == "" || len(d.Table.Rows) == 0 || d.Table.Caption == "" {
			t.Errorf("%s has no summary, table or caption", name)
		}
		for i, row := range d.Table.Rows {
			if len(row) != len(d.Table.Head) {
				t.Errorf("%s: row %d has %d cells, the head %d", name, i, len(row), len(d.Table.Head))
			}
		}
	}
}

var tapRect = regexp.MustCompile(`<rect class="tap"[^>]* width="([^"]+)" height="([^"]+)"[^>]* data-`)

func TestTargetsAreWideEnoughAndNameWhatTheyMean(t *testing.T) {
	r := charttest.Report()
	for name, d := range drawings(r, Style{}) {
		taps := tapRect.FindAllStringSubmatch(d.SVG, -1)
		if len(taps) == 0 && name != "head" {
			t.Errorf("%s has no tap targets", name)
		}
		for _, m := range taps {
			w, _ := strconv.ParseFloat(m[1], 64)
			h, _ := strconv.ParseFloat(m[2], 64)
			if w < 24 || h < 24 {
				t.Errorf("%s: a target of %g x %g px", name, w, h)
			}
		}
	}
	svg := Landing(r, Style{ID: "x"}).SVG
	for _, s := range r.Shots {
		if want := s.Known && drawn(s.Status); strings.Contains(svg, `data-shot="`+s.ID+`"`) != want {
			t.Errorf("shot %s (%s): on the plan = %v", s.ID, s.Status, !want)
		}
	}
	if strings.Contains(Landing(r, Style{ID: "x", Print: true}).SVG, "transparent") {
		t.Error("a printed drawing has tap targets")
	}
}

// A name that a person typed must stay text.
func TestTextIsEscaped(t *testing.T) {
	r := charttest.Report()
	const evil = `"><script>alert(1)</script>&` + "\x00"
	r.Settings[0].Setting.Sleeve = evil
	r.Settings[2].Setting.Weights = []string{evil}
	for i := range r.Shots {
		r.Shots[i].ID = evil
	}
	for name, d := range drawings(r, Style{}) {
		if strings.Contains(d.SVG, "<script") {
			t.Errorf("%s: a label became markup", name)
		}
		if err := xml.Unmarshal([]byte(d.SVG), new(struct{})); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// attr reads the first number of an attribute in the first element that holds mark.
func attr(t *testing.T, svg, mark, name string) float64 {
	t.Helper()
	i := strings.Index(svg, mark)
	if i < 0 {
		t.Fatalf("no %s", mark)
	}
	start := strings.LastIndexByte(svg[:i], '<')
	end := i + strings.IndexByte(svg[i:], '>')
	m := regexp.MustCompile(`\s` + name + `="([-0-9.]+)`).FindStringSubmatch(svg[start:end])
	if m == nil {
		t.Fatalf("no %s at %s", name, mark)
	}
	v, _ := strconv.ParseFloat(m[1], 64)
	return v
}

// Right of the target is right on the plan, a longer carry is higher, and a
// left-hander's plan is the mirror image.
func TestPlanDirections(t *testing.T) {
	r := charttest.Report()
	r.Shots = []report.ShotRow{
		{ID: "near-left", Setting: 0, Status: report.Counted, Known: true, Carry: 190, Offline: -15},
		{ID: "far-right", Setting: 0, Status: report.Counted, Known: true, Carry: 205, Offline: 12},
	}
	svg := Landing(r, Style{ID: "p"}).SVG
	if attr(t, svg, `data-shot="near-left"`, "x") >= attr(t, svg, `data-shot="far-right"`, "x") {
		t.Error("left is not left")
	}
	if attr(t, svg, `data-shot="near-left"`, "y") <= attr(t, svg, `data-shot="far-right"`, "y") {
		t.Error("a longer carry is not higher")
	}
	a, b := Landing(charttest.Report(), Style{ID: "p"}).SVG, Landing(charttest.Mirrored(), Style{ID: "p"}).SVG
	const half = 12 // [px] of a target
	middle := 46 + (360.0-58)/2
	for _, id := range []string{"s1", "s20", "s45"} {
		xa, xb := attr(t, a, `data-shot="`+id+`"`, "x")+half, attr(t, b, `data-shot="`+id+`"`, "x")+half
		if math.Abs((xa-middle)+(xb-middle)) > 0.21 {
			t.Errorf("%s: at %g for the right-hander and %g for the left-hander, no mirror image about %g", id, xa, xb, middle)
		}
		if ya, yb := attr(t, a, `data-shot="`+id+`"`, "y"), attr(t, b, `data-shot="`+id+`"`, "y"); ya != yb {
			t.Errorf("%s: carry changed by mirroring: %g, %g", id, ya, yb)
		}
	}
}

// An ellipse turned towards the right leans to the right on the drawing.
func TestEllipseTurnsTheRightWay(t *testing.T) {
	r := charttest.Report()
	r.Settings[0].Ellipse = report.Ellipse{Kind: "next-shot-80", X: 195, Z: 0, A: 20, B: 5, Turn: 0.3}
	svg := Landing(r, Style{ID: "p", Only: []int{0}}).SVG
	if rx, ry := attr(t, svg, "<ellipse", "rx"), attr(t, svg, "<ellipse", "ry"); ry < 3.9*rx {
		t.Errorf("half axes %g across and %g along: the long one belongs along the line", rx, ry)
	}
	if !strings.Contains(svg, `transform="rotate(17.2 `) { // clockwise in SVG
		t.Error("0.3 rad towards the right is not drawn as 17.2 degrees clockwise")
	}
}

// A head is drawn as the player sees it: an open face turns clockwise from
// above for a right-hander, and a left-hander gets the mirror image.
func TestHeadTurns(t *testing.T) {
	r := charttest.Report()
	a := address(r, r.Choice.Setting)
	a.Change.FaceSoled, a.Reference.FaceSoled = 2*units.Degree, 0
	svg := Head(a, Style{ID: "h"}).SVG
	if !strings.Contains(svg, "rotate(10)") || strings.Contains(svg, "scale(-") {
		t.Error("a face 2 degrees open is not turned 10 degrees clockwise")
	}
	a.Hand = "left"
	svg = Head(a, Style{ID: "h"}).SVG
	if !strings.Contains(svg, "rotate(10)") || !strings.Contains(svg, "scale(-") {
		t.Error("the left-hander's head is not mirrored")
	}
	a.Change.Unknown = true
	if d := Head(a, Style{ID: "h"}); strings.Contains(d.Summary, "°") || len(d.Table.Rows) > 0 {
		t.Errorf("an undescribed position is drawn as if it were known: %s", d.Summary)
	}
}

// Labels as people write them are read whole on paper, where nobody can tap: they
// are broken, not cut, and stay in the drawing. A sleeve's are of 19 letters, a
// weight's of 16, without a place to break them.
func TestLongLabelsOnPaper(t *testing.T) {
	h := charttest.Head()
	r := charttest.Report()
	from, to := r.Settings[r.Reference].Setting, r.Settings[r.Choice.Setting].Setting
	names := []string{"Normalstellung(null)", "Fabrikeinstellung+2"}
	var labels []string
	for i, p := range h.Places() {
		switch p.Label {
		case from.Sleeve:
			labels = append(labels, names[0])
		case to.Sleeve:
			labels = append(labels, names[1])
		default:
			labels = append(labels, strconv.Itoa(i))
		}
	}
	h.Sleeve.Labels = labels
	h.Weights[0].Stops = slices.Clone(h.Weights[0].Stops)
	h.Weights[0].Stops[0].Label, h.Weights[0].Stops[len(h.Weights[0].Stops)-1].Label = "Ferseganzaussen1", "Spitzeganzvorne2"
	stops := []string{"Ferseganzaussen1", "Spitzeganzvorne2"}
	m := Move{Head: h, From: from, To: to}
	m.From.Sleeve, m.To.Sleeve = names[0], names[1]
	m.From.Weights, m.To.Weights = stops[:1], stops[1:]
	svg := Turn(m, Style{ID: "t", Width: 296, Theme: &Light, Print: true}).SVG
	if strings.Contains(svg, "…") {
		t.Error("a label is cut on paper")
	}
	all := ""
	for _, w := range regexp.MustCompile(`<text[^>]* y="([-0-9.]+)"[^>]*>([^<]*)<`).FindAllStringSubmatch(svg, -1) {
		if y, _ := strconv.ParseFloat(w[1], 64); y < 9 || y > 131 {
			t.Errorf("%q stands at %s of 132 px", w[2], w[1])
		}
		all += w[2]
	}
	for _, name := range append(names, stops...) {
		if !strings.Contains(all, name) {
			t.Errorf("%q is not read whole: %q", name, all)
		}
	}
}

// Thin reports: nothing measured, one setting, one ball, no ground, broken indices.
func TestThinReports(t *testing.T) {
	one := charttest.Report()
	one.Settings, one.Shots = one.Settings[:1], one.Shots[:1]
	one.Choice = report.Choice{Setting: 0, RunnerUp: -1}
	bare := charttest.Report()
	for i := range bare.Settings {
		bare.Settings[i].Quantities, bare.Settings[i].Raw, bare.Settings[i].Path = nil, nil, nil
	}
	for i := range bare.Shots {
		bare.Shots[i].Known = false
	}
	bare.Ground = report.Ground{}
	broken := charttest.Report()
	broken.Reference, broken.Choice.Setting, broken.Choice.RunnerUp = -1, 99, 99
	for name, r := range map[string]report.Report{"empty": {}, "one": one, "bare": bare, "broken": broken} {
		for chart, d := range drawings(r, Style{}) {
			if err := xml.Unmarshal([]byte(d.SVG), new(struct{})); err != nil {
				t.Errorf("%s %s: %v", name, chart, err)
			}
			if strings.Contains(d.SVG, "NaN") || d.Summary == "" {
				t.Errorf("%s %s: not a number, or no summary", name, chart)
			}
		}
	}
}

// One setting alone differs from nothing: that is said, and no scale is drawn.
func TestOneSettingHasNoScaleOfDifferences(t *testing.T) {
	r := charttest.Report()
	r.Settings, r.Reference, r.Choice = r.Settings[:1], 0, report.Choice{RunnerUp: -1}
	d := Differences(r, shot.Carry, Style{})
	if none := (text.Reader{}).Word("chart.differences.none"); !strings.Contains(d.SVG, "nothing to compare yet") || d.Summary != none {
		t.Errorf("the drawing does not say that there is nothing to compare; the summary says %q", d.Summary)
	}
	if strings.Contains(d.SVG, `class="axes"`) {
		t.Error("a scale of differences without a difference")
	}
}

// A far outlier must not shrink the plan: it stands on the edge and is said.
func TestOutlierStandsOnTheEdge(t *testing.T) {
	r := charttest.Report()
	r.Shots = append(r.Shots, report.ShotRow{ID: "topped", Setting: 0, Status: report.Mishit, Known: true, Carry: 40, Offline: 80})
	d := Landing(r, Style{ID: "p"})
	if !strings.Contains(d.SVG, "drawn on its edge: 1") {
		t.Error("the outlier is not said")
	}
	if x := attr(t, d.SVG, `data-shot="topped"`, "x") + 12; x > 348 {
		t.Errorf("the outlier stands at %g, outside the plan", x)
	}
}

func TestTablesCopy(t *testing.T) {
	tab := Table{Head: []string{"a", "b,c"}, Rows: [][]string{{"x\ty", `say "hi"`}}}
	if got, want := tab.TSV(), "a\tb,c\nx y\tsay \"hi\"\n"; got != want {
		t.Errorf("TSV = %q, want %q", got, want)
	}
	if got, want := tab.CSV(), "a,\"b,c\"\r\nx\ty,\"say \"\"hi\"\"\"\r\n"; got != want {
		t.Errorf("CSV = %q, want %q", got, want)
	}
}

func TestTicks(t *testing.T) {
	got := ticks(text.Reader{}, 170*units.Yard, 232*units.Yard, units.UnitYd, 6)
	var labels []string
	for _, g := range got {
		labels = append(labels, g.label)
	}
	if s := strings.Join(labels, " "); s != "180 200 220" {
		t.Errorf("ticks = %s", s)
	}
	if ticks(text.Reader{}, 1, 1, units.UnitM, 5) != nil || ticks(text.Reader{}, math.NaN(), 1, units.UnitM, 5) != nil {
		t.Error("an empty range has ticks")
	}
}

// Of more than three settings two are outlined: five ellipses over one another
// tell nothing. Which two is said.
func TestThePlanOutlinesFew(t *testing.T) {
	r := charttest.Report()
	keys := Keys(r)
	r.Choice.Setting = keys[2] // one that was hit
	for _, c := range []struct{ settings, ellipses int }{{3, 3}, {len(keys), 2}} {
		if c.settings > len(keys) {
			t.Fatalf("the invented report has %d settings only", len(keys))
		}
		only := keys[:c.settings]
		some := 0
		for i := range r.Settings {
			if r.Settings[i].Ellipse.Kind != "" && slices.Contains(only, i) {
				some++
			}
		}
		got := strings.Count(Landing(r, Style{ID: "p", Only: only}).SVG, "<ellipse")
		if want := min(some, c.ellipses); got != want {
			t.Errorf("%d settings, %d with a region: %d ellipses, want %d", c.settings, some, got, want)
		}
	}
}

// What lies to a side is said in words of it, never by a sign and a word at once.
func TestEstimatesOfSides(t *testing.T) {
	st := Style{Reader: text.Reader{System: units.Metric}}
	for _, c := range []struct {
		lo, mean, hi float64
		want         string
	}{
		{7, 11, 15, "11 m right (7 … 15)"},
		{-15, -11, -7, "11 m left (7 … 15)"},
		{-7, -3, 1, "3 m left (7 left … 1 right)"},
		{-1, 3, 7, "3 m right (1 left … 7 right)"},
		{-6, 0, 6, "0 m (6 left … 6 right)"},
		{-.1, 3, 6.1, "3 m right (0 … 6 right)"},
		{-9, -5, 0, "5 m left (0 … 9)"},
	} {
		got := strings.ReplaceAll(st.Estimate(report.Interval{Lo80: c.lo, Mean: c.mean, Hi80: c.hi}, shot.Offline), "\u00a0", " ")
		if got != c.want {
			t.Errorf("%g (%g to %g): %q, want %q", c.mean, c.lo, c.hi, got, c.want)
		}
	}
	if got := strings.ReplaceAll(st.Estimate(report.Interval{Lo80: 190, Mean: 200, Hi80: 210}, shot.Carry), "\u00a0", " "); got != "200 m (190 … 210)" {
		t.Errorf("carry: %q", got)
	}
}
