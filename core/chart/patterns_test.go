package chart

import (
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/report"
	"ferrule/core/text"
)

// box is what something covers [px].
type box struct{ x0, y0, x1, y1 float64 }

func (a box) over(b box) bool { return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1 }

var (
	textAt = regexp.MustCompile(`<text x="([-0-9.]+)" y="([-0-9.]+)"[^>]*>([^<]*)</text>`)
	ballAt = regexp.MustCompile(`<circle class="shot" cx="([-0-9.]+)" cy="([-0-9.]+)" r="([-0-9.]+)"|<path class="shot" d="M([-0-9.]+) ([-0-9.]+)L[-0-9.]+ ([-0-9.]+)`)
)

// TestNamesOfPatternsLieOverNoBall: whatever the names, the width, the language and
// the balls, both names stand whole in the drawing, over no ball and not over each
// other.
func TestNamesOfPatternsLieOverNoBall(t *testing.T) {
	long := charttest.Report()
	for i := range long.Settings {
		long.Settings[i].Setting.Sleeve = "Werkseinstellung plus zwei Grad"
		long.Settings[i].Setting.Weights = []string{"Gewicht ganz an der Ferse 20 g"}
	}
	for name, r := range map[string]report.Report{"short": charttest.Report(), "left": charttest.Mirrored(), "long": long} {
		for _, lang := range text.Languages {
			for _, width := range []float64{288, 296, 328, 358, 640} {
				for _, print := range []bool{false, true} {
					for second := range r.Settings {
						if second == r.Reference || !r.Settings[second].Tested {
							continue
						}
						d := Patterns(r, r.Reference, second, Style{ID: "p", Width: width, Print: print, Reader: text.Reader{Language: lang}})
						where := name + " " + string(lang) + " " + strconv.Itoa(int(width))
						names, rest := group(t, d.SVG, "pattern-names")
						var words []box
						for _, m := range textAt.FindAllStringSubmatch(names, -1) {
							x, y := float(m[1]), float(m[2])
							words = append(words, box{x, y - 11, x + textWidth(m[3], 12.5), y + 3.5})
						}
						if len(words) < 2 {
							t.Fatalf("%s: %d lines of names", where, len(words))
						}
						balls := 0
						for _, m := range ballAt.FindAllStringSubmatch(rest, -1) {
							b := box{float(m[1]) - float(m[3]), float(m[2]) - float(m[3]), float(m[1]) + float(m[3]), float(m[2]) + float(m[3])}
							if m[1] == "" {
								r := float(m[6]) - float(m[5])
								b = box{float(m[4]) - r, float(m[5]), float(m[4]) + r, float(m[5]) + 2*r}
							}
							balls++
							for _, w := range words {
								if w.over(b) {
									t.Errorf("%s: a name lies over a ball", where)
								}
							}
						}
						if balls == 0 {
							t.Fatalf("%s: no ball was found", where)
						}
						for i, w := range words {
							if w.x0 < 0 || w.x1 > width+.5 || w.y0 < 0 {
								t.Errorf("%s: a name lies outside: %+v", where, w)
							}
							for _, v := range words[:i] {
								if w.over(v) {
									t.Errorf("%s: two names lie over each other", where)
								}
							}
						}
					}
				}
			}
		}
	}
}

// group cuts a group out of a drawing.
func group(t *testing.T, svg, class string) (inside, rest string) {
	t.Helper()
	before, after, found := strings.Cut(svg, `<g class="`+class+`"`)
	inside, after, closed := strings.Cut(after, "</g>")
	if !found || !closed {
		t.Fatalf("no group %q", class)
	}
	return inside, before + after
}

func float(s string) float64 { v, _ := strconv.ParseFloat(s, 64); return v }
