package browsertest

import (
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/chromedp"
)

// block keeps the page from loading addresses (URLPattern syntax).
func block(patterns ...string) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		p := network.SetBlockedURLsParams{}
		for _, x := range patterns {
			p.URLPatterns = append(p.URLPatterns, &network.BlockPattern{URLPattern: x, Block: true})
		}
		_, err := cdp.Call(ctx, t, network.SetBlockedURLs, p)
		return err
	})
}

// golden is the text of a link that stays for ever.
func golden(t *testing.T, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("../../testdata/share", name+".txt"))
	if err != nil {
		t.Fatal(err)
	}
	return strings.TrimSpace(string(b))
}

// TestALinkTellsItsAnswerBeforeTheProgram keeps the program from loading: the
// page of a shared link says the answer all the same, in the language of the
// browser or the one chosen before, and a damaged link says that it is. Then
// the program loads and takes over.
func TestALinkTellsItsAnswerBeforeTheProgram(t *testing.T) {
	s := startServer(t, *site)
	link := golden(t, "v1-thin")
	p := startBrowser(t, s).open("/how")
	p.offlineReady()
	js[any](p, `navigator.serviceWorker.getRegistration().then((r) => r.unregister())`)
	p.setOffline(true)
	p.do(chromedp.Navigate("about:blank"), block("http://*:*/page.wasm"))

	peek := func(fragment string) string {
		p.do(chromedp.Navigate("about:blank"), chromedp.Navigate(s.url("/shared#s="+fragment)))
		p.until("the answer of the link", `document.querySelector("#peek") && !document.querySelector("#peek").hidden`)
		return p.text("#peek")
	}
	said := peek(link)
	for _, must := range []string{"up / heel", "loft", "fairways", "4.1a(3)", "yd"} {
		if !strings.Contains(strings.ToLower(said), strings.ToLower(must)) {
			t.Errorf("the page does not say %q:\n%s", must, said)
		}
	}
	if strings.ContainsAny(said, "{}[]") {
		t.Errorf("the page says\n%s", said)
	}
	js[any](p, `localStorage.setItem("ferrule.prefs", JSON.stringify({ system: "metric" }))`)
	if metric := peek(link); !strings.Contains(metric, "\u00a0m") || strings.Contains(metric, "yd") {
		t.Errorf("in metres the page says\n%s", metric)
	}
	if bad := peek(link[:20] + string(link[20]^1) + link[21:]); !strings.Contains(bad, "damaged") || strings.Contains(bad, "up / heel") {
		t.Errorf("of a damaged link the page says\n%s", bad)
	}
	if js[bool](p, `document.body.dataset.ready === "1"`) {
		t.Error("the program ran: this tested nothing")
	}

	p.mu.Lock() // that the program could not be loaded is what was wanted
	p.errors = slices.DeleteFunc(p.errors, func(e string) bool { return strings.Contains(e, "loading the app failed") })
	p.mu.Unlock()
	p.do(chromedp.Navigate("about:blank"), block())
	p.goTo("/shared#s=" + link)
	p.page("shared")
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	if left := js[bool](p, `document.querySelector("#peek") !== null`); left {
		t.Error("the first answer stays beside the program's")
	}
	p.check()
}

// TestASiteInAFolderSaysThatItCannotRun serves the site below a folder.
func TestASiteInAFolderSaysThatItCannotRun(t *testing.T) {
	mux := http.NewServeMux()
	mux.Handle("/golf/", http.StripPrefix("/golf/", http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		name := r.URL.Path
		switch {
		case name == "":
			name = "index.html"
		case filepath.Ext(name) == "":
			name += ".html"
		}
		http.ServeFile(w, r, filepath.Join(*site, name))
	})))
	ts := httptest.NewServer(mux)
	t.Cleanup(ts.Close)
	host := strings.TrimPrefix(local(ts), "http://")
	b := startBrowser(t, &server{host: host})
	ctx, cancel := chromedp.NewContext(b.ctx)
	t.Cleanup(cancel)
	p := &tab{t: t, ctx: ctx, cancel: cancel, host: host, offline: true} // the files at the root are not there
	if err := chromedp.Listen(ctx, p.hear); err != nil {
		t.Fatal(err)
	}
	for _, path := range []string{"/golf/", "/golf/shots", "/golf/shared"} {
		p.do(chromedp.Navigate(local(ts) + path))
		p.until("a word", `document.querySelector("#not-at-root")`)
		if said := p.text("#not-at-root"); !strings.Contains(said, "/golf/") || !strings.Contains(said, "root") {
			t.Errorf("%s says %q", path, said)
		}
	}
}

// fakeShare stands in for the device's dialogue and keeps what it was given.
const fakeShare = `
	window.given = [];
	navigator.canShare = (x) => x.files.every((f) => /^text\/(html|csv)$/.test(f.type));
	navigator.share = (x) => {
		window.given.push(x);
		return Promise.reject(new DOMException("the person changed their mind", "AbortError"));
	};
	window.blobs = [];
	const make = URL.createObjectURL;
	URL.createObjectURL = (b) => { if (b.type !== "text/javascript") { window.blobs.push(b); } return make(b); };` // the worker is begun from one

// TestWhatLeavesThePage: files for another app and downloads hold the sheet
// and the balls, and a name only if it was ticked; the link and its code are
// printed when that is wanted; a shared link is only looked at until it is kept.
func TestWhatLeavesThePage(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(fakeShare))
	p.example()
	p.saved()
	p.goByLink("/sheet", "sheet")
	sheet := `document.querySelector("iframe#sheet")?.contentDocument?.body`
	p.until("the sheet", sheet+`?.innerText.length > 500`)
	unfold := func() { js[any](p, `document.querySelectorAll("main details").forEach((d) => { d.open = true; })`) }
	unfold()

	given := func() string {
		n := js[int](p, `window.given.length`)
		unfold()
		p.tap("#send-file")
		p.until("the files", fmt.Sprintf(`window.given.length > %d`, n))
		return js[string](p, `Promise.all(window.given.at(-1).files.map((f) => f.text().then((t) => f.name + "\n" + t))).then((a) => a.join("\n"))`)
	}
	const name = "Demo player A" // of the example
	files := given()
	for _, must := range []string{"fitting-sheet.html", "<!doctype html>", "shots.csv"} {
		if !strings.Contains(files, must) {
			t.Errorf("the files lack %q", must)
		}
	}
	if strings.Contains(files, name) {
		t.Error("the files tell the name, which was not ticked")
	}
	p.tap("#names")
	p.until("the sheet with the name", sheet+`?.innerText.includes("`+name+`")`)
	if !strings.Contains(given(), name) {
		t.Error("the name was ticked and is not in the files")
	}
	p.tap("#names")
	p.until("the sheet without the name", `!`+sheet+`?.innerText.includes("`+name+`")`)

	if js[bool](p, sheet+`.querySelector("footer a") !== null`) {
		t.Error("a link is printed unasked")
	}
	p.tap("#on-paper")
	p.until("the printed link", sheet+`?.querySelector("footer a[href*='/shared#s=']")`)
	long := js[int](p, sheet+`.querySelector("footer a").href.length`)
	code := js[bool](p, sheet+`.querySelector("footer svg") !== null`)
	t.Logf("the printed link has %d characters, code: %v", long, code)
	if code != (long <= 1200) {
		t.Errorf("a link of %d characters has a code: %v", long, code)
	}

	saved := func(id, must string) {
		n := js[int](p, `window.blobs.length`)
		unfold()
		p.tap("#" + id)
		p.until("the file of "+id, fmt.Sprintf(`window.blobs.length > %d`, n))
		if text := js[string](p, `window.blobs.at(-1).text()`); !strings.Contains(text, must) {
			t.Errorf("%s gives %d bytes without %q", id, len(text), must)
		}
	}
	saved("save-sheet", "<!doctype html>")
	saved("save-csv", "Carry")
	saved("save-plan", `xmlns="http://www.w3.org/2000/svg"`)
	saved("save-session", `"ferrule": "session"`)
	p.check()

	link := js[string](p, sheet+`.querySelector("footer a").href`)
	p.goTo("/shared" + link[strings.IndexByte(link, '#'):])
	p.page("shared")
	p.tap("#keep-copy")
	p.until("it to be one's own", `!document.querySelector("#keep-copy")`)
	p.saved()
	p.goTo("/sessions")
	p.until("both sessions", `document.querySelectorAll(".session-open").length === 2`)
	p.check()
}

// TestBackupAndRestore takes everything out as one file and puts it back:
// restoring adds what is missing and never overwrites.
func TestBackupAndRestore(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(fakeShare))
	p.newSession()
	p.typeBall("210")
	p.saved()
	p.goByLink("/", "home")
	p.until("the answer of the browser about keeping", `document.querySelector("#storage-kept")?.innerText.trim()`)
	t.Logf("about keeping: %s", p.text("#storage-kept"))
	p.tap("#do-backup")
	p.until("the file", `window.blobs.length > 0`)
	text := js[string](p, `window.blobs.at(-1).arrayBuffer().then((b) => btoa(String.fromCharCode(...new Uint8Array(b))))`)
	bytes, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "backup.bin")
	if err := os.WriteFile(file, bytes, 0o600); err != nil {
		t.Fatal(err)
	}
	restore := func() {
		n := p.text("#notice")
		p.do(chromedp.SetUploadFiles(chromedp.CSS("#restore-input"), []string{file}))
		p.until("a word about it", fmt.Sprintf(`document.querySelector("#notice .notice-box") && document.querySelector("#notice").innerText !== %q`, n))
	}
	sessions := `document.querySelectorAll(".session-open").length`
	restore()
	if n := js[int](p, sessions); n != 1 {
		t.Errorf("restoring what is there gives %d sessions, want the one", n)
	}
	// changed since: the one from the file comes beside it
	p.goByLink("/shots", "shots")
	p.typeBall("220")
	p.until("both balls", balls+` === 2`)
	p.saved()
	p.goByLink("/", "home")
	restore()
	p.until("both", sessions+` === 2`)

	// damage on the disk: it is listed, and its file can be taken
	js[any](p, `new Promise((done, fail) => {
		const open = indexedDB.open("ferrule");
		open.onerror = () => fail(open.error);
		open.onsuccess = () => {
			const db = open.result, name = db.objectStoreNames[0], step = db.transaction(name, "readwrite"), all = step.objectStore(name);
			all.getAll().onsuccess = (e) => { const row = e.target.result[0]; row.blob[20] ^= 1; all.put(row); };
			step.oncomplete = () => { db.close(); done(true); };
			step.onabort = () => fail(step.error);
		};
	})`)
	p.goTo("/")
	p.until("the damaged one", `document.querySelector("[id^=take-]") && document.querySelectorAll(".session-open").length === 1`)
	n := js[int](p, `window.blobs.length`)
	p.tap("[id^=take-]")
	p.until("its file", fmt.Sprintf(`window.blobs.length > %d`, n))
	if text := js[string](p, `window.blobs.at(-1).text()`); !strings.HasPrefix(text, "FRRL") {
		t.Errorf("the damaged file begins %.10q", text)
	}
	p.check()
}
