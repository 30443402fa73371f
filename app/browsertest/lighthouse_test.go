//go:build lighthouse

package browsertest

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"net"
	"os/exec"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/remote"
)

var lighthouse = flag.String("lighthouse", "npx --yes lighthouse@13.5.0", "the command that runs Lighthouse, which needs node")

// TestLighthouse measures two pages as Lighthouse's mobile default does (slow
// network, a processor four times slower): the first visit, and the answer to
// the example, with the sessions of the browser left in place. It is no part of
// CI: its figures depend on the machine (`make lighthouse`).
func TestLighthouse(t *testing.T) {
	l, err := net.Listen("tcp", "localhost:0")
	if err != nil {
		t.Fatal(err)
	}
	port := fmt.Sprint(l.Addr().(*net.TCPAddr).Port)
	l.Close()
	s := startServer(t, *site)
	b := startBrowser(t, s, remote.WebSocket, chromedp.Flag("remote-debugging-port", port), chromedp.Flag("host-resolver-rules", false))
	p := b.open("/")
	for _, path := range []string{"/", "/choose"} {
		if path == "/choose" {
			p.goTo("/")
			p.page("home")
			p.example()
			p.saved()
		}
		p.do(chromedp.Navigate("about:blank")) // no other page beside the one that is measured
		args := append(strings.Fields(*lighthouse), s.url(path), "--port="+port, "--output=json", "--quiet")
		if path != "/" {
			args = append(args, "--disable-storage-reset")
		}
		cmd := exec.Command(args[0], args[1:]...)
		var said bytes.Buffer
		cmd.Stderr = &said
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%v: %s", err, said.String())
		}
		var r struct {
			Categories map[string]struct {
				Score float64
			}
			Audits map[string]struct {
				Title, DisplayValue string
				Score               *float64
				NumericValue        float64
				Details             struct{ Items json.RawMessage }
			}
		}
		if err := json.Unmarshal(out, &r); err != nil {
			t.Fatal(err)
		}
		c := r.Categories
		t.Logf("%s: performance %.0f, accessibility %.0f, best practices %.0f, search %.0f", path,
			100*c["performance"].Score, 100*c["accessibility"].Score, 100*c["best-practices"].Score, 100*c["seo"].Score)
		for _, m := range []string{"first-contentful-paint", "largest-contentful-paint", "speed-index", "total-blocking-time", "cumulative-layout-shift", "interactive"} {
			t.Logf("  %s: %s", m, r.Audits[m].DisplayValue)
		}
		for _, name := range []string{"long-tasks", "mainthread-work-breakdown"} {
			var items []struct {
				URL, GroupLabel     string
				Duration, StartTime float64
			}
			if err := json.Unmarshal(r.Audits[name].Details.Items, &items); err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			for _, i := range items { // four times the time on this machine
				t.Logf("  %s: %.0f ms at %.0f %s", name, i.Duration, i.StartTime, strings.TrimPrefix(i.URL+i.GroupLabel, s.url("")))
			}
		}
		for name, a := range r.Audits {
			if a.Score != nil && *a.Score < 0.9 {
				t.Logf("  below 90: %s (%.2f) %s %s", name, *a.Score, a.Title, a.DisplayValue)
			}
		}
	}
}
