//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"github.com/andybalholm/brotli"
)

// What is compressed with a dictionary is read by a plain reader that had the
// dictionary as its own output before: bytes that are stored as they are move none of
// the last distances. The dictionary ends in two zeros, as a reader's context begins.
// The plain reader's window holds both, so that its own words lie beyond the
// dictionary, as they do for a browser; the writer's is also smaller than both, as that
// of two large programs is. (That a browser reads it, TestTheAnalysisComesAsADifference
// in app/browsertest shows.)
func TestWithDictionary(t *testing.T) {
	random := rand.New(rand.NewPCG(1, 2))
	words := make([][]byte, 3000)
	for i := range words {
		words[i] = make([]byte, 3+random.IntN(12))
		for k := range words[i] {
			words[i][k] = byte(random.IntN(256))
		}
	}
	write := func(n int) (b []byte) {
		for range n {
			b = append(b, words[random.IntN(len(words))]...)
		}
		return b
	}
	text := write(30_000)
	text[49_998], text[49_999] = 0, 0
	dictionary := slices.Concat(text, text[:50_000])
	data := slices.Concat(text[50_000:90_000], write(3_000), text[100:40_000], // goes on at the last distance
		[]byte(" the government of international information, according to the development of description")) // brotli's own words: RFC 7932, appendix A
	for _, quality := range []int{9, 11} {
		for _, bits := range []int{18, 24} {
			var with, stream bytes.Buffer
			if err := withDictionary(&with, data, dictionary, quality, bits); err != nil {
				t.Fatal(err)
			}
			stream.Write([]byte{0x6f, 0})                       // the largest window
			for part := range slices.Chunk(dictionary, 1<<16) { // RFC 7932, 9.2: a meta-block that is stored
				head := uint32(len(part)-1)<<3 | 1<<19
				stream.Write([]byte{byte(head), byte(head >> 8), byte(head >> 16)})
				stream.Write(part)
			}
			stream.Write(with.Bytes()[2:])
			got, err := io.ReadAll(brotli.NewReader(&stream))
			if err != nil || !bytes.Equal(got, slices.Concat(dictionary, data)) {
				t.Errorf("quality %d, window of %d bits: read %d bytes of %d: %v", quality, bits, len(got)-len(dictionary), len(data), err)
			}
			if own, err := io.ReadAll(brotli.NewReader(bytes.NewReader(slices.Concat(with.Bytes()[:2], []byte{3})))); err != nil || len(own) > 0 { // RFC 7932, 9.2: an empty last meta-block
				t.Errorf("a head of %x: %d bytes, %v", with.Bytes()[:2], len(own), err)
			}
			if with.Len() > 10_000 { // 3,000 words of 12 bits and some are 4,500 bytes
				t.Errorf("quality %d, window of %d bits: %d bytes", quality, bits, with.Len())
			}
		}
	}
}

// A site compresses the analysis with the screens' program, and both with what a
// named site has, under the names that cmd/ferrule looks for.
func TestHeldPrograms(t *testing.T) {
	before, out := t.TempDir(), t.TempDir()
	s := site{"/page.wasm": bytes.Repeat([]byte("page"), 99), "/worker.wasm": bytes.Repeat([]byte("work"), 99)}
	for name, data := range map[string][]byte{"page.wasm": []byte("an older page"), "worker.wasm": s["/worker.wasm"]} {
		if err := os.WriteFile(filepath.Join(before, name), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := s.held(t.TempDir()); err == nil {
		t.Error("a folder without programs is taken for a site")
	}
	all, err := s.held(before)
	if err != nil {
		t.Fatal(err)
	}
	c := compressor{cache: t.TempDir()}
	var want []string
	for _, d := range all {
		if err := c.against(filepath.Join(out, fileName(d.path)), s[d.path], d.held); err != nil {
			t.Fatal(err)
		}
	}
	for name, held := range map[string]string{"page.wasm": "an older page", "worker.wasm": string(s["/page.wasm"])} {
		sum := sha256.Sum256([]byte(held))
		name = fmt.Sprintf("%s.%x.dcb", name, sum[:8])
		want = append(want, name)
		got, err := os.ReadFile(filepath.Join(out, name))
		if err != nil || !bytes.HasPrefix(got, append([]byte{0xff, 'D', 'C', 'B'}, sum[:]...)) { // RFC 9842, 4
			t.Errorf("%s: %v, %.40q", name, err, got)
		}
	}
	if files, _ := os.ReadDir(out); len(files) != len(want) {
		t.Errorf("%v, want %q", files, want)
	}
}
