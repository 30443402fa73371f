package browsertest

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestScreens takes a picture of every screen on a phone, light and dark:
// into -screens, where the README shows them, or into a folder thrown away.
func TestScreens(t *testing.T) {
	out := *screens
	if out == "" {
		out = t.TempDir()
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		t.Fatal(err)
	}
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", theme("light"))
	p.page("home")
	p.until("the list of sessions", `document.querySelector("#sessions .empty")`)
	p.picture(out, "home")
	p.example()
	for _, name := range []string{"club", "shots", "compare", "choose", "sheet"} {
		p.tap("#step-" + name)
		p.page(name)
		p.still()
		if name == "sheet" {
			p.until("the sheet", `![...document.querySelectorAll("main button")].some(b => b.innerText === "Print" && b.disabled)`)
			p.still()
		}
		p.picture(out, name)
	}
	p.tap("#send-link")
	p.until("the link", `document.querySelector("#link-text")?.value`)
	_, fragment, _ := strings.Cut(js[string](p, `document.querySelector("#link-text").value`), "#")
	p.follow("/choose", "choose")
	for _, dress := range []string{"dark", "sun"} {
		js[bool](p, fmt.Sprintf(`(document.documentElement.dataset.theme = %q, true)`, dress))
		p.picture(out, "choose-"+dress)
	}
	js[bool](p, `(document.documentElement.dataset.theme = "light", true)`)
	p.saved()
	for _, path := range []string{"/live", "/settings", "/how"} {
		p.follow(path, path[1:])
		p.picture(out, path[1:])
	}
	p.follow("/", "home")
	p.tap("#example-left") // a second session, so that two visits can be compared
	p.page("choose")
	p.answered()
	p.saved()
	p.follow("/compare", "compare")
	p.picture(out, "compare-left")
	p.follow("/", "home")
	p.picture(out, "sessions")
	p.follow("/visits", "visits")
	p.picture(out, "visits")
	p.do(chromedp.Navigate("about:blank"))
	p.goTo("/shared#" + fragment)
	p.page("shared")
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	p.picture(out, "shared")
	p.check()
}

// picture writes what the phone shows to dir/name.png.
func (p *tab) picture(dir, name string) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
	if err != nil {
		p.t.Fatal(err)
	}
	if len(png) < 5_000 {
		p.t.Errorf("the picture of %s has %d bytes: an empty screen", name, len(png))
	}
	if err := os.WriteFile(filepath.Join(dir, name+".png"), png, 0o644); err != nil {
		p.t.Fatal(err)
	}
}
