package main

import (
	"encoding/binary"
	"errors"

	"ferrule/cmd/internal/wasm"
)

// gap is how many zero bytes part two segments of the memory: where it is
// much less the segments' headers cost more than the zeros, and from there on
// nothing depends on it (page: 32 to 4096 within 2 kB of brotli).
const gap = 64

// constant and end are the instructions that say where a segment goes
// (i32.const and end; core specification 5.4).
const (
	constant = 0x41
	end      = 0x0b
)

// trim returns the program with its memory in one piece and its tables
// lightened, and a note when the tables are not known.
func trim(program []byte, tables bool) (out []byte, note string, err error) {
	sections, err := wasm.Sections(program)
	if err != nil {
		return nil, "", err
	}
	for i, s := range sections {
		if s.ID != wasm.Data {
			continue
		}
		memory, err := read(s.Body)
		if err != nil {
			return nil, "", err
		}
		if tables {
			if err := lighten(memory); err != nil {
				note = "the tables of lines and names stay: " + err.Error()
			}
		}
		sections[i].Body = write(memory)
	}
	return wasm.Join(sections), note, nil
}

// most is an offset that no segment of a program of ours comes near [bytes].
const most = 1 << 30

// read lays the segments of a data section into one memory that begins at 0.
func read(body []byte) ([]byte, error) {
	var memory []byte
	r := wasm.Reader{B: body}
	for range r.Number() {
		kind, op := r.Number(), r.Byte()
		from, stop := r.Signed(), r.Byte()
		data := r.Take(int(r.Number()))
		if err := r.Err(); err != nil {
			return nil, err
		}
		if kind != 0 || op != constant || stop != end || from < 0 || from > most {
			return nil, errors.New("a data segment that Go's linker does not write")
		}
		if n := int(from) + len(data) - len(memory); n > 0 {
			memory = append(memory, make([]byte, n)...)
		}
		copy(memory[from:], data)
	}
	return memory, r.Err()
}

// write is the data section of a memory. Long runs of zeros are left out: a
// memory is zero before its segments are laid in.
func write(memory []byte) []byte {
	var segments []byte
	count := uint64(0)
	for at := 0; ; {
		from := at + zeros(memory[at:])
		if from == len(memory) {
			break
		}
		at = from
		for at < len(memory) {
			if n := zeros(memory[at:]); n >= gap || at+n == len(memory) {
				break
			} else if n > 0 {
				at += n
				continue
			}
			at++
		}
		count++
		segments = append(segments, 0, constant)
		segments = wasm.AppendSigned(segments, int64(from))
		segments = append(segments, end)
		segments = binary.AppendUvarint(segments, uint64(at-from))
		segments = append(segments, memory[from:at]...)
	}
	return append(binary.AppendUvarint(nil, count), segments...)
}

// zeros is how many zero bytes b begins with.
func zeros(b []byte) int {
	for i, v := range b {
		if v != 0 {
			return i
		}
	}
	return len(b)
}
