package browsertest

import (
	"bytes"
	"compress/gzip"
	"context"
	_ "embed"
	"encoding/json"
	"flag"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var gallery = flag.String("gallery", "", "folder to write a whole-page picture of every screen to, in every size and theme")

//go:embed testdata/axe/axe.min.js.gz
var axePacked []byte

//go:embed inspect.js
var inspectJS string

// axeSource is axe-core, see testdata/axe/SOURCE.md.
func axeSource(t *testing.T) string {
	t.Helper()
	z, err := gzip.NewReader(bytes.NewReader(axePacked))
	if err != nil {
		t.Fatal(err)
	}
	b, err := io.ReadAll(z)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// size is a screen: a phone held upright, or a laptop.
type size struct {
	name          string
	width, height int64 // [CSS px]
	touch         bool
}

var sizes = []size{{"phone", phoneWidth, phoneHeight, true}, {"laptop", 1280, 800, false}}

// others are screens on which only the width is looked at: the narrowest and
// the widest phone, one held sideways, a tablet.
var others = []size{{"narrowest phone", 320, 640, true}, {"small phone", 360, 640, true}, {"large phone", 430, 932, true}, {"sideways", 844, 390, true}, {"tablet", 820, 1180, true}}

// smallest is the smallest phone on which the answer takes no more than two screens.
var smallest = size{"smallest phone", 360, 740, true}

// themes are the values of the document's data-theme.
var themes = []string{"light", "dark", "sun"}

// show gives the tab a screen. tall makes it as high as its page, so that
// every point of it can be asked what is drawn there.
func (p *tab) show(z size, height int64) {
	p.t.Helper()
	if z.touch {
		p.do(chromedp.EmulateViewport(z.width, height, chromedp.EmulateMobile, chromedp.EmulateTouch))
	} else {
		p.do(chromedp.EmulateViewport(z.width, height))
	}
}

// follow goes to an address inside the running program, as a link does.
func (p *tab) follow(path, name string) {
	p.t.Helper()
	js[bool](p, fmt.Sprintf(`(goappNav(%q), true)`, path))
	p.page(name)
	p.still()
	if name == "sheet" {
		// In the language of the page: the sheet before may still be shown.
		p.until("the sheet", `document.querySelector("#sheet-error, .empty") || document.querySelector("iframe#sheet")?.contentDocument?.documentElement.lang === document.documentElement.lang`)
	}
}

// stops are the screens, by the name that their main element bears.
var stops = []struct{ path, name string }{
	{"/", "home"}, {"/club", "club"}, {"/shots", "shots"}, {"/compare", "compare"}, {"/choose", "choose"}, {"/sheet", "sheet"},
	{"/shared", "shared"}, {"/settings", "settings"}, {"/how", "how"}, {"/live", "live"}, {"/client", "client"}, {"/visits", "visits"}, {"/story", "story"}, {"/nowhere", "lost"},
}

// fault is one thing wrong with a screen.
type fault struct{ Rule, Where, What string }

// TestEveryScreen looks at every screen in each size, theme and state, with
// axe-core and with checks of our own: inspect.js says which.
func TestEveryScreen(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", theme("light"))
	p.page("home")
	axe := axeSource(t)
	began := time.Now()
	looked := 0
	for _, state := range []string{"empty", "demo", "left", "thin"} {
		p.enter(state)
		js[bool](p, axe+"\n"+inspectJS+"\n;true")
		for _, z := range sizes {
			p.show(z, z.height)
			for _, stop := range stops {
				if state != "demo" && (stop.name == "how" || stop.name == "story" || stop.name == "lost") {
					continue // the same in every state
				}
				p.follow(stop.path, stop.name)
				for _, theme := range themes {
					if state != "demo" && theme != "light" {
						continue // colours do not depend on what is shown
					}
					looked++
					p.inspect(z, state+" "+stop.name, theme)
				}
				if state == "demo" {
					looked++
					p.unfoldAll()
					p.inspect(z, state+" "+stop.name+", all unfolded", "light")
				}
			}
		}
		if state == "demo" {
			looked += p.inOtherSizes()
		}
		p.show(sizes[0], sizes[0].height)
		p.check()
	}
	looked += p.inLanguages(axe)
	t.Logf("%d screens looked at in %.0f s", looked, time.Since(began).Seconds())
}

// unfoldAll opens whatever is folded, and what was folded in it: it is drawn only
// then.
func (p *tab) unfoldAll() {
	p.t.Helper()
	p.until("everything unfolded", `(() => {
  const folded = document.querySelectorAll("main details:not([open])");
  folded.forEach((d) => { d.open = true; });
  window.ferruleUnfolded = folded.length ? 0 : (window.ferruleUnfolded || 0) + 1; // what is drawn takes a frame
  return ferruleUnfolded > 2;
})()`)
	js[bool](p, `(window.ferruleUnfolded = 0, true)`)
	p.still()
}

// inOtherSizes asks of every screen whether it fits and its targets are large
// enough, which needs no axe-core.
func (p *tab) inOtherSizes() (looked int) {
	p.t.Helper()
	for _, z := range others {
		p.show(z, z.height)
		for _, stop := range stops {
			p.follow(stop.path, stop.name)
			looked++
			p.inspect(z, "demo "+stop.name, "")
		}
	}
	return looked
}

// inLanguages looks at the screens of the example on a phone in every language
// but English: words are longer there, and letters wider.
func (p *tab) inLanguages(axe string) (looked int) {
	p.t.Helper()
	p.enter("demo")
	js[bool](p, axe+"\n"+inspectJS+"\n;true")
	for _, lang := range p.languages() {
		if lang == "en" {
			continue
		}
		p.speak(lang)
		for _, stop := range stops {
			if stop.name == "story" {
				continue // parts with English words of their own
			}
			looked++
			p.follow(stop.path, stop.name)
			p.inspect(sizes[0], "demo "+lang+" "+stop.name, themes[0])
		}
	}
	return looked
}

// languages are those that the settings offer, English first.
func (p *tab) languages() []string {
	p.t.Helper()
	p.follow("/settings", "settings")
	return js[[]string](p, `[...document.querySelectorAll("#language option")].map((o) => o.value)`)
}

// speak has the program speak another language from now on.
func (p *tab) speak(lang string) {
	p.t.Helper()
	p.follow("/settings", "settings")
	js[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#language"); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, lang))
	p.until("the language "+lang, fmt.Sprintf(`document.documentElement.lang === %q`, lang))
}

// enter brings the program into a state that a person can be in.
func (p *tab) enter(state string) {
	p.t.Helper()
	p.goTo("/")
	p.page("home")
	p.until("the list of sessions", `document.querySelector("#sessions .session, #sessions .empty")`)
	if state == "empty" {
		return
	}
	p.tap(map[string]string{"demo": "#try-example", "left": "#example-left", "thin": "#example-thin"}[state])
	p.page("choose")
	p.answered()
}

// inspect looks at the screen that is shown, in one theme; in none it is left
// as it is and only measured.
func (p *tab) inspect(z size, name, theme string) {
	p.t.Helper()
	if theme != "" {
		js[bool](p, fmt.Sprintf(`(document.documentElement.dataset.theme = %q, true)`, theme))
	}
	high := js[int64](p, `Math.min(16000, Math.ceil(document.documentElement.scrollHeight))`)
	p.show(z, max(high, z.height))
	if *gallery != "" {
		p.whole(filepath.Join(*gallery, strings.ReplaceAll(fmt.Sprintf("%s %s %s.png", name, z.name, theme), " ", "-")))
	}
	how := map[string]string{"": "no axe", themes[0]: "all", themes[1]: "colours", themes[2]: "colours"}[theme]
	faults := p.faults(z.width, how)
	p.show(z, z.height)
	seen := []fault{}
	for _, f := range faults {
		if !slices.Contains(seen, f) {
			seen = append(seen, f)
			p.t.Errorf("%s, %s, %s: %s: %s: %s", name, z.name, theme, f.Rule, f.Where, f.What)
		}
	}
}

// faults are what inspect.js finds on the screen as it is.
func (p *tab) faults(width int64, how string) []fault {
	p.t.Helper()
	raw := js[string](p, fmt.Sprintf(`ferruleInspect(%d, %q).then(JSON.stringify)`, width, how))
	var faults []fault
	if err := json.Unmarshal([]byte(raw), &faults); err != nil {
		p.t.Fatal(err)
	}
	return faults
}

// wordless are the drawings on a page whose letters are small where all others are
// large, and of which no words stand beneath.
const wordless = `[...document.querySelectorAll("figure:not([hidden])")].filter((f) => f.offsetParent && [...f.querySelectorAll(".drawing svg text")].some((x) => x.getBoundingClientRect().height > 0 && x.getBoundingClientRect().height < 24)
	&& ![f.nextElementSibling, ...f.querySelectorAll(".drawn-words, p, figcaption:not(.unseen)")].some((x) => x && x.offsetParent && x.innerText.trim().length > 20 && parseFloat(getComputedStyle(x).fontSize) >= 24)).map((f) => f.id || f.className)`

// TestLettersTwiceAsLarge: who has the browser write letters of twice the size
// finds every screen of the example whole, with all its parts unfolded, on a phone
// and on the narrowest one.
func TestLettersTwiceAsLarge(t *testing.T) {
	p := startBrowser(t, startServer(t, *site), chromedp.Flag("blink-settings", "defaultFontSize=32")).open("/", theme("light"))
	if got := js[string](p, `getComputedStyle(document.documentElement).fontSize`); got != "32px" {
		t.Fatalf("a letter is %s, want 32px: this tests nothing", got)
	}
	p.enter("demo")
	js[bool](p, inspectJS+"\n;true")
	looked := 0
	for _, z := range []size{{"phone, large letters", phoneWidth, phoneHeight, true}, {"narrowest phone, large letters", 320, 640, true}} {
		p.show(z, z.height)
		for _, stop := range stops {
			p.follow(stop.path, stop.name)
			if fixed := js[string](p, `getComputedStyle(document.querySelector(".steps") ?? document.body).position`); fixed == "fixed" {
				t.Errorf("%s, %s: the steps lie over the page", stop.name, z.name)
			}
			p.inspect(z, "demo "+stop.name, "")
			p.unfoldAll()
			p.inspect(z, "demo "+stop.name+", all unfolded", "")
			for _, without := range js[[]string](p, wordless) {
				t.Errorf("%s, %s: the drawing %s has small letters and no words beneath it", stop.name, z.name, without)
			}
			looked += 2
		}
	}
	t.Logf("%d screens looked at", looked)
	p.check()
}

// planted are faults of every kind, to see that they are found.
const planted = `(() => {
const d = document.createElement("div");
d.innerHTML = '<figure id="planted"><img src="/icon.svg"><div style="width:3000px">wide</div><button type="button" style="font-size:8px">low</button><p style="color:#999">pale</p><p style="margin-bottom:-1.5rem">under</p><p>over it</p><select style="width:90px" aria-label="list"><option>short<option>a long choice, cut</select>' +
 '<div class="drawing"><svg width="300" height="60" viewBox="0 0 300 60"><rect width="60" height="60" fill="#777"/><text x="10" y="20" fill="#888">dim</text><text x="100" y="20" fill="#000">one</text><text x="103" y="22" fill="#000">two</text>' +
 '<text x="290" y="50" fill="#000">outside</text><text x="200" y="50" fill="#000">under</text><circle cx="215" cy="46" r="14" fill="#000"/><circle data-setting="1" cx="100" cy="50" r="5" fill="#ddd"/></svg></div></figure>';
document.querySelector("main").append(d); return true; })()`

// TestTheChecksCanFail plants faults on a screen and wants each to be found.
func TestTheChecksCanFail(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/how", theme("light"))
	p.page("how")
	js[bool](p, axeSource(t)+"\n"+inspectJS+"\n;true")
	js[bool](p, planted)
	p.show(sizes[0], 6000)
	found := map[string]bool{}
	for _, f := range p.faults(phoneWidth, "all") {
		found[f.Rule] = true
	}
	for _, rule := range []string{"axe image-alt", "axe color-contrast", "wide", "target", "list", "drawn", "covered", "mark", "overlap", "cut", "words"} {
		if !found[rule] {
			t.Errorf("%s: a planted fault is not found", rule)
		}
	}
}

// whole writes a picture of all that the screen holds.
func (p *tab) whole(file string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
		p.t.Fatal(err)
	}
	if err := os.WriteFile(file, png, 0o644); err != nil {
		p.t.Fatal(err)
	}
}
