package main

import (
	"bytes"
	"encoding/binary"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
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

// probe is a small program as Go builds it.
func probe(t *testing.T) []byte {
	t.Helper()
	file := filepath.Join(t.TempDir(), "probe.wasm")
	build := exec.Command("go", "build", "-trimpath", "-o", file, "./testdata/probe")
	build.Env = append(os.Environ(), "GOOS=js", "GOARCH=wasm")
	if text, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, text)
	}
	program, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	return program
}

// A program does the same before and after, is lighter, and its own functions
// still have names.
func TestTheProgramIsTheSame(t *testing.T) {
	file, before := filepath.Join(t.TempDir(), "probe.wasm"), probe(t)
	after, note, err := trim(before, true)
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

// Function by function and pc by pc the runtime finds the same: the function,
// the size of its stack, which map of pointers holds, and its data.
func TestTheTablesSayTheSame(t *testing.T) {
	before := probe(t)
	after, note, err := trim(before, true)
	if err != nil || note != "" {
		t.Fatalf("%v, note %q", err, note)
	}
	var both [2]tables
	var functions [2][]function
	for i, program := range [][]byte{before, after} {
		if both[i], err = tablesOf(program); err != nil {
			t.Fatal(err)
		}
		functions[i] = walk(both[i])
	}
	if len(functions[0]) != both[0].count || len(functions[1]) != both[0].count {
		t.Fatalf("%d and %d functions of %d", len(functions[0]), len(functions[1]), both[0].count)
	}
	pcs := 0
	for i, f := range functions[0] {
		g := functions[1][i]
		if !bytes.Equal(f.record[:4], g.record[:4]) || !bytes.Equal(f.record[8:funcSP], g.record[8:funcSP]) || !bytes.Equal(f.record[40:43], g.record[40:43]) {
			t.Fatalf("function %d: record %v became %v", i, f.record, g.record)
		}
		for k := range max(len(f.data), len(g.data)) {
			if !slices.Contains(idleData, k) && at(f.data, k, none) != at(g.data, k, none) {
				t.Fatalf("function %d: data %d differ", i, k)
			}
		}
		same := func(what string, old, now uint32, least int32) {
			a, end := values(both[0].pcs, old, least)
			b, _ := values(both[1].pcs, now, least)
			for pc := range end {
				if pcs++; a(pc) != b(pc) {
					t.Fatalf("function %d, pc %d: %s is %d, was %d", i, pc, what, b(pc), a(pc))
				}
			}
		}
		same("stack", f.stack, g.stack, -1)
		for k := range f.pcs {
			switch {
			case k == stackMaps:
				same("map", at(f.pcs, k, 0), at(g.pcs, k, 0), 0)
			case !slices.Contains(idlePC, k):
				same("another", at(f.pcs, k, 0), at(g.pcs, k, 0), -1)
			}
		}
		// findfunc begins at the bucket of the pc and takes the last one that does not begin later.
		from := int(binary.LittleEndian.Uint32(both[1].buckets[i*span/bucketPCs*bucketSize:]))
		if from > i || i-from >= together {
			t.Fatalf("function %d is looked for from %d on", i, from)
		}
	}
	if pcs < 10000 {
		t.Errorf("only %d pcs were compared", pcs)
	}
}

// walk reads the records where the table of functions says they are.
func walk(t tables) (out []function) {
	word := func(at int) uint32 { return binary.LittleEndian.Uint32(t.functions[at:]) }
	for i := range t.count {
		at := int(word(8*i + 4))
		f := function{record: t.functions[at : at+funcSize], stack: word(at + funcSP)}
		for k := range int(word(at + funcCount)) {
			f.pcs = append(f.pcs, word(at+funcSize+4*k))
		}
		for k := range int(f.record[funcData]) {
			f.data = append(f.data, word(at+funcSize+4*(len(f.pcs)+k)))
		}
		out = append(out, f)
	}
	return out
}

func at(list []uint32, i int, none uint32) uint32 {
	if i < len(list) {
		return list[i]
	}
	return none
}

// values is a pc table as pcvalue in src/runtime/symtab.go reads it, and how
// many pcs it covers; without a table, -1. Values below least are least.
func values(pcs []byte, at uint32, least int32) (of func(pc int) int32, end int) {
	type run struct {
		value int32
		until int
	}
	var runs []run
	value, pc := int32(-1), 0
	for b := pcs[at:]; at != 0; {
		d, n := binary.Uvarint(b)
		if d == 0 && pc > 0 {
			break
		}
		more, m := binary.Uvarint(b[n:])
		b = b[n+m:]
		value += int32(-(uint32(d) & 1) ^ uint32(d)>>1)
		pc += int(more)
		runs = append(runs, run{value, pc})
	}
	return func(pc int) int32 {
		for _, r := range runs {
			if pc < r.until {
				return max(r.value, least)
			}
		}
		return max(-1, least)
	}, pc
}
