package browsertest

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// pick chooses an option of a list as a person does.
func (p *tab) pick(selector, value string) {
	p.t.Helper()
	p.until(selector, fmt.Sprintf(`document.querySelector(%q)`, selector))
	js[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.value = %q; e.dispatchEvent(new Event("change", {bubbles: true})); return true; })()`, selector, value))
}

// upload opens files as the person's choice in the browser's dialogue.
func (p *tab) upload(names ...string) {
	p.t.Helper()
	p.until("the file input", `document.querySelector("#file-input")`)
	p.do(chromedp.SetUploadFiles(chromedp.CSS("#file-input"), names))
}

func fileOf(t *testing.T, name, text string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name)
	if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// saves taps a button that hands out a file and returns the file's text.
func (p *tab) saves(selector string) string {
	p.t.Helper()
	js[bool](p, `(() => { document.querySelectorAll("details").forEach((d) => { d.open = true; }); window.handed = ""; const make = URL.createObjectURL.bind(URL);
		URL.createObjectURL = (b) => { b.text().then((t) => { window.handed = t; }); return make(b); }; return true; })()`)
	p.tap(selector)
	p.until("the file", `window.handed`)
	return js[string](p, `window.handed`)
}

// hands has the sheet's page hand out a file of a kind, with names or without,
// and returns its text.
func (p *tab) hands(kind string, named bool) string {
	p.t.Helper()
	p.still() // what is unfolded while the sheet is being written is folded again
	p.until("the ways out", `(document.querySelectorAll("main details:not([open])").forEach((d) => { d.open = true; }), document.querySelector("#sheet-files[open] #send-`+kind+`"))`)
	p.tap("#send-" + kind)
	p.until("what would leave", `document.querySelector("#parcel")`)
	if named {
		p.tap("#names")
		p.still()
	}
	p.until("the file is ready", `!document.querySelector("#do-save").disabled`)
	return p.saves("#do-save")
}

// TestABallIsTyped: taps on the key pad alone put a ball into the session; how
// many they are is what a person's time depends on.
func TestABallIsTyped(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.tap("#new-session")
	p.page("club")
	p.goByLink("/shots", "shots")
	taps := 0
	key := func(names ...string) {
		for _, n := range names {
			p.tap("#key-" + n)
			taps++
		}
	}
	p.tap("#more-fields")
	p.until("five fields", `document.querySelector("#entry-spin")`)
	ball := func() {
		key("2", "4", "1", "next")         // carry
		key("1", "2", "left", "next")      // side
		key("1", "5", "2", "next")         // ball speed
		key("1", "2", "mark", "5", "next") // launch
		key("2", "6", "0", "0")            // spin
	}
	began := time.Now()
	ball()
	p.tap("#add-shot")
	taps++
	p.until("the ball in the list", balls+" === 1")
	took := time.Since(began)
	t.Logf("five numbers: %d taps, by this script in %.1f s", taps, took.Seconds())
	p.until("its line", `document.querySelector(".ball-numbers")`)
	if line := p.text(".ball-numbers"); !strings.Contains(line, "241") || !strings.Contains(line, "152") || !strings.Contains(line, "2") {
		t.Errorf("the ball reads %q", line)
	}
	if taps > 22 { // every Next among them comes after the pad has gone on by itself, and means the same
		t.Errorf("%d taps for a ball", taps)
	}
	p.saved()

	// Half of the next ball: then the phone is turned, the person goes back and
	// forth, a call comes in, and the page is loaded again.
	key("1", "9", "8", "next", "7", "right")
	half := func(after string) {
		t.Helper()
		p.until("what was typed, after "+after, `document.querySelector("#entry-carry")?.value === "198" && document.querySelector("#entry-offline").value === "7 R"`)
	}
	p.show(size{"sideways", phoneHeight, phoneWidth, true}, phoneWidth)
	half("turning the phone")
	p.show(sizes[0], phoneHeight)
	half("turning it back")
	p.back("club")
	js[any](p, `history.forward()`)
	p.page("shots")
	half("going back and forth")
	js[bool](p, `(Object.defineProperty(document, "visibilityState", { get: () => "hidden", configurable: true }), document.dispatchEvent(new Event("visibilitychange")))`)
	half("a call")
	p.reload()
	p.page("shots")
	half("a reload")
	p.tap("#add-shot")
	p.until("two balls", balls+" === 2")

	// Which numbers are typed is the person's choice, and stays it.
	p.tap("#choose-fields")
	p.tap("#field-spin")
	p.until("one field less", `!document.querySelector("#entry-spin")`)
	p.tap("#undo")
	p.until("one ball", balls+" === 1")
	p.saved()
	p.reload()
	p.page("shots")
	if js[bool](p, `!!document.querySelector("#entry-spin")`) {
		t.Error("the choice of fields is forgotten")
	}
	p.check()
}

// TestFilesAreTakenIn: several files one after the other, a corrected column
// that is remembered, the setting of a run in two taps.
func TestFilesAreTakenIn(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example() // a club with settings
	p.goByLink("/shots", "shots")
	before := js[int](p, balls)
	one := fileOf(t, "one.csv", "Ball Speed (mph),Carry (yd),Way\n150,240,-12\n148,236,8\n151,243,3\n")
	two := fileOf(t, "two.csv", "Ball Speed (mph),Carry (yd),Way\n147,231,-20\n149,238,6\n150,239,4\n")
	p.upload(one, two)
	p.until("the first file", `document.querySelector("#accept-file") && document.querySelector("#file-h")?.innerText.includes(".csv")`)
	p.until("the second file's name", `document.querySelector("#file")?.innerText.includes("two.csv") && document.querySelector("#file")?.innerText.includes("one.csv")`)
	p.pick("#column-2", "offline")
	p.still()
	p.until("the side's unit", `document.querySelector("#unit-2")`)
	p.tap("#flip-2")
	p.still()
	p.tap("#accept-file")
	p.until("the second file, read as the first was corrected", `document.querySelector("#forget-columns") && document.querySelector("#column-2")?.value === "offline" && document.querySelector("#flip-2")?.checked`)
	p.tap("#accept-file")
	p.until("all balls", fmt.Sprintf(balls+" === %d", before+6))
	p.still()
	p.saved()

	// In a page that was loaded again it is still so.
	p.reload()
	p.page("shots")
	p.upload(fileOf(t, "three.csv", "Ball Speed (mph),Carry (yd),Way\n146,230,-2\n148,233,1\n149,235,5\n"))
	p.until("the correction, remembered", `document.querySelector("#forget-columns") && document.querySelector("#column-2")?.value === "offline"`)
	p.tap("#drop-file")

	// A spreadsheet is unpacked in the worker, whose archive/zip only reads.
	book, err := filepath.Abs("../../testdata/shotfile/workbook.xlsx")
	if err != nil {
		t.Fatal(err)
	}
	p.upload(book)
	p.until("the spreadsheet's shots", `document.querySelector("#accept-file") && document.querySelector("#file-h")?.innerText.includes("workbook.xlsx")`)
	p.tap("#drop-file")

	// The last run gets another setting by two taps.
	p.until("the balls again", `document.querySelector("[id^=run-]")`)
	id := js[string](p, `[...document.querySelectorAll("[id^=run-]")].pop().id`)
	was := p.text("#" + id)
	js[string](p, fmt.Sprintf(`(() => { document.getElementById(%q).click(); return ""; })()`, id))
	p.until("the settings", fmt.Sprintf(`document.querySelector("#%s-2")`, id))
	choice := 2
	if p.text(fmt.Sprintf("#%s-2", id)) == was {
		choice = 3
	}
	want := p.text(fmt.Sprintf("#%s-%d", id, choice))
	p.tap(fmt.Sprintf("#%s-%d", id, choice))
	p.until("the run's setting", fmt.Sprintf(`[...document.querySelectorAll(".run")].some((e) => e.innerText === %s)`, strconv.Quote(want)))
	p.still()
	p.check()
}

// TestASavedSessionOpensAgain: the session file and the table that the page
// hands out are opened by it as the same session, to the last letter.
func TestASavedSessionOpensAgain(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.example()
	p.saved()
	p.goByLink("/sheet", "sheet")
	session, table := p.hands("session", true), p.hands("table", true)
	p.check()

	q := startBrowser(t, s).open("/") // another device
	q.tap("#new-session")
	q.page("club")
	for name, text := range map[string]string{"session.json": session, "shots.csv": table} {
		q.goByLink("/shots", "shots")
		q.upload(fileOf(t, name, text))
		q.tap("#open-own") // somebody's, until it is kept
		q.page("shared")
		q.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
		q.goByLink("/shots", "shots")
		if n := js[int](q, `[...document.querySelectorAll("main :is(input,select,textarea,button)")].filter((e) => !e.matches(":disabled") && !e.closest(".banners")).length`); n > 0 {
			t.Errorf("%s: %d things can be changed on Shots before it is kept", name, n)
		}
		q.goByLink("/club", "club")
		q.unfoldAll()
		if n := js[int](q, `[...document.querySelectorAll("main :is(input,select,textarea,button)")].filter((e) => !e.matches(":disabled") && !e.closest(".banners")).length`); n > 0 {
			t.Errorf("%s: %d things can be changed on Club before it is kept", name, n)
		}
		q.tap("#keep-copy")
		q.goByLink("/shots", "shots")
		q.until("the balls", balls+" > 5")
		q.goByLink("/choose", "choose")
		q.answered()
		q.goByLink("/sheet", "sheet")
		id := regexp.MustCompile(`"ID": "[0-9a-f]{18}"`) // a copy has its own
		if again := q.hands("session", true); id.ReplaceAllString(again, "") != id.ReplaceAllString(session, "") {
			t.Errorf("%s came back otherwise: %d letters, want %d", name, len(again), len(session))
		}
	}
	q.check()
}
