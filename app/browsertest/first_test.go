package browsertest

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var earlyTaps = flag.Int("early-taps", 24, "how many taps TestTapsBeforeTheProgram makes on each page")

// counting notes what a finger does to buttons and choices, wherever they stand,
// and what of it reaches the program's own page.
const counting = `
window.ferruleMade = []; window.ferruleTaken = [];
{ const of = (e) => { const b = e.target.closest?.(e.type === "change" ? "input" : "button"); return b && b.id && !b.disabled ? b.id.replace(/^first-/, "") : ""; };
const choice = (e) => { const l = e.target.closest?.("label, input"), c = l?.control || l; return c?.type === "radio" && c.closest("body > .app") && window.ferruleFirst?.queue.length ? c : null; };
addEventListener("click", (e) => { // one that waits for those before it makes no change of its own
	const c = e.isTrusted && !window.ferruleFirst?.acting && choice(e);
	if (c && (!c.checked || ferruleFirst.queue.some((q) => q.id?.split("-")[0] === c.id.split("-")[0]))) { ferruleMade.push(c.id); }
}, true);
for (const type of ["click", "change"]) {
	addEventListener(type, (e) => { if (e.isTrusted && !window.ferruleFirst?.acting && of(e)) { ferruleMade.push(of(e)); } }, true);
	document.addEventListener(type, (e) => { if (of(e) && e.target.closest("body > .app")) { ferruleTaken.push(of(e)); } }, true);
} }`

// early opens a page without waiting for its program.
func (p *tab) early(path string) {
	p.t.Helper()
	p.do(chromedp.Navigate("http://" + p.host + path))
}

// touch touches whatever bears an id at this moment, before the program or after.
func (p *tab) touch(id string) bool {
	p.t.Helper()
	at := js[[]float64](p, fmt.Sprintf(`(() => { const e = [%q, %q].map((s) => document.querySelector(s)).find((e) => e && e.getClientRects().length);
		if (!e) { return []; } e.scrollIntoView({ block: "center" }); e.getBoundingClientRect(); e.scrollIntoView({ block: "center" }); // what comes into sight takes its size only then
		const r = e.getBoundingClientRect(); return [r.x + r.width / 2, r.y + r.height / 2]; })()`,
		`#first label[for="first-`+id+`"], #first-`+id, `body > .app label[for="`+id+`"], body > .app #`+id))
	if len(at) == 0 {
		return false
	}
	p.do(chromedp.TapXY(at[0], at[1]))
	return true
}

// TestTapsBeforeTheProgram touches pages at random moments, from the first on
// that they are shown until long after the program stands: each touch reaches the
// program once, in its order, and so does what is typed.
func TestTapsBeforeTheProgram(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(counting))
	p.newSession()
	p.goByLink("/settings", "settings")
	time.Sleep(2 * time.Second) // seen, as the next start shows it
	p.goByLink("/shots", "shots")
	time.Sleep(2 * time.Second)
	random := rand.New(rand.NewPCG(21, 22))
	for path, ids := range map[string][]string{
		"/shots":    {"key-1", "key-2", "key-3", "more-fields"},
		"/settings": {"theme-dark", "theme-light", "system-metric", "system-imperial", "theme-sun"},
	} {
		made, before := 0, 0
		for made < *earlyTaps {
			p.early(path)
			for range 1 + random.IntN(8) {
				time.Sleep(time.Duration(random.IntN(250)) * time.Millisecond)
				if js[bool](p, `!!document.querySelector("#first")`) {
					before++
				}
				p.touch(ids[random.IntN(len(ids))])
				made++
			}
			p.ready()
			p.until("all of it played", `document.body.dataset.played === "1" && ferruleFirst.queue.length === 0`)
			p.still()
			did, took := chosen(js[[]string](p, `ferruleMade`)), chosen(js[[]string](p, `ferruleTaken`))
			if !slices.Equal(did, took) {
				t.Fatalf("%s: touched %q, taken %q", path, did, took)
			}
		}
		t.Logf("%s: %d taps, %d of them before the program stood: each taken once", path, made, before)
		if before < made/4 {
			t.Errorf("%s: %d of %d taps came before the program: this tested nothing", path, before, made)
		}
	}

	// What is typed stands in its field, to the letter.
	for i := range 3 {
		p.early("/shots")
		text := fmt.Sprint(18 + i)
		p.do(chromedp.SendKeys(chromedp.CSS("#first-entry-carry"), text))
		shown := js[string](p, `(document.querySelector("#first-entry-carry") ?? document.querySelector("#entry-carry")).value`)
		p.ready()
		p.until("all of it played", `document.body.dataset.played === "1"`)
		if got := js[string](p, `document.querySelector("#entry-carry").value`); got != shown || !strings.Contains(got, text) {
			t.Errorf("typed %q, the field holds %q, it showed %q", text, got, shown)
		}
		p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), strings.Repeat("\b", 6)))
		p.saved()
	}
	p.check()
}

// chosen leaves out what chooses again what is chosen: it makes no change.
func chosen(ids []string) (out []string) {
	last := map[string]string{}
	for _, id := range ids {
		group, _, _ := strings.Cut(id, "-")
		if (group == "theme" || group == "system") && last[group] == id {
			continue
		}
		last[group] = id
		out = append(out, id)
	}
	return out
}

// TestAFirstVisitIsTapped: the first page begins an example or a session at a tap
// that the program has not seen, in the language of the browser.
func TestAFirstVisitIsTapped(t *testing.T) {
	for _, c := range []struct{ lang, id, page, says string }{{"en", "try-example", "choose", "Try the example"}, {"de", "new-session", "club", "Beispiel"}} {
		s := startServer(t, *site)
		p := startBrowser(t, s, chromedp.Flag("accept-lang", c.lang), chromedp.Flag("lang", c.lang)).blank()
		p.do(script(counting))
		p.early("/")
		p.until("the first page", `document.querySelector("#first")?.checkVisibility() && performance.getEntriesByName("first-contentful-paint").length`)
		if said := p.text("#first"); !strings.Contains(said, c.says) {
			t.Errorf("%s: the first page says %.300q", c.lang, said)
		}
		p.touch(c.id)
		p.page(c.page)
		p.until("the tap to be played", `document.body.dataset.played === "1"`)
		if took := js[[]string](p, `ferruleTaken`); len(took) != 1 || took[0] != c.id {
			t.Errorf("%s: taken %q", c.lang, took)
		}
		p.check()
	}
}

// TestTheExampleIsReadAhead: who taps the example for the first time reads its answer
// before the program is there; it is the program's own, to the letter. What is tapped
// on that page is done once the program shows the same.
func TestTheExampleIsReadAhead(t *testing.T) {
	for lang, says := range map[string]string{"en": "worked out beforehand", "de": "vorab berechnet"} {
		s := startServer(t, *site)
		p := startBrowser(t, overSlowNetwork(t, s), chromedp.Flag("accept-lang", lang), chromedp.Flag("lang", lang)).blank()
		p.do(script(counting))
		go func() { _ = chromedp.Do(p.ctx, chromedp.Navigate("http://"+p.host+"/")) }()
		p.until("the first page", `document.querySelector("#first")?.checkVisibility() && performance.getEntriesByName("first-contentful-paint").length`)
		p.touch("example-thin")
		p.until("the answer ahead of the program", `document.querySelector("#first-answer")?.innerText.trim() && document.body.dataset.ready !== "1"`)
		if said := p.text("#first"); !strings.Contains(said, says) {
			t.Errorf("%s: the page ahead says %.300q", lang, said)
		}
		ahead := js[string](p, `document.querySelector("#first section.answer").textContent.replace(/\s+/g, "")`)
		p.touch("step-club")
		p.ready()
		p.page("club")
		p.until("both taps to be played", `document.body.dataset.played === "1" && ferruleFirst.queue.length === 0`)
		if took := js[[]string](p, `ferruleTaken`); !slices.Equal(took, []string{"example-thin"}) {
			t.Errorf("%s: taken %q, want the example once; the step is a link", lang, took)
		}
		p.goByLink("/choose", "choose")
		p.still()
		if got := js[string](p, `document.querySelector("section.answer").textContent.replace(/\s+/g, "")`); got != ahead || len(got) < 200 {
			t.Errorf("%s: ahead of the program stood\n%s\nits own is\n%s", lang, ahead, got)
		}
		p.check()
	}
}

// TestThePageLastSeen is painted before the program starts, and marked; one of
// another version is not.
func TestThePageLastSeen(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	headline := p.text("#answer")
	p.until("a note of it", `localStorage["ferrule.seen /choose"]`)
	seen := script(`window.ferruleSaw = ""; new MutationObserver(() => { const e = document.querySelector("#first"); if (e && !ferruleSaw && e.dataset.seen) { ferruleSaw = e.innerText; } }).observe(document, { childList: true, subtree: true, attributes: true });
		window.ferruleGap = 0; setInterval(() => { const e = document.querySelector("#first-answer") ?? document.querySelector("#answer"); if (ferruleSaw && !e?.innerText.trim()) { ferruleGap++; } }, 20);`)
	p.do(seen, chromedp.Reload())
	p.until("the program", `document.body.dataset.ready === "1" && !document.querySelector("#first")`)
	p.until("the answer", `document.querySelector("#answer")?.innerText === `+quoted(headline))
	if n := js[int](p, `ferruleGap`); n > 0 {
		t.Errorf("nobody touched the page, and it showed no answer %d times", n)
	}
	if saw := js[string](p, `ferruleSaw`); !strings.Contains(saw, strings.Split(headline, "\n")[0]) || !strings.Contains(saw, "As you saw it last") {
		t.Errorf("before the program stood %.300q, want %.200q", saw, headline)
	}
	js[any](p, `(() => { const k = "ferrule.seen /choose", v = JSON.parse(localStorage[k]); v.version = "another"; localStorage[k] = JSON.stringify(v); })()`)
	js[any](p, `addEventListener("pagehide", () => 0)`)
	p.do(script(`const was = localStorage["ferrule.seen /choose"];`))
	p.reload()
	if saw := js[string](p, `ferruleSaw`); js[bool](p, `was.includes("another")`) && saw != "" {
		t.Errorf("a page of another version is shown: %.200q", saw)
	}
	p.check()
}

// TestTheCarriedAnswerIsTheWorkers opens an example where the analysis program
// cannot be had: its answer is there all the same. Then the program is there, and
// what it works out after a reload is the same, to the letter.
func TestTheCarriedAnswerIsTheWorkers(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(*site)); err != nil {
		t.Fatal(err)
	}
	away := func(from, to string) {
		for _, end := range []string{"", ".br", ".gz"} {
			if err := os.Rename(filepath.Join(dir, from+end), filepath.Join(dir, to+end)); err != nil {
				t.Fatal(err)
			}
		}
	}
	away("worker.wasm", "later.wasm")
	p := startBrowser(t, startServer(t, dir)).open("/", script(stopwatch))
	p.setOffline(true) // a file is missing, and the browser says so
	p.tap("#try-example")
	p.page("choose")
	p.until("the answer", `document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim()`)
	p.saved()
	look := func() (all string) {
		for _, at := range []string{"choose", "compare"} {
			p.goByLink("/"+at, at)
			p.still()
			all += p.text("main")
		}
		return all
	}
	carried := look()
	if n := js[int](p, `ferruleAnswers.length`); n != 0 {
		t.Fatalf("the analysis answered %d times", n)
	}
	away("later.wasm", "worker.wasm")
	p.goTo("/choose")
	p.until("the worker's answer", `ferruleAnswers.length === 1 && document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim()`)
	if fresh := look(); fresh != carried || len(fresh) < 1000 {
		t.Errorf("carried:\n%s\nworked out anew:\n%s", carried, fresh)
	}
}

// TestALinkIsKeptBeforeTheProgram: the tap on "keep" is kept while the program
// loads, and the session is stored once.
func TestALinkIsKeptBeforeTheProgram(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(counting))
	p.example()
	p.saved()
	p.goByLink("/sheet", "sheet")
	p.tap("#send-link")
	p.until("the link", `document.querySelector("#link-text")`)
	_, fragment, _ := strings.Cut(js[string](p, `document.querySelector("#link-text").value`), "#")
	random := rand.New(rand.NewPCG(31, 32))
	p.do(slowly()) // else a fast machine has the program before the tap
	const times = 12
	early := 0
	for i := range times {
		p.do(chromedp.Navigate("about:blank"))
		p.early("/shared#" + fragment)
		time.Sleep(time.Duration(random.IntN(600)) * time.Millisecond)
		if js[bool](p, `!!document.querySelector("#first")`) {
			early++
		}
		p.until("the button", `document.querySelector("#first-keep-copy, #keep-copy")?.innerText.trim()`)
		p.touch("keep-copy")
		p.ready()
		p.until("it to be played", `document.body.dataset.played === "1" && ferruleFirst.queue.length === 0`)
		p.until("the copy", `!document.querySelector("#keep-copy")`)
		p.saved()
		if took := js[[]string](p, `ferruleTaken`); !slices.Equal(took, []string{"keep-copy"}) {
			t.Fatalf("link %d: taken %q", i, took)
		}
	}
	p.goByLink("/", "home")
	p.until("the list", `document.querySelector(".session-open")`)
	if n := js[int](p, `document.querySelectorAll(".session-open").length`); n != 1+times {
		t.Errorf("%d sessions are stored, want %d", n, 1+times)
	}
	if early < times/4 {
		t.Errorf("%d of %d taps came before the program: this tested nothing", early, times)
	}
	t.Logf("%d links, %d kept before the program stood", times, early)
	p.check()
}
