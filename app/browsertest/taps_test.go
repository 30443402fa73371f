package browsertest

import (
	"fmt"
	"strings"
	"testing"
	"time"
)

// TestMyOwnAnswerIn110Taps: from the first page to an answer of one's own, 18
// balls with three settings typed on the key pad, of the club of last time.
func TestMyOwnAnswerIn110Taps(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.show(smallest, smallest.height)
	p.example() // the club that is known
	p.saved()
	p.tap("#home")
	p.page("home")
	c := taps{p: p}
	tap := func(selector string) { t.Helper(); p.tap(selector); c.n++ }
	tap("#new-session")
	p.page("club")
	tap("#step-shots")
	p.page("shots")
	for n := range 18 {
		if n == 6 || n == 12 {
			tap("#" + js[string](p, fmt.Sprintf(`[...document.querySelectorAll("[id^=chip-][aria-pressed=false]")].at(%d).id`, 1-n/6)))
			tap("#turn-done")
		}
		keys := append(strings.Split(fmt.Sprint(201+(n*7)%30), ""), strings.Split(fmt.Sprint(2+(n*5)%17), "")...)
		c.keys(append(keys, []string{"left", "right"}[n%2])...)
		p.until("the ball", fmt.Sprintf(balls+" === %d", n+1))
	}
	tap("#step-choose")
	p.page("choose")
	p.answered()
	t.Logf("18 balls with three settings to an answer: %d taps", c.n)
	if c.n > 110 {
		t.Errorf("%d taps, want at most 110", c.n)
	}
	p.saved()
	p.check()
}

// TestSixtyBallsAndTenKills types sixty balls while the page is torn away ten
// times in the middle of a ball, a second after a key: none is lost, none
// doubled, none on the wrong side.
func TestSixtyBallsAndTenKills(t *testing.T) {
	b := startBrowser(t, startServer(t, *site))
	p := b.open("/")
	p.show(smallest, smallest.height)
	p.tap("#new-session")
	p.page("club")
	p.goByLink("/shots", "shots")
	c := taps{p: p}
	want := []string{}
	for n := range 60 {
		carry, side, way := 200+n%40, 2+n%8, []string{"left", "right"}[n*7%3%2]
		keys := append(strings.Split(fmt.Sprint(carry), ""), fmt.Sprint(side))
		if n%6 == 3 { // in the middle of the ball
			c.keys(keys[:2]...)
			time.Sleep(time.Second) // what was typed a second before is kept
			p.reload()
			p.page("shots")
			p.until("what was half typed", `document.querySelector("#entry-carry")?.value === "`+strings.Join(keys[:2], "")+`"`)
			keys = keys[2:]
		}
		c.keys(append(keys, way)...)
		p.until("the ball", fmt.Sprintf(balls+" === %d", n+1))
		p.saved()
		want = append(want, fmt.Sprintf("%d yd|%d yd %s", carry, side, strings.ToUpper(way[:1])))
	}
	p.saved()
	p.reload()
	p.page("shots")
	p.earlier()
	got := js[[]string](p, `[...document.querySelectorAll(".ball")].reverse().map((e) => [...e.querySelectorAll(".ball-number")].map((s) => s.innerText.replaceAll("\u00a0", " ")).join("|"))`)
	if strings.Join(got, ", ") != strings.Join(want, ", ") {
		t.Errorf("the balls are\n%q, want\n%q", got, want)
	}
	p.check()
}
