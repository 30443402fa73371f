package page

import (
	"strings"
	"testing"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
)

// What other air does and what is within reach stand on the page, in every
// language and in the reader's units.
func TestAirAndReachAreShown(t *testing.T) {
	r := charttest.Report()
	for language, want := range map[string][]string{
		"en": {"Head wind, 10", "−12", "carry farthest of what your loft can deliver", "5"},
		"de": {"Gegenwind, 10", "Dein Ball trägt"},
		"es": {"Viento en contra", "carry"},
		"ja": {"向かい風", "頂上は平らです"},
	} {
		with(t, &r, func(p *act.Prefs) { p.Language = language })
		c := &Choose{base: base{m: model}, cell: -1}
		c.OnInit()
		html := app.HTMLString(app.Div().Body(airsPart(c.wording(), r), reachPart(c.wording(), r)))
		for _, w := range want {
			if !strings.Contains(html, w) {
				t.Errorf("%s: no %q in %s", language, w, html)
			}
		}
		if strings.Contains(html, "{") || strings.Contains(html, "NaN") {
			t.Errorf("%s: a gap stayed open in %s", language, html)
		}
	}
	r.Ball = nil
	c := &Choose{base: base{m: model}, cell: -1}
	c.OnInit()
	if airsPart(c.wording(), r) != nil || reachPart(c.wording(), r) != nil {
		t.Error("a report without a ball shows one")
	}
}
