package browsertest

import (
	"context"
	"os"
	"path/filepath"
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
	p.tap("#step-choose")
	p.page("choose")
	p.do(theme("dark"))
	p.still()
	p.picture(out, "choose-dark")
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
