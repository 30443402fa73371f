//go:build site

package main

import (
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/json"
	"io"
	"regexp"
	"strings"
	"testing"
)

// Every file that the service worker will ask for is in the program, plain
// and compressed, with the content that the worker expects.
func TestTheSiteIsBuiltIn(t *testing.T) {
	files, err := siteFiles("")
	if err != nil {
		t.Fatal(err)
	}
	h := &static{files: files}
	sw := body(t, get(t, h, "GET", "/sw.js"))
	list := regexp.MustCompile(`(?s)const FILES = (\{.*?\});`).FindStringSubmatch(sw)
	if list == nil {
		t.Fatal("the service worker lists no files")
	}
	var hashes map[string]string
	if err := json.Unmarshal([]byte(list[1]), &hashes); err != nil {
		t.Fatal(err)
	}
	if len(hashes) < 20 || hashes["/page.wasm"] == "" || hashes["/worker.wasm"] == "" {
		t.Fatalf("the service worker lists %d files", len(hashes))
	}
	for path, want := range hashes {
		for _, accept := range []string{"", "gzip"} {
			r := get(t, h, "GET", path, "Accept-Encoding", accept)
			text := io.Reader(strings.NewReader(body(t, r)))
			if r.Header.Get("Content-Encoding") == "gzip" {
				if text, err = gzip.NewReader(text); err != nil {
					t.Fatal(path, err)
				}
			}
			sum := sha256.New()
			if _, err := io.Copy(sum, text); err != nil {
				t.Fatal(path, err)
			}
			if got := base64.StdEncoding.EncodeToString(sum.Sum(nil)); r.StatusCode != 200 || got != want {
				t.Errorf("GET %s (Accept-Encoding %q) = %d, %s, want %s", path, accept, r.StatusCode, got, want)
			}
		}
	}
}
