package page

import (
	"os"
	"strings"
	"testing"

	"ferrule/core/chart"
)

// Pages and drawings are of the same colours: the style sheet carries the
// themes of package chart word for word.
func TestStyleSheetHasTheChartsThemes(t *testing.T) {
	css, err := os.ReadFile("../../pwa/app.css")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, ok := strings.Cut(string(css), "/* themes begin */\n")
	got, _, ok2 := strings.Cut(rest, "/* themes end */")
	if !ok || !ok2 {
		t.Fatal("pwa/app.css has no marks of where the themes stand")
	}
	if want := chart.CSS(); got != want {
		t.Errorf("the themes in pwa/app.css differ from chart.CSS(); they should read:\n%s", want)
	}
}
