package browsertest

import (
	"context"
	"flag"
	"fmt"
	"net/url"
	"os"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
)

var sessions = flag.Int("sessions", 3, "how many of the 100 seeded sessions to analyse in the browser")

// TestTheSameReportInTheBrowser runs core/pipeline's TestTheSameReportEverywhere
// in the browser's own engine, against the reports that native code and node
// are held to.
func TestTheSameReportInTheBrowser(t *testing.T) {
	reports, err := os.ReadFile("../../testdata/same/reports.txt")
	if err != nil {
		t.Fatal(err)
	}
	ts := wasmTests(t, "./core/pipeline")
	b := startBrowser(t, &server{host: strings.TrimPrefix(local(ts), "http://")})
	ctx, cancel := chromedp.NewContext(b.ctx)
	defer cancel()
	p := &tab{t: t, ctx: ctx, cancel: cancel, host: b.host}
	if err := chromedp.Listen(ctx, p.hear); err != nil {
		t.Fatal(err)
	}
	q := url.Values{"arg": {"-test.v", "-test.run=TestTheSameReportEverywhere", fmt.Sprint("-sessions=", *sessions), "-expected=" + string(reports)}}
	p.do(chromedp.Navigate(local(ts) + "/?" + q.Encode()))
	// The page does not answer while it computes: asking in vain is no error.
	for end := time.Now().Add(patience + time.Duration(*sessions)*10*time.Second); time.Now().Before(end); time.Sleep(time.Second) {
		ask, stop := context.WithTimeout(p.ctx, 10*time.Second)
		ended, err := chromedp.Run(ask, chromedp.Evaluate[bool](`window.ended !== null`))
		stop()
		if err == nil && ended {
			break
		}
	}
	out := js[string](p, `window.printed`)
	if code := js[int](p, `window.ended ?? -1`); code != 0 || !strings.Contains(out, "--- PASS: TestTheSameReportEverywhere") {
		t.Errorf("exit status %d\n%s", code, out)
	}
	t.Logf("%d sessions: the reports of testdata/same/reports.txt\n%s", *sessions, out)
}
