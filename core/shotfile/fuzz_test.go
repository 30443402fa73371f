package shotfile

import (
	"math"
	"os"
	"testing"
	"time"

	"ferrule/core/export"
	"ferrule/core/shot"
	"ferrule/core/typed"
)

// short is the length to which the fuzzed input is cut: a header and a few
// rows. What a long file can do that a short one can't is held by
// TestMemoryIsBounded. [bytes]
const short = 192

// FuzzRead looks for bytes that make the reader panic, hang, or return what it
// must not. Seeds are the beginnings of the fixtures; what fuzzing found is kept
// in testdata/fuzz and read by every run of the tests. `make fuzz` runs it.
func FuzzRead(f *testing.F) {
	for _, seed := range []string{"Ball Speed (mph),Carry (yd)\n150,240\n", "[{\"carry_m\":200}]", "sep=;\nCarry;Side\n\"1.234,5\";12 R\n",
		"Shot ID,Sleeve,Ball\n1,up,x\n\"# ferrule session {}\"\n", "{\"ferrule\":\"session\",\"version\":1,\"session\":{}}",
		"Ball (mph)  Launch  Spin  Axis  Side\n150  12,5  2.600  3 L  12 R\n148  13,1  2.710  1 R  -\n"} {
		f.Add([]byte(seed))
	}
	files, _ := os.ReadDir(fixtures)
	for _, file := range files {
		if data, err := os.ReadFile(fixtures + file.Name()); err == nil && !file.IsDir() {
			f.Add(data[:min(len(data), short)])
		}
	}
	f.Add(workbook(map[string]string{"xl/worksheets/sheet1.xml": "<c r=\"A1\" t=\"str\"><v>Carry (m)</v></c><row/>"}))
	f.Fuzz(func(t *testing.T, data []byte) {
		data = data[:min(len(data), short)]
		// Long, because a fuzzer that gives way to others may wait for minutes.
		hang := time.AfterFunc(20*time.Minute, func() { panic("the reader hangs") })
		tab, err := Read("f", data, Options{})
		hang.Stop()
		if err != nil {
			if err.Error() == "" {
				t.Error("an error without a word")
			}
			return
		}
		if _, ours, _ := export.Read(data); !ours {
			sound(t, tab)
		}
	})
}

// sound checks what every table must hold: shots with ids of their own, finite
// values within limits, errors with words.
func sound(t *testing.T, tab shot.Table) {
	t.Helper()
	ids := map[string]bool{}
	for _, s := range tab.Shots {
		if ids[s.ID] {
			t.Errorf("id %q twice", s.ID)
		}
		ids[s.ID] = true
		for q, v := range s.Values {
			if _, known := shot.KindOf(q); !known || math.IsNaN(v) || math.IsInf(v, 0) {
				t.Errorf("%s = %v", q, v)
			}
			if lo, hi := typed.Limits(q); v < lo || v > hi {
				t.Errorf("%s = %v, limits %v to %v", q, v, lo, hi)
			}
		}
	}
	for _, e := range tab.Errors {
		if e.Message.Key == "" || e.Line < 0 {
			t.Errorf("error %+v", e)
		}
	}
}
