package main

import (
	"encoding/binary"
	"errors"
	"slices"
	"strings"

	"ferrule/cmd/internal/wasm"
)

// A browser compiles a function when it is first called, on the thread that calls
// it: at a start two thirds of what holds up the screen. So a program carries which
// functions a start calls, and pwa/first.js has a worker call each of them before the
// screen's thread does. It needs the table of functions and the place of the stack: with
// no stack a call ends at its first access to memory, and has been compiled.

// startSection is the custom section with a bit for each function, 1 where a start
// calls it; tableExport and stackExport are what the worker needs.
const (
	startSection = "start"
	tableExport  = "table"
	stackExport  = "sp"
)

// firstSlot is where the linker has the functions begin in the table
// (funcValueOffset in src/cmd/link/internal/wasm/asm.go).
const firstSlot = 4096

// named are the names of a program's functions, by their place behind firstSlot.
func named(sections []wasm.Section) (names []string, err error) {
	i := slices.IndexFunc(sections, func(s wasm.Section) bool { return s.ID == wasm.Data })
	if i < 0 {
		return nil, errors.New("a program without memory")
	}
	memory, err := read(sections[i].Body)
	if err != nil {
		return nil, err
	}
	t, err := find(memory)
	if err != nil {
		return nil, err
	}
	all, _, err := t.all()
	if err != nil {
		return nil, err
	}
	names = make([]string, int(t.first)-firstSlot, int(t.first)-firstSlot+len(all))
	for _, f := range all {
		names = append(names, nameAt(t.names, binary.LittleEndian.Uint32(f.record[funcName:])))
	}
	return names, nil
}

// warm is the program with the functions of the list marked as those of a start.
func warm(program []byte, list string) ([]byte, error) {
	sections, err := wasm.Sections(program)
	if err != nil {
		return nil, err
	}
	names, err := named(sections)
	if err != nil {
		return nil, err
	}
	wanted := map[string]bool{}
	for name := range strings.Lines(list) {
		wanted[strings.TrimSpace(name)] = true
	}
	bits := make([]byte, (len(names)+7)/8)
	for i, name := range names {
		if name != "" && wanted[name] {
			bits[i/8] |= 1 << (i % 8)
		}
	}
	for i, s := range sections {
		if s.ID == wasm.Export {
			r := wasm.Reader{B: s.Body}
			body := binary.AppendUvarint(nil, r.Number()+2)
			body = append(body, r.B...)
			body = append(append(append(body, byte(len(tableExport))), tableExport...), 1, 0) // a table, the first
			body = append(append(append(body, byte(len(stackExport))), stackExport...), 3, 0) // a global, the first: the stack's place
			sections[i].Body = body
		}
	}
	body := append([]byte{byte(len(startSection))}, startSection...)
	return wasm.Join(append(sections, wasm.Section{ID: wasm.Custom, Body: append(body, bits...)})), nil
}

// mark is the program that notes each function it calls: a bit in the first 4,096
// bytes of its memory, which no value of Go's lies in.
func mark(program []byte) ([]byte, error) {
	sections, err := wasm.Sections(program)
	if err != nil {
		return nil, err
	}
	for i, s := range sections {
		if s.ID != wasm.Code {
			continue
		}
		r := wasm.Reader{B: s.Body}
		n := r.Number()
		body := binary.AppendUvarint(nil, n)
		for k := range int64(n) {
			function := r.Take(int(r.Number()))
			f := wasm.Reader{B: function}
			for kinds := f.Number(); kinds > 0; kinds-- { // of variables
				f.Number()
				f.Byte()
			}
			out := slices.Clone(function[:len(function)-len(f.B)])
			at := wasm.AppendSigned([]byte{constant}, k/8)
			out = append(append(append(out, at...), at...), 0x2d, 0, 0, constant) // i32.load8_u
			out = append(wasm.AppendSigned(out, 1<<(k%8)), 0x72, 0x3a, 0, 0)      // i32.or, i32.store8
			out = append(out, f.B...)
			body = append(binary.AppendUvarint(body, uint64(len(out))), out...)
		}
		if err := r.Err(); err != nil {
			return nil, err
		}
		sections[i].Body = body
	}
	return wasm.Join(sections), nil
}

// called are the names of the functions that the bits of a marked program tell of, in
// order, a line each.
func called(program, bits []byte) (string, error) {
	sections, err := wasm.Sections(program)
	if err != nil {
		return "", err
	}
	names, err := named(sections)
	if err != nil {
		return "", err
	}
	var out []string
	for i, name := range names {
		if name != "" && i/8 < len(bits) && bits[i/8]>>(i%8)&1 == 1 {
			out = append(out, name+"\n")
		}
	}
	slices.Sort(out)
	return strings.Join(slices.Compact(out), ""), nil
}
