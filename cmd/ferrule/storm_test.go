//go:build linux

package main

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"encoding/hex"
	"flag"
	"fmt"
	"hash/crc32"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"runtime"
	"runtime/metrics"
	"sort"
	"strings"
	"syscall"
	"testing"
	"time"

	"ferrule/core/club"
	"ferrule/core/pipeline"
	"ferrule/core/record"
	"ferrule/core/shot"
	"ferrule/core/shotfile"
	"ferrule/core/store"
)

// -inputs 10000000 is what is published; -inputs-from sets another seed.
var (
	inputs     = flag.Int("inputs", 20_000, "how many damaged inputs are handed to everything that decodes what comes in")
	inputsFrom = flag.Uint64("inputs-from", 1, "their seed")
)

// What one input may take. A thread's own time, for others use the machine too.
const (
	longestInput = time.Second
	inputBytes   = 128 << 20
)

// door is a kind of thing that comes from outside.
type door struct {
	open  func(b []byte) error
	reset func(b []byte) []byte // gives it the checksum that lets damage through to the readers; nil = it has none
	seeds [][]byte
	every int // of how many inputs one may be of this kind; 0 = any: reading a file takes a thousand times longer than refusing a link
}

// TestDamagedInputs damages real sessions, backups, links, records, clubs, aims
// and files at random and hands them to what reads them: no panic, none over a
// second or 128 MB. Half of what has a checksum gets a right one.
func TestDamagedInputs(t *testing.T) {
	doors := everyDoor(t)
	names := make([]string, 0, len(doors))
	for n := range doors {
		names = append(names, n)
	}
	sort.Strings(names)
	runtime.LockOSThread()
	defer runtime.UnlockOSThread()
	random := rand.New(rand.NewPCG(*inputsFrom, 21))
	tried, taken := map[string]int{}, map[string]int{}
	var slowest time.Duration
	var most, batch uint64
	what := ""
	defer func() {
		if p := recover(); p != nil {
			t.Fatalf("a panic: %v\n%s", p, what)
		}
	}()
	before, held := spent(), allocatedSoFar()
	for n := range *inputs {
		name := names[random.IntN(len(names))]
		d := doors[name]
		if d.every > 1 && n%d.every > 0 {
			name = "link"
			d = doors[name]
		}
		b := damaged(random, d.seeds)
		if d.reset != nil && random.IntN(2) == 0 {
			b = d.reset(b)
		}
		what = fmt.Sprintf("%s %q", name, b[:min(len(b), 4000)])
		tried[name]++
		if d.open(b) == nil {
			taken[name]++
		}
		now := spent()
		if took := now - before; took > slowest {
			if slowest = took; took > longestInput {
				t.Errorf("%v for %s", took, what)
			}
		}
		before = now
		if n%16 == 15 { // the runtime is slow to say; sixteen together are within what one may take
			all := allocatedSoFar()
			if batch = all - held; batch > most {
				if most = batch; batch > inputBytes {
					t.Errorf("%d bytes for sixteen inputs, the last %s", batch, what)
				}
			}
			held = all
		}
	}
	t.Logf("%d inputs, no panic: the longest took %.3f s of the processor's time, the most memory of 16 together %.1f MB", *inputs, slowest.Seconds(), float64(most)/1e6)
	for _, n := range names {
		t.Logf("%-8s %9d inputs, %8d of them taken", n, tried[n], taken[n])
		if *inputs >= 20_000 && (tried[n] == 0 || taken[n] == 0 || taken[n] == tried[n]) {
			t.Errorf("%s: %d of %d taken: this tests nothing", n, taken[n], tried[n])
		}
	}
}

// spent is the time that this thread has computed.
func spent() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(1, &u) != nil { // RUSAGE_THREAD
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}

func allocatedSoFar() uint64 {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	metrics.Read(s)
	return s[0].Value.Uint64()
}

// damaged is one of the seeds with some bytes changed, lost, doubled or taken from another.
func damaged(random *rand.Rand, seeds [][]byte) []byte {
	b := bytes.Clone(seeds[random.IntN(len(seeds))])
	for range 1 + random.IntN(4) {
		if len(b) == 0 {
			return b
		}
		at := random.IntN(len(b))
		to := min(len(b), at+1+random.IntN(1+random.IntN(64)))
		switch random.IntN(7) {
		case 0:
			b[at] ^= 1 << random.IntN(8)
		case 1:
			b[at] = byte(random.Uint32())
		case 2:
			b[at] = []byte{0, 0x7f, 0x80, 0xff, 0xdf, 0xdd, 0xc6, '"', ',', '9', '-', '[', '{'}[random.IntN(13)]
		case 3:
			b = append(b[:at], b[to:]...)
		case 4:
			b = append(b[:to:to], b[at:]...)
		case 5:
			o := seeds[random.IntN(len(seeds))]
			from := random.IntN(len(o))
			copy(b[at:], o[from:min(len(o), from+to-at)])
		default:
			for i := at; i+4 <= min(len(b), at+4); i += 4 {
				binary.BigEndian.PutUint32(b[i:], random.Uint32())
			}
		}
	}
	if random.IntN(16) == 0 {
		b = b[:random.IntN(len(b)+1)]
	}
	return b
}

// everyDoor is all that decodes what comes from outside, each with real things.
func everyDoor(t *testing.T) map[string]door {
	read := func(path string) []byte {
		b, err := os.ReadFile(filepath.Join("../../testdata", path))
		if err != nil {
			t.Fatal(err)
		}
		return b
	}
	all := func(pattern string, most int) (out [][]byte) {
		paths, _ := filepath.Glob(filepath.Join("../../testdata", pattern))
		for _, p := range paths {
			if b, err := os.ReadFile(p); err == nil && len(b) > 0 && len(b) < most {
				out = append(out, b)
			}
		}
		if len(out) == 0 {
			t.Fatalf("nothing is as %s", pattern)
		}
		return out
	}
	s, err := pipeline.Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	s.Shots = s.Shots[:6]
	blob, err := store.Encode(s)
	if err != nil {
		t.Fatal(err)
	}
	sum := base64.RawURLEncoding
	var links [][]byte
	for _, l := range all("share/*.txt", 1<<16) {
		body, err := sum.DecodeString(strings.TrimSpace(string(l)))
		if err != nil || len(body) < 5 {
			t.Fatalf("no link: %v", err)
		}
		links = append(links, body[:len(body)-4])
	}
	r := record.New(s.Head)
	rec, err := r.Encode()
	if err != nil {
		t.Fatal(err)
	}
	quiet := streams{out: io.Discard, err: io.Discard}
	ours := func(b []byte) error { _, err := ownSession(b, quiet); return err }
	kept := [][]byte{blob}
	for _, l := range all("store/*.hex", 1<<16) {
		b, err := hex.DecodeString(strings.Join(strings.Fields(string(l)), ""))
		if err != nil {
			t.Fatal(err)
		}
		kept = append(kept, b)
	}
	return map[string]door{
		"store": {open: func(b []byte) error { _, err := store.Contents(b); return err }, seeds: kept, reset: func(b []byte) []byte {
			if len(b) > 15 {
				binary.BigEndian.PutUint32(b[7:], uint32(len(b)-15))
				h := crc32.NewIEEE()
				h.Write(b[4:11])
				h.Write(b[15:])
				binary.BigEndian.PutUint32(b[11:], h.Sum32())
			}
			return b
		}},
		"link": {open: func(b []byte) error { return ours(append([]byte("https://x/#s="), b...)) }, seeds: links, reset: func(b []byte) []byte {
			return []byte(sum.EncodeToString(binary.LittleEndian.AppendUint32(b, crc32.ChecksumIEEE(b))))
		}},
		"record": {open: func(b []byte) error { _, err := record.Decode(b); return err }, seeds: [][]byte{rec}, reset: func(b []byte) []byte {
			if len(b) > 9 {
				h := crc32.NewIEEE()
				h.Write(b[4:5])
				h.Write(b[9:])
				binary.BigEndian.PutUint32(b[5:], h.Sum32())
			}
			return b
		}},
		"export": {open: ours, seeds: all("export/v*", 1<<15), every: 20},
		"club": {open: func(b []byte) error {
			list, _, err := club.ListFromJSON(b)
			if err == nil {
				for _, h := range list {
					_ = h.Settings()
				}
			}
			return err
		}, seeds: [][]byte{read("demo/club.json")}},
		"aim": {open: func(b []byte) error { var s shot.Session; return s.AimFromJSON(b) }, seeds: [][]byte{read("demo/aim.json"), read("demo/aim-left.json")}},
		"file": {open: func(b []byte) error {
			tab, err := shotfile.Read("f", b, shotfile.Options{})
			if err == nil && len(tab.Errors) > 0 {
				err = &tab.Errors[0].Message
			}
			return err
		}, seeds: all("shotfile/*.*", 1500), every: 100},
	}
}
