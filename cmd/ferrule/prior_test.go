package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/core/club"
)

func TestPriorCommand(t *testing.T) {
	call := func(args ...string) (int, string, string) {
		var out, errs bytes.Buffer
		status := runPrior(args, streams{nil, &out, &errs})
		return status, out.String(), errs.String()
	}
	status, out, _ := call()
	if status != exitDone || !strings.Contains(out, "figures outside their interval: 0") || strings.Contains(out, "[prior.") {
		t.Errorf("status %d:\n%s", status, out)
	}
	status, out, _ = call("-json", "-ball-speed", "135", "-launch", "12.5", "-spin", "3100", "-axis", "5")
	var j priorJSON
	if err := json.Unmarshal([]byte(out), &j); status != exitDone || err != nil || len(j.Rows) < 20 || j.Version != 1 {
		t.Errorf("status %d, %d rows, %v", status, len(j.Rows), err)
	}
	dir := t.TempDir()
	raw, _ := club.Example().JSON()
	good, bad := filepath.Join(dir, "club.json"), filepath.Join(dir, "bad.json")
	os.WriteFile(good, raw, 0o600)
	os.WriteFile(bad, []byte(`{"loft_deg":10,"sleeve":{"tilt_deg":40,"positions":8}}`), 0o600)
	if status, _, errs := call("-club", good); status != exitDone {
		t.Errorf("example club: status %d, %s", status, errs)
	}
	if status, _, errs := call("-club", bad); status != exitInput || !strings.Contains(errs, "tilt_deg") {
		t.Errorf("bad club: status %d, %s", status, errs)
	}
	for _, args := range [][]string{{"x"}, {"-nosuch"}} {
		if status, _, _ := call(args...); status != exitUsage {
			t.Errorf("%v: status %d, want %d", args, status, exitUsage)
		}
	}
	for _, args := range [][]string{{"-ball-speed", "135"}, {"-launch", "12"}, {"-club-speed", "-3"}, {"-club-speed", "NaN"}, {"-ball-speed", "900", "-launch", "12", "-spin", "2500"}} {
		if status, _, errs := call(args...); status != exitInput || errs == "" {
			t.Errorf("%v: status %d, %q, want %d and a message", args, status, errs, exitInput)
		}
	}
}
