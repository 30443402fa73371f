package browsertest

import (
	"strings"
	"testing"
)

// TestTwoVisitsAndOtherConditions: the example kept twice is two visits that
// show no change, compared in the worker; on the page Choose a tap asks for the
// advice in other winds; on Compare a question is picked.
func TestTwoVisitsAndOtherConditions(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.page("home")
	for range 2 {
		p.example()
		p.saved()
		p.goByLink("/", "home")
	}
	p.tap("#to-visits")
	p.page("visits")
	p.until("two different visits", `document.querySelector("#before")?.value && document.querySelector("#before").value !== document.querySelector("#now").value`)
	p.tap("#compare-visits")
	p.until("the comparison", `document.querySelector("#visits-said")?.innerText.trim()`)
	if got := p.text("#visits-said"); !strings.Contains(got, "Nothing asks") {
		t.Errorf("the same balls twice: %q", got)
	}
	p.check()

	p.goByLink("/choose", "choose")
	p.answered()
	p.unfold("what-if")
	p.until("the other conditions to be asked for", `document.getElementById("varied") !== null`)
	p.unfold("varied")
	p.tap("#vary")
	p.until("the other conditions", `document.querySelector("#vary-said")?.innerText.trim()`)
	t.Logf("%s", p.text("#vary-said"))
	p.unfold("method")
	p.until("what each adjustment does", `document.querySelector("#moves")`)

	p.goByLink("/compare", "compare")
	said := p.text("#need-said")
	js[bool](p, `(() => { const q = document.querySelector("#question"); q.value = "3"; q.dispatchEvent(new Event("change", {bubbles: true})); return true })()`)
	p.until("another number of balls", `document.querySelector("#need-said").innerText !== `+quoted(said))
	t.Logf("%s, then %s", said, p.text("#need-said"))
	p.check()
}

// quoted is s as a text of JavaScript.
func quoted(s string) string {
	return "\"" + strings.ReplaceAll(strings.ReplaceAll(s, `\`, `\\`), `"`, `\"`) + "\""
}
