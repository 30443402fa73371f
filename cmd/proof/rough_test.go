package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// The tables of rough golfers show what the file holds, a miss included.
func TestRoughTables(t *testing.T) {
	root := t.TempDir()
	if ts, err := roughs(root); ts != nil || err != nil {
		t.Errorf("without a file: %v, %v", ts, err)
	}
	folder := filepath.Join(root, "testdata/proof")
	if err := os.MkdirAll(folder, 0o755); err != nil {
		t.Fatal(err)
	}
	write := func(name, text string) {
		if err := os.WriteFile(filepath.Join(folder, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("rough.json", `{"cells":[]}`)
	if _, err := roughs(root); err == nil || !strings.Contains(err.Error(), "command") {
		t.Errorf("a file that does not say who made it: %v", err)
	}
	write("rough.json", `{"command":"ferrule simulate -bench rough","cells":[{"group":"3 balls","sessions":7,
		"regret_strokes":{"keep":{"mean":0.05},"averages":{"mean":0.04},"ridge hit":{"mean":0.03},"engine":{"mean":0.06,"error":0.01}},
		"cover_hit_not_50_80_95":{"carry":[[0.3,0.5,0.7],[0.35,0.55,0.75]]},"words":{"clear":{"said":3,"sure":0.98,"true":{"mean":0.5}}}}]}`)
	write("sequence.json", `{"command":"ferrule simulate -bench sequence","cells":[{"group":"all","sessions":5,"regret_strokes":{"own advice":{"mean":0.046}}}]}`)
	write("winds.json", `{"command":"ferrule simulate -bench rough -by wind","cells":[{"group":"wind wrong","sessions":50,"clear_wrong":{"mean":0.04},
		"regret_engine_less_rival":{"still air":{"mean":-0.0021,"error":0.003}}}]}`)
	ts, err := roughs(root)
	if err != nil || len(ts) != 6 {
		t.Fatalf("%d tables, %v", len(ts), err)
	}
	var all strings.Builder
	for _, table := range ts {
		for _, r := range table.rows {
			if len(r) != len(table.head) {
				t.Errorf("%s: a row of %d under %d heads", table.name, len(r), len(table.head))
			}
		}
		all.WriteString(table.markdown())
	}
	for _, want := range []string{"60.0 ± 10.0", "| 2.00 | 1.20 |", "0.30 / 0.50 / 0.70", "clear: 3, 0.98, 0.50", "46.0", "-2.1 ± 3.0", "| 0 | 2 |"} {
		if !strings.Contains(all.String(), want) {
			t.Errorf("%q is not shown", want)
		}
	}
}
