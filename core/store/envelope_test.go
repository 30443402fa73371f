package store

import (
	"bytes"
	"encoding/binary"
	"encoding/hex"
	"encoding/json"
	"errors"
	"flag"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"reflect"
	"runtime/metrics"
	"sort"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
)

// -update writes the golden blob of the present version, and the list of
// fields. Blobs of earlier versions are never rewritten.
var update = flag.Bool("update", false, "write the goldens of the present version")

const goldens = "../../testdata/store"

// filled is a session with every field set, made by reflection so that a new
// field cannot be forgotten.
func filled() shot.Session {
	var s shot.Session
	n := 0
	fill(reflect.ValueOf(&s).Elem(), &n)
	s.ID = "golden"
	*s.Aim.Reaim, s.Adopted.Chance = .5, .75 // shares
	return s
}

func fill(v reflect.Value, n *int) {
	*n++
	switch v.Kind() {
	case reflect.String:
		v.SetString("text " + strconv.Itoa(*n))
	case reflect.Bool:
		v.SetBool(true)
	case reflect.Int, reflect.Int64:
		v.SetInt(int64(*n))
	case reflect.Uint8, reflect.Uint64:
		v.SetUint(uint64(*n % 200))
	case reflect.Float64:
		v.SetFloat(float64(*n) / 8)
	case reflect.Pointer:
		v.Set(reflect.New(v.Type().Elem()))
		fill(v.Elem(), n)
	case reflect.Slice:
		v.Set(reflect.MakeSlice(v.Type(), 2, 2))
		for i := range v.Len() {
			fill(v.Index(i), n)
		}
	case reflect.Map:
		v.Set(reflect.MakeMap(v.Type()))
		for range 2 {
			key, val := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
			fill(key, n)
			fill(val, n)
			v.SetMapIndex(key, val)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			fill(v.Field(i), n)
		}
	default:
		panic("fill cannot make a " + v.Type().String())
	}
}

// fields lists the paths of everything that a session stores.
func fields(t reflect.Type, path string, out *[]string) {
	switch t.Kind() {
	case reflect.Struct:
		for i := range t.NumField() {
			f := t.Field(i)
			fields(f.Type, path+"."+f.Name, out)
		}
	case reflect.Pointer, reflect.Slice:
		fields(t.Elem(), path, out)
	case reflect.Map:
		fields(t.Elem(), path+"[]", out)
	default:
		*out = append(*out, strings.TrimPrefix(path, ".")+" "+t.Kind().String())
	}
}

func golden(t *testing.T, name string, made []byte) []byte {
	t.Helper()
	path := filepath.Join(goldens, name)
	if *update {
		if err := os.WriteFile(path, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatalf("%v (run with -update once, and look at what it wrote)", err)
	}
	return data
}

// Every version that was ever written has a blob that is kept.
func TestEveryVersionHasItsBlob(t *testing.T) {
	for v := 1; v <= Version; v++ {
		kept, err := filepath.Glob(filepath.Join(goldens, fmt.Sprintf("session-v%d*.hex", v)))
		if err != nil || len(kept) == 0 {
			t.Errorf("version %d has no blob in %s (%v)", v, goldens, err)
		}
	}
}

// A stored field is a promise: it may be added to, never renamed, retyped or
// taken away, for then old sessions would lose it silently.
func TestStoredFieldsAreOnlyAddedTo(t *testing.T) {
	var now []string
	fields(reflect.TypeFor[shot.Session](), "", &now)
	sort.Strings(now)
	text := strings.Join(now, "\n") + "\n"
	was := golden(t, "fields.txt", []byte(text))
	have := map[string]bool{}
	for _, f := range now {
		have[f] = true
	}
	known := 0
	for f := range strings.Lines(string(was)) {
		if f = strings.TrimSpace(f); f == "" {
			continue
		}
		known++
		if !have[f] {
			t.Errorf("stored field %q is gone or has another type: decode the old name too, under a new version", f)
		}
	}
	if known != len(now) {
		t.Errorf("there are %d stored fields, the list has %d: add the new ones with -update and a new golden blob", len(now), known)
	}
}

// Every blob that a released version wrote is read to the same session.
func TestGoldenBlobsAreReadForEver(t *testing.T) {
	if *update {
		s := filled()
		blob, err := Encode(s)
		if err != nil {
			t.Fatal(err)
		}
		text, err := json.MarshalIndent(s, "", " ")
		if err != nil {
			t.Fatal(err)
		}
		name := "session-v" + strconv.Itoa(Version)
		golden(t, name+".hex", []byte(wrapped(blob)))
		golden(t, name+".json", append(text, '\n'))
	}
	names, err := filepath.Glob(filepath.Join(goldens, "session-v*.hex"))
	if err != nil || len(names) < Version {
		t.Fatalf("%d golden blobs, want one of each version up to %d at least: %v", len(names), Version, err)
	}
	for _, name := range names {
		text, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		blob, err := hex.DecodeString(strings.Join(strings.Fields(string(text)), ""))
		if err != nil {
			t.Fatal(err)
		}
		got, err := Decode(blob)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		raw, err := os.ReadFile(strings.TrimSuffix(name, ".hex") + ".json")
		if err != nil {
			t.Fatal(err)
		}
		var want shot.Session
		if err := json.Unmarshal(raw, &want); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%s is read as\n%+v\nwant\n%+v", name, got, want)
		}
	}
}

func wrapped(b []byte) string {
	var out strings.Builder
	for s := hex.EncodeToString(b); len(s) > 0; {
		n := min(96, len(s))
		out.WriteString(s[:n] + "\n")
		s = s[n:]
	}
	return out.String()
}

func TestEveryFieldComesBack(t *testing.T) {
	for name, s := range map[string]shot.Session{"filled": filled(), "empty": {}, "zero values that were measured": {Shots: []shot.Shot{{Values: shot.Values{shot.Offline: 0}}},
		Player: shot.Player{Hand: frame.Left, Handicap: new(float64)}, Head: club.Head{MeasuredLoft: new(float64)}}} {
		t.Run(name, func(t *testing.T) {
			blob, err := Encode(s)
			if err != nil {
				t.Fatal(err)
			}
			got, err := Decode(blob)
			if err != nil || !reflect.DeepEqual(got, s) {
				t.Errorf("%v\ngot  %+v\nwant %+v", err, got, s)
			}
		})
	}
}

// A later version may store fields that this one does not know.
func TestUnknownFieldsAreSkipped(t *testing.T) {
	payload, err := marshal(map[string]any{"ID": "a", "Mood": map[string]any{"deep": []int{1, 2}}, "Title": "t"})
	if err != nil {
		t.Fatal(err)
	}
	s, err := Decode(seal(kindSession, Version, payload))
	if err != nil || s.ID != "a" || s.Title != "t" {
		t.Errorf("Decode = %+v, %v", s, err)
	}
}

// Whatever single byte is changed, by whatever bits, the blob is damaged.
func TestAFlippedByteIsSeenWhereverItIs(t *testing.T) {
	blob, err := Encode(filled())
	if err != nil {
		t.Fatal(err)
	}
	for at := range blob {
		for _, bits := range []byte{1, 2, 4, 8, 16, 32, 64, 128, 0xff, 0x55} {
			bad := bytes.Clone(blob)
			bad[at] ^= bits
			if _, err := Decode(bad); !errors.Is(err, ErrDamaged) {
				t.Fatalf("byte %d of %d changed by %#x: %v, want ErrDamaged", at, len(blob), bits, err)
			}
		}
	}
	for cut := range blob {
		if _, err := Decode(blob[:cut]); !errors.Is(err, ErrDamaged) {
			t.Fatalf("cut to %d bytes: %v, want ErrDamaged", cut, err)
		}
	}
	if _, err := Decode(append(bytes.Clone(blob), 0)); !errors.Is(err, ErrDamaged) {
		t.Errorf("a byte more: %v, want ErrDamaged", err)
	}
	if _, err := Decode(seal(kindSession, Version+1, blob[headerSize:])); !errors.Is(err, ErrNewer) || errors.Is(err, ErrDamaged) {
		t.Errorf("a newer blob: %v, want ErrNewer", err)
	}
}

// Lengths that lie, and depth without end, take neither memory nor stack.
func TestShapesThatLie(t *testing.T) {
	for name, payload := range map[string][]byte{
		"nothing":                       {},
		"list of 4 billion":             {0xdd, 0xff, 0xff, 0xff, 0xff},
		"map of 4 billion":              {0xdf, 0xff, 0xff, 0xff, 0xff},
		"text of 4 billion":             {0xdb, 0xff, 0xff, 0xff, 0xff},
		"a million lists in each other": bytes.Repeat([]byte{0x91}, 1<<20),
		"a million maps in each other":  bytes.Repeat([]byte{0x81, 0xa0}, 1<<20),
		"two values":                    {0xc0, 0xc0},
		"an extension":                  {0xd4, 1, 1},
		"the unused byte":               {0xc1},
		"a length cut short":            {0xda, 1},
		"a number cut short":            {0xcb, 1, 2},
		"a million empty balls":         swarm(0x80, 1<<20),
		"a million empty lists":         swarm(0x90, 1<<20),
		"a million long empty maps":     swarm(0xdf, 1<<20),
	} {
		t.Run(name, func(t *testing.T) {
			if err := wellFormed(payload); err == nil {
				t.Error("taken as well-formed")
			}
			if _, err := Decode(seal(kindSession, Version, payload)); !errors.Is(err, ErrDamaged) {
				t.Errorf("%v, want ErrDamaged", err)
			}
		})
	}
	for _, v := range []any{nil, true, -1, 1 << 40, 1.5, "", strings.Repeat("x", 70000), []byte{1}, []int{}, make([]int, 70000), map[string]int{"a": 1}} {
		payload, err := marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if err := wellFormed(payload); err != nil {
			t.Errorf("%T of %d bytes: %v", v, len(payload), err)
		}
	}
}

// swarm is a session of n balls that are all the one byte c, or for a map with
// a length of four bytes that map.
func swarm(c byte, n int) []byte {
	one := []byte{c}
	if c == 0xdf {
		one = append(one, 0, 0, 0, 0)
	}
	head := append([]byte{0x81, 0xa5}, "Shots"...)
	head = binary.BigEndian.AppendUint32(append(head, 0xdd), uint32(n))
	return append(head, bytes.Repeat(one, n)...)
}

// Whatever a blob's bytes mean, reading it takes at most a fixed multiple of
// their number.
const (
	timesBytes = 80
	plusBytes  = 1 << 20
)

// allocated is how much heap f takes, freed or not [bytes]. What other
// goroutines take at the same time counts too (a fuzzing engine has some), so
// f runs up to four times until it stays below enough, and the least counts.
func allocated(enough int, f func()) int {
	s := []metrics.Sample{{Name: "/gc/heap/allocs:bytes"}}
	least := math.MaxInt
	for range 4 {
		metrics.Read(s)
		before := s[0].Value.Uint64()
		f()
		metrics.Read(s)
		if least = min(least, int(s[0].Value.Uint64()-before)); least <= enough {
			break
		}
	}
	return least
}

func TestReadingTakesBoundedMemory(t *testing.T) {
	ball := append([]byte{0xc4, 40}, make([]byte, 40)...)
	most := 0.0
	for name, payload := range map[string][]byte{
		"balls with a padded field each": append(swarm(0, 0)[:7], list(60_000, append([]byte{0x81, 0xa1, 'x'}, ball...))...),
		"balls as small as may be":       append(swarm(0, 0)[:7], append(list(100_000, []byte{0x80}), 0)...)[:100_012],
		"empty balls after a long text":  append(append([]byte{0x82, 0xa1, 'x', 0xdb, 0, 9, 0x27, 0xc0}, make([]byte, 600_000)...), append(swarm(0, 0)[1:7], list(100_000, []byte{0x80})...)...),
		"labels without letters":         append(append([]byte{0x81, 0xa4}, "Head"...), append(append([]byte{0x81, 0xa6}, "Sleeve"...), append(append([]byte{0x81, 0xa6}, "Labels"...), list(1_000_000, []byte{0xa0})...)...)...),
		"ten thousand balls":             honest(t, 10_000),
	} {
		n := allocated(plusBytes+timesBytes*len(payload), func() { _, _ = Decode(seal(kindSession, Version, payload)) })
		most = max(most, float64(n)/float64(len(payload)))
		t.Logf("%s: %d bytes take %d", name, len(payload), n)
		if n > plusBytes+timesBytes*len(payload) {
			t.Errorf("%s: %d bytes take %d to read, more than %d times as many", name, len(payload), n, timesBytes)
		}
	}
	if most < 2 {
		t.Errorf("at most %.1f times the bytes: this tested nothing", most)
	}
}

func list(n int, one []byte) []byte {
	return append(binary.BigEndian.AppendUint32([]byte{0xdd}, uint32(n)), bytes.Repeat(one, n)...)
}

func honest(t *testing.T, n int) []byte {
	s := filled()
	one := s.Shots[0]
	s.Shots = nil
	for range n {
		s.Shots = append(s.Shots, one)
	}
	payload, err := marshal(&s)
	if err != nil {
		t.Fatal(err)
	}
	if err := wellFormed(payload); err != nil {
		t.Errorf("%d honest balls: %v", n, err)
	}
	return payload
}

func TestADamagedBackupGivesWhatIsWhole(t *testing.T) {
	var b backup
	for _, id := range []string{"a", "b", "c"} {
		blob, err := Encode(shot.Session{ID: id, Title: "session " + id})
		if err != nil {
			t.Fatal(err)
		}
		b.Sessions = append(b.Sessions, blob)
	}
	file, err := encodeBackup(b)
	if err != nil {
		t.Fatal(err)
	}
	random := rand.New(rand.NewPCG(1, 2))
	for range 2000 {
		bad := bytes.Clone(file)
		bad[5+random.IntN(len(bad)-5)] ^= byte(1 + random.IntN(255))
		got, err := decodeBackup(bad)
		if err != nil || len(got.Sessions) < 2 || len(got.Damaged) != 1 {
			t.Fatalf("%d sessions, %d damaged, %v: want all but the one that was hit", len(got.Sessions), len(got.Damaged), err)
		}
	}
}

// FuzzDecode: no bytes make Decode panic, and what it takes it can write again.
func FuzzDecode(f *testing.F) {
	blob, err := Encode(filled())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(blob)
	f.Add([]byte(magic))
	f.Fuzz(func(t *testing.T, b []byte) {
		var s shot.Session
		var err error
		if n := allocated(plusBytes+timesBytes*len(b), func() { s, err = Decode(b) }); n > plusBytes+timesBytes*len(b) {
			t.Fatalf("%d bytes of memory for %d", n, len(b))
		}
		if err == nil {
			if _, err := Encode(s); err != nil {
				t.Fatalf("what was read cannot be written: %v", err)
			}
		} else if !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNewer) {
			t.Fatalf("an error without a meaning: %v", err)
		}
	})
}

// FuzzPayload goes past the checksum, which random bytes never do.
func FuzzPayload(f *testing.F) {
	payload, err := marshal(filled())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(payload)
	f.Fuzz(func(t *testing.T, payload []byte) {
		for _, k := range []kind{kindSession, kindHead} {
			file := seal(k, Version, payload)
			n := allocated(plusBytes+timesBytes*len(file), func() {
				if k == kindHead {
					_, err = decodeHead(file)
				} else {
					_, err = Decode(file)
				}
			})
			if n > plusBytes+timesBytes*len(file) {
				t.Fatalf("%d bytes of memory for %d", n, len(file))
			}
			if err != nil && !errors.Is(err, ErrDamaged) {
				t.Fatalf("an error without a meaning: %v", err)
			}
		}
		if _, err := decodeBackup(seal(kindBackup, Version, payload)); err != nil {
			t.Fatalf("a backup whose checksum is right: %v", err)
		}
	})
}

// A long session is written in pieces, to the same bytes as a short one in one;
// what is wrong in a late piece is named where it stands in the whole.
func TestALongSessionIsWrittenInPieces(t *testing.T) {
	s := shot.Session{ID: "a"}
	for i := range 4321 {
		s.Shots = append(s.Shots, shot.Shot{ID: strconv.Itoa(i), Values: shot.Values{shot.Carry: 200 + float64(i)/100}})
	}
	pauses := 0
	got, err := encode(s, func() { pauses++ })
	want, err2 := Encode(s)
	if err != nil || err2 != nil || !bytes.Equal(got, want) {
		t.Errorf("%d bytes in pieces, %d at once (%v, %v)", len(got), len(want), err, err2)
	}
	if least := len(s.Shots)/some + len(want)/(80<<10); pauses < least {
		t.Errorf("%d pauses, want %d at least", pauses, least)
	}
	pauses = 0
	if _, err := encode(filled(), func() { pauses++ }); err != nil || pauses > 0 {
		t.Errorf("a short session: %d pauses (%v)", pauses, err)
	}
	s.Shots[4000].Values[shot.Carry] = math.NaN()
	if _, err := encode(s, func() {}); err == nil || !strings.Contains(err.Error(), "Shots[4000]") {
		t.Errorf("a ball without a number far behind: %v", err)
	}
	s.Shots = make([]shot.Shot, shot.MaxShots+1)
	if _, err := encode(s, func() {}); !errors.Is(err, errTooBig) {
		t.Errorf("too many balls: %v", err)
	}
}
