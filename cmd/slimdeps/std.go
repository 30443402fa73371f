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

// cuts are the texts that a file of Go's library stands without. Each is there once.
var cuts = []struct {
	file  string
	texts []string
}{
	// By this line whoever only reads an archive links the half of compress/flate that
	// writes one. A zip.Writer of a program built without it refuses to deflate.
	{"archive/zip/register.go", []string{
		"\tcompressors.Store(Deflate, Compressor(func(w io.Writer) (io.WriteCloser, error) { return newFlateWriter(w), nil }))\n",
	}},
	// Whether a host in brackets is an address is no question of ours: net/netip and
	// what it keeps names in are a hundredth of the page.
	{"net/url/url.go", []string{
		"\t\"net/netip\"\n",
		"\t\taddr, err := netip.ParseAddr(unescapedHostname)\n\t\tif err != nil {\n\t\t\treturn \"\", fmt.Errorf(\"invalid host: %w\", err)\n\t\t}\n" +
			"\t\tif addr.Is4() {\n\t\t\treturn \"\", errors.New(\"invalid IP-literal\")\n\t\t}\n",
	}},
}

// writeStd writes the files of cuts, and overlay.json, which puts them in the place
// of Go's for `go build -overlay`, into out. The error says that Go's file is not
// the one that a text was taken from.
func writeStd(out string) error {
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		return fmt.Errorf("go env GOROOT: %w", err)
	}
	if out, err = filepath.Abs(out); err != nil {
		return err
	}
	if err := os.MkdirAll(out, 0o755); err != nil {
		return err
	}
	replace := map[string]string{}
	for _, c := range cuts {
		from := filepath.Join(strings.TrimSpace(string(root)), "src", filepath.FromSlash(c.file))
		source, err := os.ReadFile(from)
		if err != nil {
			return err
		}
		for _, text := range c.texts {
			if n := bytes.Count(source, []byte(text)); n != 1 {
				return fmt.Errorf("%s holds %q %d times, not once: adapt cmd/slimdeps/std.go", from, text, n)
			}
			source = bytes.Replace(source, []byte(text), nil, 1)
		}
		to := filepath.Join(out, strings.TrimSuffix(filepath.Base(c.file), ".go")+".txt") // no .go: ./... is not to build it
		if err := os.WriteFile(to, source, 0o644); err != nil {
			return err
		}
		replace[from] = to
	}
	overlay, err := json.Marshal(map[string]any{"Replace": replace})
	if err != nil {
		return err
	}
	return os.WriteFile(filepath.Join(out, "overlay.json"), overlay, 0o644)
}
