package browsertest

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// seen reports whether a person sees where the focus is: the element is on the
// screen and drawn with a ring.
const seen = `(() => {
	const e = document.activeElement;
	if (!e || e === document.body) return "nothing has the focus";
	if (e.tagName === "IFRAME") return ""; // the focus is in the sheet, a document of its own that the arrows scroll
	const name = e.tagName.toLowerCase() + (e.id ? "#" + e.id : "") + " " + (e.innerText ?? "").slice(0, 30);
	const box = e.getBoundingClientRect(), css = getComputedStyle(e);
	if (box.width === 0 || box.bottom <= 0 || box.top >= innerHeight || box.right <= 0 || box.left >= innerWidth) return name + " is off the screen";
	const ringed = (css) => css.outlineStyle !== "none" && parseFloat(css.outlineWidth) > 0;
	const frame = e.closest(".pick, .check"); // which carries the ring of the mark inside it
	return ringed(css) || frame && ringed(getComputedStyle(frame)) ? "" : name + " has the focus and no ring";
})()`

// press sends one key to whatever has the focus.
func (p *tab) press(key string) { p.t.Helper(); p.do(chromedp.KeyEvent(key)) }

// tabTo moves the focus by the tabulator until it is on what the selector
// finds, and looks at every stop on the way. A page has fewer than 150 stops.
func (p *tab) tabTo(selector string) {
	p.t.Helper()
	p.until(selector, fmt.Sprintf(`document.querySelector(%q) && !document.querySelector(%q).disabled`, selector, selector))
	for range 150 {
		p.press(kb.Tab)
		if js[bool](p, `!document.activeElement || document.activeElement === document.body`) {
			continue // from the end of the page round to its beginning
		}
		wrong := js[string](p, seen)
		for try := 0; try < 3 && wrong != ""; try++ {
			// What was drawn meanwhile has moved it: a person waits, goes a stop back and on again.
			time.Sleep(200 * time.Millisecond)
			p.still()
			p.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
			p.press(kb.Tab)
			wrong = js[string](p, seen)
		}
		if wrong != "" {
			p.t.Errorf("on the way to %s: %s", selector, wrong)
		}
		if js[bool](p, fmt.Sprintf(`document.activeElement.matches(%q)`, selector)) {
			return
		}
	}
	p.fail("the tabulator does not come to %s", selector)
}

// pressOn moves the focus to what the selector finds and presses the enter key.
func (p *tab) pressOn(selector string) { p.t.Helper(); p.tabTo(selector); p.press(kb.Enter) }

// TestByKeyboardAlone goes from the first page to the sheet and types a ball on
// the way, with no pointer.
func TestByKeyboardAlone(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.page("home")
	p.pressOn("#try-example")
	p.page("choose")
	p.answered()
	p.pressOn(`a[href="/club"]`)
	p.page("club")
	p.tabTo(`main input:not([type="hidden"]), main select`)
	p.pressOn(`a[href="/shots"]`)
	p.page("shots")
	before := js[int](p, balls)
	p.tabTo("#entry-carry")
	p.do(chromedp.KeyEvent("213"))
	p.pressOn("#add-shot")
	p.until("the ball typed", fmt.Sprintf(balls+` === %d`, before+1))
	p.pressOn(`a[href="/choose"]`)
	p.page("choose")
	p.answered()
	p.pressOn(`a[href="/sheet"]`)
	p.page("sheet")
	p.until("the sheet", `document.querySelector("main").innerText.length > 200`)
	p.tabTo(`a[href="/"]`)
	p.check()
}

// TestAClubByKeyboard describes an adjustable head and the costly miss with no
// pointer.
func TestAClubByKeyboard(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.page("home")
	p.pressOn("#new-session")
	p.page("club")
	p.tabTo("#trouble-none")
	p.press(kb.ArrowRight)
	p.until("the costly miss, and what is asked of it", `document.querySelector("#trouble-right").checked && document.querySelector("#trouble-more")`)
	p.tabTo("#loft")
	p.do(chromedp.KeyEvent("9.5"))
	p.tabTo("#sleeve-how-none")
	p.press(kb.ArrowDown)
	p.until("the sleeve", `document.querySelector("#sleeve-how-tilt").checked && document.querySelector("#ring1-positions")`)
	if got := p.focused(); got != "sleeve-how-tilt" {
		t.Errorf("after the sleeve was chosen the focus is on %q", got)
	}
	p.tabTo("#ring1-positions")
	p.do(chromedp.KeyEvent(kb.Backspace + "6"))
	p.pressOn("#weights > summary")
	p.pressOn("#add-weight")
	p.until("a weight", `document.querySelector('[id^="weight"]')`)
	p.until("a setting for each position", `document.querySelector("#current-ring1").getAttribute("aria-valuemax") === "5"`)
	p.tabTo("#current-ring1")
	p.press(kb.ArrowRight)
	p.until("today's position", `document.querySelector("#current-ring1").getAttribute("aria-valuenow") === "1"`)
	p.saved()
	p.reload()
	p.until("the club as it was described", `document.querySelector("#current-ring1")?.getAttribute("aria-valuemax") === "5" && document.querySelector("#trouble-right").checked && document.querySelector("#loft").value === "9.5"`)
	p.check()
}

// focused is the id of the element that has the focus.
func (p *tab) focused() string {
	p.t.Helper()
	return js[string](p, `document.activeElement?.id ?? ""`)
}

// TestTheFocusStaysWhereTheQuestionWas removes the only session by keyboard:
// asked, spared, asked, removed, brought back.
func TestTheFocusStaysWhereTheQuestionWas(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.example()
	p.saved()
	p.tap("#home")
	p.page("home")
	on := func(where, selector string) {
		t.Helper()
		p.until("the focus "+where, fmt.Sprintf(`document.activeElement?.matches(%q)`, selector))
	}
	p.pressOn(`[id^="delete-"]`)
	on("on No", `[id^="spare-"]`)
	p.press(kb.Enter)
	on("back on the cross", `[id^="delete-"]`)
	p.press(kb.Enter)
	on("on No", `[id^="spare-"]`)
	p.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
	on("on Yes", `[id^="really-"]`)
	p.press(kb.Enter)
	on("on Bring back", "#undelete")
	p.press(kb.Enter)
	on("on the session", `[id^="open-"]`)
	p.check()
}
