package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// printedTable is an invented maker's table of eight positions: lofts and lies
// of the club as a whole, faces as changes, as such tables are printed.
const printedTable = `        Loft   Lie   Face
STD     10.5   58    0
+1      11.5   58    -1.5
+2      12.5   58    -3
STD UP  10.5   59.5  0
-1      9.5    58    1.5
-1 UP   9.5    59.5  1.5
+1 UP   11.5   59.5  -1.5
-2      8.5    58    3`

// TestOwnClubFromAPrintedTable: from the first page to a club of eight positions
// by pasting the table as it is printed, in at most 25 taps and pastes. The
// signs are asked about in plain words, and no is heeded; a table that cannot be
// read is used in no part, stays in its field over a reload, and is said to be
// missing before the next step.
func TestOwnClubFromAPrintedTable(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	c := taps{p: p}
	tap := func(selector string) { t.Helper(); p.tap(selector); c.n++ }
	paste := func(text string) {
		t.Helper()
		p.until("the field", `document.querySelector("#printed")`)
		js[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#printed"); e.focus(); e.value = %q; e.dispatchEvent(new Event("input", { bubbles: true })); return true; })()`, text))
		c.n++
	}
	places := `document.querySelector("#current-ring1")?.getAttribute("aria-valuemax") ?? "0"`
	tap("#new-session")
	p.page("club")
	p.until("what is missing", `document.querySelector("#missing")?.innerText.includes("Nothing can be set")`)
	if !js[bool](p, `document.querySelector("#describe").open`) {
		tap("#describe > summary")
	}
	tap(`label[for="sleeve-how-table"]`)
	before := js[string](p, places)

	paste(strings.Replace(printedTable, "12.5", "12.x", 1))
	tap("#printed-use")
	p.until("the line that cannot be read", `document.querySelector("#printed-error")`)
	p.saved()
	p.reload()
	p.page("club")
	p.until("the places as they were", places+fmt.Sprintf(` === %q`, before))
	p.until("what is missing, after a reload", `document.querySelector("#missing")?.innerText.includes("table is not used yet")`)
	if !js[bool](p, `document.querySelector("#describe").open`) {
		tap("#describe > summary")
	}
	p.until("the text in its field", `document.querySelector("#printed")?.value.includes("12.x")`)

	paste(printedTable)
	tap("#printed-use")
	p.until("eight places", places+` === "7"`)
	p.until("a question of the face", `document.querySelector("#check-asks")?.innerText.includes("right")`)
	p.until("the question among what is missing", `document.querySelector("#missing")?.innerText.includes("question")`)
	tap("#check-no")
	p.until("a question of the lie", `document.querySelector("#check-asks")?.innerText.includes("toe stands higher")`)
	tap("#check-yes")
	p.until("nothing missing", `document.querySelector("#missing")?.hidden`)
	t.Logf("a club of eight positions from its printed table: %d taps and pastes, a spoilt paste among them", c.n)
	if c.n > 25 {
		t.Errorf("%d taps and pastes, want at most 25", c.n)
	}
	p.unfold("places")
	p.until("the places", `document.querySelectorAll("table.places tbody tr").length === 8`)
	if got := js[string](p, `document.querySelector("#row3-face").value`); got != "3" {
		t.Errorf("after no the face of +2 is %s, want it turned to 3", got)
	}
	p.check()
}

// TestASleeveIsTurnedByDragging: a finger, two keys of the screen and the arrows
// turn it; of two rings each is turned and labelled by itself.
func TestASleeveIsTurnedByDragging(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.show(smallest, smallest.height)
	p.example()
	p.follow("/club", "club")
	at := func(ring int) string {
		return js[string](p, fmt.Sprintf(`document.querySelector("#current-ring%d").getAttribute("aria-valuetext")`, ring))
	}
	js[bool](p, `(document.querySelector("#current-sleeve").scrollIntoView({ block: "center" }), true)`)
	middle := func(place int) (x, y float64) {
		v := js[[]float64](p, fmt.Sprintf(`(() => { const r = document.querySelector('#current-sleeve [data-ring="0"][data-place="%d"]').getBoundingClientRect(); return [r.left + r.width / 2, r.top + r.height / 2]; })()`, place))
		return v[0], v[1]
	}
	was := at(1)
	x, y := middle(6) // flat, as it is set
	p.do(chromedp.MouseEvent("mousePressed", x, y, chromedp.ButtonLeft))
	for _, place := range []int{5, 4, 3} {
		x, y = middle(place)
		p.do(chromedp.MouseEvent("mouseMoved", x, y, chromedp.ButtonLeft))
	}
	p.do(chromedp.MouseEvent("mouseReleased", x, y, chromedp.ButtonLeft))
	p.until("the sleeve turned", `document.querySelector("#current-ring1").getAttribute("aria-valuetext") === "down-upright"`)
	x, y = middle(0)
	p.do(chromedp.MouseEvent("mouseMoved", x, y)) // no finger on it
	if got := at(1); got != "down-upright" || was != "flat" {
		t.Errorf("from %q to %q", was, got)
	}
	p.tap("#current-ring1-on")
	p.until("a place on", `document.querySelector("#current-ring1").getAttribute("aria-valuetext") === "down"`)
	p.tap("#undo")
	p.until("an undo", `document.querySelector("#current-ring1").getAttribute("aria-valuetext") === "down-upright"`)

	p.unfold("describe")
	p.tap(`label[for="two-rings"]`)
	p.until("two rings", `document.querySelector("#current-ring2")`)
	if a, b := js[string](p, `document.querySelector("#current-ring1").getAttribute("aria-valuemax")`), js[string](p, `document.querySelector("#current-ring2").getAttribute("aria-valuemax")`); a != "7" || b != "3" {
		t.Errorf("rings of %s and %s places", a, b)
	}
	p.unfold("places")
	p.until("the labels, folded", `document.querySelector("#place-names")`)
	p.unfold("place-names")
	p.until("the labels", `document.querySelector("#ring2-place4")`)
	if n := js[int](p, `document.querySelectorAll("#place-names input").length`); n != 12 {
		t.Errorf("%d labels of two rings are typed, want 8 and 4", n)
	}
	p.types("#ring2-place4", "low")
	p.until("the label that was typed, at the place where the sleeve stands", `document.querySelector("#current-ring2").getAttribute("aria-valuetext") === "low"`)
	p.tap("#current-ring2-back")
	p.until("the second ring turned back", `document.querySelector("#current-ring2").getAttribute("aria-valuetext") === "C"`)
	p.tap("#current-ring2-on")
	p.until("the second ring turned, by its own label", `document.querySelector("#current-ring2").getAttribute("aria-valuetext") === "low"`)
	p.check()
}
