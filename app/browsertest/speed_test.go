package browsertest

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"maps"
	"os"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

var (
	speed   = flag.Bool("speed", false, "measure the first visit, the start offline and the analysis, on a slow network and processor")
	figures = flag.String("figures", "", "file to add what -speed measures to, for cmd/proof")
)

// measured are the figures of this run so far. TestMain writes them.
var measured = map[string]float64{}

// figure prints and notes a time. [ms]
func figure(name string, v float64) {
	fmt.Printf("speed: %s: %.0f ms\n", name, v)
	measured[name+" [ms]"] = v
}

// keepFigures adds what was measured to the file that is asked for.
func keepFigures() error {
	if *figures == "" || len(measured) == 0 {
		return nil
	}
	all := map[string]float64{}
	if raw, err := os.ReadFile(*figures); err == nil {
		if err := json.Unmarshal(raw, &all); err != nil {
			return fmt.Errorf("%s: %w", *figures, err)
		}
	}
	maps.Copy(all, measured)
	raw, err := json.Marshal(all)
	if err != nil {
		return err
	}
	return os.WriteFile(*figures, raw, 0o644)
}

// startBudget is how many files the first visit asks our own server for,
// those that the service worker keeps for later included.
const startBudget = 12

// TestRequestsAtStart counts, so that a slow machine changes nothing.
func TestRequestsAtStart(t *testing.T) {
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/")
	p.page("home")
	asked := p.asked()
	t.Logf("%d requests at the start: %v", len(asked), asked)
	if n := len(asked); n == 0 || n > startBudget {
		t.Errorf("the start asks for %d files, budget %d", n, startBudget)
	}
	p.check()
}

// slowly leaves the page a quarter of the processor.
func slowly() chromedp.Action[chromedp.Void] {
	return chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		_, err := cdp.Call(ctx, t, emulation.SetCPUThrottlingRate, emulation.SetCPUThrottlingRateParams{Rate: 4})
		return err
	})
}

// TestSpeed measures, on a network of 1.6 Mbit/s with 150 ms a round trip and
// a processor slowed down four times, when the first visit can be read, when
// it can be used, and when a start without a server can be used. It judges
// nothing: times belong to the machine, which `make speed` names.
func TestSpeed(t *testing.T) {
	if !*speed {
		t.Skip("times of a shared machine are no test: run `make speed`")
	}
	s := startServer(t, *site)
	b := startBrowser(t, overSlowNetwork(t, s))
	p := b.blank()
	p.do(slowly(), script(`addEventListener("click", (e) => { if (e.isTrusted) { window.ferruleTouched ??= performance.now(); } }, true);`))
	go func() { _ = chromedp.Do(p.ctx, chromedp.Navigate("http://"+p.host+"/")) }() // it would wait for the program's bytes
	p.until("the first page", `performance.getEntriesByName("first-contentful-paint").length`)
	p.touch("example-thin")
	p.until("the tap", `window.ferruleTouched && (ferruleFirst.queue.length || document.body.dataset.played)`)
	touched := js[float64](p, `ferruleTouched`)
	p.within(5*patience, "the example's answer, ahead of the program", `document.querySelector("#first-answer, #answer")?.innerText.trim()`)
	figure("first visit, the example's answer is read", js[float64](p, `performance.now()`))
	p.ready()
	// Ready is seen by asking every 30 ms, so it is at most that and one answer late.
	usable := js[float64](p, `performance.now()`)
	readable := js[float64](p, `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
	figure("first visit, readable", readable)
	figure("first visit, first tap taken", touched)
	figure("first visit, usable", usable)
	p.within(5*patience, "the example's answer", `document.querySelector("#answer")?.innerText.trim() && document.body.dataset.busy === "0"`)
	figure("first visit, the example answered", js[float64](p, `performance.now()`))
	p.goByLink("/", "home")
	p.offlineReady()
	figure("first visit, kept for offline use", js[float64](p, `performance.now()`))
	p.example()
	p.saved()
	s.stop()
	p.setOffline(true)
	var starts, painted []float64
	for range 5 {
		p.reload()
		painted = append(painted, js[float64](p, `performance.getEntriesByName("first-contentful-paint")[0].startTime`))
		starts = append(starts, js[float64](p, `performance.now()`))
	}
	slices.Sort(starts)
	slices.Sort(painted)
	figure("offline start, the screen seen last painted, median of 5", painted[2])
	figure("offline start, usable, median of 5", starts[2])
}
