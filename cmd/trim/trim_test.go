package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/cmd/internal/wasm"
)

// What is written is what was read, whatever lies where.
func TestTheMemoryIsTheSame(t *testing.T) {
	for _, memory := range [][]byte{
		nil,
		{1},
		make([]byte, 200),
		append(make([]byte, 200), 1),
		append(append([]byte{1, 0, 2}, make([]byte, gap-1)...), 3),
		append(append([]byte{1, 0, 2}, make([]byte, gap)...), 3, 0, 0),
	} {
		got, err := read(write(memory))
		if err != nil {
			t.Fatal(err)
		}
		if want := bytes.TrimRight(memory, "\x00"); !bytes.Equal(got, want) {
			t.Errorf("%v became %v", want, got)
		}
	}
	if _, err := read([]byte{1, 0, constant, 5, end, 9, 1}); err == nil {
		t.Error("half a segment was read without an error")
	}
	if _, err := read([]byte{1, 1, constant, 5, end, 1, 1}); err == nil {
		t.Error("a passive segment was read without an error")
	}
}

// A program does the same before and after, is lighter, and its own functions
// still have names.
func TestTheProgramIsTheSame(t *testing.T) {
	file := filepath.Join(t.TempDir(), "probe.wasm")
	build := exec.Command("go", "build", "-trimpath", "-o", file, "./testdata/probe")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	before, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	after, note, err := trim(before)
	if err != nil || note != "" {
		t.Fatalf("%v, note %q", err, note)
	}
	old, err := tablesOf(before)
	if err != nil {
		t.Fatal(err)
	}
	now, err := tablesOf(after)
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range append([]string{"main.fall"}, spoken...) {
		if !bytes.Contains(now.names, []byte("\x00"+want+"\x00")) {
			t.Errorf("%s lost its name", want)
		}
	}
	for what, b := range map[string][2][]byte{"names": {old.names, now.names}, "pc tables": {old.pcs, now.pcs}} {
		if x, y := bytes.Count(b[0], []byte{0}), bytes.Count(b[1], []byte{0}); len(b[0]) != len(b[1]) || y < x+len(b[0])/4 {
			t.Errorf("%s: of %d bytes %d are zero, before %d", what, len(b[0]), y, x)
		}
	}
	if _, err := exec.LookPath("node"); err != nil {
		t.Log("node is not installed: whether it runs the same is left to the browser tests")
		return
	}
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatal(err)
	}
	script := filepath.Join(strings.TrimSpace(string(root)), "lib", "wasm", "go_js_wasm_exec")
	// 18,893 digits: 9 + 2*90 + 3*900 + 4*4001.
	want := "5001 18893 abab method runtime error: invalid memory address or nil pointer dereference, told true"
	for what, program := range map[string][]byte{"before": before, "after": after} {
		if err := os.WriteFile(file, program, 0o755); err != nil {
			t.Fatal(err)
		}
		text, err := exec.Command(script, file).CombinedOutput()
		if got := strings.TrimSpace(string(text)); err != nil || got != want {
			t.Errorf("%s: %v, it printed\n%.2000s\nwant\n%s", what, err, got, want)
		}
	}
}

// tablesOf are the tables of a program.
func tablesOf(program []byte) (tables, error) {
	sections, err := wasm.Sections(program)
	if err != nil {
		return tables{}, err
	}
	for _, s := range sections {
		if s.ID == wasm.Data {
			memory, err := read(s.Body)
			if err != nil {
				return tables{}, err
			}
			return find(memory)
		}
	}
	return tables{}, os.ErrNotExist
}
