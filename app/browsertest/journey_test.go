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
	p.tap("#accept-file")
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
		js[bool](p, fmt.Sprintf(`(() => { const e = document.querySelector("#language"); e.value = %q; e.dispatchEvent(new Event("change", { bubbles: true })); return true; })()`, lang))
		p.until("the words of "+lang, fmt.Sprintf(`document.documentElement.lang === %q && document.querySelector("#page-title").innerText === %q`, lang, words["page.settings.title"]))
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

// TestTheAnswerIsTwoScreens: on a phone, the smallest too, the answer, why and
// the first thing to hit next stand in the first two screens of Choose, in every
// language; all else is one tap away. A screen is what stands above the steps.
func TestTheAnswerIsTwoScreens(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	if *screens != "" {
		p.show(sizes[0], 2*phoneHeight)
		p.picture(*screens, "choose-two")
		p.show(sizes[0], phoneHeight)
	}
	languages := p.languages()
	for _, lang := range append(languages[1:], languages[0]) { // English last: what follows is in English
		p.speak(lang)
		p.follow("/choose", "choose")
		for _, z := range []size{sizes[0], smallest} {
			p.show(z, z.height)
			limit := 2 * (float64(z.height) - js[float64](p, `document.querySelector(".steps").getBoundingClientRect().height`))
			for _, part := range []string{"#answer", "#why > ul", "#worth li"} {
				at := js[float64](p, fmt.Sprintf(`document.querySelector(%q).getBoundingClientRect().bottom + scrollY`, part))
				t.Logf("%s, %s: %s ends %.0f px down of %.0f", lang, z.name, part, at, limit)
				if at > limit {
					t.Errorf("%s, %s: %s ends %.0f px down, beyond two screens of %.0f", lang, z.name, part, at, limit/2)
				}
			}
		}
	}
	p.show(sizes[0], phoneHeight)
	t.Logf("the page is %.1f screens long", js[float64](p, `document.documentElement.scrollHeight`)/phoneHeight)
	for _, id := range js[[]string](p, `[...document.querySelectorAll("main .chapter")].map((d) => d.id)`) {
		p.unfold(id)
		p.until("what unfolds", fmt.Sprintf(`document.querySelector("#%s > :not(summary)").getBoundingClientRect().height > 0`, id))
	}
	p.tap("#cell-1")
	p.until("the cell's numbers", `document.querySelector("#cell-detail") && document.querySelectorAll(".cell[aria-pressed=true]").length === 1`)
	js[bool](p, axeSource(t)+"\n"+inspectJS+"\n;true")
	p.show(sizes[0], js[int64](p, `document.documentElement.scrollHeight`))
	for _, f := range p.faults(phoneWidth, "all") { // what TestEveryScreen sees folded only
		t.Errorf("%s: %s: %s", f.Rule, f.Where, f.What)
	}
	p.check()
}
