//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"os"
	"path/filepath"
	"reflect"
	"unsafe"

	"github.com/andybalholm/brotli"
)

// held is a program that a browser has when it fetches the one of path.
type held struct {
	path string
	held []byte
}

// programs that another one unpacks; cmd/ferrule tells browsers to keep them.
var programs = []string{"/page.wasm", "/worker.wasm"}

// held are what the programs are worth compressing with: the screens' for the
// analysis, and each one's form of before, where a folder of that is named.
func (s site) held(before string) ([]held, error) {
	all := []held{{"/worker.wasm", s["/page.wasm"]}}
	if before == "" {
		return all, nil
	}
	for _, path := range programs {
		old, err := os.ReadFile(filepath.Join(before, fileName(path)))
		if err != nil {
			return nil, err
		}
		if !bytes.Equal(old, s[path]) {
			all = append(all, held{path, old})
		}
	}
	return all, nil
}

// against puts NAME.SUM.dcb beside a file, for a browser that holds the dictionary:
// RFC 9842, 4, a header with the dictionary's hash before the brotli stream.
func (c *compressor) against(name string, data, dictionary []byte) error {
	sum := sha256.Sum256(dictionary)
	out, err := c.kept(data, fmt.Sprintf("%d-%x-wordless.dcb", c.quality(), sum[:8]), func(out *bytes.Buffer) error {
		out.WriteString("\xffDCB")
		out.Write(sum[:])
		return withDictionary(out, data, dictionary, c.quality(), 24)
	})
	if err != nil {
		return err
	}
	fmt.Printf("site: /%s for who holds %x: %d bytes\n", filepath.Base(name), sum[:8], len(out))
	return os.WriteFile(fmt.Sprintf("%s.%x.dcb", name, sum[:8]), out, 0o644)
}

// withDictionary writes data as the brotli stream of a reader that holds the
// dictionary. Such a reader takes it for what came before (RFC 9841, 9.2), so the
// dictionary is compressed ahead of the data and what that gave is left out; what the
// library then knows of the end of the dictionary, a reader does not, and is reset.
// The window goes 2^bits bytes back, 16 MB of a program: the end of much data does not
// see the first of the dictionary. The words that brotli itself brings lie beyond the
// window for the library and beyond the dictionary for a reader: where the two differ
// they would be read as something else, so none is used.
func withDictionary(out *bytes.Buffer, data, dictionary []byte, quality, bits int) error {
	begun := out.Len()
	w := brotli.NewWriterOptions(out, brotli.WriterOptions{Quality: min(quality, 10), LGWin: bits}) // 10 knows what 11 needs, sooner
	if _, err := w.Write(dictionary); err != nil {
		return err
	}
	if err := w.Flush(); err != nil {
		return err
	}
	out.Truncate(begun)
	set := func(value any, names ...string) {
		v := reflect.ValueOf(w).Elem()
		for _, name := range names {
			v = v.FieldByName(name)
		}
		reflect.NewAt(v.Type(), unsafe.Pointer(v.UnsafeAddr())).Elem().Set(reflect.ValueOf(value).Convert(v.Type()))
	}
	set(quality, "params", "quality")
	set(byte(0), "prev_byte_")
	set(byte(0), "prev_byte2_")
	set([16]int{4, 11, 15, 16}, "dist_cache_") // RFC 7932, 4: the last distances of a reader that begins
	set([4]int{4, 11, 15, 16}, "saved_dist_cache_")
	set(1<<bits-16, "params", "dist", "max_distance")
	out.Write([]byte{byte(0x60 | (bits-17)<<1 | 1), 0}) // RFC 7932, 9.1: a window of 18 to 24 bits, and an empty block of metadata up to the end of the byte
	if _, err := w.Write(data); err != nil {
		return err
	}
	return w.Close()
}
