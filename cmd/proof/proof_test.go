package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

const log = `=== RUN   TestEveryCase/R01
    x_test.go:30: proof	abs	volume [cc]	460.1	460	.2
    x_test.go:31: proof	rel	scale	2.02	2	.001
=== RUN   TestSpread
    x_test.go:40: proof	spread	a	65	carry yd	0.34	2.46	3.88
--- PASS: TestSpread (0.00s)
`

func TestParseReadsWhatTestsLog(t *testing.T) {
	rows, err := parse(log)
	if err != nil || len(rows) != 3 {
		t.Fatalf("%d rows, %v", len(rows), err)
	}
	if r := rows[0]; r.test != "TestEveryCase/R01" || r.what != "volume [cc]" || r.off() > .51 || r.off() < .49 {
		t.Errorf("first row %+v, off %g", r, r.off())
	}
	if w := (group{rows: rows[:2]}).worst(); w.what != "scale" {
		t.Errorf("the farther one is %q, want scale: it misses tenfold", w.what)
	}
	if got := strings.Join(rows[2].rest, " "); got != "65 carry yd 0.34 2.46 3.88" {
		t.Errorf("spread %q", got)
	}
	if _, err := parse("x: proof\tabs\twhat\tfour\t4\t1\n"); err == nil {
		t.Error("a word passed for a number")
	}
}

func TestAFailingTestIsNoProof(t *testing.T) {
	if _, err := collect("../..", "./core/no-such-room", "x"); err == nil {
		t.Error("a package that does not build gave a table")
	}
}

func TestAStaleFigureIsFound(t *testing.T) {
	name := filepath.Join(t.TempDir(), "shown.md")
	if err := os.WriteFile(name, []byte("a\n| carry | 250.1 |\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	if err := stale([]file{{name, []byte("a\n| carry | 250.1 |\n")}}); err != nil {
		t.Errorf("a fresh file: %v", err)
	}
	err := stale([]file{{name, []byte("a\n| carry | 250.2 |\n")}})
	if err == nil || !strings.Contains(err.Error(), "250.1") || !strings.Contains(err.Error(), "250.2") {
		t.Errorf("a stale figure: %v", err)
	}
}

func TestMarks(t *testing.T) {
	in := []byte("x\n<!-- proof:a -->\nold\n<!-- end of proof:a -->\ny\n")
	out, err := between(in, "a", "new\n")
	if err != nil || string(out) != "x\n<!-- proof:a -->\nnew\n<!-- end of proof:a -->\ny\n" {
		t.Errorf("%q, %v", out, err)
	}
	if _, err := between(in, "b", "new\n"); err == nil || !strings.Contains(err.Error(), "<!-- proof:b -->") {
		t.Errorf("a table that is not shown passed: %v", err)
	}
	if _, err := between([]byte("<!-- proof:a -->\n"), "a", ""); err == nil {
		t.Error("a missing end passed")
	}
}

// The figures of testdata/proof/README.md and of the app are those that the tests print now.
func TestShownFiguresAreFresh(t *testing.T) {
	t.Chdir("../..")
	if err := run(false, true, ""); err != nil {
		t.Error(err)
	}
}

// TestWhatIsMeasuredIsShown keeps times and weights and finds them in the table.
func TestWhatIsMeasuredIsShown(t *testing.T) {
	root := t.TempDir()
	write := func(name, text string) {
		t.Helper()
		path := filepath.Join(root, name)
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	write("times.json", `{"offline start [ms]": 1234.6}`)
	write("site/page.wasm.br", "12345")
	write("testdata/proof/machine.json", "{}")
	path := filepath.Join(root, "testdata/proof/machine.json")
	if _, err := machine(root); err == nil {
		t.Error("figures without the command that made them are shown")
	}
	if err := keep(filepath.Join(root, "times.json"), filepath.Join(root, "site"), path); err == nil {
		t.Error("a site without its analysis was weighed")
	}
	write("site/worker.wasm.br", "123")
	write("site/worker.wasm.0123456789abcdef.dcb", "12")
	if err := keep(filepath.Join(root, "times.json"), filepath.Join(root, "site"), path); err != nil {
		t.Fatal(err)
	}
	tables, err := machine(root)
	if err != nil || len(tables) != 1 {
		t.Fatalf("%d tables, %v", len(tables), err)
	}
	text := tables[0].markdown()
	for _, want := range []string{"| offline start [ms] | 1235 |", "| program of the screens, brotli 11 [bytes] | 5 |", "| program of the analysis, brotli 11 [bytes] | 3 |",
		"| program of the analysis as a difference to the screens', brotli 11 [bytes] | 2 |", "`make speed-write`"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %s in\n%s", want, text)
		}
	}
}
