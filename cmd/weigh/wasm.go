package main

import (
	"bytes"
	"errors"
	"fmt"
	"sort"
	"strings"

	"ferrule/cmd/internal/wasm"

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

// read takes the sections apart. The error says what is wrong with the file.
func read(data []byte) (module, error) {
	m := module{named: map[string]int{}}
	sections, err := wasm.Sections(data)
	if err != nil {
		return m, err
	}
	for _, s := range sections {
		body := &wasm.Reader{B: s.Body}
		switch s.ID {
		case wasm.Import:
			for range body.Number() {
				body.Text()
				body.Text()
				kind := body.Byte()
				if kind != 0 {
					return m, fmt.Errorf("an import of kind %d; weigh knows functions only", kind)
				}
				body.Number()
				m.imported++
			}
		case wasm.Code:
			m.code = len(body.B)
			for range body.Number() {
				n := int(body.Number())
				m.bodies = append(m.bodies, n)
				body.Take(n)
			}
		case wasm.Data:
			m.data = len(body.B)
		case wasm.Custom:
			if body.Text() == "name" {
				m.name(body)
			}
		}
		if err := body.Err(); err != nil {
			return m, err
		}
	}
	if len(m.named) == 0 {
		return m, errors.New("the functions have no names: build it without -ldflags=-s")
	}
	return m, nil
}

// name adds up the functions' bytes by package.
func (m *module) name(r *wasm.Reader) {
	for len(r.B) > 0 && r.Err() == nil {
		id := r.Byte()
		sub := &wasm.Reader{B: r.Take(int(r.Number()))}
		if id != 1 { // 1: names of functions
			continue
		}
		for range sub.Number() {
			i, name := int(sub.Number())-m.imported, sub.Text()
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
