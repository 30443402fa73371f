package browsertest

import (
	"bytes"
	"encoding/base64"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var (
	marked = flag.String("marked", "", "the page's program as cmd/trim -mark wrote it, for -calls")
	calls  = flag.String("calls", "", "file to write the bits of the functions to that the starts of the pages call")
)

// startPages are pages whose start is looked at, with the example open.
var startPages = []string{"/", "/club", "/shots", "/compare", "/choose", "/sheet", "/settings", "/how"}

// stood waits until the program has the screen, without anybody having touched it.
func (p *tab) stood() {
	p.t.Helper()
	p.until("the page", `!document.querySelector("#first") && document.body.dataset.booted === "1" && document.body.dataset.busy === "0" && document.body.dataset.whole === "true"`)
}

// TestSpeedOfStarts measures how long the start of each page with a stored session
// blocks the screen: what each piece of the screen's thread takes above 50 ms, at a
// quarter of the processor, as Lighthouse counts it. The pieces are counted in the
// processor's time, so that others on the machine change little. It judges nothing.
func TestSpeedOfStarts(t *testing.T) {
	if !*speed {
		t.Skip("times of a shared machine are no test: run `make speed`")
	}
	p := startBrowser(t, startServer(t, *site)).open("/")
	p.example()
	p.saved()
	p.offlineReady()
	trace := p.tracer()
	for _, path := range startPages {
		p.goTo(path)
		p.stood()
		var blocks, longest []float64
		for range 5 {
			p.do(chromedp.Navigate("about:blank"))
			pieces := trace(func() {
				p.do(chromedp.Navigate("http://" + p.host + path))
				p.stood()
				time.Sleep(2 * time.Second) // what comes after belongs to it
			})
			if len(pieces) == 0 {
				t.Fatal("the browser gave no trace")
			}
			blocked := 0.
			for _, ms := range pieces {
				blocked += max(0, 4*ms-50)
			}
			blocks, longest = append(blocks, blocked), append(longest, 4*pieces[0])
		}
		slices.Sort(blocks)
		slices.Sort(longest)
		fmt.Printf("start of %s: blocks %.0f\n", path, blocks)
		figure("start of "+path+", blocks the screen, median of 5", blocks[2])
		figure("start of "+path+", its longest piece, median of 5", longest[2])
	}
}

// TestAStartIsCompiledBeforeIt: the worker that compiles the program calls each function
// of the list to its end, the page begins with that very program, and the list is that
// of a program like it. An old list makes a start slower, and nothing else.
func TestAStartIsCompiledBeforeIt(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(`{ const make = WebAssembly.instantiate;
WebAssembly.instantiate = (program, ...a) => {
  window.ferruleWarm = performance.getEntriesByName("ferrule-warm").length;
  window.ferruleStart = [...new Uint8Array(WebAssembly.Module.customSections(program, "start")[0] ?? 0)].reduce((n, b) => n + b.toString(2).replaceAll("0", "").length, 0);
  return make.call(WebAssembly, program, ...a); }; }`))
	if n := js[int](p, `ferruleWarm`); n != 1 {
		t.Errorf("when the program began, the worker had told %d times that its start is compiled", n)
	}
	list, err := os.ReadFile("../../cmd/page/start.txt")
	if err != nil {
		t.Fatal(err)
	}
	if names, found := bytes.Count(list, []byte("\n")), js[int](p, `ferruleStart`); found < names*4/5 {
		t.Errorf("the program has %d of the %d functions that a start calls: run `make start-list`", found, names)
	}
	p.check()
}

// TestWhatAStartCalls writes which functions the starts call, for `make start-list`.
func TestWhatAStartCalls(t *testing.T) {
	if *calls == "" {
		t.Skip("it writes a file: run `make start-list`")
	}
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS(*site)); err != nil {
		t.Fatal(err)
	}
	for _, coding := range []string{".br", ".gz"} {
		if err := os.Remove(filepath.Join(dir, "page.wasm"+coding)); err != nil {
			t.Fatal(err)
		}
	}
	program, err := os.ReadFile(*marked)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(filepath.Join(dir, "page.wasm"), program, 0o644); err != nil {
		t.Fatal(err)
	}
	p := startBrowser(t, startServer(t, dir)).open("/", script(`{ const make = WebAssembly.instantiate;
WebAssembly.instantiate = async (...a) => { const made = await make.apply(WebAssembly, a); window.ferruleMemory = made.exports.mem; return made; }; }`))
	var all [4096]byte
	// A start ends when nothing is called any more that was not called before: the answer
	// comes once the page stands, and then what it no longer needs is swept.
	note := func() {
		p.stood()
		for was, since := "", time.Now(); time.Since(since) < 3*time.Second; time.Sleep(100 * time.Millisecond) {
			now := js[string](p, `document.body.dataset.busy + btoa(String.fromCharCode(...new Uint8Array(ferruleMemory.buffer, 0, 4096)))`)
			if now != was || now[0] != '0' {
				was, since = now, time.Now()
			}
		}
		bits, err := base64.StdEncoding.DecodeString(js[string](p, `btoa(String.fromCharCode(...new Uint8Array(ferruleMemory.buffer, 0, 4096)))`))
		if err != nil {
			t.Fatal(err)
		}
		for i, b := range bits {
			all[i] |= b
		}
	}
	note()
	p.example()
	p.saved()
	for _, path := range startPages {
		p.goTo(path)
		note()
	}
	for range 3 { // a larger session has its start swept, this one what follows it
		for _, name := range []string{"shots", "compare", "choose", "sheet", "club"} {
			p.goByLink("/"+name, name)
		}
	}
	note()
	if err := os.WriteFile(*calls, all[:], 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestWhatIsUnfoldedStays: what somebody has opened stays open, and a field that is
// typed into is the same field, while a new version, an offer to install and the
// ball of another tab come in and the answer is worked out anew; until it is there
// nothing moves.
func TestWhatIsUnfoldedStays(t *testing.T) {
	b := startBrowser(t, startServer(t, *site))
	p := b.open("/")
	p.example()
	p.saved()
	other := b.another("/shots")
	other.page("shots")
	for _, page := range []string{"club", "shots", "compare", "choose", "sheet"} {
		p.goByLink("/"+page, page)
		p.still()
		if page == "sheet" {
			p.until("the sheet", `document.querySelector("#sheet")?.offsetHeight > 600`)
		}
		// Some hold others, and what is unfolded is drawn a little later.
		p.until("all that can be unfolded", `(() => { const closed = [...document.querySelectorAll("main details[id]:not([open])")], tall = document.body.scrollHeight;
			closed.forEach((e) => { e.open = true; });
			window.calm = closed.length === 0 && tall === window.tall && document.body.dataset.busy === "0" && document.body.dataset.whole === "true" ? window.calm + 1 : 0;
			window.tall = tall; return calm > 9; })()`)
		js[any](p, `(() => { window.unfolded = [...document.querySelectorAll("main details[id][open]")]; window.fields = [...document.querySelectorAll("main input[id], main textarea[id], main select[id]")]; })()`)
		n := js[int](p, `unfolded.length`)
		kept := func(after string) {
			t.Helper()
			p.still()
			for what, list := range map[string]string{"unfolded": `unfolded.filter((e) => !e.isConnected || !e.open)`, "a field": `fields.filter((e) => !e.isConnected)`} {
				if gone := js[[]string](p, list+`.map((e) => e.id)`); len(gone) > 0 {
					t.Errorf("%s, after %s: %s and no longer there: %q", page, after, what, gone)
				}
			}
		}
		js[any](p, `goappOnUpdate()`)
		p.until("the word of a new version", `document.querySelector("#update")`)
		kept("a new version")
		if page == "sheet" { // which alone offers it
			js[any](p, `dispatchEvent(new Event("beforeinstallprompt"))`)
			p.until("the offer", `document.querySelector("#install")`)
			kept("an offer to install")
		}
		js[any](p, `(() => { window.parts = () => [...document.querySelectorAll("#page-body > :not(.state)")].map((e) => Math.round(e.getBoundingClientRect().top) + " " + (e.id || e.tagName)); window.were = parts(); })()`)
		count := js[int](other, balls)
		other.typeBall("236")
		other.until("the ball", fmt.Sprintf(balls+" === %d", count+1))
		other.saved()
		p.until("the work", `document.body.dataset.busy === "1" && (window.are = parts(), true)`)
		if moved := js[[]string](p, `are.filter((at, i) => at !== were[i])`); len(moved) > 0 {
			t.Errorf("%s: while it is worked out anew these move: %q of %q", page, moved, js[[]string](p, `were`))
		}
		kept("a ball of another tab")
		t.Logf("%s: %d are unfolded", page, n)
	}
	p.check()
}
