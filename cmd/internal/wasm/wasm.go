// Package wasm takes a WebAssembly file apart and puts it together again, as
// far as the tools that weigh and trim our programs need it.
//
// Source: WebAssembly core specification 1.0, chapter 5 (binary format).
package wasm

import (
	"encoding/binary"
	"errors"
)

// Section numbers, 5.5.2.
const (
	Custom = 0
	Import = 2
	Export = 7
	Code   = 10
	Data   = 11
)

// Section is one section of a file: its number and what is in it.
type Section struct {
	ID   byte
	Body []byte
}

// header begins every file: the magic bytes and version 1.
const header = "\x00asm\x01\x00\x00\x00"

// errShort is what is wrong with half a file.
var errShort = errors.New("not a whole WebAssembly file")

// Sections are the sections of a file, in its order. They share its bytes.
func Sections(file []byte) ([]Section, error) {
	if len(file) < len(header) || string(file[:4]) != header[:4] {
		return nil, errors.New("not a WebAssembly file: it does not begin with \\0asm")
	}
	var out []Section
	r := Reader{B: file[len(header):]}
	for len(r.B) > 0 {
		id := r.Byte()
		out = append(out, Section{id, r.Take(int(r.Number()))})
		if r.Err() != nil {
			return nil, r.Err()
		}
	}
	return out, nil
}

// Join is the file of the sections, the inverse of Sections.
func Join(sections []Section) []byte {
	out := []byte(header)
	for _, s := range sections {
		out = append(out, s.ID)
		out = binary.AppendUvarint(out, uint64(len(s.Body)))
		out = append(out, s.Body...)
	}
	return out
}

// Reader reads values of the binary format from B, which it uses up. Once it
// ran short, all that it returns is empty and Err says so.
type Reader struct {
	B   []byte
	bad bool
}

// Err is nil while everything asked for was there.
func (r *Reader) Err() error {
	if r.bad {
		return errShort
	}
	return nil
}

// Take is the next n bytes, not copied.
func (r *Reader) Take(n int) []byte {
	if n < 0 || n > len(r.B) {
		r.bad, r.B = true, nil
		return nil
	}
	out := r.B[:n]
	r.B = r.B[n:]
	return out
}

// Byte is the next byte.
func (r *Reader) Byte() byte {
	if b := r.Take(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

// Number is an unsigned LEB128 number, 5.2.2.
func (r *Reader) Number() uint64 {
	v, n := binary.Uvarint(r.B)
	if n <= 0 {
		r.bad, r.B = true, nil
		return 0
	}
	r.B = r.B[n:]
	return v
}

// Signed is a signed LEB128 number, 5.2.2.
func (r *Reader) Signed() int64 {
	var v int64
	for shift := uint(0); shift < 64; shift += 7 {
		b := r.Byte()
		v |= int64(b&0x7f) << shift
		if b&0x80 == 0 {
			if b&0x40 != 0 && shift+7 < 64 {
				v |= -1 << (shift + 7)
			}
			return v
		}
	}
	r.bad, r.B = true, nil
	return 0
}

// AppendSigned appends v as Signed reads it.
func AppendSigned(out []byte, v int64) []byte {
	for {
		b := byte(v & 0x7f)
		v >>= 7
		if v == 0 && b&0x40 == 0 || v == -1 && b&0x40 != 0 {
			return append(out, b)
		}
		out = append(out, b|0x80)
	}
}

// Text is a name, 5.2.4.
func (r *Reader) Text() string { return string(r.Take(int(r.Number()))) }
