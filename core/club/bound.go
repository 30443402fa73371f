package club

import (
	"fmt"
	"reflect"
	"strconv"
	"strings"

	"ferrule/core/message"
)

// Bounds of what is taken in at all, complete or half typed: far above any club
// and any session, and low enough that no list made of it freezes a page.
// Validate says what a club must be; these only say what costs too much.
const (
	mostParts  = 400       // of any list or map that most does not name
	mostText   = 20_000    // [bytes] of any text
	mostNumber = 1e12      // of a number without a range of its own
	mostDepth  = 12        // of values inside each other; a session has 6
	mostErrors = 5         // a hostile file is wrong ten thousand times
	mostLabels = 72*72 + 1 // of a sleeve with two rings
)

// Bounded walks v, a value of plain fields, and checks what comes from a file,
// a link, a store or another program before anything is listed or drawn: lists
// and maps have at most the length that most names for their field (400 if
// none), texts are no longer than 20,000 bytes, numbers stand between the two of
// their field's tag, `si:"0 10"`. Those are far wider than what a form takes and
// what is judged: they keep out what no sum can carry. It returns nil or
// FieldErrors, each at its field: "Head.Weights[2].Stops". Fields that are added
// later are walked like all others.
func Bounded(v any, most map[string]int) error {
	b := bounder{most: most, fields: map[reflect.Type][]field{}}
	b.walk(reflect.ValueOf(v), anyNumber, 0)
	if len(b.errs) > 0 {
		return b.errs
	}
	return nil
}

// bounder walks a value. Where it is, it only writes out for an error: thousands
// of balls are walked for nothing else.
type bounder struct {
	checker
	most   map[string]int
	path   []place
	fields map[reflect.Type][]field // met so far: a tag is read once, not for each ball
}

// field is one of a struct's.
type field struct {
	name string
	in   span
}

func (b *bounder) of(t reflect.Type) []field {
	list, met := b.fields[t]
	if !met {
		for i := range t.NumField() {
			f := t.Field(i)
			list = append(list, field{f.Name, spanOf(f.Tag)})
		}
		b.fields[t] = list
	}
	return list
}

// place is a step of the way to a value: a field, or an element of a list.
type place struct {
	name string // of a field or, quoted, a key of a map; empty = an element
	at   int
	key  bool
}

// at is where the walk stands, bare without numbers and keys.
func (b *bounder) at(bare bool) string {
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

func (b *bounder) into(p place, v reflect.Value, in span, depth int) {
	b.path = append(b.path, p)
	b.walk(v, in, depth)
	b.path = b.path[:len(b.path)-1]
}

// span is what a number may be.
type span struct{ lo, hi float64 }

var anyNumber = span{-mostNumber, mostNumber}

// spanOf reads a field's tag. Lists and maps hand it to what they hold.
func spanOf(tag reflect.StructTag) span {
	a, z, ok := strings.Cut(tag.Get("si"), " ")
	lo, err := strconv.ParseFloat(a, 64)
	hi, err2 := strconv.ParseFloat(z, 64)
	if !ok || err != nil || err2 != nil {
		return anyNumber
	}
	return span{lo, hi}
}

func (b *bounder) number(x float64, in span) {
	if !(x >= in.lo && x <= in.hi) {
		b.add(b.at(false), "problem.read", x, message.Of("problem.between", in.lo, in.hi))
	}
}

func (b *bounder) walk(v reflect.Value, in span, depth int) {
	if len(b.errs) >= mostErrors {
		return
	}
	if depth > mostDepth {
		b.add(b.at(false), "problem.nested", mostDepth)
		return
	}
	switch v.Kind() {
	case reflect.String:
		if n := v.Len(); n > mostText {
			b.add(b.at(false), "problem.long-text", n, mostText)
		}
	case reflect.Float64, reflect.Float32:
		b.number(v.Float(), in)
	case reflect.Int, reflect.Int64:
		b.number(float64(v.Int()), in)
	case reflect.Pointer:
		if !v.IsNil() {
			b.walk(v.Elem(), in, depth)
		}
	case reflect.Struct:
		for i, f := range b.of(v.Type()) {
			b.into(place{name: f.name}, v.Field(i), f.in, depth+1)
		}
	case reflect.Slice:
		if !b.few(v) {
			return
		}
		for i := range v.Len() {
			b.into(place{at: i}, v.Index(i), in, depth+1)
		}
	case reflect.Map:
		if v.Len() == 0 || !b.few(v) {
			return
		}
		key, value := reflect.New(v.Type().Key()).Elem(), reflect.New(v.Type().Elem()).Elem()
		for it := v.MapRange(); it.Next(); {
			key.SetIterKey(it)
			value.SetIterValue(it)
			b.walk(key, anyNumber, depth+1)
			b.into(place{name: key.String(), key: true}, value, in, depth+1)
		}
	}
}

func (b *bounder) few(v reflect.Value) bool {
	n := v.Len()
	if n <= 2 { // no list is held to fewer
		return true
	}
	most, named := b.most[b.at(true)]
	if !named {
		most = mostParts
	}
	if n > most {
		b.add(b.at(false), "problem.at-most", n, most)
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
	if h.combinations() > maxSettings {
		return FieldErrors{{"Weights", message.Of("problem.combinations", maxSettings)}}
	}
	return nil
}

// combinations is how many ways of setting the parts make, before what is
// excluded and what is the same is left out; at most one more than are allowed.
func (h Head) combinations() int {
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
