package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// rangeFile is a launch monitor's table in which a person wrote the setting by
// hand: n balls, the names in turn. The numbers follow from the line alone.
func rangeFile(t *testing.T, name string, n int, settings ...string) string {
	t.Helper()
	var b strings.Builder
	b.WriteString("Setting;Ballgeschw.;Abflugwinkel;Spin;Carry;Seite\n;km/h;°;U/min;m;m\n")
	comma := func(v float64) string { return strings.Replace(fmt.Sprintf("%.1f", v), ".", ",", 1) }
	for i := range n {
		k := float64(i*7%11) - 5 // scatter: -5 to 5, each once in eleven balls
		fmt.Fprintf(&b, "%s;%s;%s;%d;%s;%s\n", settings[i%len(settings)], comma(210+2*k), comma(12.5+.3*k), 2900+40*(i*5%13), comma(185+2.5*k), comma(4+3*float64(i*3%7)-9))
	}
	return fileOf(t, name, b.String())
}

// TestFilesForAClubNobodyDescribed is a golfer who has files from the range
// and never described the club: the first names no setting, the next writes one
// setting in three ways, the last names others.
func TestFilesForAClubNobodyDescribed(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.page("home")
	begin := func(file string) {
		t.Helper()
		p.tap("#new-session")
		p.page("club")
		p.goByLink("/shots", "shots")
		p.upload(file)
		p.until("the file as understood", `document.querySelector("#accept-file")`)
		p.still()
	}
	answer := func() string {
		t.Helper()
		p.tap("#accept-file")
		p.until("the balls", balls+" > 0")
		p.saved()
		p.tap("#step-choose")
		p.page("choose")
		p.answered()
		p.check()
		said := p.text("main")
		p.tap("#home")
		p.page("home")
		return said
	}
	begin(rangeFile(t, "plain.csv", 18, ""))
	if said := answer(); strings.Contains(said, "Keep :") || strings.Contains(said, "\n, ") || strings.Contains(said, "Clear") {
		t.Errorf("no setting named; the page says\n%s", said)
	}
	begin(rangeFile(t, "typed.csv", 24, "low", "HIGH", "Low", "high", "hihg", "low "))
	p.pick("#name-2", "same:HIGH") // low, HIGH, hihg
	p.until("one name for two", `document.querySelector("#name-2").value === "same:HIGH"`)
	if said := answer(); !strings.Contains(said, "All settings") || strings.Contains(said, "hihg") {
		t.Errorf("two settings, one of them miswritten; the page says\n%s", said)
	}
	begin(rangeFile(t, "next.csv", 18, "one", "two", "three"))
	if said := answer(); !strings.Contains(said, "three") || strings.Contains(said, "HIGH") {
		t.Errorf("the next session names other settings; the page says\n%s", said)
	}
}

// TestAClubCorrectedAfterTheBalls renames a setting letter by letter, past the
// label of another one, and corrects loft, lie and tilt: each ball stays with
// the setting that it was hit with, and none drops out of the comparison.
func TestAClubCorrectedAfterTheBalls(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.page("home")
	p.tap("#new-session")
	p.page("club")
	p.goByLink("/shots", "shots")
	p.upload(rangeFile(t, "two.csv", 16, "up", "up-r"))
	p.tap("#accept-file")
	p.until("the balls", balls+" === 16")
	runs := func() string {
		p.earlier()
		return js[string](p, `[...new Set([...document.querySelectorAll(".run")].map((e) => e.innerText))].sort().join(", ")`)
	}
	p.tap("#step-club")
	p.page("club")
	p.unfold("describe")
	p.until("the table", `document.querySelector("#row2-label")`)
	p.do(chromedp.ScrollIntoView(chromedp.CSS("#row2-label")), chromedp.SendKeys(chromedp.CSS("#row2-label"), kb.End+kb.Backspace+kb.Backspace+"right"))
	p.until("the label", `document.querySelector("#row2-label").value === "upright"`)
	p.saved()
	p.tap("#step-shots")
	p.page("shots")
	if got := runs(); got != "up, upright" {
		t.Errorf("after a label was typed past another's the settings of the balls are %s", got)
	}

	p.tap("#home")
	p.page("home")
	p.tap("#new-session")
	p.page("club")
	p.unfold("describe")
	p.tap(`label[for="sleeve-how-tilt"]`)
	p.until("the places", `document.querySelector("#current-ring1")?.getAttribute("aria-valuemax") === "7"`)
	p.goByLink("/shots", "shots")
	p.tap("#chip-other")
	p.until("all settings", `document.querySelector("#now-ring1")`)
	for i := range 8 {
		if i > 0 { // how to set it, and what to take care of
			p.tap("#now-ring1-on")
			p.tap("#turn-done")
		}
		p.typeBall(fmt.Sprint(200 + i))
		p.until("the ball", fmt.Sprintf("%s === %d", balls, i+1))
	}
	p.tap("#step-club")
	p.page("club")
	p.unfold("describe")
	p.until("the rings", `document.querySelector("#ring1-tilt")`)
	for id, text := range map[string]string{"loft": "9", "lie": "60", "ring1-tilt": "0.75"} {
		js[bool](p, fmt.Sprintf(`(document.getElementById(%q).focus(), document.getElementById(%q).select(), true)`, id, id))
		p.do(chromedp.SendKeys(chromedp.CSS("#"+id), text))
		p.until(id, fmt.Sprintf(`document.getElementById(%q).value === %q`, id, text))
	}
	p.saved()
	p.tap("#step-shots")
	p.page("shots")
	p.still()
	p.earlier()
	if n := js[int](p, `new Set([...document.querySelectorAll(".run")].map((e) => e.innerText)).size`); n != 8 {
		t.Errorf("balls of 8 settings are at %d of them: %s", n, runs())
	}
	if left := js[int](p, `document.querySelectorAll(".ball.left-out").length`); left != 0 {
		t.Errorf("%d balls dropped out of the comparison", left)
	}
	p.check()
}
