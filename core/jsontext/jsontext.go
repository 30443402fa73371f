// Package jsontext writes values as JSON, byte for byte as encoding/json does
// (a test holds it against that), for the kinds that a session and the
// preferences are made of. encoding/json reads as well as writes, and with it
// the page is some 100 kB larger to send, of which a page needs none: what it
// reads the browser parses (app/kept), files are read in the worker.
package jsontext

import (
	"cmp"
	"fmt"
	"math"
	"reflect"
	"sort"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Marshal returns v as JSON: structs with their fields in order, named as the
// tag `json` says or as in Go, maps with their keys sorted, a nil slice, map or
// pointer as null. The error names a number that JSON has not (infinite or
// none) or a kind that is not written: interfaces, functions, complex numbers,
// arrays, bytes, embedded fields, keys that are no strings, options of a tag.
func Marshal(v any) ([]byte, error) { return write(v, "") }

// MarshalIndent is Marshal with each value on a line of its own, indented.
func MarshalIndent(v any, indent string) ([]byte, error) { return write(v, indent) }

func write(v any, indent string) ([]byte, error) {
	w := writer{indent: indent}
	w.value(reflect.ValueOf(v))
	return w.out, w.err
}

type writer struct {
	out    []byte
	indent string // empty: all in one line
	depth  int
	err    error // the first one
}

func (w *writer) value(v reflect.Value) {
	switch v.Kind() {
	case reflect.Bool:
		w.out = strconv.AppendBool(w.out, v.Bool())
	case reflect.Int, reflect.Int8, reflect.Int16, reflect.Int32, reflect.Int64:
		w.out = strconv.AppendInt(w.out, v.Int(), 10)
	case reflect.Uint8, reflect.Uint16, reflect.Uint32, reflect.Uint64, reflect.Uint:
		w.out = strconv.AppendUint(w.out, v.Uint(), 10)
	case reflect.Float64:
		w.number(v.Float())
	case reflect.String:
		w.text(v.String())
	case reflect.Pointer:
		if w.null(v) {
			return
		}
		w.value(v.Elem())
	case reflect.Slice:
		if v.Type().Elem().Kind() == reflect.Uint8 {
			w.refuse(v)
		} else if !w.null(v) {
			w.list('[', ']', v.Len(), func(i int) { w.value(v.Index(i)) })
		}
	case reflect.Map:
		if v.Type().Key().Kind() != reflect.String {
			w.refuse(v)
		} else if !w.null(v) {
			keys := v.MapKeys()
			sort.Slice(keys, func(i, k int) bool { return keys[i].String() < keys[k].String() })
			w.list('{', '}', len(keys), func(i int) { w.member(keys[i].String(), v.MapIndex(keys[i])) })
		}
	case reflect.Struct:
		w.list('{', '}', v.NumField(), func(i int) {
			f := v.Type().Field(i)
			name := cmp.Or(f.Tag.Get("json"), f.Name)
			if f.Anonymous || f.PkgPath != "" || name == "-" || strings.Contains(name, ",") {
				w.refuse(v)
			}
			w.member(name, v.Field(i))
		})
	default:
		w.refuse(v)
	}
}

func (w *writer) refuse(v reflect.Value) { w.fail("jsontext does not write " + v.Kind().String()) }

func (w *writer) fail(what string) {
	if w.err == nil {
		w.err = fmt.Errorf("%s", what)
	}
}

// null writes a value that is nil.
func (w *writer) null(v reflect.Value) bool {
	if v.IsNil() {
		w.out = append(w.out, "null"...)
	}
	return v.IsNil()
}

// list writes n members between brackets.
func (w *writer) list(open, end byte, n int, member func(i int)) {
	w.out = append(w.out, open)
	w.depth++
	for i := range n {
		if i > 0 {
			w.out = append(w.out, ',')
		}
		w.line()
		member(i)
	}
	if w.depth--; n > 0 {
		w.line()
	}
	w.out = append(w.out, end)
}

func (w *writer) line() {
	if w.indent != "" {
		w.out = append(w.out, '\n')
		for range w.depth {
			w.out = append(w.out, w.indent...)
		}
	}
}

func (w *writer) member(name string, v reflect.Value) {
	w.text(name)
	if w.out = append(w.out, ':'); w.indent != "" {
		w.out = append(w.out, ' ')
	}
	w.value(v)
}

// number writes x with the fewest digits that come back as the same float, as
// ECMAScript does: with an exponent below 1e-6 and from 1e21 on (ECMA-262,
// Number::toString), which has no zero before it.
func (w *writer) number(x float64) {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		w.fail("JSON has no number " + strconv.FormatFloat(x, 'g', -1, 64))
		return
	}
	if a := math.Abs(x); a == 0 || 1e-6 <= a && a < 1e21 {
		w.out = strconv.AppendFloat(w.out, x, 'f', -1, 64)
		return
	}
	s := strconv.FormatFloat(x, 'e', -1, 64)
	if n := len(s); s[n-4:n-1] == "e-0" {
		s = s[:n-2] + s[n-1:]
	}
	w.out = append(w.out, s...)
}

// text writes a string. Escaped are, beside what RFC 8259 demands, what ends a
// script in a page, and the line ends of JavaScript; bytes that are no UTF-8
// become the replacement character.
func (w *writer) text(s string) {
	const hex = "0123456789abcdef"
	w.out = append(w.out, '"')
	for i, r := range s {
		switch {
		case r == '"' || r == '\\':
			w.out = append(w.out, '\\', byte(r))
		case r < ' ' && strings.IndexByte("\b\f\n\r\t", byte(r)) >= 0:
			w.out = append(w.out, '\\', "bfnrt"[strings.IndexByte("\b\f\n\r\t", byte(r))])
		case r < ' ' || r == '<' || r == '>' || r == '&' || r == '\u2028' || r == '\u2029':
			w.out = append(w.out, '\\', 'u', hex[r>>12], hex[r>>8&15], hex[r>>4&15], hex[r&15])
		case r == utf8.RuneError && !strings.HasPrefix(s[i:], "\uFFFD"):
			w.out = append(w.out, `\ufffd`...)
		default:
			w.out = utf8.AppendRune(w.out, r)
		}
	}
	w.out = append(w.out, '"')
}
