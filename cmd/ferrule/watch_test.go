package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// TestWatch: what lay in the folder stays out; a file that grows brings its new
// balls once; one that ends in the middle of a line is waited for; each block has
// its answer, as text and as one line of JSON; what cannot be read is said and
// does not end the watch.
func TestWatch(t *testing.T) {
	demo, err := os.ReadFile("../../testdata/demo/demo.csv")
	if err != nil {
		t.Fatal(err)
	}
	rows := strings.SplitAfter(string(demo), "\n")
	dir := t.TempDir()
	put := func(name, text string) {
		t.Helper()
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	var out, errs bytes.Buffer
	w := watcher{dir: dir, std: streams{in: strings.NewReader(""), out: &out, err: &errs}, seen: map[string]sighting{}}
	w.f.seed, w.f.units = 1, "imperial"
	w.f.clubs = append(w.f.clubs, "../../testdata/demo/club.json")
	head := 1
	for !strings.ContainsAny(rows[head][:1], "0123456789") && head < 4 {
		head++
	}
	until := func(n int) string { return strings.Join(rows[:head+n], "") }
	put("day.csv", until(3))
	w.begin()
	w.look()
	if len(w.s.Shots) != 0 || out.Len() > 0 {
		t.Fatalf("%d balls from before: %s", len(w.s.Shots), out.String())
	}
	put("day.csv", until(7))
	w.look()
	if len(w.s.Shots) != 4 || !strings.Contains(out.String(), "4 balls to") {
		t.Fatalf("%d balls, want 4; printed:\n%s%s", len(w.s.Shots), out.String(), errs.String())
	}
	whole := until(9)
	put("day.csv", whole[:len(whole)-12])
	w.look()
	if len(w.s.Shots) != 4 {
		t.Errorf("a line that is still being written was read: %d balls", len(w.s.Shots))
	}
	put("day.csv", whole)
	put("broken.csv", "nothing here\n")
	out.Reset()
	w.f.json = true
	w.look()
	if len(w.s.Shots) != 6 || !strings.Contains(errs.String(), "broken.csv") {
		t.Errorf("%d balls, want 6; said: %s", len(w.s.Shots), errs.String())
	}
	var line map[string]any
	if n := strings.Count(out.String(), "\n"); n != 1 || json.Unmarshal(out.Bytes(), &line) != nil {
		t.Errorf("%d lines of JSON: %.200s", n, out.String())
	}
	out.Reset()
	w.look()
	if out.Len() > 0 {
		t.Error("an answer without a new ball")
	}
}
