package main

import (
	"encoding/json"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/cmd/internal/invent"
)

// One invented player goes through the whole pipeline and comes back in JSON.
func TestSimulateCommand(t *testing.T) {
	var o, e strings.Builder
	if status := runSimulate([]string{"-players", "1", "-world", "right", "-level", "mid", "-balls", "3", "-json"}, streams{nil, &o, &e}); status != exitDone {
		t.Fatalf("status %d: %s", status, e.String())
	}
	var r simulateJSON
	if err := json.Unmarshal([]byte(o.String()), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Cells) != 1 || r.Cells[0].Failed != 0 || r.Cells[0].Regret["engine"].Mean < 0 {
		t.Errorf("%+v", r)
	}
}

func TestSimulateUsage(t *testing.T) {
	for _, args := range [][]string{{"-world", "mars"}, {"-level", "pro"}, {"-balls", "x"}, {"-aim", "left"}, {"-players", "0"}, {"extra"}, {"-bench", "moon"}, {"-bench", "rough", "-device", "none"}} {
		var o, e strings.Builder
		if status := runSimulate(args, streams{nil, &o, &e}); status != exitUsage || !strings.Contains(e.String(), "read") {
			t.Errorf("simulate %v: status %d, %q", args, status, e.String())
		}
	}
}

// The club told to the engine is the club that the invented players hit: lean,
// upright and centre of mass of every one of the 80 settings.
func TestTrialClub(t *testing.T) {
	en, err := newTrialEngine()
	if err != nil {
		t.Fatal(err)
	}
	zero, err := en.head.Change(en.labels[0])
	if err != nil {
		t.Fatal(err)
	}
	for i, s := range invent.Settings80() {
		c, err := en.head.Change(en.labels[i])
		if err != nil {
			t.Fatal(err)
		}
		// The printed figures are rounded geometry: a twentieth of a degree.
		if d := c.Lean - zero.Lean - s.Lean; d > .0015 || d < -.0015 {
			t.Errorf("%s: lean %.4f, want %.4f", en.labels[i].Key(), c.Lean, s.Lean)
		}
		if d := c.Upright - zero.Upright - s.Upright; d > .0015 || d < -.0015 {
			t.Errorf("%s: upright %.4f, want %.4f", en.labels[i].Key(), c.Upright, s.Upright)
		}
		if d := c.CGToe - zero.CGToe - s.CGToe; d > 2e-5 || d < -2e-5 {
			t.Errorf("%s: centre of mass %.6f, want %.6f", en.labels[i].Key(), c.CGToe, s.CGToe)
		}
	}
}

// A rough golfer goes through the pipeline; what is there is not made again.
func TestSimulateRough(t *testing.T) {
	file := filepath.Join(t.TempDir(), "records")
	args := []string{"-bench", "rough", "-players", "2", "-balls", "3", "-seed", "4995300", "-records", file, "-by", "balls,device", "-json"}
	var first string
	for range 2 {
		var o, e strings.Builder
		if status := runSimulate(args, streams{nil, &o, &e}); status != exitDone {
			t.Fatalf("status %d: %s", status, e.String())
		}
		var r roughJSON
		if err := json.Unmarshal([]byte(o.String()), &r); err != nil {
			t.Fatal(err)
		}
		n := 0
		for _, c := range r.Cells {
			n += c.Sessions
			if c.Failed > 0 || c.Regret["engine"].Mean < 0 || c.Regret["oracle"].Mean != 0 {
				t.Errorf("%+v", c)
			}
		}
		if n != 2 {
			t.Errorf("%d sessions, want 2", n)
		}
		if first == "" {
			first = o.String()
		} else if o.String() != first {
			t.Error("what was kept makes another table than what was just made")
		}
	}
}

func TestSimulateClubs(t *testing.T) {
	var out, errs strings.Builder
	if code := run([]string{"simulate", "-bench", "clubs", "-seed", "4990001", "-players", "1", "-balls", "3"}, streams{strings.NewReader(""), &out, &errs}); code != exitDone {
		t.Fatalf("exit %d: %s", code, errs.String())
	}
	if !strings.Contains(out.String(), "1 golfers, 0 failed") || !strings.Contains(out.String(), "oracle hit") {
		t.Errorf("%s", out.String())
	}
}
