package browsertest

import (
	"fmt"
	"math"
	"strings"
	"testing"
)

// taps counts what a thumb does on the key pad.
type taps struct {
	p *tab
	n int
}

// keys taps keys of the pad by name; "add" is the key that makes the ball.
func (c *taps) keys(names ...string) {
	c.p.t.Helper()
	for _, n := range names {
		id := "#key-" + n
		if n == "add" {
			id = "#add-shot"
		}
		c.p.tap(id)
		c.n++
	}
}

// inView fails where an element does not lie wholly on the screen as it stands,
// above what is fixed over its foot.
func (p *tab) inView(selectors ...string) {
	p.t.Helper()
	for _, s := range selectors {
		if where := js[string](p, fmt.Sprintf(`(() => { const e = document.querySelector(%q); if (!e) { return "is not there"; }
			const r = e.getBoundingClientRect(), nav = document.querySelector(".steps"), fixed = getComputedStyle(nav).position === "fixed" ? nav.getBoundingClientRect().top : innerHeight;
			return r.height > 0 && r.top >= 0 && r.bottom <= Math.min(innerHeight, fixed) + .5 && r.left >= 0 && r.right <= innerWidth ? "" : "lies from " + r.top.toFixed(0) + " to " + r.bottom.toFixed(0) + " of " + Math.min(innerHeight, fixed).toFixed(0); })()`, s)); where != "" {
			p.t.Errorf("%s %s", s, where)
		}
	}
}

// TestKeysKeepTheirPlace: while somebody types, what comes or goes above the keys
// (what to hit next, a new version) never moves a key from under the finger, and
// what to hit next stays on the screen.
func TestKeysKeepTheirPlace(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.show(smallest, smallest.height)
	p.example()
	p.goByLink("/shots", "shots")
	p.still()
	js[bool](p, `(scrollTo(0, 0), true)`)
	c := taps{p: p}
	top := func() float64 {
		return js[float64](p, `document.querySelector("#key-1").getBoundingClientRect().top`)
	}
	c.keys("2")
	was := top()
	kept := func(what string) {
		t.Helper()
		if is := top(); math.Abs(is-was) > 1 {
			t.Errorf("%s: the keys moved from %.0f to %.0f", what, was, is)
		}
	}
	js[any](p, `goappOnUpdate()`)
	p.until("the word of a new version", `document.querySelector("#update")`)
	kept("a new version")
	c.keys("3", "1", "1", "2")
	count := js[int](p, balls)
	c.keys("left")
	p.until("the ball", fmt.Sprintf(balls+" === %d", count+1))
	p.still()
	kept("a ball, and what to hit after it")
	for _, room := range []string{"9rem", ""} {
		js[any](p, fmt.Sprintf(`document.querySelector("#to-hit").style.minHeight = %q`, room))
		kept("what to hit takes " + room)
		c.keys("2")
		kept("a key after it")
	}
	p.inView("#hit-now", "#key-1", "#add-shot")

	// Who taps elsewhere finds the page as it lies.
	p.tap("#chip-other")
	at := js[float64](p, `document.querySelector("#chip-other").getBoundingClientRect().top`)
	p.until("the settings", `document.querySelector("#chip-other").getAttribute("aria-expanded") === "true"`)
	if is := js[float64](p, `document.querySelector("#chip-other").getBoundingClientRect().top`); math.Abs(is-at) > 1 {
		t.Errorf("the key of the other settings moved from %.0f to %.0f", at, is)
	}
	p.check()
}

// TestABallInSevenTaps: carry and side on the key pad, and five numbers, on the
// smallest phone; what is done between two balls is on one screen, a side is
// asked for and never taken for granted, and three taps put a slip right.
func TestABallInSevenTaps(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.show(smallest, smallest.height)
	p.do(script(`navigator.vibrate = (ms) => { window.buzzed = (window.buzzed ?? 0) + 1; return true; };`))
	p.reload()
	p.example()
	p.goByLink("/shots", "shots")
	p.still()
	count := js[int](p, balls)
	c := taps{p: p}
	more := func(what string, most int) {
		t.Helper()
		count++
		p.until("the ball: "+what, fmt.Sprintf(balls+" === %d", count))
		t.Logf("%s: %d taps", what, c.n)
		if c.n > most {
			t.Errorf("%s takes %d taps, want at most %d", what, c.n, most)
		}
		c.n = 0
	}
	js[bool](p, `(scrollTo(0, 0), true)`)
	p.inView("#hit-now", "#chip-0", "#last-mishit", "#last-side", "#last-remove", "#entry-carry", "#entry-offline", "#key-1", "#add-shot")
	c.keys("2", "3", "1", "1", "2", "left")
	more("carry and side", 7)
	if got := p.text("#last"); !strings.Contains(got, "231") || !strings.Contains(got, "12") || !strings.Contains(got, "L") {
		t.Errorf("the last ball reads %q", got)
	}
	if n := js[int](p, `window.buzzed ?? 0`); n != 1 {
		t.Errorf("one ball was told by %d vibrations", n)
	}

	// No side said: nothing is stored, and the key for it makes the ball.
	c.keys("2", "2", "8", "9", "add")
	p.until("the question for the side", `document.querySelector("#entry-offline-e")`)
	if n := js[int](p, balls); n != count {
		t.Fatalf("a ball without a side was stored: %d balls, want %d", n, count)
	}
	c.keys("right")
	more("a side that was asked for", 7)
	if got := p.text("#last .last-number:last-of-type"); !strings.Contains(got, "9") || !strings.HasSuffix(got, "R") {
		t.Errorf("the side reads %q, want 9 R", got)
	}

	// The wrong side, a mis-hit, and away with it.
	p.tap("#last-side")
	p.until("the other side", `[...document.querySelectorAll("#last .last-number")].pop().innerText.endsWith("L")`)
	p.tap("#last-mishit")
	p.until("the mis-hit", `document.querySelector("#last-mishit").getAttribute("aria-pressed") === "true"`)
	p.tap("#last-remove")
	count--
	p.until("a ball less", fmt.Sprintf(balls+" === %d", count))

	// A carry that is most likely a slip: asked at once, kept if told so.
	c.n = 0
	c.keys("2", "3", "next", "5", "right")
	p.until("the doubt", `document.querySelector("#odd-keep")`)
	if n := js[int](p, balls); n != count {
		t.Fatalf("a ball in doubt was stored")
	}
	p.tap("#odd-keep")
	more("a carry kept in spite of a doubt", 7)
	p.tap("#last-remove")
	count--
	p.until("a ball less", fmt.Sprintf(balls+" === %d", count))

	p.tap("#notice-close") // it lies over the foot of the screen
	p.until("the foot of the screen", `!document.querySelector("#notice-close")`)
	p.tap("#more-fields")
	p.until("five fields", `document.querySelector("#entry-spin")`)
	c.n = 0
	c.keys("2", "4", "1", "1", "2", "right", "1", "5", "2", "1", "2", "mark", "5", "2", "6", "0", "0", "add")
	more("five numbers", 18)
	if got := p.text("#last"); !strings.Contains(got, "241") || !strings.Contains(got, "152") || !strings.Contains(got, "12.5") || !strings.Contains(got, "2") {
		t.Errorf("the last ball reads %q", got)
	}
	if first := p.text(".balls .ball"); !strings.Contains(first, "241") {
		t.Errorf("the newest ball is not at the top: %q", first)
	}
	p.saved()
	p.check()
}
