package jsontext

import (
	"bytes"
	"encoding/json"
	"math"
	"math/rand/v2"
	"strings"
	"testing"
)

type inner struct {
	Label string
	At    float64 `json:"at"`
}

type outer struct {
	Text   string
	On     bool `json:"on"`
	N      int
	U      uint16
	X      float64
	List   []string
	Parts  []inner
	Values map[string]float64
	Deep   map[string]map[string]inner
	One    *inner
}

func any1(r *rand.Rand) outer {
	texts := []string{"", "plain", "a \"quoted\" \\ one", "<b>&amp;</b>", "tab\tline\nfeed\r\b\f\x00\x1f\x7f", "日本語 ü é", "\u2028\u2029", "bad \xff\xc3 utf-8", "\uFFFD", "🙂"}
	text := func() string { return texts[r.IntN(len(texts))] + texts[r.IntN(len(texts))] }
	number := func() float64 {
		special := []float64{0, math.Copysign(0, -1), 1, -1.5, 1e-6, 9.99e-7, 1e-7, 1e21, 9.99e20, 1e22, math.MaxFloat64, math.SmallestNonzeroFloat64, 123456789, 1e-10, -1e-300}
		if r.IntN(2) == 0 {
			return special[r.IntN(len(special))]
		}
		for {
			if x := math.Float64frombits(r.Uint64()); x-x == 0 {
				return x
			}
		}
	}
	o := outer{Text: text(), On: r.IntN(2) == 0, N: int(r.Int64()) - 1<<62, U: uint16(r.Uint32()), X: number()}
	for range r.IntN(3) {
		o.List = append(o.List, text())
		o.Parts = append(o.Parts, inner{text(), number()})
	}
	switch r.IntN(3) {
	case 0:
		o.List, o.Values = []string{}, map[string]float64{}
	case 1:
		o.Values = map[string]float64{text(): number(), text(): number(), text(): number()}
		o.Deep = map[string]map[string]inner{text(): {text(): {text(), number()}}, text(): nil}
		o.One = &inner{text(), number()}
	}
	return o
}

// The bytes are those of encoding/json, of which the fingerprint of an import
// and the files that people have are made.
func TestTheSameBytesAsTheStandardLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	for range 5000 {
		v := any1(r)
		want, err := json.Marshal(v)
		if err != nil {
			t.Fatal(err)
		}
		if got, err := Marshal(v); err != nil || !bytes.Equal(got, want) {
			t.Fatalf("%v\n%s\nwant\n%s", err, got, want)
		}
		want, _ = json.MarshalIndent(&v, "", " ")
		if got, err := MarshalIndent(&v, " "); err != nil || !bytes.Equal(got, want) {
			t.Fatalf("%v\n%s\nwant\n%s", err, got, want)
		}
	}
}

func TestWhatIsNotWritten(t *testing.T) {
	for name, v := range map[string]any{
		"NaN": math.NaN(), "Inf": []float64{1, math.Inf(-1)}, "interface": []any{1}, "func": TestWhatIsNotWritten,
		"bytes": []byte("x"), "array": [2]int{}, "key": map[int]string{1: "x"}, "nothing": nil,
		"embedded": struct{ inner }{}, "option": struct {
			X int `json:"x,omitempty"`
		}{}, "hidden": struct{ x int }{},
	} {
		if got, err := Marshal(v); err == nil {
			t.Errorf("%s: no error for %s", name, got)
		} else if strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: %v", name, err)
		}
	}
}
