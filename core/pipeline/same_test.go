package pipeline

import (
	"encoding/json"
	"flag"
	"fmt"
	"hash/fnv"
	"io"
	"maps"
	"os"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/seed"
	"ferrule/core/shot"
)

var (
	update   = flag.Bool("update", false, "rewrite testdata/same/reports.txt (100 sessions)")
	expected = flag.String("expected", "", "the content of testdata/same/reports.txt, where no file can be read")
	sessions = flag.Int("sessions", 6, "how many of the 100 seeded sessions to analyse")
)

const (
	sameGolden = "../../testdata/same/reports.txt"
	fullGolden = "../../testdata/same/small.txt"
)

// seeded is the i-th small session: three to six balls with each of two to
// four settings of the invented example, each measurement up to 2 % off.
func seeded(t testing.TB, i int) shot.Session {
	t.Helper()
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	rng := seed.Seed(i + 1).Stream("same")
	settings, each := 2+rng.IntN(3), 3+rng.IntN(4)
	count := map[string]int{}
	var kept []shot.Shot
	for _, b := range s.Shots {
		key := b.Setting.Key()
		if _, known := count[key]; !known && len(count) == settings {
			continue
		}
		if count[key] == each {
			continue
		}
		count[key]++
		v := shot.Values{}
		for _, k := range shot.Kinds { // in a fixed order: a map's would draw differently
			if x, ok := b.Values[k.Quantity]; ok {
				v[k.Quantity] = x * (1 + .04*(rng.Float64()-.5))
			}
		}
		b.Values = v
		kept = append(kept, b)
	}
	s.Shots = kept
	s.Aim.Fixed = i%2 == 1 // both kinds of aim
	return s
}

// fields are those of a report as JSON has them.
func fields(t testing.TB, s shot.Session, sd uint64) map[string]any {
	t.Helper()
	r, err := Analyse(s, sd, nil)
	if err != nil {
		t.Fatal(err)
	}
	raw, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	dec := json.NewDecoder(strings.NewReader(string(raw)))
	dec.UseNumber()
	var all map[string]any
	if err := dec.Decode(&all); err != nil {
		t.Fatal(err)
	}
	delete(all, "Request") // a hash of the session as it is stored: a field that is added changes it
	return all
}

// fingerprint hashes a report with its floats to five digits, which fused
// multiply-adds of other processors do not reach.
func fingerprint(all map[string]any, balls int) string {
	h := fnv.New64a()
	print(h, all)
	return fmt.Sprintf("%016x setting %v %d balls", h.Sum64(), all["Choice"].(map[string]any)["Setting"], balls)
}

// plain is what print hashes as a line a field: its path and its value.
func plain(path string, v any) (lines []string) {
	switch v := v.(type) {
	case []any:
		for i, x := range v {
			lines = append(lines, plain(fmt.Sprintf("%s[%d]", path, i), x)...)
		}
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if x := v[k]; x != nil && x != "" {
				lines = append(lines, plain(path+"."+k, x)...)
			}
		}
	default:
		var b strings.Builder
		print(&b, v)
		lines = []string{path + " " + strings.TrimSpace(b.String())}
	}
	return lines
}

// differences are the fields that differ between two reports written plain.
func differences(want, got []string) (out []string) {
	value := func(line string) (path, v string) { path, v, _ = strings.Cut(line, " "); return path, v }
	is := map[string]string{}
	for _, line := range got {
		path, v := value(line)
		is[path] = v
	}
	for _, line := range want {
		path, v := value(line)
		if g, ok := is[path]; !ok {
			out = append(out, fmt.Sprintf("%s: want %s, got nothing", path, v))
		} else if g != v {
			out = append(out, fmt.Sprintf("%s: want %s, got %s", path, v, g))
		}
		delete(is, path)
	}
	for _, path := range slices.Sorted(maps.Keys(is)) {
		out = append(out, fmt.Sprintf("%s: want nothing, got %s", path, is[path]))
	}
	return out
}

// print writes a value with what is empty left out, so that a field that is
// added and not used changes nothing.
func print(w io.Writer, v any) {
	switch v := v.(type) {
	case json.Number:
		n := string(v)
		if f, err := strconv.ParseFloat(n, 64); err == nil && strings.ContainsAny(n, ".eE") {
			if f > -1e-9 && f < 1e-9 {
				f = 0 // what cancels has no digits to agree on
			}
			n = fmt.Sprintf("%.5g", f)
		}
		fmt.Fprint(w, n, " ")
	case []any:
		fmt.Fprint(w, "[")
		for _, x := range v {
			print(w, x)
		}
		fmt.Fprint(w, "]")
	case map[string]any:
		for _, k := range slices.Sorted(maps.Keys(v)) {
			if x := v[k]; x != nil && x != "" {
				fmt.Fprint(w, k, ":")
				print(w, x)
			}
		}
	default:
		fmt.Fprint(w, v, " ")
	}
}

// The same session and seed give the same report on every machine: this test
// runs natively and, with the whole core, as WebAssembly under node (`make
// wasm-test`), against one file. `make same` does all hundred sessions.
func TestTheSameReportEverywhere(t *testing.T) {
	if *update {
		var b strings.Builder
		for i := range 100 {
			session := seeded(t, i)
			fmt.Fprintln(&b, fingerprint(fields(t, session, uint64(i)), len(session.Shots)))
		}
		if err := os.WriteFile(sameGolden, []byte(b.String()), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	text := *expected
	if text == "" {
		raw, err := os.ReadFile(sameGolden)
		if err != nil {
			t.Fatal(err)
		}
		text = string(raw)
	}
	want := strings.Split(strings.TrimSpace(text), "\n")
	if len(want) != 100 {
		t.Fatalf("%s has %d sessions, expected 100", sameGolden, len(want))
	}
	for i := range min(*sessions, 100) {
		s := seeded(t, i)
		all := fields(t, s, uint64(i))
		if got := fingerprint(all, len(s.Shots)); got != want[i] {
			t.Errorf("session %d: report %s, the file says %s (a change of the model: -update, and read what else changed; %s)", i, got, want[i], writtenOut(i, all))
		}
	}
}

// writtenOut keeps a report that differs, to be held against the same of another build.
func writtenOut(i int, all map[string]any) string {
	f, err := os.CreateTemp("", fmt.Sprintf("report-%d-*.txt", i))
	if err != nil {
		return err.Error()
	}
	defer f.Close()
	if _, err := fmt.Fprintln(f, strings.Join(plain("", all), "\n")); err != nil {
		return err.Error()
	}
	return "the report is in " + f.Name() + ": diff it with that of the build before"
}

// TestTheSameReportInFull holds one small session field by field, so that a change of
// the model is read as what it changes and not as another hash.
func TestTheSameReportInFull(t *testing.T) {
	if *expected != "" {
		t.Skip("no file can be read here; its hash is among the others'")
	}
	got := plain("", fields(t, small(t), 1))
	if *update {
		if err := os.WriteFile(fullGolden, []byte(strings.Join(got, "\n")+"\n"), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	raw, err := os.ReadFile(fullGolden)
	if err != nil {
		t.Fatal(err)
	}
	found := differences(strings.Split(strings.TrimSuffix(string(raw), "\n"), "\n"), got)
	for _, d := range found[:min(len(found), 30)] {
		t.Error(d)
	}
	if len(found) > 30 {
		t.Errorf("and %d fields more (a change of the model: -update, and read the difference)", len(found)-30)
	}
}

// small is a session whose report can be read: the balls of the first with two settings of a
// head that has no more.
func small(t testing.TB) shot.Session {
	t.Helper()
	s := seeded(t, 0)
	s.Head.Weights = nil
	s.Head.Sleeve.Rings = []club.Ring{{Tilt: s.Head.Sleeve.Rings[0].Tilt, Positions: 2}}
	s.Head.Sleeve.Labels = []string{"up", "down"}
	s.Head.Current = club.Setting{Sleeve: "down"}
	for i := range s.Shots {
		s.Shots[i].Setting = club.Setting{Sleeve: s.Head.Sleeve.Labels[i%2]}
	}
	return s
}

// TestDifferences: what differs is named by its path, with both values.
func TestDifferences(t *testing.T) {
	want := plain("", map[string]any{"A": []any{json.Number("1"), "x"}, "B": map[string]any{"C": json.Number("2.00001")}})
	got := plain("", map[string]any{"A": []any{json.Number("1"), "y", true}, "B": map[string]any{"C": json.Number("2.0000100001")}})
	found := strings.Join(differences(want, got), "; ")
	if found != ".A[1]: want x, got y; .A[2]: want nothing, got true" {
		t.Error(found)
	}
}

// Budgets as counts, which a slow machine does not change.
func TestAllocationsOfAnAnalysis(t *testing.T) {
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	n := testing.AllocsPerRun(1, func() {
		if _, err := Analyse(s, 1, nil); err != nil {
			t.Fatal(err)
		}
	})
	t.Logf("%d balls, %d settings: %.0f allocations", len(s.Shots), len(s.Head.Settings()), n)
	if n > allocationBudget {
		t.Errorf("an analysis of the example makes %.0f allocations, budget %d: profile it, or raise the budget with the reason in the commit", n, allocationBudget)
	}
}

// allocationBudget is a tenth above what the run that set it printed.
const allocationBudget = 24_500
