package main

import (
	"bytes"
	"encoding/json"
	"strings"
	"testing"
)

// TestFollowCommand: the same file twice shows no change, a file that is none
// says which and why, one file alone is wrong usage.
func TestFollowCommand(t *testing.T) {
	const demo, club, aim = "../../testdata/demo/demo.csv", "../../testdata/demo/club.json", "../../testdata/demo/aim.json"
	call := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		code := run(append([]string{"follow"}, args...), streams{strings.NewReader(""), &out, &errs})
		return code, out.String(), errs.String()
	}
	code, out, errs := call(demo, demo, "-club", club, "-aim", aim, "-json")
	if code != exitDone {
		t.Fatalf("exit %d: %s", code, errs)
	}
	var f jsonFollow
	if err := json.Unmarshal([]byte(out), &f); err != nil {
		t.Fatal(err)
	}
	if len(f.Rows) == 0 || len(f.Retest) != 0 {
		t.Errorf("%d rows, retest %v", len(f.Rows), f.Retest)
	}
	for _, r := range append(f.Rows, f.Common...) {
		if r.Change.Mean != 0 {
			t.Errorf("%s %s changed by %g", r.Sleeve, r.Quantity, r.Change.Mean)
		}
	}
	if code, out, _ = call(demo, demo, "-club", club, "-aim", aim); code != exitDone || !strings.Contains(out, "The advice of last time holds") {
		t.Errorf("exit %d: %s", code, out)
	}
	if code, _, errs = call(demo, club, "-club", club); code != exitInput || !strings.Contains(errs, "club.json") {
		t.Errorf("exit %d: %s", code, errs)
	}
	if code, _, _ = call(demo); code != exitUsage {
		t.Errorf("one file: exit %d", code)
	}
}
