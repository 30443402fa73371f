package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
)

// deflates is the line of archive/zip by which whoever only reads an archive
// links the half of compress/flate that writes one.
const deflates = "\tcompressors.Store(Deflate, Compressor(func(w io.Writer) (io.WriteCloser, error) { return newFlateWriter(w), nil }))\n"

// writeZip writes archive/zip's register.go without that line, and
// overlay.json, which puts it in its place for `go build -overlay`, into out.
// A zip.Writer of a program built so refuses to deflate. The error says that
// Go's file is not the one that the line was taken from.
func writeZip(out string) error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env GOROOT: %w", err)
	}
	from := filepath.Join(strings.TrimSpace(string(root)), "src", "archive", "zip", "register.go")
	source, err := os.ReadFile(from)
	if err != nil {
		return err
	}
	if n := bytes.Count(source, []byte(deflates)); n != 1 {
		return fmt.Errorf("%s registers deflate %d times as expected, not once: adapt cmd/slimdeps/zip.go", from, n)
	}
	if out, err = filepath.Abs(out); err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	to := filepath.Join(out, "register.txt") // no .go: ./... is not to build it
	if err := os.WriteFile(to, bytes.Replace(source, []byte(deflates), nil, 1), 0o644); err != nil {
		return err
	}
	overlay, err := json.Marshal(map[string]any{"Replace": map[string]string{from: to}})
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "overlay.json"), overlay, 0o644)
}
