package share

import (
	"errors"
	"flag"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"ferrule/core/chart/charttest"
)

// Go's own fuzzer is guided by what code an input reaches, and slow by it;
// these mutants are blind and many. Both run under `make fuzz`.
var mutants = flag.Int("mutants", 20_000, "how many damaged links TestMutants opens")

// mutate returns b with one to four changes: bits, bytes, lengths, pieces.
func mutate(random *rand.Rand, b []byte, other []byte) []byte {
	b = append([]byte(nil), b...)
	for range 1 + random.IntN(4) {
		if len(b) < 2 {
			return append(b, byte(random.Uint32()))
		}
		at := random.IntN(len(b))
		switch random.IntN(8) {
		case 0, 1:
			b[at] ^= 1 << random.IntN(8)
		case 2:
			b[at] = byte(random.Uint32())
		case 3:
			b[at] = []byte{0, 1, 0x7f, 0x80, 0xff}[random.IntN(5)]
		case 4:
			b = b[:at+1]
		case 5: // a piece of itself once more
			n := random.IntN(min(16, len(b)-at)) + 1
			b = append(b[:at:at], append(append([]byte(nil), b[at:at+n]...), b[at:]...)...)
		case 6: // a piece missing
			n := random.IntN(min(16, len(b)-at)) + 1
			b = append(b[:at:at], b[at+n:]...)
		case 7: // the rest of another one
			b = append(b[:at:at], other[random.IntN(len(other)):]...)
		}
	}
	return b
}

// TestMutants opens damaged links, under a true checksum so that the damage
// reaches every reader: no panic, bounded memory, and what opens can be packed
// and opened again.
func TestMutants(t *testing.T) {
	r := charttest.Report()
	seeds := [][]byte{{Version, 0x55, 0xaa, 0xff, 0x12}}
	files, err := filepath.Glob("../../testdata/share/v*.txt")
	if err != nil || len(files) == 0 {
		t.Fatal("no golden links:", err)
	}
	texts := []string{encode(t, invented(5), &r, Options{Names: true}), encode(t, invented(1), nil, Options{})}
	for _, f := range files {
		raw, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		texts = append(texts, strings.TrimSpace(string(raw)))
	}
	for _, text := range texts {
		raw, err := encoding.DecodeString(text)
		if err != nil {
			t.Fatal(err)
		}
		seeds = append(seeds, raw[:len(raw)-4])
	}
	random := rand.New(rand.NewPCG(8, uint64(*mutants)))
	opened, refused, most, slowest := 0, 0, uint64(0), time.Duration(0)
	for range *mutants {
		b := mutate(random, seeds[random.IntN(len(seeds))], seeds[random.IntN(len(seeds))])
		text := seal(b)
		if random.IntN(16) == 0 { // damage that the checksum sees
			text = string(mutate(random, []byte(text), []byte(texts[0])))
		}
		var l Link
		var err error
		began := time.Now()
		n := allocated(func() { l, err = Decode(text) })
		slowest = max(slowest, time.Since(began))
		if most = max(most, n); n > maxAllocated {
			t.Fatalf("%d bytes of memory for %q", n, text)
		}
		switch {
		case err == nil:
			opened++
			if opened%16 == 0 {
				if _, err := Encode(l.Session, nil, Options{Names: true}); err != nil {
					t.Fatalf("what was read cannot be packed: %v: %q", err, text)
				}
			}
		case errors.Is(err, errDamaged), errors.Is(err, errNewer):
			refused++
		default:
			t.Fatalf("an error without a meaning: %v: %q", err, text)
		}
	}
	t.Logf("%d damaged links: %d refused, %d opened as something else; at most %d bytes of memory, the slowest %v", *mutants, refused, opened, most, slowest)
	if refused == 0 || opened == 0 {
		t.Error("all were taken alike: this tested nothing")
	}
}
