package browsertest

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/tracing"
	"github.com/chromedp/chromedp"
)

// looks are the screens on which each person does the job.
var looks = []struct {
	size  size
	theme string
}{{sizes[0], "light"}, {sizes[1], "dark"}, {sizes[0], "dark"}, {sizes[1], "light"}}

// each does a journey in every look, in one browser: the sessions of one look
// are still there in the next, as they are for a person.
func each(t *testing.T, path string, journey func(t *testing.T, p *tab, run int)) {
	s := startServer(t, *site)
	b := startBrowser(t, s)
	p := b.open(path)
	for i, l := range looks {
		t.Run(l.size.name+" "+l.theme, func(t *testing.T) {
			p.t = t
			p.do(theme(l.theme))
			p.show(l.size, l.size.height)
			p.goTo(path)
			if i > 0 {
				p.opened()
			}
			journey(t, p, i)
			p.check()
		})
		if t.Failed() {
			return
		}
	}
}

// opened waits for the last session, which opens by itself and moves what is
// below it.
func (p *tab) opened() {
	p.t.Helper()
	p.until("the last session", `document.querySelector("#go-on")`)
	p.still()
}

// fillIn writes into a field as a person does.
func (p *tab) fillIn(id, text string) {
	p.t.Helper()
	p.until("#"+id, fmt.Sprintf(`document.querySelector("#%s")`, id))
	p.do(chromedp.ScrollIntoView(chromedp.CSS("#"+id)), chromedp.SendKeys(chromedp.CSS("#"+id), text))
}

// unfold opens what hides behind a line.
func (p *tab) unfold(id string) {
	p.t.Helper()
	p.until(id+" drawn", fmt.Sprintf(`document.getElementById(%q)`, id))
	if !js[bool](p, fmt.Sprintf(`document.getElementById(%q).open`, id)) {
		p.tap("#" + id + " > summary")
	}
}

// earlier lists the balls that were hit before the last few.
func (p *tab) earlier() {
	p.t.Helper()
	p.until("the balls", `document.querySelector("#balls")`)
	if js[bool](p, `document.querySelector("#balls-more") !== null`) {
		p.tap("#balls-more")
		p.until("all balls", `!document.querySelector("#balls-more")`)
		p.still()
	}
}

// back is the browser's own button.
func (p *tab) back(name string) {
	p.t.Helper()
	js[any](p, `history.back()`)
	p.page(name)
}

// TestGolferAfterTheRange has a file from the range: says what is wanted,
// opens the file, looks whether the difference is real, reads the answer and
// takes the sheet home. The club is the example's.
func TestGolferAfterTheRange(t *testing.T) {
	each(t, "/", func(t *testing.T, p *tab, run int) {
		p.page("home")
		p.example()
		p.tap("#home")
		p.page("home")
		p.tap("#new-session") // keeps the club
		p.page("club")
		p.unfold("player-more")
		p.fillIn("session-title", fmt.Sprintf("Evening %d", run))
		p.tap(`label[for="goal-fairways"]`)
		p.until("the aim", `document.querySelector("#goal-fairways").checked`)
		p.openFile("../../testdata/demo/demo-comma.csv")
		p.tap("#accept-file")
		p.tap("#step-compare")
		p.page("compare")
		p.until("what the difference is, in words", `document.querySelector(".words")?.innerText.trim()`)
		p.still()
		p.tap("#step-choose")
		p.page("choose")
		p.answered()
		answer := p.text("#answer")
		p.tap("#step-sheet")
		p.page("sheet")
		p.until("the sheet's text", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
		p.back("choose")
		if again := p.text("#answer"); again != answer {
			t.Errorf("after going back the answer is %q, before it was %q", again, answer)
		}
		p.saved()
	})
}

// TestFitterWithALink works beside a player in the big view, sets the club in
// two taps, sees a ball come, and sends a link; the player opens it elsewhere,
// looks, and keeps a copy that changes nothing of the fitter's.
func TestFitterWithALink(t *testing.T) {
	each(t, "/", func(t *testing.T, p *tab, _ int) {
		p.page("home")
		p.example()
		p.follow("/live", "live")
		const roster = `document.querySelectorAll(".roster [aria-pressed]").length`
		players := js[int](p, roster)
		p.tap("#live-sleeve-2")
		p.tap("#live-weight0-1")
		p.until("the setting in two taps", `document.querySelector("#live-setting-h").innerText.includes(document.querySelector("#live-sleeve-2").innerText) && document.querySelector("#live-weight0-1").getAttribute("aria-pressed") === "true"`)
		before := p.text("#live-last-h")
		p.tap("#live-type")
		p.typeBall("205")
		p.until("the ball in the big view", fmt.Sprintf(`document.querySelector("#live-last-h").innerText !== %q`, before))
		p.saved()
		if now := js[int](p, roster); now != players {
			t.Errorf("the roster had %d players before the session was saved and %d after: what is below it moved", players, now)
		}
		p.until("the ball's carry, large", `document.querySelector(".live-number").innerText.startsWith("205")`)
		p.answered()
		p.tap("#step-sheet")
		p.page("sheet")
		p.tap("#send-link")
		p.until("the link", `document.querySelector("#link-text")?.value`)
		_, fragment, _ := strings.Cut(js[string](p, `document.querySelector("#link-text").value`), "#")
		p.saved()
		id := js[string](p, `JSON.parse(localStorage["ferrule.prefs"]).last`)

		// the player
		p.do(chromedp.Navigate("about:blank"))
		p.goTo("/shared#" + fragment)
		p.page("shared")
		p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
		p.tap("#keep-copy")
		p.until("a copy of one's own", fmt.Sprintf(`JSON.parse(localStorage["ferrule.prefs"]).last !== %q`, id))
		p.saved()
		p.tap("#step-choose")
		p.page("choose")
		p.answered()
	})
}

// TestTwoPlayersAtOneBay is a fitter's hour in the big view: balls are typed
// beside the numbers and stand in the comparison, the plan's next setting is
// one tap, each player's club stays as it was set, and New player asks for the
// player's own wish.
func TestTwoPlayersAtOneBay(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.do(theme("light"))
	p.show(sizes[1], sizes[1].height)
	p.example()
	p.follow("/live", "live")
	p.unfold("players")
	first := p.text(`.roster [aria-pressed="true"]`)
	visit := p.text(".here .plan-what")
	if js[bool](p, `document.querySelector("#live-set") !== null`) { // not set yet
		p.tap("#live-set")
	}
	p.until("the plan's setting", fmt.Sprintf(`%q.includes(document.querySelector("#live-setting-h").innerText.split(": ").pop())`, visit))
	planned := p.text("#live-setting-h")
	marks := js[int](p, `document.querySelectorAll("#live-landing [data-shot]").length`)
	p.until("the tally", `document.querySelector("#tally")`)
	p.unfold("tally")
	p.until("its lines", `document.querySelector(".live-count tbody tr")`)
	tally := js[int](p, `[...document.querySelectorAll(".live-count tbody tr")].reduce((n, r) => n + Number(r.lastElementChild.innerText), 0)`)
	p.tap("#live-type")
	for i, carry := range []string{"205", "211"} {
		p.fillIn("entry-offline", "4 R")
		p.typeBall(carry)
		p.until("the ball, large", fmt.Sprintf(`document.querySelector(".live-number").innerText.startsWith(%q)`, carry))
		p.until("the ball in the count", fmt.Sprintf(`[...document.querySelectorAll(".live-count tbody tr")].reduce((n, r) => n + Number(r.lastElementChild.innerText), 0) === %d`, tally+i+1))
	}
	p.still()
	p.until("the balls in the comparison", fmt.Sprintf(`document.querySelectorAll("#live-landing [data-shot]").length === %d`, marks+2))
	p.saved()

	p.tap("#new-player")
	p.page("club")
	p.unfold("player-more")
	p.fillIn("player-name", "Second player")
	p.saved()
	p.follow("/live", "live")
	p.unfold("players")
	p.until("both players", `document.querySelectorAll(".roster [id^=player-]").length === 2`)
	p.tap("#live-sleeve-2")
	p.tap("#live-weight0-1")
	p.until("the second player's club", `document.querySelector("#live-weight0-1").getAttribute("aria-pressed") === "true"`)
	second := p.text("#live-setting-h")
	p.typeBall("190")
	p.until("the ball, large", `document.querySelector(".live-number")?.innerText.startsWith("190")`)
	p.saved()
	p.answered()

	for range 2 {
		p.tap(`.roster [id^=player-][aria-pressed="false"]`)
		p.until("the first player's club", fmt.Sprintf(`document.querySelector("#live-setting-h").innerText === %q`, planned))
		p.until("the first player", fmt.Sprintf(`document.querySelector('.roster [aria-pressed="true"]').innerText === %q`, first))
		p.still()
		p.tap(`.roster [id^=player-][aria-pressed="false"]`)
		p.until("the second player's club", fmt.Sprintf(`document.querySelector("#live-setting-h").innerText === %q`, second))
		p.still()
	}
	p.goTo("/live")
	p.page("live")
	p.until("the second player's club after a reload", fmt.Sprintf(`document.querySelector("#live-setting-h")?.innerText === %q`, second))
	p.tap("#step-shots")
	p.page("shots")
	p.tap("#to-live")
	p.page("live")
	p.check()
}

// TestAtTheRangeWithoutASignal starts with no server, describes a club, types
// balls, takes one back, is called away and comes back.
func TestAtTheRangeWithoutASignal(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.loseServer(s)
	for i, l := range looks {
		t.Run(l.size.name+" "+l.theme, func(t *testing.T) {
			p.t = t
			p.do(theme(l.theme))
			p.show(l.size, l.size.height)
			p.goTo("/")
			p.page("home")
			if i > 0 {
				p.opened()
			}
			p.tap("#new-session")
			p.page("club")
			p.unfold("describe")
			p.tap(`label[for="sleeve-how-tilt"]`)
			p.until("the geometry as typed", `document.querySelector("#current-words")?.innerText.trim()`)
			p.tap("#step-shots")
			p.page("shots")
			for n, carry := range []string{"201", "214", "208", "211"} {
				p.typeBall(carry)
				p.until("the ball", fmt.Sprintf("%s === %d", balls, n+1))
			}
			p.tap("#undo")
			p.until("the last ball gone", balls+" === 3")
			p.tap("#redo")
			p.until("the last ball back", balls+" === 4")
			p.saved()
			p.reload()
			p.page("shots")
			p.until("the balls after a reload", balls+" === 4")
			p.tap("#step-choose")
			p.page("choose")
			p.answered()
			p.check()
		})
		if t.Failed() {
			return
		}
	}
}

// gaps notes how long the page stood still: frames that came late, and tasks
// of more than 50 ms [ms], as the browser itself counts them.
const gaps = `
window.ferruleGaps = { frame: 0, tasks: [], from: 0 };
new PerformanceObserver((list) => { for (const e of list.getEntries()) { if (e.startTime >= ferruleGaps.from) { ferruleGaps.tasks.push(Math.round(e.duration)); } } }).observe({ type: "longtask" });
{ let last = performance.now(); const step = (now) => { if (last >= ferruleGaps.from) { ferruleGaps.frame = Math.max(ferruleGaps.frame, now - last); } last = now; requestAnimationFrame(step); }; requestAnimationFrame(step); }`

// TestThePageMovesWhileItWorks has the example analysed anew after a change
// and looks how long the page stood still meanwhile. The figures are printed;
// what is held is a ratio within the run: work that is done on the screen's
// thread would stop the frames for as long as it takes.
func TestThePageMovesWhileItWorks(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(gaps))
	p.example()
	trace := p.tracer()
	for _, at := range []string{"club", "shots", "compare", "choose"} {
		got, longest := p.moves(at, trace)
		t.Logf("%s: analysis of %.0f ms, longest frame gap %.0f ms, tasks over 50 ms: %v; processor time of the longest tasks on the screen's thread: %.0f ms", at, got.Work, got.Frame, got.Tasks, longest[:min(3, len(longest))])
		if got.Work > 1000 && got.Frame > got.Work/3 {
			t.Errorf("%s: the page stood still for %.0f of %.0f ms", at, got.Frame, got.Work)
		}
	}
	p.check()
}

// standstill is how long a page stood still during an analysis. [ms]
type standstill struct {
	Work, Frame float64
	Tasks       []float64 // over 50 ms
}

// moves changes the aim, goes to a page and measures there until the new
// answer is drawn.
func (p *tab) moves(at string, trace func(run func()) []float64) (got standstill, longest []float64) {
	p.t.Helper()
	p.tap("#step-club")
	p.page("club")
	p.still()
	p.tap(`label[for="` + map[bool]string{true: "goal-carry", false: "goal-strokes"}[js[bool](p, `document.querySelector("#goal-strokes").checked`)] + `"]`)
	p.tap("#step-" + at)
	p.page(at)
	js[bool](p, `(ferruleGaps.from = performance.now(), ferruleGaps.frame = 0, ferruleGaps.tasks = [], true)`)
	longest = trace(p.still)
	return js[standstill](p, `new Promise((done) => requestAnimationFrame(() => setTimeout(() => done({ work: performance.now() - ferruleGaps.from, frame: ferruleGaps.frame, tasks: ferruleGaps.tasks }), 100)))`), longest
}

// tracer returns a function that runs something and says how much processor
// time [ms] the tasks of a page's main thread took meanwhile, longest first. It
// does not depend on what else the machine does, as the time on a clock does.
func (p *tab) tracer() func(run func()) []float64 {
	p.t.Helper()
	var mu sync.Mutex
	var raw [][]byte
	done := make(chan struct{}, 1)
	if err := chromedp.Listen(p.ctx, func(ev any) {
		switch e := ev.(type) {
		case *tracing.EventDataCollected:
			mu.Lock()
			for _, v := range e.Value {
				raw = append(raw, []byte(v))
			}
			mu.Unlock()
		case *tracing.EventTracingComplete:
			done <- struct{}{}
		}
	}); err != nil {
		p.t.Fatal(err)
	}
	return func(run func()) []float64 {
		call := func(f func(ctx context.Context, t *chromedp.Target) error) error {
			ctx, cancel := context.WithTimeout(p.ctx, patience)
			defer cancel()
			return chromedp.Do(ctx, chromedp.Func(f))
		}
		raw = nil
		if err := call(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, tracing.Start, tracing.StartParams{TraceConfig: &tracing.TraceConfig{IncludedCategories: []string{"toplevel", "__metadata"}}})
			return err
		}); err != nil {
			p.t.Logf("the browser gives no trace: %v", err)
			run()
			return nil
		}
		run()
		if err := call(func(ctx context.Context, t *chromedp.Target) error {
			_, err := cdp.Call(ctx, t, tracing.End, cdp.Empty{})
			return err
		}); err != nil {
			p.t.Logf("the browser gives no trace: %v", err)
			return nil
		}
		select {
		case <-done:
		case <-time.After(patience):
			p.t.Log("the browser's trace does not end")
		}
		mu.Lock()
		defer mu.Unlock()
		main, times := map[[2]int]bool{}, []float64{}
		type event struct {
			Name string
			Pid  int
			Tid  int
			Tdur float64 // [us]
			Args struct{ Name string }
		}
		all := make([]event, len(raw))
		for i, v := range raw {
			_ = json.Unmarshal(v, &all[i])
			if all[i].Name == "thread_name" && all[i].Args.Name == "CrRendererMain" {
				main[[2]int{all[i].Pid, all[i].Tid}] = true
			}
		}
		for _, e := range all {
			if main[[2]int{e.Pid, e.Tid}] {
				times = append(times, e.Tdur/1000)
			}
		}
		slices.Sort(times)
		slices.Reverse(times)
		return times
	}
}
