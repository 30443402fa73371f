package browsertest

import (
	"context"
	"crypto/sha256"
	"encoding/base64"
	"flag"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/storage"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// typeBall types a ball in and adds it.
func (p *tab) typeBall(carry string) {
	p.t.Helper()
	p.until("the key pad", `document.querySelector("#entry-carry")`)
	p.do(chromedp.ScrollIntoView(chromedp.CSS("#entry-carry")), chromedp.SendKeys(chromedp.CSS("#entry-carry"), carry))
	p.tap("#add-shot")
	p.until("the ball, or a question about it", `document.querySelector("#odd-keep") || document.querySelector("#entry-carry").value === ""`)
	if js[bool](p, `!!document.querySelector("#odd-keep")`) { // the faults' balls are any
		p.tap("#odd-keep")
	}
}

// balls is how many balls the session shows.
const balls = `Number((document.querySelector("#entry-said")?.innerText.match(/\d+/) ?? ["-1"])[0])`

// newSession begins an empty session and goes to its shots.
func (p *tab) newSession() {
	p.t.Helper()
	p.tap("#new-session")
	p.page("club")
	p.goByLink("/shots", "shots")
}

// TestADamagedLinkSaysSo changes a good link in many places: each is refused
// with a sentence, and nothing that is stored is touched.
func TestADamagedLinkSaysSo(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.example()
	p.saved()
	p.goByLink("/sheet", "sheet")
	p.tap("#send-link")
	p.until("the link", `document.querySelector("#link-text, #link-error")`)
	link := js[string](p, `document.querySelector("#link-text")?.value ?? ""`)
	_, fragment, found := strings.Cut(link, "#")
	if !found {
		p.fail("no link was made: %q", link)
	}
	t.Logf("the link has %d characters", len(link))

	p.goTo("/shared#" + fragment)
	p.page("shared")
	p.until("the sheet", `document.querySelector("iframe#sheet, #link-error")`)
	if p.text("#link-error") != "" {
		t.Errorf("a good link is refused: %s", p.text("#link-error"))
	}
	p.until("the sheet's text", `document.querySelector("iframe#sheet").contentDocument?.body?.innerText.length > 500`)
	p.check()
	head := strings.IndexByte(fragment, '=') + 1
	for at := head; at < len(fragment); at += 1 + (len(fragment)-head)/12 {
		other := "A"
		if fragment[at] == 'A' {
			other = "B"
		}
		p.do(chromedp.Navigate("about:blank"))
		p.goTo("/shared#" + fragment[:at] + other + fragment[at+1:])
		p.until("a word about the damage", `document.querySelector("#link-error")?.innerText.trim()`)
		p.check()
	}
	p.goTo("/sessions")
	p.until("the list", `document.querySelector(".session-open")`)
	if n := js[int](p, `document.querySelectorAll(".session-open").length`); n != 1 {
		t.Errorf("%d sessions are stored, want the one from before the links", n)
	}
	p.check()
}

// withBall opens a tab with a new session and stores one ball in it.
func (b *browser) withBall(carry string) *tab {
	b.t.Helper()
	p := b.open("/")
	p.newSession()
	p.typeBall(carry)
	p.until("the ball", balls+` === 1`)
	p.saved()
	return p
}

// TestTwoTabs edits one session in two tabs: each shows the other's balls, and
// where both save at once nothing is lost unseen.
func TestTwoTabs(t *testing.T) {
	s := startServer(t, *site)
	b := startBrowser(t, s)
	one := b.withBall("210")
	two := b.another("/shots")
	two.until("the ball of the other tab", balls+` === 1`)
	two.typeBall("220")
	two.until("both balls", balls+` === 2`)
	two.saved()
	one.until("both balls", balls+` === 2`)
	one.check()
	two.check()

	// both at once: the keys are typed first, then both tabs are told to add
	one.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), "230"))
	two.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), "240"))
	add := `document.querySelector("#add-shot").click()`
	js[any](one, add)
	js[any](two, add)
	one.still()
	two.still()
	// one won; the other asks its person, or was quick enough to read it first
	asked := func(p *tab) bool { return js[bool](p, `document.querySelector("#conflict") !== null`) }
	settled := func() bool {
		n1, n2 := js[int](one, balls), js[int](two, balls)
		return n1 == 4 && n2 == 4 || asked(one) || asked(two)
	}
	end := time.Now().Add(patience)
	for !settled() {
		if time.Now().After(end) {
			t.Fatalf("the tabs show %d and %d balls, and neither says that something is wrong", js[int](one, balls), js[int](two, balls))
		}
		time.Sleep(50 * time.Millisecond)
	}
	t.Logf("both at once: %d and %d balls; asked: %v, %v", js[int](one, balls), js[int](two, balls), asked(one), asked(two))
	for _, p := range []*tab{one, two} {
		if !asked(p) {
			continue
		}
		p.tap("#keep-mine")
		p.until("the copy", `!document.querySelector("#conflict")`)
		p.saved()
		p.until("its own balls", balls+` === 3`)
		p.goByLink("/", "home")
		p.until("both sessions with three balls", `[...document.querySelectorAll(".session-open")].filter((e) => /\b3\b/.test(e.innerText)).length === 2`)
	}
	one.check()
	two.check()
}

// TestStorageDenied: in a browser that keeps nothing the app works, says that
// it keeps nothing, and hands its file out.
func TestStorageDenied(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(`
		for (const name of ["indexedDB", "localStorage", "sessionStorage", "caches"]) {
			Object.defineProperty(window, name, { configurable: true, get() { throw new DOMException("denied", "SecurityError"); } });
		}
		Object.defineProperty(Navigator.prototype, "serviceWorker", { get() { return { controller: null, addEventListener() {}, register() { return Promise.reject(new DOMException("denied", "SecurityError")); } }; } });`))
	p.until("the word that nothing is kept", `document.querySelector("#memory-only")`)
	p.example()
	p.until("a way to a file", `document.querySelector("#save-memory")`)
	p.goByLink("/", "home")
	p.until("the backup", `document.querySelector("#do-backup") && !document.querySelector("#do-backup").disabled`)
	p.check()
}

// TestTheDiskIsFull: what cannot be saved is said, stays on the page, and is
// saved once there is room.
func TestTheDiskIsFull(t *testing.T) {
	s := startServer(t, *site)
	// Set before the first save: the browser believes for a while what it
	// found out about the room.
	p := startBrowser(t, s).open("/", quota(s.url(""), new(float64(1))))
	p.setOffline(true) // the service worker finds no room either, and says so
	p.newSession()
	p.typeBall("210")
	p.until("the word that there is no room", `document.querySelector("#notice .notice-box")`)
	t.Logf("told: %s", p.text("#notice .notice-box"))
	// The club could not be saved either, so the word may be there before the ball.
	p.until("the one ball that could not be saved", balls+` === 1`)
	p.until("a way to a file", `document.querySelector("#save-file")`)
	p.do(quota(s.url(""), nil))
	p.typeBall("220")
	p.until("a save", `Number(document.body.dataset.saved) > 0`)
	p.reload()
	p.goByLink("/shots", "shots")
	p.until("both balls", balls+` === 2`)
	p.check()
}

func quota(origin string, size *float64) chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, storage.OverrideQuotaForOrigin, storage.OverrideQuotaForOriginParams{Origin: origin, QuotaSize: size})
		return err
	})
}

// TestAnUpdateWaitsForThePerson puts a new version on the server while a
// session is open: the old one goes on, the person is told, agrees, and finds
// everything again. Nobody else's cache is touched.
func TestAnUpdateWaitsForThePerson(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	if err := os.CopyFS(dir, os.DirFS(*site)); err != nil {
		t.Fatal(err)
	}
	s := startServer(t, dir)
	b := startBrowser(t, s)
	p := b.open("/")
	p.offlineReady()
	old := js[string](p, `goappGetenv("GOAPP_VERSION")`)
	js[any](p, `caches.open("somebody else's").then(() => true)`)
	p.newSession()
	p.typeBall("210")
	p.saved()
	other := b.another("/shots")
	other.until("the ball", balls+` === 1`)

	renew(t, dir, old, "fedcba987654")
	js[any](p, `goappTryUpdate()`)
	p.until("the word of a new version", `document.querySelector("#update")`)
	other.until("the word of a new version in the other tab", `document.querySelector("#update")`)
	p.typeBall("220") // the old version goes on
	p.until("the ball", balls+` === 2`)
	if got := js[string](p, `goappGetenv("GOAPP_VERSION")`); got != old {
		t.Errorf("version %s took over unasked", got)
	}
	p.check()
	p.tap("#update")
	p.until("the new version", `goappGetenv("GOAPP_VERSION") === "fedcba987654" && document.body.dataset.ready === "1"`)
	p.until("both balls", balls+` === 2`)
	caches := js[string](p, `caches.keys().then((k) => k.sort().join(", "))`)
	if caches != "ferrule-fedcba987654, somebody else's" {
		t.Errorf("caches: %s", caches)
	}
	// the other tab was not reloaded under anybody's hands
	if got := js[string](other, `goappGetenv("GOAPP_VERSION")`); got != old {
		t.Errorf("the other tab was reloaded to %s", got)
	}
	p.check()
	s.stop()
	p.setOffline(true)
	p.reload()
	p.until("both balls, offline", balls+` === 2`)
	p.check()
}

// renew turns the site in dir into a new version: another style sheet.
func renew(t *testing.T, dir, old, version string) {
	t.Helper()
	hash := func(b []byte) string { h := sha256.Sum256(b); return base64.StdEncoding.EncodeToString(h[:]) }
	sw := read(t, dir, "sw.js")
	for name, change := range map[string]func(string) string{
		"app.css":   func(s string) string { return s + "\n/* new */\n" },
		"loader.js": func(s string) string { return strings.Replace(s, old, version, 1) },
		"worker.js": func(s string) string { return strings.ReplaceAll(s, old, version) },
	} {
		was := read(t, dir, name)
		now := change(was)
		if was == now || !strings.Contains(sw, hash([]byte(was))) {
			t.Fatalf("%s is not as it was built", name)
		}
		sw = strings.Replace(sw, hash([]byte(was)), hash([]byte(now)), 1)
		write(t, dir, name, now)
	}
	write(t, dir, "sw.js", strings.Replace(sw, `"`+old+`"`, `"`+version+`"`, 1))
}

func read(t *testing.T, dir, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join(dir, name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// write replaces a file and takes its compressed twins away.
func write(t *testing.T, dir, name, text string) {
	t.Helper()
	for _, twin := range []string{".br", ".gz"} {
		if err := os.Remove(filepath.Join(dir, name+twin)); err != nil && !os.IsNotExist(err) {
			t.Fatal(err)
		}
	}
	if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
		t.Fatal(err)
	}
}

// TestAHalfReplacedSiteIsNeverMixed: when a file on the server is not the one
// that the new service worker names, the old version stays.
func TestAHalfReplacedSiteIsNeverMixed(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	if err := os.CopyFS(dir, os.DirFS(*site)); err != nil {
		t.Fatal(err)
	}
	s := startServer(t, dir)
	p := startBrowser(t, s).open("/")
	p.offlineReady()
	old := js[string](p, `goappGetenv("GOAPP_VERSION")`)
	css := read(t, dir, "app.css")
	renew(t, dir, old, "fedcba987654")
	write(t, dir, "app.css", css) // still the old file
	p.setOffline(true)
	if got := js[string](p, `ferruleRegistration.update().then(() => new Promise((done) => {
		const next = ferruleRegistration.installing;
		if (!next) { done("no installing worker"); return; }
		next.addEventListener("statechange", () => { if (next.state !== "installing") { done(next.state); } });
	}), (err) => "redundant")`); got != "redundant" {
		t.Errorf("the mixed version became %q", got)
	}
	if got := js[string](p, `caches.keys().then((k) => k.join(", "))`); got != "ferrule-"+old {
		t.Errorf("caches: %s", got)
	}
	p.reload()
	if got := js[string](p, `goappGetenv("GOAPP_VERSION")`); got != old {
		t.Errorf("version %s runs", got)
	}
}

// TestFilesFromOtherApps: what another app shares comes in through the service
// worker and is shown as understood, with the server stopped.
func TestFilesFromOtherApps(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.offlineReady()
	s.stop()
	p.setOffline(true)
	csv, err := os.ReadFile("../../testdata/demo/demo.csv")
	if err != nil {
		t.Fatal(err)
	}
	if ok := js[bool](p, fmt.Sprintf(`(() => {
		const form = new FormData();
		form.append("file", new File([%[1]s], "evening äö.csv", { type: "text/csv" }));
		form.append("file", new File([%[1]s.replaceAll("\r\n", "\n").split("\n").slice(0, 12).join("\n")], "first dozen.csv", { type: "text/csv" }));
		return fetch("/incoming", { method: "POST", body: form }).then((r) => r.ok);
	})()`, strconv.Quote(string(csv)))); !ok {
		t.Error("the service worker did not take the file")
	}
	p.goTo("/?incoming=1")
	p.page("shots")
	p.until("the file as understood", `document.querySelector("#accept-file")`)
	if got := p.text("#file-h"); !strings.Contains(got, "evening äö.csv") {
		t.Errorf("the file is called %q", got)
	}
	if left := js[int](p, `caches.open("inbox-ferrule").then((c) => c.keys()).then((k) => k.length)`); left != 0 {
		t.Errorf("%d files stay in the inbox", left)
	}
	// One after the other: the second is asked about once the first is taken.
	p.tap("#accept-file")
	p.until("the second file as understood", `document.querySelector("#accept-file") && document.querySelector("#file-h").innerText.includes("first dozen.csv")`)
	if !js[bool](p, `document.querySelector("#accept-file").disabled`) {
		t.Error("balls that are in the session already can be taken over again")
	}
	p.tap("#drop-file")
	p.until("the balls of the first file", balls+` === 58`)
	p.check()
}

// TestNothingIsAskedAfterTheStart counts requests: none leave the page once it
// has started, whatever is analysed.
func TestNothingIsAskedAfterTheStart(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.offlineReady()
	p.reload() // now everything comes from the service worker
	p.still()
	p.asked()
	p.example()
	for _, path := range []string{"/shots", "/compare", "/sheet"} {
		p.goByLink(path, path[1:])
		p.still()
	}
	allowed := regexp.MustCompile(`^GET /(worker\.js|worker\.wasm|wasm_exec\.js|icon.*|manifest\.webmanifest|example/demo-\w+\.bin)$`) // the analysis starts when it is first needed
	for _, r := range p.asked() {
		if !allowed.MatchString(r) {
			t.Errorf("asked for %s", r)
		}
	}
	p.check()
}

// TestCalledAway: a ball is added, a call comes in at once, and the app is not
// there any more afterwards. What is left to store it is that the page is hidden.
func TestCalledAway(t *testing.T) {
	s := startServer(t, *site)
	b := startBrowser(t, s)
	p := b.withBall("213")
	p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), "208"))
	// The page's own timers stand still: the save half a second after typing
	// never comes.
	js[bool](p, `new Promise((done) => {
		const later = window.setTimeout;
		window.setTimeout = () => 0;
		document.querySelector("#add-shot").click();
		Object.defineProperty(document, "visibilityState", { value: "hidden", configurable: true });
		requestAnimationFrame(() => requestAnimationFrame(() => {
			document.dispatchEvent(new Event("visibilitychange"));
			later(() => done(true), 2000);
		}));
	})`)
	p.check()
	crash(p.ctx)
	q := b.another("/shots")
	q.until("both balls", balls+` === 2`)
	q.check()
}

var pageKills = flag.Int("page-kills", 3, "how often the app is killed while balls are typed")

// perKill is how long a kill may take where a run of many is to end: a start of the
// app and a ball. lives is after how many of them a session is put aside, for one of
// a thousand balls takes longer and longer to draw. A lane is a browser of its own:
// a kill is mostly waiting, so long runs are shared out.
const (
	perKill = 30 * time.Second
	lives   = 100
	perLane = 250
)

// TestTheAppIsKilledWhileBallsAreTyped ends the page's process at random
// moments after a ball was added, before, while and after it is saved: the app
// always starts again, and every ball that the page called saved is there.
func TestTheAppIsKilledWhileBallsAreTyped(t *testing.T) {
	s := startServer(t, *site)
	lanes := make([]killed, (*pageKills+perLane-1)/perLane)
	t.Run("lanes", func(t *testing.T) {
		for i := range lanes {
			t.Run(fmt.Sprint(i+1), func(t *testing.T) {
				t.Parallel()
				kills := min(perLane, *pageKills-i*perLane)
				lanes[i] = startBrowser(t, s).killed(kills, i > 0, rand.New(rand.NewPCG(8, uint64(3+i)))) // where in time it falls is chance all the same
			})
		}
	})
	var all killed
	for _, l := range lanes {
		all.kills, all.early, all.seconds, all.typed = all.kills+l.kills, all.early+l.early, all.seconds+l.seconds, all.typed+l.typed
		all.kept, all.unfetched = all.kept+l.kept, all.unfetched+l.unfetched
	}
	t.Log(all)
	if all.kept < all.typed-all.early {
		t.Errorf("%d balls are kept, want at least %d", all.kept, all.typed-all.early)
	}
}

// killed is what a run of kills has seen.
type killed struct{ kills, early, seconds, typed, kept, unfetched int }

func (k killed) String() string {
	return fmt.Sprintf("%d kills, %d of them before the save, %d a second after the last key or later; %d balls typed, %d kept, none that was called saved lost; %d times the analysis was not fetched",
		k.kills, k.early, k.seconds, k.typed, k.kept, k.unfetched)
}

// killed types balls into b and ends the page's process so many times. In a calm
// browser nothing is worked out on its own, which takes most of the processor.
func (b *browser) killed(kills int, calm bool, random *rand.Rand) (k killed) {
	t := b.t
	p := b.open("/settings") // carries the browser, and is left alone
	if calm {
		p.page("settings")
		p.tap(`label:has(> #auto)`)
		p.until("the choice on the disk", `!document.querySelector("#auto").checked && document.body.dataset.dirty !== "1"`)
	}
	p = b.another("/")
	kept, confirmed := 0, 0 // in the sessions that were put aside, and in the open one
	end := time.Now().Add(time.Duration(kills)*perKill + 2*patience)
	for i := range kills {
		if time.Now().After(end) {
			t.Fatalf("only %d of %d kills in the time for them", i, kills)
		}
		if i%lives == 0 {
			if i > 0 {
				p.goByLink("/", "home")
			}
			p.newSession()
			p.until("the key pad", `document.querySelector("#entry-carry")`)
			p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), strings.Repeat(kb.Backspace, 4)))
			p.typeBall("200")
			p.until("the ball", balls+` === 1`)
			p.saved()
			kept, confirmed = kept+confirmed, 1
			k.typed++
		}
		shown := js[int](p, balls)
		if i%lives > 0 { // what was half typed when the app ended may have come back
			p.until("the key pad", `document.querySelector("#entry-carry")`)
			p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), strings.Repeat(kb.Backspace, 4)))
		}
		p.typeBall(fmt.Sprint(201 + i%90))
		p.until("the ball on the page", fmt.Sprintf(balls+` === %d`, shown+1))
		k.typed++
		p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), "9")) // in the middle of the next one
		// A second is ten beats of the page's own: one that got no processor did nothing.
		js[bool](p, `(window.beats = 0, setInterval(() => { beats++; }, 100), true)`)
		time.Sleep(time.Duration(random.IntN(1900)) * time.Millisecond)
		now := js[[]int](p, `[`+balls+`, Number(document.body.dataset.dirty), beats]`)
		old := now[2] >= 10 // what was typed a second ago is kept, whatever the page says
		if now[1] == 0 {
			confirmed = max(confirmed, now[0])
		} else {
			k.early++
		}
		k.unfetched += p.unfetched()
		p.check()
		crash(p.ctx)
		k.kills++
		p.cancel()
		p = b.another("/shots")
		p.until("the balls", balls+` > 0`)
		n := js[int](p, balls)
		if n < confirmed {
			t.Fatalf("kill %d: %d balls were called saved, %d are there", i, confirmed, n)
		}
		if old {
			k.seconds++
			if digits := js[string](p, `document.querySelector("#entry-carry").value`); n < shown+1 || digits != "9" {
				t.Errorf("kill %d, a second after the last key: %d balls of %d, and %q is half typed, want 9", i, n, shown+1, digits)
			}
		}
		confirmed, k.kept = n, kept+n
		if (i+1)%25 == 0 {
			t.Logf("so far %v", k)
		}
	}
	return k
}

// TestAStaleTabOverwritesNoPreference: a tab that was open before another one changed
// the theme, what is typed and when an answer is worked out changes the units: all that
// the newer said stays, in both and at the next start.
func TestAStaleTabOverwritesNoPreference(t *testing.T) {
	b := startBrowser(t, startServer(t, *site))
	older := b.open("/settings")
	older.page("settings")
	newer := b.another("/settings")
	newer.page("settings")
	newer.tap(`label[for="theme-dark"]`)
	newer.tap(`label:has(> #auto)`)
	newer.until("the choices", `document.documentElement.dataset.theme === "dark" && !document.querySelector("#auto").checked`)
	newer.goTo("/")
	newer.newSession()
	newer.tap("#more-fields")
	newer.until("five fields", `document.querySelector("#entry-spin")`)
	newer.saved()
	older.tap(`label[for="system-metric-mps"]`)
	older.until("the units", `document.querySelector("#units").innerText.includes("m/s")`)
	older.until("the units on the disk", `document.body.dataset.dirty !== "1"`)
	older.goTo("/settings")
	older.until("the newer tab's choices and the older one's", `document.documentElement.dataset.theme === "dark" && !document.querySelector("#auto").checked && document.querySelector("#units").innerText.includes("m/s")`)
	older.goByLink("/shots", "shots")
	older.until("five fields", `document.querySelector("#entry-spin")`)
	older.check()
	newer.check()
}
