package club

import (
	"fmt"
	"math"
	"reflect"
	"strings"
)

// Bounds of what is taken in at all, complete or half typed: far above any club
// and any session, and low enough that no list made of it freezes a page.
// Validate says what a club must be; these only say what costs too much.
const (
	mostParts  = 400       // of any list or map that most does not name
	mostText   = 20_000    // [bytes] of any text
	mostNumber = 1e12      // of any number, in SI
	mostDepth  = 12        // of values inside each other; a session has 6
	mostErrors = 5         // a hostile file is wrong ten thousand times
	mostLabels = 72*72 + 1 // of a sleeve with two rings
)

// Bounded walks v, a value of plain fields, and checks what comes from a file,
// a link, a store or another program before anything is listed or drawn: lists
// and maps have at most the length that most names for their field (400 if
// none), texts are no longer than 20,000 bytes, numbers are numbers. It returns
// nil or FieldErrors, each at its field: "Head.Weights[2].Stops". Fields that
// are added later are walked like all others.
func Bounded(v any, most map[string]int) error {
	b := bounder{most: most}
	b.walk(reflect.ValueOf(v), 0)
	if len(b.errs) > 0 {
		return b.errs
	}
	return nil
}

// bounder walks a value. Where it is, it only writes out for an error: thousands
// of balls are walked for nothing else.
type bounder struct {
	checker
	most map[string]int
	path []place
}

// place is a step of the way to a value: a field, or an element of a list.
type place struct {
	name string // of a field or, quoted, a key of a map; empty = an element
	at   int
	key  bool
}

// field is where the walk stands, bare without numbers and keys.
func (b *bounder) field(bare bool) string {
	var out strings.Builder
	for _, p := range b.path {
		switch {
		case p.name == "" || p.key:
			if bare {
				continue
			}
			if p.key {
				fmt.Fprintf(&out, "[%.40q]", p.name)
			} else {
				fmt.Fprintf(&out, "[%d]", p.at)
			}
		default:
			if out.Len() > 0 {
				out.WriteByte('.')
			}
			out.WriteString(p.name)
		}
	}
	return out.String()
}

func (b *bounder) into(p place, v reflect.Value, depth int) {
	b.path = append(b.path, p)
	b.walk(v, depth)
	b.path = b.path[:len(b.path)-1]
}

func (b *bounder) walk(v reflect.Value, depth int) {
	if len(b.errs) >= mostErrors {
		return
	}
	if depth > mostDepth {
		b.add(b.field(false), "read values more than %d deep, expected fewer", mostDepth)
		return
	}
	switch v.Kind() {
	case reflect.String:
		if n := v.Len(); n > mostText {
			b.add(b.field(false), "read a text of %d bytes, expected at most %d", n, mostText)
		}
	case reflect.Float64, reflect.Float32:
		if x := v.Float(); math.IsNaN(x) || math.Abs(x) > mostNumber {
			b.add(b.field(false), "read %g, expected a number that can be measured", x)
		}
	case reflect.Pointer:
		if !v.IsNil() {
			b.walk(v.Elem(), depth)
		}
	case reflect.Struct:
		for i := range v.NumField() {
			b.into(place{name: v.Type().Field(i).Name}, v.Field(i), depth+1)
		}
	case reflect.Slice:
		if !b.few(v) {
			return
		}
		for i := range v.Len() {
			b.into(place{at: i}, v.Index(i), depth+1)
		}
	case reflect.Map:
		if v.Len() == 0 || !b.few(v) {
			return
		}
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		for it := v.MapRange(); it.Next(); {
			key.SetIterKey(it)
			value.SetIterValue(it)
			b.walk(key, depth+1)
			b.into(place{name: key.String(), key: true}, value, depth+1)
		}
	}
}

func (b *bounder) few(v reflect.Value) bool {
	n := v.Len()
	if n <= 2 { // no list is held to fewer
		return true
	}
	most, named := b.most[b.field(true)]
	if !named {
		most = mostParts
	}
	if n > most {
		b.add(b.field(false), "read %d, expected at most %d", n, most)
		return false
	}
	return true
}

// Bounded checks a head that comes from outside before its settings are
// listed: sizes, and how many settings it makes. A head that is only half typed
// passes.
func (h Head) Bounded() error {
	if err := Bounded(h, map[string]int{"Sleeve.Rings": 2, "Sleeve.Labels": mostLabels, "Weights": 8}); err != nil {
		return err
	}
	if h.Combinations() > maxSettings {
		return FieldErrors{{"Weights", fmt.Sprintf("read more than %d combinations of sleeve and weights, expected at most that many", maxSettings)}}
	}
	return nil
}

// Combinations is how many ways of setting the parts make, before what is
// excluded and what is the same is left out; at most one more than are allowed.
func (h Head) Combinations() int {
	n := 1
	times := func(k int) { n = min(n*max(k, 1), maxSettings+1) }
	if times(len(h.Sleeve.Table)); len(h.Sleeve.Table) == 0 {
		for _, r := range h.Sleeve.Rings {
			times(min(r.Positions, maxPositions))
		}
	}
	for _, w := range h.Weights {
		times(len(w.Stops))
	}
	return n
}
