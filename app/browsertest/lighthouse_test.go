//go:build lighthouse

package browsertest

import (
	"bytes"
	"encoding/json"
	"flag"
	"fmt"
	"net"
	"os/exec"
	"slices"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/remote"
)

var (
	lighthouse      = flag.String("lighthouse", "npx --yes lighthouse@13.5.0", "the command that runs Lighthouse, which needs node")
	lighthousePages = flag.String("lighthouse-pages", "/,/club,/shots,/compare,/choose,/sheet,/settings,/how", "the pages that it measures")
	lighthouseTimes = flag.Int("lighthouse-times", 3, "how often it measures each")
)

// audited is what Lighthouse says of a page.
type audited struct {
	Environment struct{ BenchmarkIndex float64 } // of this machine, by Lighthouse's own measure
	Categories  map[string]struct{ Score float64 }
	Audits      map[string]struct {
		Title, DisplayValue string
		Score               *float64
		NumericValue        float64
		Details             struct{ Items json.RawMessage }
	}
}

// TestLighthouse measures the pages as Lighthouse's mobile default does (slow
// network, a processor four times slower): the first visit, and the other pages
// with the example open, with what the browser keeps left in place. It is no
// part of CI: its figures depend on the machine (`make lighthouse`).
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
	once := func(path string) (m audited) {
		p.do(chromedp.Navigate("about:blank")) // no other page beside the one that is measured
		args := append(strings.Fields(*lighthouse), s.url(path), "--port="+port, "--output=json", "--quiet")
		if path != "/" {
			args = append(args, "--disable-storage-reset")
		}
		var out []byte
		for try := 1; ; try++ {
			cmd := exec.Command(args[0], args[1:]...)
			var said bytes.Buffer
			cmd.Stderr = &said
			var err error
			if out, err = cmd.Output(); err == nil {
				break
			}
			if try == 3 || !strings.Contains(said.String(), "NO_NAVSTART") { // its trace missed the page's start
				t.Fatalf("%v: %s", err, said.String())
			}
		}
		if err := json.Unmarshal(out, &m); err != nil {
			t.Fatal(err)
		}
		return m
	}
	example := false
	for _, path := range strings.Split(*lighthousePages, ",") {
		if path != "/" && !example {
			p.goTo("/")
			p.page("home")
			p.example()
			p.saved()
			example = true
		}
		var all []audited
		for range *lighthouseTimes {
			all = append(all, once(path))
		}
		say := fmt.Sprintf("%-9s", path)
		for _, c := range []string{"performance", "accessibility", "best-practices", "seo"} {
			var v []float64
			for _, m := range all {
				v = append(v, 100*m.Categories[c].Score)
			}
			if c == "performance" {
				say += fmt.Sprintf(" %s %.0f of %.0f", c, slices.Sorted(slices.Values(v))[len(v)/2], v)
			} else {
				say += fmt.Sprintf(", %s %.0f", c, slices.Min(v))
			}
		}
		t.Log(say)
		for _, m := range all {
			t.Logf("  %s", m.times())
			for name, a := range m.Audits {
				if a.Score != nil && *a.Score < 0.9 {
					t.Logf("  below 90: %s (%.2f) %s %s", name, *a.Score, a.Title, a.DisplayValue)
				}
			}
		}
	}
}

// times are the audits that make the performance, and the longest tasks, which
// take four times what they take on this machine.
func (m audited) times() string {
	var said []string
	for _, name := range []string{"first-contentful-paint", "largest-contentful-paint", "speed-index", "total-blocking-time", "cumulative-layout-shift"} {
		said = append(said, name+" "+m.Audits[name].DisplayValue)
	}
	var tasks []struct{ Duration float64 }
	if err := json.Unmarshal(m.Audits["long-tasks"].Details.Items, &tasks); err == nil {
		long := "tasks of"
		for _, task := range tasks {
			long += fmt.Sprintf(" %.0f", task.Duration)
		}
		said = append(said, long+" ms")
	}
	return strings.Join(append(said, fmt.Sprintf("machine %.0f", m.Environment.BenchmarkIndex)), ", ")
}
