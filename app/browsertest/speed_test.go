package browsertest

import (
	"context"
	"flag"
	"fmt"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/chromedp"
)

var speed = flag.Bool("speed", false, "measure the first visit and the start offline on a slow network and processor")

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
	p := b.open("/", slowly())
	// Ready is seen by asking every 30 ms, so it is at most that and one answer late.
	usable := js[float64](p, `performance.now()`)
	readable := js[float64](p, `performance.getEntriesByName("first-contentful-paint")[0].startTime`)
	fmt.Printf("speed: first visit readable %.0f ms\nspeed: first visit usable %.0f ms\n", readable, usable)
	p.offlineReady()
	fmt.Printf("speed: kept for offline use %.0f ms\n", js[float64](p, `performance.now()`))
	p.example()
	p.saved()
	s.stop()
	p.setOffline(true)
	for range 3 {
		p.reload()
		fmt.Printf("speed: offline start usable %.0f ms\n", js[float64](p, `performance.now()`))
	}
}
