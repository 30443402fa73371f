package record

import (
	"bytes"
	"encoding/binary"
	"fmt"
	"hash/crc32"
	"math"

	"ferrule/core/club"
	"ferrule/core/message"
)

// A record's file is
//
//	"FRLH"       4 bytes
//	version      1 byte
//	checksum     4 bytes, big-endian: CRC-32 (IEEE) of the version and all that follows
//	head         its CLUB.json, after its length (4 bytes)
//	players      8 bytes, a number as float64
//	features     1 byte of how many, then 1 byte each
//	sums         for each spread: log, vector, packed lower triangle, float64
//	sessions     4 bytes of how many, then 8 bytes each, rising
//
// all big-endian. A version is never taken out of Decode.
const (
	magic      = "FRLH"
	version    = 1
	headerSize = 9
	maxHead    = 1 << 20
	mostSum    = 1e15 // 65,536 players make less than 1e11
)

// MaxBytes is the largest file of a record.
const MaxBytes = headerSize + 4 + maxHead + 8 + 1 + F + len(spreads)*8*(1+F*K+F*K*(F*K+1)/2) + 4 + 8*MaxSeen

// ErrDamaged says that bytes are no record, or were changed.
var ErrDamaged = message.New("problem.record-damaged")

// ErrNewer says that a record was written by a later version.
var ErrNewer = message.New("problem.record-newer")

// IsFile reports whether bytes begin as a record does.
func IsFile(b []byte) bool { return len(b) >= len(magic) && string(b[:len(magic)]) == magic }

func checksum(version byte, rest []byte) uint32 {
	return crc32.Update(crc32.ChecksumIEEE([]byte{version}), crc32.IEEETable, rest)
}

// Encode writes the record.
func (r *Record) Encode() ([]byte, error) {
	head, err := r.Head.JSON()
	if err != nil {
		return nil, fmt.Errorf("the record's head: %w", err)
	}
	var b bytes.Buffer
	put := func(v any) { binary.Write(&b, binary.BigEndian, v) } // a Buffer takes all
	put(uint32(len(head)))
	b.Write(head)
	put(r.Players)
	b.WriteByte(byte(len(r.Features)))
	for _, f := range r.Features {
		b.WriteByte(byte(f))
	}
	for _, s := range r.Sums {
		if len(r.Features) > 0 {
			put(s.Log)
			put(s.Vec)
			put(s.Info)
		}
	}
	put(uint32(len(r.Seen)))
	put(r.Seen)
	out := append([]byte(magic), version)
	out = binary.BigEndian.AppendUint32(out, checksum(version, b.Bytes()))
	return append(out, b.Bytes()...), nil
}

// Decode reads a record. Errors: ErrDamaged with what is wrong, ErrNewer.
func Decode(b []byte) (*Record, error) {
	damaged := func(key string, places ...any) (*Record, error) {
		return nil, message.New("problem.named", ErrDamaged, message.Of(key, places...))
	}
	switch {
	case !IsFile(b) || len(b) < headerSize:
		return damaged("problem.record-none")
	case b[4] == 0 || len(b) > MaxBytes:
		return damaged("problem.record-odd")
	case binary.BigEndian.Uint32(b[5:]) != checksum(b[4], b[headerSize:]):
		return damaged("problem.checksum")
	case b[4] > version:
		return nil, ErrNewer
	}
	in := reader{b: b[headerSize:]}
	head, err := club.FromJSON(in.take(int(in.number32())))
	if err == nil {
		err = head.Validate()
	}
	if err != nil {
		return damaged("problem.club", err)
	}
	r := New(head)
	r.Players = in.float()
	var features []int
	for range in.byte() {
		features = append(features, int(in.byte()))
	}
	if len(features) > F || in.short {
		return damaged("problem.record-odd")
	}
	if len(features) > 0 {
		if err := r.start(features); err != nil {
			return damaged("problem.record-odd")
		}
		for g := range r.Sums {
			s := &r.Sums[g]
			s.Log = in.float()
			for i := range s.Vec {
				s.Vec[i] = in.float()
			}
			for i := range s.Info {
				s.Info[i] = in.float()
			}
		}
	}
	n := int(in.number32())
	if n > MaxSeen || n*8 != len(in.b) {
		return damaged("problem.record-odd")
	}
	for range n {
		m := in.number64()
		if k := len(r.Seen); k > 0 && m <= r.Seen[k-1] {
			return damaged("problem.record-odd")
		}
		r.Seen = append(r.Seen, m)
	}
	if in.short || in.odd || r.Players < 0 || r.Players > float64(n) {
		return damaged("problem.record-odd")
	}
	return r, nil
}

// reader takes numbers from bytes and remembers when there were too few.
type reader struct {
	b          []byte
	short, odd bool
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.b) {
		r.short, r.b = true, nil
		return make([]byte, 0)
	}
	out := r.b[:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) fixed(n int) []byte {
	if b := r.take(n); len(b) == n {
		return b
	}
	return make([]byte, n)
}

func (r *reader) byte() byte       { return r.fixed(1)[0] }
func (r *reader) number32() uint32 { return binary.BigEndian.Uint32(r.fixed(4)) }
func (r *reader) number64() uint64 { return binary.BigEndian.Uint64(r.fixed(8)) }

func (r *reader) float() float64 {
	v := math.Float64frombits(r.number64())
	r.odd = r.odd || !(math.Abs(v) <= mostSum)
	return v
}
