package browsertest

import (
	"fmt"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestTwoPlayersInTheBigView: on the smallest phone every player and the way to
// a further one are in sight, before the first ball nothing is said twice, and
// with one setting no scale of differences is drawn.
func TestTwoPlayersInTheBigView(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.follow("/live", "live")
	p.tap("#new-player")
	p.page("club")
	p.unfold("player-more")
	p.fillIn("player-name", "A player with quite a long name")
	p.show(smallest, smallest.height)
	p.follow("/live", "live")
	p.unfold("players")
	p.until("both players", `document.querySelectorAll(".roster [id^=player-]").length === 2`)
	if out := js[[]string](p, `[...document.querySelectorAll(".roster .button")].filter((b) => { const r = b.getBoundingClientRect(); return r.left < 0 || r.right > innerWidth || b.scrollWidth > b.clientWidth; }).map((b) => b.innerText)`); len(out) > 0 {
		t.Errorf("players out of sight or cut: %q", out)
	}
	if n := js[int](p, `[...document.querySelectorAll("main h2, main .empty-title")].filter((h) => h.innerText === document.querySelector("#live-last-h").innerText).length`); n != 1 {
		t.Errorf("%q stands %d times before the first ball", p.text("#live-last-h"), n)
	}
	p.typeBall("201")
	p.until("the drawing, folded", `document.querySelector("#live-more")`)
	p.unfold("live-more")
	p.until("the drawing", `document.querySelector("#live-differences svg")`)
	p.still()
	if js[bool](p, `document.querySelector("#live-differences .axes") !== null`) {
		t.Error("a scale of differences where there is one setting")
	}
	p.check()
}

// TestLinksWithoutAServer opens the page of shared links once the server is
// gone: a link is shown and looked at, a cut one and none at all say so and
// lead back, and one's own session is never taken for a shared one.
func TestLinksWithoutAServer(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.loseServer(s)
	p.example()
	p.saved()
	link := golden(t, "v1-thin")
	open := func(address string) {
		p.do(chromedp.Navigate("about:blank"))
		p.goTo(address)
		p.page("shared")
		p.until("the way back", `document.querySelector("#lost-session, iframe#sheet")`)
	}
	for address, must := range map[string]string{"/shared": "No link was opened", "/shared#s=" + link[:len(link)/2]: "damaged"} {
		open(address)
		if said := p.text("main"); !strings.Contains(said, must) || strings.Contains(said, "No session is open") || strings.Contains(said, "Opening") {
			t.Errorf("%s says\n%s", address, said)
		}
		p.tap("#lost-session")
		p.page("choose")
		p.answered()
	}
	open("/shared#s=" + link)
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	p.still()
	js[bool](p, axeSource(t)+"\n"+inspectJS+"\n;true")
	for _, z := range []size{smallest, {"tablet", 820, 1180, true}} {
		p.show(z, max(z.height, js[int64](p, `document.documentElement.scrollHeight`)))
		for i, theme := range themes {
			js[bool](p, fmt.Sprintf(`(document.documentElement.dataset.theme = %q, true)`, theme))
			for _, f := range p.faults(z.width, []string{"all", "colours", "colours"}[i]) {
				t.Errorf("%s, %s: %s: %s: %s", z.name, theme, f.Rule, f.Where, f.What)
			}
		}
	}
	p.check()
}
