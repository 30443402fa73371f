package store

import (
	"errors"
	"flag"
	"math/rand/v2"
	"slices"
	"testing"
	"time"

	"ferrule/core/shot"
)

// Go's own fuzzer is guided by what code an input reaches, and slow by it;
// these mutants are blind and many. Both run under `make fuzz`.
var mutants = flag.Int("mutants", 20_000, "how many damaged envelopes TestMutants reads")

// TestMutants reads damaged envelopes of every kind; most have a true
// checksum, so that the damage reaches every reader: no panic, no memory
// beyond a fixed multiple of the bytes, and what is read can be written.
func TestMutants(t *testing.T) {
	small, err := marshal(shot.Session{ID: "a", Title: "t", Shots: []shot.Shot{{ID: "1", Values: shot.Values{shot.Carry: 200}}}})
	if err != nil {
		t.Fatal(err)
	}
	full, err := marshal(filled())
	if err != nil {
		t.Fatal(err)
	}
	head, err := marshal(HeadOf(filled(), 3, 100))
	if err != nil {
		t.Fatal(err)
	}
	pair, err := marshal(&backup{Sessions: [][]byte{seal(kindSession, Version, small), seal(kindSession, Version, full)}, Damaged: [][]byte{small}, Records: [][]byte{seal(kindRecord, 1, small)}})
	if err != nil {
		t.Fatal(err)
	}
	seeds := [][]byte{small, small, full, head, pair}
	random := rand.New(rand.NewPCG(8, uint64(*mutants)))
	read, refused, most, slowest := 0, 0, 0, time.Duration(0)
	for range *mutants {
		b := mutate(random, seeds[random.IntN(len(seeds))], seeds[random.IntN(len(seeds))])
		k := []kind{kindSession, kindHead, kindBackup}[random.IntN(3)]
		file := seal(k, Version, b)
		if random.IntN(16) == 0 { // damage that the checksum sees
			file = mutate(random, file, full)
		}
		var s shot.Session
		var err error
		began := time.Now()
		n := allocated(plusBytes+timesBytes*len(file), func() {
			switch k {
			case kindSession:
				s, err = Decode(file)
			case kindHead:
				_, err = decodeHead(file)
			case kindBackup:
				_, err = decodeBackup(file)
			}
		})
		slowest = max(slowest, time.Since(began))
		if most = max(most, n); n > plusBytes+timesBytes*len(file) {
			t.Fatalf("%d bytes of memory for %d: %x", n, len(file), file)
		}
		switch {
		case err == nil:
			read++
			if k == kindSession {
				if _, err := Encode(s); err != nil {
					t.Fatalf("what was read cannot be written: %v: %x", err, file)
				}
			}
		case errors.Is(err, ErrDamaged), errors.Is(err, ErrNewer), errors.Is(err, ErrNoBackup):
			refused++
		default:
			t.Fatalf("an error without a meaning: %v: %x", err, file)
		}
	}
	t.Logf("%d damaged envelopes: %d refused, %d read; at most %d bytes of memory, the slowest %v", *mutants, refused, read, most, slowest)
	if refused == 0 || read == 0 {
		t.Error("all were taken alike: this tested nothing")
	}
}

// mutate returns b with one to four changes: bits, bytes, lengths, pieces.
func mutate(random *rand.Rand, b []byte, other []byte) []byte {
	b = slices.Clone(b)
	for range 1 + random.IntN(4) {
		if len(b) < 2 {
			return append(b, byte(random.Uint32()))
		}
		at := random.IntN(len(b))
		n := random.IntN(min(16, len(b)-at)) + 1
		switch random.IntN(8) {
		case 0, 1:
			b[at] ^= 1 << random.IntN(8)
		case 2:
			b[at] = byte(random.Uint32())
		case 3: // first bytes of lists, maps, texts, numbers
			b[at] = []byte{0x80, 0x81, 0x91, 0xc0, 0xc4, 0xcb, 0xdb, 0xdc, 0xdd, 0xde, 0xdf, 0xff}[random.IntN(12)]
		case 4:
			b = b[:at+1]
		case 5:
			b = slices.Insert(b, at, slices.Clone(b[at:at+n])...)
		case 6:
			b = slices.Delete(b, at, at+n)
		case 7:
			b = append(b[:at:at], other[random.IntN(len(other)):]...)
		}
	}
	return b
}
