package browsertest

import (
	"bufio"
	"context"
	"flag"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/page"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
)

var (
	site    = flag.String("site", "../../build/site", "folder of the built site")
	ferrule = flag.String("ferrule", "../../build/ferrule", "the command line that serves it")
	screens = flag.String("screens", "", "folder to write pictures of the screens to")
)

// A phone held upright. [CSS px]
const (
	phoneWidth  = 390
	phoneHeight = 844
)

// patience is for one wait. The machines that run this are slow and shared.
var patience = 60 * time.Second

func TestMain(m *testing.M) {
	flag.DurationVar(&patience, "patience", patience, "how long is waited for one thing: more where the test has the least right to the machine")
	flag.Parse()
	for _, f := range []string{filepath.Join(*site, "index.html"), *ferrule} {
		if _, err := os.Stat(f); err != nil {
			fmt.Fprintf(os.Stderr, "browsertest: %s is not there: run `make build` first\n", f)
			os.Exit(1)
		}
	}
	code := m.Run()
	if err := keepFigures(); err != nil {
		fmt.Fprintln(os.Stderr, "browsertest:", err)
		code = 1
	}
	os.Exit(code)
}

// server is a running `ferrule serve`.
type server struct {
	t    *testing.T
	dir  string
	cmd  *exec.Cmd
	host string // host:port, the same after a restart
}

func startServer(t *testing.T, dir string) *server {
	t.Helper()
	s := &server{t: t, dir: dir, host: "localhost:0"}
	s.start()
	t.Cleanup(s.stop)
	return s
}

func (s *server) start() {
	s.t.Helper()
	s.cmd = exec.Command(*ferrule, "serve", "-addr", s.host, "-dir", s.dir)
	s.cmd.Stderr = os.Stderr
	out, err := s.cmd.StdoutPipe()
	if err != nil {
		s.t.Fatal(err)
	}
	if err := s.cmd.Start(); err != nil {
		s.t.Fatal(err)
	}
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil {
		s.t.Fatalf("the server said nothing: %v", err)
	}
	u, err := url.Parse(strings.TrimSpace(strings.TrimPrefix(line, "Ferrule: ")))
	if err != nil || u.Host == "" {
		s.t.Fatalf("the server prints no address but %q", line)
	}
	s.host = u.Host
}

// stop ends the server as a person does; nothing may be left of it.
func (s *server) stop() {
	if s.cmd == nil {
		return
	}
	s.cmd.Process.Signal(syscall.SIGTERM)
	if err := s.cmd.Wait(); err != nil {
		s.t.Errorf("the server ended with %v", err)
	}
	s.cmd = nil
}

func (s *server) url(path string) string { return "http://" + s.host + path }

// browser is one browser with a profile of its own.
type browser struct {
	t    *testing.T
	ctx  context.Context
	host string
}

func startBrowser(t *testing.T, s *server, opts ...chromedp.ExecAllocatorOption) *browser {
	t.Helper()
	opts = append([]chromedp.ExecAllocatorOption{
		chromedp.Headless, chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.DisableGPU,
		chromedp.WindowSize(phoneWidth, phoneHeight),
		chromedp.Flag("disable-background-networking", true),
		chromedp.Flag("disable-component-update", true),
		chromedp.Flag("host-resolver-rules", "MAP * ~NOTFOUND, EXCLUDE localhost, EXCLUDE 127.0.0.1"), // nobody else can be asked
		chromedp.Flag("disable-dev-shm-usage", true),
	}, opts...)
	if os.Geteuid() == 0 {
		opts = append(opts, chromedp.NoSandbox) // Chromium refuses to sandbox as root
	}
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), opts...)
	t.Cleanup(cancel)
	return &browser{t: t, ctx: ctx, host: s.host}
}

// tab is one page with its log.
type tab struct {
	t      *testing.T
	ctx    context.Context
	cancel context.CancelFunc
	host   string

	mu       sync.Mutex
	errors   []string
	requests []string // to our own origin
	dying    int      // lines that the program printed since it panicked
	offline  bool     // failing to reach the server is no error now
}

// open opens a page on a phone's screen. before runs first, on an empty page.
func (b *browser) open(path string, before ...chromedp.Action[chromedp.Void]) *tab {
	b.t.Helper()
	p := b.blank()
	p.do(before...)
	p.goTo(path)
	return p
}

// blank opens an empty tab.
func (b *browser) blank() *tab {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	b.ctx = ctx // further tabs share this browser
	return b.fill(ctx, cancel)
}

// another opens a further tab in the same browser.
func (b *browser) another(path string, before ...chromedp.Action[chromedp.Void]) *tab {
	b.t.Helper()
	ctx, cancel := chromedp.NewContext(b.ctx)
	p := b.fill(ctx, cancel)
	p.do(before...)
	p.goTo(path)
	return p
}

func (b *browser) fill(ctx context.Context, cancel context.CancelFunc) *tab {
	b.t.Helper()
	p := &tab{t: b.t, ctx: ctx, cancel: cancel, host: b.host}
	b.t.Cleanup(cancel)
	if err := chromedp.Listen(ctx, p.hear); err != nil {
		b.t.Fatalf("the browser does not start: %v", err)
	}
	p.do(chromedp.EmulateViewport(phoneWidth, phoneHeight, chromedp.EmulateMobile, chromedp.EmulateTouch))
	return p
}

func (p *tab) hear(ev any) {
	p.mu.Lock()
	defer p.mu.Unlock()
	switch e := ev.(type) {
	case *page.EventJavascriptDialogOpening: // "leave this page?": the person says yes
		go func() {
			ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
			defer cancel()
			_ = chromedp.Do(ctx, chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
				_, err := cdp.Call(ctx, t, page.HandleJavaScriptDialog, page.HandleJavaScriptDialogParams{Accept: true})
				return err
			}))
		}()
	case *runtime.EventConsoleAPICalled:
		if e.Type == "error" || e.Type == "assert" {
			var text []string
			for _, a := range e.Args {
				text = append(text, string(a.Value)+a.Description)
			}
			p.errors = append(p.errors, "console: "+strings.Join(text, " "))
		}
		if e.Type == "log" { // Go's own last words come line by line
			for _, a := range e.Args {
				if line := strings.Trim(string(a.Value), `"`); p.dying > 0 || strings.HasPrefix(line, "panic:") || strings.HasPrefix(line, "fatal error:") {
					if p.dying++; p.dying <= 25 {
						p.errors = append(p.errors, "the program: "+line)
					}
				}
			}
		}
	case *runtime.EventExceptionThrown:
		p.errors = append(p.errors, "exception: "+e.ExceptionDetails.Text+" "+describe(e.ExceptionDetails.Exception))
	case *log.EventEntryAdded:
		// A page that is left while it still stores asks whether to go. Where nobody
		// has tapped in it yet the browser does not ask and says so.
		unasked := e.Entry.Source == log.EntrySourceIntervention && strings.Contains(e.Entry.Text, "'beforeunload'")
		if e.Entry.Level == log.EntryLevelError && !unasked && !(p.offline && e.Entry.Source == log.EntrySourceNetwork) {
			p.errors = append(p.errors, "log: "+e.Entry.Text+" "+e.Entry.URL)
		}
	case *network.EventRequestWillBeSent:
		u, err := url.Parse(e.Request.URL)
		switch {
		case err != nil, u.Scheme == "http" && u.Host != p.host, u.Scheme != "http" && u.Scheme != "blob" && u.Scheme != "data" && u.Scheme != "about":
			p.errors = append(p.errors, "request to another origin: "+e.Request.URL)
		case u.Scheme == "http":
			p.requests = append(p.requests, e.Request.Method+" "+u.RequestURI())
		}
	}
}

func describe(o *runtime.RemoteObject) string {
	if o == nil {
		return ""
	}
	return o.Description
}

// check fails the test for every error that the page showed so far.
func (p *tab) check() {
	p.t.Helper()
	p.mu.Lock()
	defer p.mu.Unlock()
	for _, e := range p.errors {
		p.t.Error(e)
	}
	p.errors = nil
}

// unfetched takes away what a page says when its analysis could not be fetched: the
// process that was killed may be the one that delivers. It starts another.
func (p *tab) unfetched() (n int) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.errors = slices.DeleteFunc(p.errors, func(e string) bool {
		own := strings.HasPrefix(e, `console: "analysis worker: `)
		if own {
			n++
		}
		return own
	})
	return n
}

// asked returns the requests to our origin since the last call.
func (p *tab) asked() []string {
	p.mu.Lock()
	defer p.mu.Unlock()
	out := p.requests
	p.requests = nil
	return out
}

func (p *tab) setOffline(v bool) { p.mu.Lock(); p.offline = v; p.mu.Unlock() }

func (p *tab) do(steps ...chromedp.Action[chromedp.Void]) {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		p.fail("%v", err)
	}
}

// fail ends the test with what the page shows.
func (p *tab) fail(format string, args ...any) {
	p.t.Helper()
	p.check()
	ctx, cancel := context.WithTimeout(p.ctx, 5*time.Second)
	defer cancel()
	state, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + "\nbody " + JSON.stringify(document.body.dataset) + "\n" + document.body.innerText.slice(0, 3000)`))
	if err != nil {
		state = err.Error()
	}
	p.t.Fatalf("%s\n--- the page ---\n%s", fmt.Sprintf(format, args...), state)
}

// js evaluates an expression in the page; a promise is awaited.
func js[T any](p *tab, expression string) T {
	p.t.Helper()
	ctx, cancel := context.WithTimeout(p.ctx, patience)
	defer cancel()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression, chromedp.EvalAwaitPromise))
	if err != nil {
		p.fail("%s: %v", expression, err)
	}
	return v
}

// until waits for an expression to be true, over page loads.
func (p *tab) until(what, expression string) {
	p.t.Helper()
	p.within(patience, what, expression)
}

// within is until with a patience of its own.
func (p *tab) within(patience time.Duration, what, expression string) {
	p.t.Helper()
	end := time.Now().Add(patience)
	for {
		ctx, cancel := context.WithTimeout(p.ctx, 10*time.Second)
		ok, err := chromedp.Run(ctx, chromedp.Evaluate[bool]("Boolean("+expression+")"))
		cancel()
		if err == nil && ok {
			return
		}
		if time.Now().After(end) || p.ctx.Err() != nil {
			p.fail("%s did not come (%s; last error %v)", what, expression, err)
		}
		time.Sleep(30 * time.Millisecond)
	}
}

// goTo loads a page and waits until the app has taken it over.
func (p *tab) goTo(path string) {
	p.t.Helper()
	p.do(chromedp.Navigate("http://" + p.host + path))
	p.ready()
}

func (p *tab) reload() { p.t.Helper(); p.do(chromedp.Reload()); p.ready() }

// ready waits until the program has the screen. It is asked for, as by a finger:
// by itself it would wait for one.
func (p *tab) ready() {
	p.t.Helper()
	p.until("the app", `(window.ferruleFirst && (ferruleFirst.touched = true, ferruleFirst.start()), document.body.dataset.ready === "1" && !document.querySelector("#first"))`)
}

// still waits until nothing is being worked out.
func (p *tab) still() {
	p.t.Helper()
	p.until("the end of the work", `document.body.dataset.busy === "0"`)
}

// saved waits until everything typed is stored.
func (p *tab) saved() {
	p.t.Helper()
	p.until("the save", `document.body.dataset.dirty !== "1" && Number(document.body.dataset.saved) > 0`)
}

// stands waits until an element has kept its place for a frame: nobody taps what is
// still being scrolled or drawn. A page that draws no frames is not waited for.
const stands = `new Promise((done) => {
	const at = () => JSON.stringify(document.querySelector(%q)?.getBoundingClientRect());
	const look = (was, left) => setTimeout(() => { const now = at(); now === was || left === 0 ? done(true) : look(now, left - 1); }, 17);
	look(at(), 60);
})`

// tap touches the element that a selector finds, when it is there and on.
func (p *tab) tap(selector string) {
	p.t.Helper()
	found := fmt.Sprintf(`document.querySelector(%q)`, selector)
	p.until(selector, found+` && !`+found+`.disabled`)
	for try := 1; ; try++ {
		ctx, cancel := context.WithTimeout(p.ctx, patience)
		err := chromedp.Do(ctx, chromedp.ScrollIntoView(chromedp.CSS(selector)))
		if err == nil {
			_, err = chromedp.Run(ctx, chromedp.Evaluate[bool](fmt.Sprintf(stands, selector), chromedp.EvalAwaitPromise))
		}
		if err == nil {
			err = chromedp.Do(ctx, chromedp.Tap(chromedp.CSS(selector)))
		}
		cancel()
		if err == nil {
			return
		}
		// Drawn anew between being found and being touched: a person would
		// touch it again.
		if try == 5 || !strings.Contains(err.Error(), "node") {
			p.fail("%s: %v", selector, err)
		}
	}
}

// page waits for a page of the app, by the name its main element bears, with
// all its parts.
func (p *tab) page(name string) {
	p.t.Helper()
	p.until("page "+name, fmt.Sprintf(`document.querySelector("main")?.dataset.page === %q && document.body.dataset.whole !== "false"`, name))
}

// example opens the invented example and waits for its answer.
func (p *tab) example() {
	p.t.Helper()
	p.tap("#try-example")
	p.page("choose")
	p.answered()
}

// text is what an element shows, empty when it is not there.
func (p *tab) text(selector string) string {
	p.t.Helper()
	return js[string](p, fmt.Sprintf(`document.querySelector(%q)?.innerText ?? ""`, selector))
}

// offlineReady waits until the service worker holds everything and controls
// the page.
func (p *tab) offlineReady() {
	p.t.Helper()
	p.until("the service worker", `document.documentElement.dataset.offline === "1" && navigator.serviceWorker.controller`)
}

// loseServer stops the server for good, once the service worker holds
// everything.
func (p *tab) loseServer(s *server) {
	p.t.Helper()
	p.offlineReady()
	p.check()
	s.stop()
	p.setOffline(true)
}

// script runs in every new page before anything else does.
func script(source string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, page.AddScriptToEvaluateOnNewDocument, page.AddScriptToEvaluateOnNewDocumentParams{Source: source})
		return err
	})
}

// theme emulates the device's choice of "light" or "dark"; nothing moves.
func theme(value string) chromedp.Action[chromedp.Void] {
	return media(&emulation.MediaFeature{Name: "prefers-color-scheme", Value: value}, &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: "reduce"})
}

// motion emulates the wish for less motion, "reduce", or none, "no-preference".
func motion(value string) chromedp.Action[chromedp.Void] {
	return media(&emulation.MediaFeature{Name: "prefers-color-scheme", Value: "light"}, &emulation.MediaFeature{Name: "prefers-reduced-motion", Value: value})
}

func media(features ...*emulation.MediaFeature) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{Features: features})
		return err
	})
}
