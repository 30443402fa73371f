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

	"ferrule/core/seed"
	"ferrule/core/shot"
)

var (
	update   = flag.Bool("update", false, "rewrite testdata/same/reports.txt (100 sessions)")
	expected = flag.String("expected", "", "the content of testdata/same/reports.txt, where no file can be read")
	sessions = flag.Int("sessions", 6, "how many of the 100 seeded sessions to analyse")
)

const sameGolden = "../../testdata/same/reports.txt"

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

// fingerprint hashes a report with its floats to five digits, which fused
// multiply-adds of other processors do not reach.
func fingerprint(t testing.TB, s shot.Session, sd uint64) string {
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
	h := fnv.New64a()
	print(h, all)
	return fmt.Sprintf("%016x setting %d %d balls", h.Sum64(), r.Choice.Setting, len(s.Shots))
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
			fmt.Fprintln(&b, fingerprint(t, seeded(t, i), uint64(i)))
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
		if got := fingerprint(t, seeded(t, i), uint64(i)); got != want[i] {
			t.Errorf("session %d: report %s, the file says %s (a change of the model: -update, and read what else changed)", i, got, want[i])
		}
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
