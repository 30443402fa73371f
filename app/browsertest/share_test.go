package browsertest

import (
	"context"
	"encoding/base64"
	"fmt"
	"net/http"
	"net/http/httptest"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
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
	navigator.canShare = (x) => x.files.every((f) => /^(text\/(html|csv)|image\/png)$/.test(f.type));
	navigator.share = (x) => {
		window.given.push(x);
		return Promise.reject(new DOMException("the person changed their mind", "AbortError"));
	};
	window.blobs = [];
	const make = URL.createObjectURL;
	URL.createObjectURL = (b) => { if (b.type !== "text/javascript") { window.blobs.push(b); } return make(b); };
	window.names = [];
	const click = HTMLAnchorElement.prototype.click;
	HTMLAnchorElement.prototype.click = function () { if (this.download) { window.names.push(this.download); } return click.call(this); };`

// TestWhatLeavesThePage walks every way out of the sheet's page with a named
// player, a title, a note and another client's session in the store, and looks
// for each of them in what left: nothing of them unless it is ticked, and what
// is ticked is asked anew each time. The other client is in nothing.
func TestWhatLeavesThePage(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(fakeShare))
	const player, title, client, note = "Demo player A", "Quentin’s Tuesday", "Zebulon Otherclient", "as Ophelia said"
	p.newSession()
	p.goByLink("/club", "club")
	p.unfoldAll()
	p.fillIn("player-name", client)
	p.goByLink("/shots", "shots")
	p.typeBall("199")
	p.saved()
	p.goByLink("/", "home")
	p.example()
	p.goByLink("/club", "club")
	p.unfoldAll()
	p.fillIn("session-title", title)
	p.goByLink("/shots", "shots")
	p.tap(".balls .ball-line") // a note on the newest ball
	p.until("the note's field", `document.querySelector("[id^=note-]")`)
	p.types("[id^=note-]", note)
	p.saved()
	p.goByLink("/sheet", "sheet")
	sheet := `document.querySelector("iframe#sheet")?.contentDocument?.body`
	p.until("the sheet", sheet+`?.innerText.length > 500`)

	found := func(text string) (out []string) {
		for _, x := range []string{player, title, client, note} {
			if strings.Contains(text, x) {
				out = append(out, x)
			}
		}
		return out
	}
	// what a way out gives: the text of the file, or of the link as it opens
	way := func(kind string, named bool) (name, text string) {
		js[any](p, `document.querySelectorAll("main details").forEach((d) => { d.open = true; })`)
		p.tap("#send-" + kind)
		p.until("what would leave", `document.querySelector("#parcel")`)
		if kind != "still" {
			if js[bool](p, `document.querySelector("#names").checked`) {
				t.Errorf("%s: names are ticked before anybody was asked", kind)
			}
			if named {
				p.tap("#names")
				p.until("the sheet with the name", sheet+`?.innerText.includes("`+player+`")`)
			}
		}
		if kind == "link" {
			p.until("the link", `document.querySelector("#link-text")?.value`)
			_, fragment, _ := strings.Cut(js[string](p, `document.querySelector("#link-text").value`), "#s=")
			l := s.decoded(t, fragment)
			p.tap("#send-not")
			return "", l
		}
		if kind == "picture" {
			p.until("the picture", `document.querySelector("#parcel-picture")?.naturalWidth > 500`)
		}
		p.until("the file is ready", `!document.querySelector("#do-save").disabled`)
		n := js[int](p, `window.blobs.length`)
		p.tap("#do-save")
		p.until("the file of "+kind, fmt.Sprintf(`window.blobs.length > %d`, n))
		p.until("the card to close", `document.querySelector("#parcel") === null`)
		return js[string](p, `window.names.at(-1)`), js[string](p, `window.blobs.at(-1).text()`)
	}
	for kind, must := range map[string]string{"picture": "PNG", "sheet": "<!doctype html>", "table": "Carry", "still": "Still Air", "session": `"ferrule": "session"`, "link": "balls"} {
		name, text := way(kind, false)
		if !strings.Contains(text, must) {
			t.Errorf("%s gives %d bytes without %q", kind, len(text), must)
		}
		if got := found(text + name); len(got) > 0 {
			t.Errorf("%s tells %q, which nobody ticked", kind, got)
		}
		if kind != "link" && !regexp.MustCompile(`^\d{4}-\d\d-\d\d-[\pL\pN-]+\.[a-z]+$`).MatchString(name) {
			t.Errorf("%s is called %q", kind, name)
		}
		if kind == "still" || kind == "picture" {
			continue
		}
		if _, text = way(kind, true); !strings.Contains(text, player) || strings.Contains(text, client) {
			t.Errorf("%s with names: has the player %v, the other client %v", kind, strings.Contains(text, player), strings.Contains(text, client))
		}
	}
	p.until("the sheet without the name", `!`+sheet+`?.innerText.includes("`+player+`")`)
	if text := js[string](p, sheet+`.innerText`); len(found(text)) > 0 {
		t.Errorf("after it was sent the sheet on the screen tells %q", found(text))
	}
	// what is printed by the button with a name asks first
	p.tap("#send-print")
	p.until("the question", `document.querySelector("#parcel #names") && !document.querySelector("#names").checked`)
	p.tap("#send-not")

	// sent to another app: the same file
	p.tap("#send-picture")
	p.until("the picture", `document.querySelector("#parcel-picture")?.naturalWidth > 500`)
	p.tap("#do-send")
	p.until("the picture in the dialogue", `window.given.at(-1)?.files[0].type === "image/png"`)
	p.until("the card to close", `document.querySelector("#parcel") === null`) // what stands below it moves
	p.still()

	if js[bool](p, sheet+`.querySelector("footer a") !== null`) {
		t.Error("a link is printed unasked")
	}
	js[any](p, `document.querySelectorAll("main details").forEach((d) => { d.open = true; })`)
	p.until("the tick", `document.querySelector("#on-paper")`)
	p.tap("#on-paper")
	p.until("it to be ticked", `document.querySelector("#on-paper").checked`)
	p.until("the printed link", sheet+`?.querySelector("footer a[href*='/shared#s=']")`)
	long := js[int](p, sheet+`.querySelector("footer a").href.length`)
	code := js[bool](p, sheet+`.querySelector("footer svg") !== null`)
	t.Logf("the printed link has %d characters, code: %v", long, code)
	if code != (long <= 1200) {
		t.Errorf("a link of %d characters has a code: %v", long, code)
	}
	p.check()

	link := js[string](p, sheet+`.querySelector("footer a").href`)
	p.goTo("/shared" + link[strings.IndexByte(link, '#'):])
	p.page("shared")
	p.tap("#keep-copy")
	p.until("it to be one's own", `!document.querySelector("#keep-copy")`)
	p.saved()
	p.goTo("/sessions")
	p.until("all sessions", `document.querySelectorAll(".session-open").length === 3`)
	p.check()
}

// decoded is all that the command line reads out of a link, as text.
func (s *server) decoded(t *testing.T, fragment string) string {
	t.Helper()
	file := filepath.Join(t.TempDir(), "sheet.txt")
	for _, args := range [][]string{{"sheet", "x#s=" + fragment, "-text", "-names", "-o", file}} {
		if out, err := exec.Command(*ferrule, args...).CombinedOutput(); err != nil {
			t.Fatalf("ferrule %s: %v\n%s", args[0], err, out)
		}
	}
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
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

// TestLeavingASharedLink: who has looked at a link and goes on finds the own
// session as it was; nothing of the link is kept, nothing of it looks editable,
// and "Keep a copy" is what makes it one's own.
func TestLeavingASharedLink(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.example()
	p.saved()
	own := p.text(".session-title")
	p.do(chromedp.Navigate("about:blank"))
	p.goTo("/shared#s=" + golden(t, "v1-thin"))
	p.page("shared")
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	p.goByLink("/compare", "compare")
	p.still()
	if js[bool](p, `document.querySelector("#reference-is") !== null`) {
		t.Error("what a received session is compared with looks like something to change")
	}
	if live := js[int](p, `(() => { const body = document.querySelector("#page-body"); return [...body.querySelectorAll("input[type=text]")].filter((e) => !e.matches(":disabled")).length; })()`); live != 0 {
		t.Errorf("%d fields of a received session can be typed into", live)
	}
	p.tap("#home")
	p.page("home")
	p.until("one session", `document.querySelectorAll("#sessions .session").length === 1`)
	p.tap("#sessions .session button, #sessions .session a")
	p.until("the own session", fmt.Sprintf(`document.querySelector(".session-title").innerText === %q && !document.querySelector("#keep-copy")`, own))
	p.check()
}

// TestALongLinkSaysWhereItMayBeCut: over 2,000 characters the link says how many
// it has, and that a file does not get cut.
func TestALongLinkSaysWhereItMayBeCut(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", theme("light"))
	p.upload(fileOf(t, "long.csv", importHead+"\n"+importRows(91, 300, "Driver", "up", 150, 12, 2600)+importRows(92, 300, "Driver", "flat", 150, 11, 2500)))
	p.understood("long.csv")
	p.tap("#accept-file")
	p.until("the balls", `document.body.dataset.saved > 0`)
	p.goByLink("/sheet", "sheet")
	p.until("the sheet", `document.querySelector("iframe#sheet")?.contentDocument?.body?.innerText.length > 500`)
	p.tap("#send-link")
	p.until("the link", `document.querySelector("#link-text")?.value.length > 100`)
	long := js[int](p, `document.querySelector("#link-text").value.length`)
	said := js[string](p, `document.querySelector("#link-long")?.innerText ?? ""`)
	t.Logf("600 balls make a link of %d characters: %q", long, said)
	if long <= 2000 || !strings.Contains(strings.ReplaceAll(said, ",", ""), fmt.Sprint(long)) || !strings.Contains(said, "file") {
		t.Errorf("a link of %d characters says %q", long, said)
	}
	p.check()
}
