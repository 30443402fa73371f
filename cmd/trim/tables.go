package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"runtime"
	"slices"
	"strings"
)

// Where Go 1.26 keeps what it knows of functions. Source: the Go source,
// src/runtime/symtab.go (pcHeader, functab), src/runtime/runtime2.go (_func),
// src/internal/abi/symtab.go; all numbers little-endian.
const (
	release = "go1.26"
	// pcHeader: magic, two zero bytes, least instruction 1, pointer size 8; then
	// eight words: functions, files, start of code, and where the names, units,
	// files, pc tables and functions begin, from the header on.
	headerStart = "\xf1\xff\xff\xff\x00\x00\x01\x08"
	headerSize  = 8 + 8*8
	// _func: offsets of the fields that are used here.
	funcName, funcSP, funcFile, funcCount, funcUnit, funcStart, funcData, funcSize = 4, 16, 20, 28, 32, 36, 43, 44
)

// What the runtime needs no table of: pc tables of where a thread may be
// interrupted by a signal, which a browser does not have, and of which
// arguments are still alive; data on arguments. The latter two are for printing
// a stack (src/runtime/preempt.go, traceback.go).
var (
	idlePC   = []int{0, 3} // PCDATA_UnsafePoint, PCDATA_ArgLiveIndex
	idleData = []int{5, 6} // FUNCDATA_ArgInfo, FUNCDATA_ArgLiveInfo
)

// spoken are the functions that the runtime knows by name, when it looks for
// pointers in their arguments (src/runtime/stkframe.go, argMapInternal).
var spoken = []string{"reflect.makeFuncStub", "reflect.methodValueCall"}

// kept reports whether the name of a function stays: the runtime's, and ours,
// so that what is printed of a stack at a fault still says where it was.
func kept(name string) bool {
	return strings.HasPrefix(name, "ferrule/") || strings.HasPrefix(name, "main.") || slices.Contains(spoken, name)
}

// tables is where each table lies in the memory.
type tables struct {
	names, units, files, pcs, functions []byte
	count                               int
}

// find looks for the tables. There must be exactly one header that fits.
func find(memory []byte) (tables, error) {
	var t tables
	at := bytes.Index(memory, []byte(headerStart))
	if at < 0 || at+headerSize > len(memory) || bytes.Contains(memory[at+1:], []byte(headerStart)) {
		return t, errors.New("not where " + release + " has them")
	}
	var word [8]int
	for i := range word {
		word[i] = int(binary.LittleEndian.Uint64(memory[at+8+8*i:]))
	}
	last := headerSize
	for _, w := range word[3:] {
		if w < last || at+w > len(memory) {
			return t, errors.New("not in the order of " + release)
		}
		last = w
	}
	cut := func(i int) []byte { return memory[at+word[i] : at+word[i+1]] }
	t = tables{cut(3), cut(4), cut(5), cut(6), memory[at+word[7]:], word[0]}
	return t, nil
}

// lighten empties the tables of lines and names in place. With an error the
// memory is as it was.
func lighten(memory []byte) error {
	if !strings.HasPrefix(runtime.Version(), release) {
		return fmt.Errorf("they are known for %s, this is %s", release, runtime.Version())
	}
	t, err := find(memory)
	if err != nil {
		return err
	}
	functions, err := t.all()
	if err != nil {
		return err
	}
	needed, err := t.needed(functions)
	if err != nil {
		return err
	}
	names := make([]byte, len(t.names))
	for _, f := range functions {
		at := binary.LittleEndian.Uint32(f.record[funcName:])
		if name := nameAt(t.names, at); kept(name) {
			copy(names[at:], name)
		} else {
			clear(f.record[funcName : funcName+4]) // offset 0 is the empty name
		}
		f.empty()
	}
	copy(t.names, names)
	for i := range t.pcs {
		if !needed[i] {
			t.pcs[i] = 0
		}
	}
	clear(t.units)
	clear(t.files)
	return nil
}

// function is what the tables hold of one function: its record, the places of
// its pc tables and of its data, four bytes each.
type function struct{ record, pcs, data []byte }

// all are the functions. Each record must lie where the table of functions
// says and begin with the same entry: so a release with another layout is
// noticed.
func (t tables) all() ([]function, error) {
	var out []function
	for i := range t.count {
		if 8*i+8 > len(t.functions) {
			return nil, errors.New("cut short")
		}
		entry, at := t.functions[8*i:8*i+4], int(binary.LittleEndian.Uint32(t.functions[8*i+4:]))
		if at+funcSize > len(t.functions) || !bytes.Equal(entry, t.functions[at:at+4]) {
			return nil, errors.New("records of functions are laid out in another way")
		}
		f := function{record: t.functions[at : at+funcSize]}
		rest := t.functions[at+funcSize:]
		pcs, data := 4*int(binary.LittleEndian.Uint32(f.record[funcCount:])), 4*int(f.record[funcData])
		if pcs > 64 || data > 64 || pcs+data > len(rest) {
			return nil, errors.New("records of functions are of another size")
		}
		f.pcs, f.data = rest[:pcs], rest[pcs:pcs+data]
		out = append(out, f)
	}
	return out, nil
}

// empty says of what is dropped that there is no table (0) and no data (all ones).
func (f function) empty() {
	clear(f.record[funcFile:funcCount])
	clear(f.record[funcUnit : funcStart+4])
	for _, i := range idlePC {
		if 4*i < len(f.pcs) {
			clear(f.pcs[4*i : 4*i+4])
		}
	}
	for _, i := range idleData {
		if 4*i < len(f.data) {
			copy(f.data[4*i:], "\xff\xff\xff\xff")
		}
	}
}

// needed marks the bytes of the pc tables that the runtime works with: stack
// sizes and maps. A table may serve as one of those and as one of lines.
func (t tables) needed(functions []function) ([]bool, error) {
	needed := make([]bool, len(t.pcs))
	mark := func(at uint32) error {
		for i, first := int(at), true; at != 0; first = false { // 0: no table
			// A difference of values, 0 at the end, and one of pcs.
			from := i
			value, n := binary.Uvarint(t.pcs[min(i, len(t.pcs)):])
			i += n
			if n > 0 && (value != 0 || first) {
				var m int
				_, m = binary.Uvarint(t.pcs[i:])
				n, i = m, i+m
			}
			if n <= 0 {
				return errors.New("a pc table is cut short")
			}
			for k := from; k < i; k++ {
				needed[k] = true
			}
			if value == 0 && !first {
				return nil
			}
		}
		return nil
	}
	for _, f := range functions {
		if err := mark(binary.LittleEndian.Uint32(f.record[funcSP:])); err != nil {
			return nil, err
		}
		for i := 0; i < len(f.pcs); i += 4 {
			if slices.Contains(idlePC, i/4) {
				continue
			}
			if err := mark(binary.LittleEndian.Uint32(f.pcs[i:])); err != nil {
				return nil, err
			}
		}
	}
	return needed, nil
}

// nameAt is the name that begins at a place of the table of names, up to its
// zero byte.
func nameAt(names []byte, at uint32) string {
	if int(at) >= len(names) {
		return ""
	}
	b := names[at:]
	if n := bytes.IndexByte(b, 0); n >= 0 {
		b = b[:n]
	}
	return string(b)
}
