package browsertest

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"os"
	"slices"
	"testing"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/profiler"
	"github.com/chromedp/chromedp"
)

var (
	frames     = flag.Int("frames", 0, "how often each page's frames are measured during an analysis of 60 shots and 80 settings; 0 = not")
	cpuprofile = flag.String("cpuprofile", "", "file to write what the screen's thread did during the last of these analyses to (opens in Chromium's own tools)")
)

// sixtyByEighty is the example's file with two balls more and a sleeve that
// turns in sixteen steps instead of eight: 60 shots, 80 settings.
func sixtyByEighty(t *testing.T, file string) string {
	t.Helper()
	var s map[string]any
	if err := json.Unmarshal([]byte(file), &s); err != nil {
		t.Fatal(err)
	}
	delete(s, "answer") // it is of the session as it was
	sleeve := find(t, s, "Rings", "Labels")
	labels := []any{}
	for i, l := range sleeve["Labels"].([]any) {
		labels = append(labels, l, "between "+string(rune('a'+i)))
	}
	sleeve["Labels"], find(t, sleeve, "Positions")["Positions"] = labels, len(labels)
	holder := find(t, s, "Shots")
	shots := holder["Shots"].([]any)
	for _, last := range shots[len(shots)-2:] {
		more := map[string]any{}
		for k, v := range last.(map[string]any) {
			more[k] = v
		}
		if id, ok := more["ID"].(string); ok {
			more["ID"] = id + "again"
		}
		shots = append(shots, more)
	}
	holder["Shots"] = shots
	out, err := json.Marshal(s)
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// find looks for the object that has all these members.
func find(t *testing.T, v any, members ...string) map[string]any {
	t.Helper()
	var look func(v any) map[string]any
	look = func(v any) map[string]any {
		switch v := v.(type) {
		case map[string]any:
			if !slices.ContainsFunc(members, func(m string) bool { _, ok := v[m]; return !ok }) {
				return v
			}
			for _, w := range v {
				if m := look(w); m != nil {
					return m
				}
			}
		case []any:
			for _, w := range v {
				if m := look(w); m != nil {
					return m
				}
			}
		}
		return nil
	}
	m := look(v)
	if m == nil {
		t.Fatalf("nothing in the file has %v", members)
	}
	return m
}

// TestFrames measures how long the screen stands still while 60 shots with 80
// settings are analysed, on each page that shows the answer. It judges nothing:
// times belong to the machine. TestThePageMovesWhileItWorks holds a ratio.
func TestFrames(t *testing.T) {
	if *frames == 0 {
		t.Skip("times of a shared machine are no test: run `make frames`")
	}
	s := startServer(t, *site)
	p := startBrowser(t, s).open("/", script(gaps))
	p.example()
	p.openLarge()
	trace := p.tracer()
	for _, at := range []string{"club", "shots", "compare", "choose"} {
		var gap, work, cpu, over []float64
		for run := range *frames {
			if *cpuprofile != "" && at == "choose" && run == *frames-1 {
				break
			}
			got, longest := p.moves(at, trace)
			gap, work, over = append(gap, got.Frame), append(work, got.Work), append(over, float64(len(got.Tasks)))
			if len(longest) > 0 {
				cpu = append(cpu, longest[0])
			}
		}
		fmt.Printf("frames: %s: longest gap %s ms; tasks over 50 ms %s; longest task's processor time %s ms; analysis %s ms\n", at, least(gap), least(over), least(cpu), least(work))
	}
	if *cpuprofile != "" {
		p.profile(*cpuprofile, func() { p.moves("choose", func(run func()) []float64 { run(); return nil }) })
	}
	p.check()
}

// least says the least and the median of some runs.
func least(v []float64) string {
	if len(v) == 0 {
		return "unknown"
	}
	v = slices.Sorted(slices.Values(v))
	return fmt.Sprintf("%.0f (median %.0f of %d)", v[0], v[len(v)/2], len(v))
}

// profile writes what the page's main thread did while something ran.
func (p *tab) profile(path string, run func()) {
	p.t.Helper()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		if _, err := cdp.Call(ctx, t, profiler.Enable, cdp.Empty{}); err != nil {
			return err
		}
		if _, err := cdp.Call(ctx, t, profiler.SetSamplingInterval, profiler.SetSamplingIntervalParams{Interval: 250}); err != nil {
			return err
		}
		_, err := cdp.Call(ctx, t, profiler.Start, cdp.Empty{})
		return err
	}))
	run()
	p.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		r, err := cdp.Call(ctx, t, profiler.Stop, cdp.Empty{})
		if err != nil {
			return err
		}
		out, err := json.Marshal(r.Profile)
		if err != nil {
			return err
		}
		return os.WriteFile(path, out, 0o644)
	}))
}
