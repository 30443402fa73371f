package main

import (
	"encoding/json"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func flyOn(t *testing.T, in string, args ...string) (status int, out, errs string) {
	t.Helper()
	var o, e strings.Builder
	status = runFly(args, streams{strings.NewReader(in), &o, &e})
	return status, o.String(), e.String()
}

func TestFlyCommand(t *testing.T) {
	status, out, errs := flyOn(t, "", "-json", "165", "12.5", "2500", "-2", "5")
	var m map[string]float64
	if status != exitDone || errs != "" {
		t.Fatalf("status %d, %q", status, errs)
	}
	if err := json.Unmarshal([]byte(strings.Replace(out, "true", "1", 1)), &m); err != nil {
		t.Fatalf("%q: %v", out, err)
	}
	for _, k := range []string{"carry_m", "total_m", "run_doubt_m", "apex_m", "descent_rad", "offline_m", "curve_m", "time_s", "in_range", "carry_line_m"} {
		if _, ok := m[k]; !ok {
			t.Errorf("no key %s in %s", k, out)
		}
	}
	if c := math.Hypot(m["carry_line_m"], m["offline_m"]); math.Abs(c-m["carry_m"]) > 1e-6 {
		t.Errorf("carry_m = %g, want the straight distance %g", m["carry_m"], c)
	}
	// The same ball in the units of a line of JSON, SI and trade.
	file := filepath.Join(t.TempDir(), "balls.jsonl")
	lines := `{"ball_speed_mph":165,"launch_deg":12.5,"launch_direction_deg":-2,"spin_rpm":2500,"spin_axis_deg":5}

{"ball_speed_mps":73.7616,"launch_rad":0.2181661565,"launch_direction_rad":-0.0349065850,"spin_radps":261.79938780,"spin_axis_rad":0.0872664626,"line":3}
`
	if err := os.WriteFile(file, []byte(lines), 0o644); err != nil {
		t.Fatal(err)
	}
	status, out, errs = flyOn(t, "", "-json", file)
	got := strings.Split(strings.TrimSpace(out), "\n")
	if status != exitDone || len(got) != 2 || !strings.Contains(errs, `"line" is no key`) {
		t.Fatalf("status %d, %d lines, %q", status, len(got), errs)
	}
	var n map[string]any
	if err := json.Unmarshal([]byte(got[1]), &n); err != nil {
		t.Fatal(err)
	}
	if c := n["carry_m"].(float64); math.Abs(c-m["carry_m"]) > 1e-4 {
		t.Errorf("the same ball in SI carries %g m, want %g", c, m["carry_m"])
	}
}

func TestFlyCommandErrors(t *testing.T) {
	for _, c := range []struct {
		in     string
		args   []string
		status int
		say    string
	}{
		{"", nil, exitUsage, "usage"},
		{"", []string{"150", "12"}, exitUsage, "usage"},
		{"", []string{"fast", "12", "2500"}, exitInput, "ball_speed_mph"},
		{"", []string{"no-such-file"}, exitInput, "no-such-file"},
		{"{\"ball_speed_mph\":150}\n", []string{"-json"}, exitInput, "standard input:1"},
		{"{}\nnonsense\n", []string{"-json"}, exitInput, "standard input:2"},
		{"{\"ball_speed_mph\":-5,\"launch_deg\":12,\"spin_rpm\":2500}", []string{"-json"}, exitInput, "ball speed"},
		{"\n", []string{"-json"}, exitInput, "no launch"},
	} {
		status, out, errs := flyOn(t, c.in, c.args...)
		if status != c.status || !strings.Contains(errs, c.say) || out != "" {
			t.Errorf("fly %v on %q: status %d, out %q, %q; want %d and %q", c.args, c.in, status, out, errs, c.status, c.say)
		}
	}
}
