package main

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"sort"
	"strings"

	"github.com/andybalholm/brotli"
)

// module is what weigh reads of a WebAssembly file.
type module struct {
	code, data int   // bytes of those sections
	imported   int   // functions that come from outside and have no code
	bodies     []int // bytes of each function of the module
	named      map[string]int
}

// share is a package's bytes of code.
type share struct {
	name  string
	bytes int
}

// Section numbers of the WebAssembly core specification 1.0, 5.5.2.
const (
	sectionCustom = 0
	sectionImport = 2
	sectionCode   = 10
	sectionData   = 11
)

var errShort = errors.New("not a whole WebAssembly file")

// read takes the sections apart. The error says what is wrong with the file.
func read(data []byte) (module, error) {
	m := module{named: map[string]int{}}
	if len(data) < 8 || string(data[:4]) != "\x00asm" {
		return m, errors.New("not a WebAssembly file: it does not begin with \\0asm")
	}
	r := &reader{b: data[8:]}
	for len(r.b) > 0 && !r.bad {
		id := r.byte()
		body := &reader{b: r.take(int(r.number()))}
		switch id {
		case sectionImport:
			for range body.number() {
				body.text()
				body.text()
				kind := body.byte()
				if kind != 0 {
					return m, fmt.Errorf("an import of kind %d; weigh knows functions only", kind)
				}
				body.number()
				m.imported++
			}
		case sectionCode:
			m.code = len(body.b)
			for range body.number() {
				n := int(body.number())
				m.bodies = append(m.bodies, n)
				body.take(n)
			}
		case sectionData:
			m.data = len(body.b)
		case sectionCustom:
			if body.text() == "name" {
				m.name(body)
			}
		}
		r.bad = r.bad || body.bad
	}
	if r.bad {
		return m, errShort
	}
	if len(m.named) == 0 {
		return m, errors.New("the functions have no names: build it without -ldflags=-s")
	}
	return m, nil
}

// name adds up the functions' bytes by package.
func (m *module) name(r *reader) {
	for len(r.b) > 0 && !r.bad {
		id := r.byte()
		sub := &reader{b: r.take(int(r.number()))}
		if id != 1 { // 1: names of functions
			continue
		}
		for range sub.number() {
			i, name := int(sub.number())-m.imported, sub.text()
			if i >= 0 && i < len(m.bodies) {
				m.named[packageOf(name)] += m.bodies[i]
			}
		}
	}
}

// packages are the shares, the heaviest first.
func (m module) packages() []share {
	var out []share
	for name, n := range m.named {
		out = append(out, share{name, n})
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].bytes != out[j].bytes {
			return out[i].bytes > out[j].bytes
		}
		return out[i].name < out[j].name
	})
	return out
}

// hosts begin the import paths of other people's modules.
var hosts = []string{"github.com_", "golang.org_", "gonum.org_", "rsc.io_", "vendor_golang.org_"}

// packageOf is the import path in the linker's name of a function, with the
// underscores that it writes for slashes: "core_flight.(*T).Method" is of
// "core_flight".
func packageOf(name string) string {
	name, _, _ = strings.Cut(name, "[") // type arguments have paths of their own
	if strings.HasPrefix(name, "type:") || strings.HasPrefix(name, "type_") || strings.HasPrefix(name, "go:") || strings.HasPrefix(name, "go_") {
		return "(made by the compiler)"
	}
	from := 0
	for _, h := range hosts {
		if strings.HasPrefix(name, h) {
			from = len(h)
		}
	}
	end := strings.Index(name[from:], ".")
	if end <= 0 {
		return "(made by the compiler)"
	}
	return name[:from+end]
}

func brotliBytes(data []byte, quality int) (int, error) {
	var out bytes.Buffer
	w := brotli.NewWriterOptions(&out, brotli.WriterOptions{Quality: quality, LGWin: 24})
	if _, err := w.Write(data); err != nil {
		return 0, err
	}
	if err := w.Close(); err != nil {
		return 0, err
	}
	return out.Len(), nil
}

// reader reads the specification's binary format; bad once it ran short.
type reader struct {
	b   []byte
	bad bool
}

func (r *reader) take(n int) []byte {
	if n < 0 || n > len(r.b) {
		r.bad, r.b = true, nil
		return nil
	}
	out := r.b[:n]
	r.b = r.b[n:]
	return out
}

func (r *reader) byte() byte {
	if b := r.take(1); len(b) == 1 {
		return b[0]
	}
	return 0
}

func (r *reader) number() uint64 {
	v, n := binary.Uvarint(r.b)
	if n <= 0 {
		r.bad, r.b = true, nil
		return 0
	}
	r.b = r.b[n:]
	return v
}

func (r *reader) text() string { return string(r.take(int(r.number()))) }
