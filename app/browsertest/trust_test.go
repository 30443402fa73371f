package browsertest

import (
	"crypto/sha256"
	"encoding/base64"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

// bare is the plainest static host: the files of the built site by their names,
// NAME.html for /NAME, no header but the type. It notes what it is asked.
type bare struct {
	*httptest.Server
	mu    sync.Mutex
	asked []string
}

func startBare(t *testing.T) (*bare, *server) {
	t.Helper()
	h := &bare{}
	h.Server = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		h.mu.Lock()
		h.asked = append(h.asked, r.Method+" "+r.RequestURI)
		h.mu.Unlock()
		name := strings.TrimPrefix(path.Clean(r.URL.Path), "/")
		switch {
		case name == "":
			name = "index.html"
		case path.Ext(name) == "":
			name += ".html"
		}
		data, err := os.ReadFile(filepath.Join(*site, name))
		if err != nil || r.Method != "GET" {
			http.NotFound(w, r)
			return
		}
		kind := map[string]string{".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".wasm": "application/wasm", ".svg": "image/svg+xml", ".json": "application/json"}[path.Ext(name)]
		w.Header().Set("Content-Type", kind)
		w.Write(data)
	}))
	t.Cleanup(h.Close)
	return h, &server{t: t, host: strings.Replace(strings.TrimPrefix(h.URL, "http://"), "127.0.0.1", "localhost", 1)}
}

// foreign is a site of somebody else: its pages are what answer makes of the
// path, and it counts every request.
func startForeign(t *testing.T, answer func(r *http.Request) string) (host *httptest.Server, asked func() []string) {
	t.Helper()
	var mu sync.Mutex
	var all []string
	host = httptest.NewServer(http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		mu.Lock()
		all = append(all, r.Method+" "+r.RequestURI)
		mu.Unlock()
		w.Header().Set("Content-Type", "text/html")
		w.Header().Set("Access-Control-Allow-Origin", "*")
		fmt.Fprint(w, answer(r))
	}))
	t.Cleanup(host.Close)
	return host, func() []string { mu.Lock(); defer mu.Unlock(); return append([]string(nil), all...) }
}

// TestAForeignPageCannotHandAFileIn has a page of another site submit the form
// of the share target, with its name, hidden, and out of a sandboxed frame; and
// it opens our own form, which is taken and shown. Nothing is ever stored.
func TestAForeignPageCannotHandAFileIn(t *testing.T) {
	s := startServer(t, *site)
	csv, err := os.ReadFile("../../testdata/demo/demo.csv")
	if err != nil {
		t.Fatal(err)
	}
	send := `<script>
		const form = document.createElement("form");
		form.method = "post"; form.enctype = "multipart/form-data"; form.action = "http://` + s.host + `/incoming";
		const field = document.createElement("input");
		field.type = "file"; field.name = "file";
		const files = new DataTransfer();
		files.items.add(new File([` + strconv.Quote(string(csv)) + `], "gift.csv", { type: "text/csv" }));
		field.files = files.files; form.append(field); document.body.append(form);
		form.submit();</script>`
	evil, _ := startForeign(t, func(r *http.Request) string {
		switch r.URL.Path {
		case "/named":
			return `<meta name="referrer" content="strict-origin-when-cross-origin"><body>` + send
		case "/hidden":
			return `<meta name="referrer" content="no-referrer"><body>` + send
		}
		return ""
	})
	b := startBrowser(t, s)
	p := b.open("/")
	p.offlineReady()
	p.check()
	for _, from := range []string{evil.URL + "/named", evil.URL + "/hidden", strings.Replace(evil.URL, "127.0.0.1", "localhost", 1) + "/hidden"} {
		p.setOffline(true) // the foreign page is another origin: no error of ours
		p.do(chromedp.Navigate(from))
		p.until("our page", `location.host === "`+s.host+`" && document.body.dataset.ready === "1"`)
		p.until("the word that it was refused", `document.querySelector("#notice .notice-box")`)
		if n := js[int](p, `document.querySelectorAll("#accept-file, .session-open").length`); n != 0 {
			t.Errorf("%s: %d things were taken in", from, n)
		}
		if n := js[int](p, `caches.open("inbox-ferrule").then((c) => c.keys()).then((k) => k.length)`); n != 0 {
			t.Errorf("%s: %d files lie in the inbox", from, n)
		}
		p.mu.Lock()
		p.errors = nil
		p.mu.Unlock()
	}
	if n := js[int](p, stored); n != 0 {
		t.Errorf("%d sessions are stored", n)
	}
}

// stored counts the rows of the store, whatever the page shows.
const stored = `new Promise((done) => {
	const open = indexedDB.open("ferrule");
	open.onsuccess = () => {
		const db = open.result;
		if (!db.objectStoreNames.contains("rows")) { done(0); return; }
		const n = db.transaction("rows").objectStore("rows").count();
		n.onsuccess = () => { db.close(); done(n.result); };
	};
})`

// TestNoPageMayFrameUs puts the app into a frame of another site, behind a host
// that sends no header and behind ours.
func TestNoPageMayFrameUs(t *testing.T) {
	_, plain := startBare(t)
	for name, s := range map[string]*server{"bare": plain, "ours": startServer(t, *site)} {
		evil, _ := startForeign(t, func(*http.Request) string {
			return `<iframe id="f" width="390" height="800" src="http://` + s.host + `/"></iframe>`
		})
		p := startBrowser(t, s).blank()
		p.setOffline(true)
		p.do(chromedp.Navigate(evil.URL))
		time.Sleep(3 * time.Second)
		p.until("the frame", `document.querySelector("#f")`)
		// the frame is another origin: the browser's own tree tells what runs in it
		lines := p.frames()
		if name == "bare" && !strings.Contains(strings.Join(lines, " "), "framed") {
			t.Errorf("the frame does not say why it stays empty: %v", lines)
		}
		for _, line := range lines {
			if strings.Contains(line, "ready") {
				t.Errorf("%s: the app runs in a foreign frame: %s", name, line)
			}
		}
	}
}

// frames says of each frame of the page whether the app runs in it, from inside.
func (p *tab) frames() []string {
	p.t.Helper()
	out := []string{}
	targets, err := chromedp.Targets(p.ctx)
	if err != nil {
		p.t.Fatal(err)
	}
	for _, x := range targets {
		if x.Type != "iframe" {
			continue
		}
		ctx, cancel := chromedp.NewContext(p.ctx, chromedp.WithTargetID(x.TargetID))
		v, err := chromedp.Run(ctx, chromedp.Evaluate[string](`location.href + " " + JSON.stringify(document.body.dataset)`))
		cancel()
		if err == nil {
			out = append(out, v)
		}
	}
	return out
}

// TestNothingLeavesABareHost walks the journeys behind a host that sends no
// policy, then tries from the page, the analysis and the service worker to ask
// another origin, in every way a browser knows: none gets there.
func TestNothingLeavesABareHost(t *testing.T) {
	h, s := startBare(t)
	evil, asked := startForeign(t, func(*http.Request) string { return "" })
	b := startBrowser(t, s)
	p := b.open("/", script(`const start = window.Worker; window.Worker = function (url, o) { const w = new start(url, o); window.analysis = w; return w; }; window.Worker.prototype = start.prototype;`))
	p.offlineReady()
	p.example()
	for _, to := range []string{"/club", "/shots", "/compare", "/choose", "/sheet", "/settings", "/how"} {
		p.goByLink(to, to[1:])
		p.still()
	}
	p.check() // every request to another origin is an error there
	tries := fmt.Sprintf(`(async () => {
		const out = [], to = %q;
		const attempt = async (name, f) => { try { await f(); out.push(name); } catch (e) { /* as it should be */ } };
		await attempt("fetch", () => fetch(to + "/fetch"));
		await attempt("no-cors", () => fetch(to + "/no-cors", { mode: "no-cors" }));
		await attempt("importScripts", () => { importScripts(to + "/script"); });
		await attempt("xhr", () => new Promise((done, bad) => { const x = new XMLHttpRequest(); x.open("GET", to + "/xhr"); x.onload = done; x.onerror = bad; x.send(); }));
		await attempt("socket", () => new Promise((done, bad) => { const w = new WebSocket(to.replace("http", "ws")); w.onopen = done; w.onerror = bad; }));
		await attempt("events", () => new Promise((done, bad) => { const e = new EventSource(to + "/events"); e.onopen = done; e.onerror = () => { e.close(); bad(); }; }));
		await attempt("cache", async () => { await (await caches.open("x")).add(to + "/cache"); });
		await attempt("prototype", () => Object.getPrototypeOf(Object.getPrototypeOf(self)).fetch.call(self, to + "/prototype"));
		return out.join(" ");
	})()`, evil.URL)
	p.setOffline(true)
	if got := js[string](p, tries); got != "" {
		t.Errorf("from the page: %s", got)
	}
	if got := js[string](p, fmt.Sprintf(`(async () => {
		const out = [];
		for (const make of [
			() => { const i = new Image(); i.src = %[1]q + "/image"; },
			() => { const l = document.createElement("link"); l.rel = "stylesheet"; l.href = %[1]q + "/style"; document.head.append(l); },
			() => { const x = document.createElement("script"); x.src = %[1]q + "/script"; document.head.append(x); out.push("a script element"); },
			() => { const f = document.createElement("iframe"); f.src = %[1]q + "/frame"; document.body.append(f); },
			() => { document.body.insertAdjacentHTML("beforeend", "<img src=x onerror=alert(1)>"); out.push("HTML that runs"); },
			() => { navigator.sendBeacon(%[1]q + "/beacon", "x"); },
			() => { new Worker(%[1]q + "/worker"); out.push("a worker"); },
		]) { try { make(); } catch (e) { /* as it should be */ } }
		await new Promise((r) => setTimeout(r, 500));
		return out.join(", ");
	})()`, evil.URL)); got != "" {
		t.Errorf("the page let in: %s", got)
	}
	n := 0
	for _, kind := range []string{"worker", "service_worker"} {
		targets, err := chromedp.Targets(p.ctx)
		if err != nil {
			t.Fatal(err)
		}
		for _, x := range targets {
			if string(x.Type) != kind {
				continue
			}
			n++
			ctx, cancel := chromedp.NewContext(p.ctx, chromedp.WithTargetID(x.TargetID))
			got, err := chromedp.Run(ctx, chromedp.Evaluate[string](tries, chromedp.EvalAwaitPromise))
			if err != nil || got != "" {
				t.Errorf("from the %s: %q, %v", kind, got, err)
			}
			cancel()
		}
	}
	if n < 2 {
		t.Errorf("%d workers were tried, want the analysis and the service worker", n)
	}
	if got := asked(); len(got) != 0 {
		t.Errorf("the other origin was asked: %v", got)
	}
	h.mu.Lock()
	t.Logf("%d requests to our own origin, none to another; the tries of page, analysis and service worker were all blocked", len(h.asked))
	h.mu.Unlock()
}

// TestTheCacheHeals takes files out of the service worker's cache and alters
// others, the program among them: online they are had again, and an offline
// start works.
func TestTheCacheHeals(t *testing.T) {
	s := startServer(t, *site)
	b := startBrowser(t, s)
	p := b.open("/")
	p.offlineReady()
	// The page looks after the cache by itself five seconds after it is kept: what that
	// mended would be missing in what is counted here.
	found := js[string](p, `(async () => {
		await new Promise((go) => setTimeout(go, 6000));
		await ferruleHeal();
		const name = (await caches.keys()).find((k) => k.startsWith("ferrule-")), cache = await caches.open(name);
		await cache.delete("/"); await cache.delete("/worker.wasm");
		await cache.put("/app.css", new Response("altered")); await cache.put("/page.wasm", new Response("altered", { headers: { "Content-Type": "application/wasm" } }));
		return JSON.stringify(await ferruleHeal());
	})()`)
	if found != `{"missing":[],"healed":4}` {
		t.Errorf("healing says %s", found)
	}
	// A damaged program is healed by the start itself.
	js[any](p, `caches.keys().then((k) => caches.open(k.find((n) => n.startsWith("ferrule-")))).then((c) => c.put("/page.wasm", new Response("altered", { headers: { "Content-Type": "application/wasm" } })))`)
	p.check()
	p.setOffline(true)
	p.do(chromedp.Reload())
	p.until("the app, healed", `location.search === "?healed" && document.body.dataset.ready === "1"`)
	p.mu.Lock()
	p.errors = nil
	p.mu.Unlock()
	p.loseServer(s)
	p.goTo("/")
	p.example()
	// Offline it says what is missing.
	found = js[string](p, `(async () => {
		const cache = await caches.open((await caches.keys()).find((k) => k.startsWith("ferrule-")));
		await cache.delete("/words/es.json");
		return JSON.stringify(await ferruleHeal());
	})()`)
	if found != `{"missing":["/words/es.json"],"healed":0}` {
		t.Errorf("offline, healing says %s", found)
	}
	p.goByLink("/", "home")
	p.until("what is missing, in words", `document.querySelector("#storage-missing")?.innerText.includes("/words/es.json")`)
}

// TestVersionsAreNotMixed: a page runs while the site becomes another one, first
// without a service worker, then with one whose cache has lost the analysis, then
// the first page. No program of the one version works beside one of the other; the
// app starts, says what is the matter, and the balls are there.
func TestVersionsAreNotMixed(t *testing.T) {
	another := func(t *testing.T, dir, old string) {
		renew(t, dir, old, "fedcba987654")
		hash := func(b string) string { h := sha256.Sum256([]byte(b)); return base64.StdEncoding.EncodeToString(h[:]) }
		for name, more := range map[string]string{"worker.wasm": "\x00\x02\x01x", "shots.html": "<!-- new -->"} { // a section that no program reads
			was := read(t, dir, name)
			write(t, dir, "sw.js", strings.Replace(read(t, dir, "sw.js"), hash(was), hash(was+more), 1))
			write(t, dir, name, was+more)
		}
	}
	copied := func(t *testing.T) string {
		dir := filepath.Join(t.TempDir(), "site")
		if err := os.CopyFS(dir, os.DirFS(*site)); err != nil {
			t.Fatal(err)
		}
		return dir
	}
	const version = `goappGetenv("GOAPP_VERSION")`
	error := `[...document.querySelectorAll("[role=alert]")].map((e) => e.innerText).join(" ")`

	t.Run("without a service worker", func(t *testing.T) {
		dir := copied(t)
		old := regexp.MustCompile(`VERSION = "(\w+)"`).FindStringSubmatch(read(t, dir, "sw.js"))[1]
		p := startBrowser(t, startServer(t, dir)).open("/", script(`Object.defineProperty(Navigator.prototype, "serviceWorker", { get() { return undefined; } });
			window.ferruleWorkers = 0; { const W = Worker; window.Worker = class extends W { constructor(...a) { if (!window.ferruleReplaced) { throw new Error("not yet"); } super(...a); ferruleWorkers++; } }; }`))
		p.setOffline(true)
		p.newSession()
		p.typeBall("210")
		p.until("the ball", balls+` === 1`)
		p.saved()
		another(t, dir, old)
		js[any](p, `window.ferruleReplaced = true`)
		p.typeBall("220")
		p.until("both balls", balls+` === 2`)
		p.goByLink("/choose", "choose")
		p.until("the word that the versions differ", `(`+error+`).includes("different versions")`)
		p.reload()
		p.goByLink("/shots", "shots")
		p.until("both balls in the other version", version+` === "fedcba987654" && `+balls+` === 2`)
	})
	lost := func(t *testing.T, path string) (p *tab) {
		dir := copied(t)
		b := startBrowser(t, startServer(t, dir))
		p = b.withBall("210")
		p.offlineReady()
		old := js[string](p, version)
		another(t, dir, old)
		js[any](p, `caches.open("ferrule-`+old+`").then((c) => c.delete("`+path+`"))`)
		p.setOffline(true)
		p.do(chromedp.Reload())
		return p
	}
	t.Run("the analysis is lost", func(t *testing.T) {
		p := lost(t, "/worker.wasm")
		p.ready()
		p.goByLink("/choose", "choose")
		p.until("the word that it could not be started", `(`+error+`).includes("could not be started")`)
		p.goByLink("/shots", "shots")
		p.until("the ball", balls+` === 1`)
	})
	t.Run("the page is lost", func(t *testing.T) {
		p := lost(t, "/shots")
		p.ready()
		p.until("the other version whole", version+` === "fedcba987654" && `+balls+` === 1`)
		p.goByLink("/choose", "choose")
		p.until("its answer", `document.body.dataset.busy === "0" && document.querySelector("#answer, main")?.innerText.trim() && !(`+error+`).includes("version")`)
	})
}
