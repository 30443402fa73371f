package store

import (
	"encoding/binary"
	"errors"
	"fmt"
)

// maxDepth is how deep values may be nested. A session needs 8.
const maxDepth = 32

// A list or map of its own may become a whole ball in memory, some hundred
// times the byte that it takes at least. None that we write is so small: a
// field of a record has its name before it. So a value may hold one list or
// map for each bytesEach bytes, beside a few for nothing.
const (
	freeParts = 1000
	bytesEach = 6
)

var errShort = errors.New("it ends in the middle of a value")

// wellFormed checks that b is exactly one msgpack value, no deeper than
// maxDepth, whose lengths fit into the bytes that are there. After it a
// decoder can be led neither to deep recursion nor to more memory than a
// fixed multiple of len(b). Format: the msgpack specification (github.com/msgpack/msgpack, spec.md).
func wellFormed(b []byte) error {
	var left [maxDepth + 1]uint64 // values still to come at each depth
	depth := 0
	left[0] = 1
	at, parts := 0, 0
	for {
		for left[depth] == 0 {
			if depth == 0 {
				if at != len(b) {
					return fmt.Errorf("%d bytes follow the value", len(b)-at)
				}
				return nil
			}
			depth--
		}
		left[depth]--
		size, inner, err := value(b[at:])
		if err != nil {
			return err
		}
		at += size
		if inner > uint64(len(b)-at) { // each value takes a byte at least
			return errShort
		}
		if inner > 0 || empty(b[at-size:at]) {
			if parts++; parts > freeParts+len(b)/bytesEach {
				return fmt.Errorf("it holds more lists and maps than %d bytes can mean", len(b))
			}
		}
		if inner > 0 {
			if depth == maxDepth {
				return fmt.Errorf("values are nested more than %d deep", maxDepth)
			}
			depth++
			left[depth] = inner
		}
	}
}

// empty reports whether a value is a list or map without anything inside.
func empty(value []byte) bool {
	switch value[0] {
	case 0x80, 0x90, 0xdc, 0xdd, 0xde, 0xdf:
		return true
	}
	return false
}

// value measures the value that b begins with: the bytes of its own and how
// many values stand inside it.
func value(b []byte) (size int, inner uint64, err error) {
	if len(b) == 0 {
		return 0, 0, errShort
	}
	c := b[0]
	length := func(n int) uint64 { // big-endian number of n bytes after the first
		if len(b) < 1+n {
			err = errShort
			return 0
		}
		var w [8]byte
		copy(w[8-n:], b[1:1+n])
		return binary.BigEndian.Uint64(w[:])
	}
	flat := func(head int, n uint64) (int, uint64, error) {
		if err != nil || uint64(len(b)) < uint64(head)+n {
			return 0, 0, errShort
		}
		return head + int(n), 0, nil
	}
	nest := func(head int, n uint64) (int, uint64, error) { return head, n, err }
	switch {
	case c <= 0x7f, c >= 0xe0, c == 0xc0, c == 0xc2, c == 0xc3: // small numbers, nil, booleans
		return 1, 0, nil
	case c <= 0x8f:
		return nest(1, 2*uint64(c&0x0f))
	case c <= 0x9f:
		return nest(1, uint64(c&0x0f))
	case c <= 0xbf:
		return flat(1, uint64(c&0x1f))
	}
	switch c {
	case 0xc4, 0xd9: // binary and text by the size of their length
		return flat(2, length(1))
	case 0xc5, 0xda:
		return flat(3, length(2))
	case 0xc6, 0xdb:
		return flat(5, length(4))
	case 0xcc, 0xd0:
		return flat(1, 1)
	case 0xcd, 0xd1:
		return flat(1, 2)
	case 0xca, 0xce, 0xd2:
		return flat(1, 4)
	case 0xcb, 0xcf, 0xd3:
		return flat(1, 8)
	case 0xdc:
		return nest(3, length(2))
	case 0xdd:
		return nest(5, length(4))
	case 0xde:
		return nest(3, 2*length(2))
	case 0xdf:
		return nest(5, 2*length(4))
	}
	// 0xc1 is unused; extensions are never written by us.
	return 0, 0, fmt.Errorf("byte %#x begins no value", c)
}
