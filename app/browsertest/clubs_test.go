package browsertest

import (
	"fmt"
	"strings"
	"testing"
)

// types writes into a field as a person does.
func (p *tab) types(selector, text string) {
	p.t.Helper()
	p.until(selector, fmt.Sprintf(`document.querySelector(%q)`, selector))
	js[bool](p, fmt.Sprintf(`(() => { document.querySelectorAll("details").forEach((d) => { d.open = true; }); const e = document.querySelector(%q); e.focus(); e.value = %q;
		e.dispatchEvent(new Event("input", {bubbles: true})); e.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, selector, text))
	p.still()
}

// TestOwnClubAgainstANewHead goes from two described clubs and one file, in which
// one of them has another name, to the answer and the sheet.
func TestOwnClubAgainstANewHead(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.tap("#new-session")
	p.page("club")
	p.types("#head-name", "Mine")
	p.unfold("clubs")
	p.tap("#club-add")
	p.until("two clubs", `document.querySelectorAll("#clubs [aria-pressed]").length === 2`)
	p.types("#head-name", "Demo head")
	p.until("its name", `[...document.querySelectorAll("#clubs [aria-pressed=true]")].some((e) => e.innerText === "Demo head")`)
	if own := p.text("#clubs"); !strings.Contains(own, "Mine (my own)") {
		t.Errorf("the clubs are %q, want the first to be one's own", own)
	}
	p.goByLink("/shots", "shots")
	text := importHead + "\n" + importRows(1, 12, "Mine", "", 146, 12, 2900) + importRows(2, 12, "Shop driver", "", 152, 12.5, 2500)
	p.upload(fileOf(t, "both.csv", text))
	p.understood("both.csv")
	if asked := p.text("#file-questions"); !strings.Contains(asked, "Shop driver") {
		t.Fatalf("nobody asks whose the balls of an unknown club are: %q", asked)
	}
	js[bool](p, `(() => { [...document.querySelectorAll("#file-questions button")].find((b) => b.innerText.trim() === "Demo head").click(); return true; })()`)
	p.until("the answer taken", `document.querySelector("#accept-file") && !document.querySelector("#accept-file").disabled`)
	p.still()
	p.tap("#accept-file")
	p.until("the balls", balls+" === 24")
	p.goByLink("/choose", "choose")
	p.answered()
	if answer := p.text("#answer"); !strings.Contains(answer, "Demo head") && !strings.Contains(answer, "Mine") {
		t.Errorf("the answer %q names no club", answer)
	}
	p.tap("#why summary")
	p.until("the clubs compared, each set as it is best", `document.querySelector("#why").innerText.includes("Demo head against Mine")`)
	p.goByLink("/sheet", "sheet")
	p.until("the sheet", `document.querySelector("#sheet")?.srcdoc.includes("Demo head")`)
	p.goByLink("/club", "club")
	js[bool](p, `(() => { [...document.querySelectorAll("#clubs [aria-pressed=false]")][0].click(); return true; })()`)
	p.until("the own club described", `document.querySelector("#head-name").value === "Mine"`)
	p.saved()
	p.reload()
	p.page("club")
	p.until("both clubs after a reload", `document.querySelectorAll("#clubs [aria-pressed]").length === 2`)
	p.check()
}
