//go:build !js

package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"os"
	"path/filepath"

	"github.com/andybalholm/brotli"
)

// compressor writes files with their compressed twins. It keeps what it made
// by content, because the programs seldom change between two builds and
// brotli at its best takes half a minute for each.
type compressor struct {
	cache string
	best  bool
	sizes map[string]int // brotli bytes by file name
}

func (c *compressor) quality() int {
	if c.best {
		return 11
	}
	return 9
}

// write puts name, name.br and name.gz; a twin that is no smaller is left out.
func (c *compressor) write(name string, data []byte) error {
	if err := os.MkdirAll(filepath.Dir(name), 0o755); err != nil {
		return err
	}
	if err := os.WriteFile(name, data, 0o644); err != nil {
		return err
	}
	if filepath.Ext(name) == ".png" || len(data) < 200 {
		return nil
	}
	br, err := c.kept(data, fmt.Sprintf("%d.br", c.quality()), func(out *bytes.Buffer) error {
		w := brotli.NewWriterOptions(out, brotli.WriterOptions{Quality: c.quality(), LGWin: 24})
		if _, err := w.Write(data); err != nil {
			return err
		}
		return w.Close()
	})
	if err != nil {
		return err
	}
	gz, err := c.kept(data, "9.gz", func(out *bytes.Buffer) error {
		w, err := gzip.NewWriterLevel(out, gzip.BestCompression)
		if err != nil {
			return err
		}
		if _, err := w.Write(data); err != nil {
			return err
		}
		return w.Close()
	})
	if err != nil {
		return err
	}
	if c.sizes == nil {
		c.sizes = map[string]int{}
	}
	c.sizes[filepath.Base(name)] = len(br)
	for ext, twin := range map[string][]byte{".br": br, ".gz": gz} {
		if len(twin) >= len(data) {
			continue
		}
		if err := os.WriteFile(name+ext, twin, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// kept returns the compressed data, from the cache when it is there.
func (c *compressor) kept(data []byte, how string, make func(*bytes.Buffer) error) ([]byte, error) {
	sum := sha256.Sum256(data)
	name := filepath.Join(c.cache, hex.EncodeToString(sum[:12])+"-"+how)
	if old, err := os.ReadFile(name); err == nil {
		return old, nil
	}
	var out bytes.Buffer
	if err := make(&out); err != nil {
		return nil, err
	}
	if err := os.MkdirAll(c.cache, 0o755); err != nil {
		return nil, err
	}
	// Written aside first: a build that is stopped must not leave half a file.
	part := fmt.Sprintf("%s.%d", name, os.Getpid())
	if err := os.WriteFile(part, out.Bytes(), 0o644); err != nil {
		return nil, err
	}
	return out.Bytes(), os.Rename(part, name)
}
