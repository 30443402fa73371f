package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestZipReadsAndDoesNotWrite builds a program with the overlay that reads a
// deflated archive and finds that it cannot write one.
func TestZipReadsAndDoesNotWrite(t *testing.T) {
	dir := t.TempDir()
	if err := writeStd(dir); err != nil {
		t.Fatal(err)
	}
	program := `package main

import (
	"archive/zip"
	"bytes"
	"compress/flate"
	"fmt"
	"hash/crc32"
	"io"
)

func main() {
	var packed bytes.Buffer
	f, _ := flate.NewWriter(&packed, 5)
	io.WriteString(f, "one, two")
	f.Close()
	var b bytes.Buffer
	w := zip.NewWriter(&b)
	h := &zip.FileHeader{Name: "a", Method: zip.Deflate, CompressedSize64: uint64(packed.Len()), UncompressedSize64: 8, CRC32: crc32.ChecksumIEEE([]byte("one, two"))}
	raw, _ := w.CreateRaw(h)
	raw.Write(packed.Bytes())
	_, refused := w.Create("b")
	w.Close()
	r, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		panic(err)
	}
	in, _ := r.File[0].Open()
	text, err := io.ReadAll(in)
	fmt.Println(string(text), err, refused)
}
`
	file := filepath.Join(dir, "main.go")
	if err := os.WriteFile(file, []byte(program), 0o644); err != nil {
		t.Fatal(err)
	}
	out, err := exec.Command("go", "run", "-overlay", filepath.Join(dir, "overlay.json"), file).CombinedOutput()
	if got := strings.TrimSpace(string(out)); err != nil || got != "one, two <nil> zip: unsupported compression algorithm" {
		t.Errorf("%s (%v)", got, err)
	}
}
