package browsertest

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"syscall"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var (
	faultsFor  = flag.Duration("faults", 40*time.Second, "how long TestFaults goes on")
	faultsSeed = flag.Uint64("faults-seed", 1, "of its choices")
)

// workers keeps hold of the analysis, so that it can be ended behind the app's back.
const workers = `window.ferruleWorkers = []; window.Worker = class extends Worker { constructor(...a) { super(...a); ferruleWorkers.push(this); } };`

// bed is an app at work while things go wrong: a session whose balls are counted
// as the page calls them saved.
type bed struct {
	t     *testing.T
	b     *browser
	s     *server
	p     *tab
	balls int // that were called saved
	next  int
}

// hit types a ball and waits until the page calls it saved.
func (d *bed) hit() {
	d.t.Helper()
	d.p.goByLinkOnce("/shots", "shots")
	n := js[int](d.p, balls)
	d.next++
	d.p.typeBall(fmt.Sprint(150 + d.next%100))
	d.p.until("the ball", fmt.Sprintf(balls+` >= %d`, n+1))
	d.p.saved()
	d.balls = js[int](d.p, balls)
}

// goByLinkOnce goes to a page unless it is shown.
func (p *tab) goByLinkOnce(path, name string) {
	p.t.Helper()
	if js[string](p, `document.querySelector("main")?.dataset.page ?? ""`) != name {
		p.goByLink(path, name)
	}
}

// faults are what may go wrong; each leaves the app shown in d.p.
var faults = []struct {
	name string
	do   func(d *bed)
}{
	{"the page is killed", func(d *bed) { crash(d.p.ctx); d.p = d.b.another("/shots", script(workers)) }},
	{"the page is frozen", func(d *bed) { // its processes stand still, workers and all
		for _, signal := range []syscall.Signal{syscall.SIGSTOP, syscall.SIGCONT} {
			for _, pid := range renderers() {
				_ = syscall.Kill(pid, signal) // one that has ended needs none
			}
			time.Sleep(2 * time.Second)
		}
	}},
	{"the analysis ends in silence", func(d *bed) { js[any](d.p, `ferruleWorkers.forEach((w) => w.terminate())`) }},
	{"the page is loaded again in the middle of a ball", func(d *bed) {
		d.p.do(chromedp.SendKeys(chromedp.CSS("#entry-carry"), "7"))
		time.Sleep(time.Second) // what was typed a second before is on the disk
		d.p.reload()
		d.p.goByLinkOnce("/shots", "shots")
		d.p.until("what was half typed", `document.querySelector("#entry-carry")?.value === "7"`)
		js[any](d.p, `(() => { const e = document.querySelector("#entry-carry"); e.value = ""; e.dispatchEvent(new Event("input", { bubbles: true })); })()`)
		d.p.until("the empty field", `document.querySelector("#entry-carry").value === ""`)
	}},
	{"the disk is full", func(d *bed) {
		d.p.do(quota(d.s.url(""), new(float64(1))))
		time.Sleep(300 * time.Millisecond)
		d.p.do(quota(d.s.url(""), nil))
	}},
	{"another tab adds a ball", func(d *bed) {
		q := d.b.another("/shots")
		q.until("the balls", fmt.Sprintf(balls+` >= %d`, d.balls))
		q.typeBall("222")
		q.until("the ball", fmt.Sprintf(balls+` >= %d`, d.balls+1))
		q.saved()
		d.balls++
		q.cancel()
	}},
	{"a newer program changes the database", func(d *bed) {
		js[bool](d.p, `new Promise((done) => { const r = indexedDB.open("ferrule"); r.onsuccess = () => { const v = r.result.version; r.result.close();
			const n = indexedDB.open("ferrule", v + 1); n.onsuccess = () => { n.result.close(); done(true); }; }; })`)
	}},
	{"the database is deleted", func(d *bed) {
		js[bool](d.p, `new Promise((done) => { const r = indexedDB.deleteDatabase("ferrule"); r.onsuccess = () => done(true); })`)
		time.Sleep(time.Second)
		d.p.saved()
	}},
	{"half the cache is gone", func(d *bed) {
		js[any](d.p, `caches.keys().then(async (ks) => { const c = await caches.open(ks.find((k) => k.startsWith("ferrule-"))); const all = await c.keys(); for (const k of all.filter((_, i) => i % 2)) { await c.delete(k); } })`)
		d.p.reload()
	}},
	{"the clock jumps", func(d *bed) {
		js[any](d.p, `(() => { const now = Date.now.bind(Date); Date.now = () => now() - 400 * 86400e3; return 1; })()`)
	}},
}

// TestFaults works on for as long as it is told to, while at random moments
// something goes wrong: no ball that was called saved is ever lost.
func TestFaults(t *testing.T) {
	s := startServer(t, *site)
	b := startBrowser(t, s)
	d := &bed{t: t, b: b, s: s}
	home := b.open("/") // carries the browser, and is left alone
	home.offlineReady()
	d.p = b.another("/", script(workers))
	d.p.newSession()
	d.hit()
	r := rand.New(rand.NewPCG(*faultsSeed, 5))
	done := map[string]int{}
	for end := time.Now().Add(*faultsFor); time.Now().Before(end); {
		f := faults[r.IntN(len(faults))]
		done[f.name]++
		d.p.setOffline(true) // what a fault breaks on the way may be printed
		f.do(d)
		d.p.goByLinkOnce("/shots", "shots")
		d.p.until("the balls after: "+f.name, fmt.Sprintf(balls+` >= %d`, d.balls))
		d.hit()
	}
	t.Logf("seed %d: %d balls called saved, all kept, after %v", *faultsSeed, d.balls, done)
}

// TestAnAnalysisThatEndsInSilence is begun again by itself, and answers.
func TestAnAnalysisThatEndsInSilence(t *testing.T) {
	p := startBrowser(t, startServer(t, *site)).open("/", script(workers), script(listening))
	p.example()
	p.goByLink("/club", "club")
	p.still()
	p.otherAim()
	p.until("the work", `document.body.dataset.busy === "1"`)
	n := js[int](p, `(ferruleWorkers.forEach((w) => w.terminate()), ferruleWorkers.length)`) // at work, or still starting
	p.goByLink("/choose", "choose")
	p.within(2*patience, "an answer", `document.body.dataset.busy === "0" && document.querySelector("#answer")?.innerText.trim() && !document.querySelector("#again")`)
	t.Logf("said on the way: %q", js[[]string](p, `ferruleSaid`))
	if got := js[int](p, `ferruleWorkers.length`); got != n+1 {
		t.Errorf("%d analyses were started after it, want one", got-n)
	}
	p.unfetched() // the one that was ended may have been on its way
	p.check()
}
