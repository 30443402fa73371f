package share

import (
	"math"
	"math/rand/v2"
	"runtime/metrics"
	"testing"

	"ferrule/core/chart/charttest"
	"ferrule/core/shot"
)

// maxAllocated bounds what opening a link may allocate in all, freed or not,
// whatever the link says. It leaves room for maxShots balls with every column,
// each a map of some kilobytes. [bytes]
const maxAllocated = 32 << 20

// allocated is how much heap f takes, freed or not [bytes]. What other
// goroutines take at the same time counts too (a fuzzing engine has some), so
// f runs up to four times until it stays below the bound, and the least counts.
func allocated(f func()) uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	least := uint64(math.MaxUint64)
	for range 4 {
		metrics.Read(s)
		before := s[0].Value.Uint64()
		f()
		metrics.Read(s)
		if least = min(least, s[0].Value.Uint64()-before); least <= maxAllocated {
			break
		}
	}
	return least
}

// Links that count more than they hold, random ones of the greatest length and
// the largest honest one are opened or refused within the bound.
func TestOpeningTakesBoundedMemory(t *testing.T) {
	r := charttest.Report()
	random := rand.New(rand.NewPCG(8, 2))
	noise := func(n int, of func() byte) []byte {
		b := make([]byte, n)
		for i := range b {
			b[i] = of()
		}
		b[0], b[1] = Version, 0 // no names, no summary: the rest is the session
		return b
	}
	longest := maxLink*3/4 - 8
	bodies := map[string][]byte{
		"zeros": noise(longest, func() byte { return 0 }),
		"ones":  noise(longest, func() byte { return 0xff }),
	}
	for _, n := range []int{8, 64, 1024, longest} {
		for range 100 {
			bodies[string(rune('a'+len(bodies)))] = noise(n, func() byte { return byte(random.Uint32()) })
		}
	}
	honest, err := encoding.DecodeString(encode(t, many(maxShots), &r, Options{}))
	if err != nil {
		t.Fatal(err)
	}
	honest = honest[:len(honest)-4]
	bodies["honest"] = honest
	for range 300 { // and each with damage under a true checksum
		b := append([]byte(nil), honest...)
		for range 1 + random.IntN(4) {
			b[1+random.IntN(len(b)-1)] ^= byte(1 + random.IntN(255))
		}
		bodies["damaged "+string(rune(len(bodies)))] = b
	}
	most, opened := uint64(0), 0
	for name, b := range bodies {
		text := seal(b)
		n := allocated(func() {
			if _, err := Decode(text); err == nil {
				opened++
			}
		})
		most = max(most, n)
		if n > maxAllocated {
			t.Errorf("%q (%d bytes) takes %d bytes to open, at most %d", name, len(b), n, maxAllocated)
		}
	}
	t.Logf("%d links, %d of them opened; the greediest took %d bytes", len(bodies), opened, most)
	if opened == 0 || most < 1<<20 {
		t.Error("nothing of size was opened: this tested nothing")
	}
}

// many are n balls that all carry the same few numbers, so that they fit into
// a link at all.
func many(n int) shot.Session {
	s := invented(0)
	x := invented(1).Shots[0]
	for i := range n {
		s.Shots = append(s.Shots, shot.Shot{ID: shotID(i), Setting: x.Setting, Values: x.Values})
	}
	return s
}
