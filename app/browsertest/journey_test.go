package browsertest

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
)

// TestTheWholeJob is the journey of a person at the range: try the example,
// see the answer, lose the signal, load the page again, open one's own file.
func TestTheWholeJob(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.page("home")

	p.example()
	first := p.text("#answer")
	t.Logf("the example's answer: %s", first)
	p.saved()
	p.check()

	p.offlineReady()
	s.stop()
	p.setOffline(true)
	p.reload()
	p.page("choose")
	p.answered()
	if again := p.text("#answer"); again != first {
		t.Errorf("after a reload without the server the answer is %q, before it was %q", again, first)
	}
	p.check()

	// still without a server: a file of one's own
	p.openFile("../../testdata/demo/demo-comma.csv")
	p.tap("#accept-new") // the example's own balls: none would be new to it
	p.goByLink("/choose", "choose")
	p.answered()
	t.Logf("the file's answer: %s", p.text("#answer"))
	p.saved()
	p.check()
}

// answered waits for the answer to the open session.
func (p *tab) answered() {
	p.t.Helper()
	p.until("an answer", `document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim()`)
}

// openFile opens a file as the person's choice in the browser's dialogue.
func (p *tab) openFile(name string) {
	p.t.Helper()
	path, err := filepath.Abs(name)
	if err != nil {
		p.t.Fatal(err)
	}
	p.goByLink("/shots", "shots")
	p.do(chromedp.SetUploadFiles(chromedp.CSS("#file-input"), []string{path}))
	p.until("the file as understood", `document.querySelector("#accept-file, #file-error")`)
}

// goByLink follows a link of the page, so that the program goes on running.
func (p *tab) goByLink(path, name string) {
	p.t.Helper()
	p.tap(`a[href="` + path + `"]`)
	p.page(name)
}

// routes are all addresses of the app, as cmd/site writes them.
func routes(t *testing.T) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(*site, "*.html"))
	if err != nil || len(files) < 5 {
		t.Fatalf("pages of the site: %v, %v", files, err)
	}
	var out []string
	for _, f := range files {
		name := strings.TrimSuffix(filepath.Base(f), ".html")
		switch name {
		case "404":
		case "index":
			out = append(out, "/")
		default:
			out = append(out, "/"+name)
		}
	}
	return out
}

// TestEveryLanguageStartsOffline fetches the words of no language but English
// before the server is gone: page and sheet then speak the language chosen,
// by a tap and from the start.
func TestEveryLanguageStartsOffline(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.loseServer(s)
	p.example()
	p.saved() // the session is there again after the page is left
	languages, err := filepath.Glob("../../core/text/*.json")
	if err != nil || len(languages) == 0 {
		t.Fatal("no catalogues", err)
	}
	for _, file := range languages {
		content, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		var words map[string]string
		if err := json.Unmarshal(content, &words); err != nil {
			t.Fatal(err)
		}
		lang := strings.TrimSuffix(filepath.Base(file), ".json")
		p.goTo("/settings")
		p.until("the list of languages", `document.querySelector("#language") !== null`)
		js[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#language"); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, lang))
		p.until("the words of "+lang, fmt.Sprintf(`document.documentElement.lang === %q && document.querySelector("#page-title").innerText === %q`, lang, words["page.settings.title"]))
		p.saved() // before that the page asks whether it may be left
		p.goTo("/sheet")
		p.until("the title in "+lang, fmt.Sprintf(`document.querySelector("#page-title").innerText === %q`, words["page.sheet.title"]))
		p.until("the sheet in "+lang, fmt.Sprintf(`document.querySelector("#sheet")?.srcdoc.includes(%q)`, words["paper.made"]))
		p.check()
	}
}

// TestEveryRouteStartsOffline visits one page, takes the server away and
// starts every address from nothing.
func TestEveryRouteStartsOffline(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/how")
	p.loseServer(s)
	for _, path := range append(routes(t), "/shots?from=bookmark", "/shots/") {
		p.goTo(path)
		if got := p.text("main h1"); got == "" {
			t.Errorf("%s shows no heading", path)
		}
		p.check()
	}
	p.do(chromedp.Navigate(s.url("/nowhere")))
	// The page as it was written is there before the program, which names the address.
	p.until("the unknown address by its name", `document.querySelector("main")?.dataset.page === "lost" && document.querySelector("main").innerText.includes("/nowhere")`)
	p.tap("#lost-home")
	p.page("home")
	p.check()
}
