package browsertest

import (
	"context"
	"flag"
	"fmt"
	"math/rand/v2"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	cdpage "github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

var kills = flag.Int("kills", 20, "how often the editor is killed")

const runner = `"use strict";
// Runs a Go test binary in the page: what it prints and how it ends is kept
// in window.printed and window.ended.
window.printed = "";
window.ended = null;
const decoder = new TextDecoder();
globalThis.fs.writeSync = (fd, bytes) => { window.printed += decoder.decode(bytes); return bytes.length; };
(async () => {
  const go = new Go();
  go.argv = ["test", ...new URLSearchParams(location.search).getAll("arg")];
  go.exit = (code) => { window.ended = code; };
  const { instance } = await WebAssembly.instantiateStreaming(fetch("/test.wasm"), go.importObject);
  await go.run(instance);
})();
`

// wasmTests builds the tests of a package for the browser and serves a page
// that runs them.
func wasmTests(t *testing.T, pkg string) *httptest.Server {
	t.Helper()
	binary := filepath.Join(t.TempDir(), "test.wasm")
	build := exec.Command("go", "test", "-c", "-o", binary, pkg)
	build.Dir = "../.."
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("building the tests of %s: %v\n%s", pkg, err, out)
	}
	mux := http.NewServeMux()
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/html")
		fmt.Fprint(w, `<!doctype html><link rel="icon" href="data:,"><script src="/wasm_exec.js"></script><script src="/run.js"></script>`)
	})
	mux.HandleFunc("/run.js", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "text/javascript")
		fmt.Fprint(w, runner)
	})
	mux.HandleFunc("/wasm_exec.js", func(w http.ResponseWriter, r *http.Request) {
		http.ServeFile(w, r, filepath.Join(*site, "wasm_exec.js"))
	})
	mux.HandleFunc("/test.wasm", func(w http.ResponseWriter, r *http.Request) {
		w.Header().Set("Content-Type", "application/wasm")
		http.ServeFile(w, r, binary)
	})
	s := httptest.NewServer(mux)
	t.Cleanup(s.Close)
	return s
}

// TestTheSuiteOfTheStoreInIndexedDB runs the tests of app/idb, the conformance
// suite among them, in the browser.
func TestTheSuiteOfTheStoreInIndexedDB(t *testing.T) {
	ts := wasmTests(t, "./app/idb")
	b := startBrowser(t, &server{host: strings.TrimPrefix(local(ts), "http://")})
	ctx, cancel := chromedp.NewContext(b.ctx)
	defer cancel()
	p := &tab{t: t, ctx: ctx, cancel: cancel, host: b.host}
	if err := chromedp.Listen(ctx, p.hear); err != nil { // starts the browser, which lives as long as this context
		t.Fatal(err)
	}
	p.do(chromedp.Navigate(local(ts) + "/?arg=-test.v&arg=-test.timeout=100s"))
	p.until("the end of the tests", `window.ended !== null`)
	out := js[string](p, `window.printed`)
	if code := js[int](p, `window.ended`); code != 0 {
		t.Errorf("exit status %d\n%s", code, out)
	}
	passed := strings.Count(out, "--- PASS: TestIndexedDBKeepsThePromises/")
	if passed < 10 || strings.Contains(out, "--- SKIP: TestIndexedDB") {
		t.Errorf("%d cases of the suite passed, want 10 at least\n%s", passed, out)
	}
	t.Logf("%d cases of the conformance suite passed in IndexedDB, %d tests in all", passed, strings.Count(out, "--- PASS"))
}

// local names the server by the one host that the browser may ask.
func local(ts *httptest.Server) string { return strings.Replace(ts.URL, "127.0.0.1", "localhost", 1) }

// TestTheEditorThatIsKilled ends the page's process at random moments while it
// saves one edit after the other, and looks at every start whether all that
// was confirmed is there.
func TestTheEditorThatIsKilled(t *testing.T) {
	ts := wasmTests(t, "./app/idb")
	b := startBrowser(t, &server{host: strings.TrimPrefix(local(ts), "http://")})
	keep, cancel := chromedp.NewContext(b.ctx) // keeps the browser when the other tabs die
	defer cancel()
	if err := chromedp.Do(keep, chromedp.Navigate("about:blank")); err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(8, 1)) // where in time it falls is chance all the same
	database := fmt.Sprint("killed-", time.Now().UnixNano())
	var confirmed atomic.Int64
	for i := range *kills {
		ctx, cancel := chromedp.NewContext(keep)
		found := make(chan struct{}, 1)
		err := chromedp.Listen(ctx, func(ev any) {
			e, ok := ev.(*runtime.EventConsoleAPICalled)
			if !ok || len(e.Args) != 2 {
				return
			}
			n, err := strconv.Atoi(string(e.Args[1].Value))
			if err != nil {
				return
			}
			confirmed.Store(int64(n))
			select {
			case found <- struct{}{}:
			default:
			}
		})
		if err != nil {
			t.Fatal(err)
		}
		url := fmt.Sprintf("%s/?arg=-test.run=TestTheEditorThatIsKilled&arg=-killed-in=%s&arg=-confirmed=%d", local(ts), database, confirmed.Load())
		if err := chromedp.Do(ctx, chromedp.Navigate(url)); err != nil {
			t.Fatal(err)
		}
		select {
		case <-found:
		case <-time.After(patience):
			out, err := chromedp.Run(ctx, chromedp.Evaluate[string](`window.printed`))
			t.Fatalf("kill %d: the editor does not start: %s %v", i, out, err)
		}
		time.Sleep(time.Duration(random.IntN(120)) * time.Millisecond)
		if out, err := chromedp.Run(ctx, chromedp.Evaluate[string](`window.ended === null ? "" : window.printed`)); err != nil || out != "" {
			t.Fatalf("kill %d: the editor ended by itself: %s %v", i, out, err)
		}
		crash(ctx)
		cancel()
	}
	t.Logf("%d kills, %d saves confirmed, none lost", *kills, confirmed.Load())
	if confirmed.Load() < int64(*kills) {
		t.Errorf("only %d saves in %d lives: this tested nothing", confirmed.Load(), *kills)
	}
}

// crash ends the process of a tab at once. The command itself gets no answer.
func crash(ctx context.Context) {
	ctx, cancel := context.WithTimeout(ctx, 500*time.Millisecond)
	defer cancel()
	_ = chromedp.Do(ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, cdpage.Crash, cdp.Empty{})
		return err
	}))
}
