package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"time"
)

// embedded is the site built into the program, nil when there is none; see
// embed.go.
var embedded fs.FS

// sitePolicy is the content security policy of the pages (cmd/site writes the
// same into them) and, what only a header can say, that no page may frame us.
const sitePolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; " +
	"img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; " +
	"frame-src 'self' blob:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

// mimeTypes are given by us: a host's own table may lack .wasm, and a wrong
// type keeps a browser from compiling while it loads.
var mimeTypes = map[string]string{
	".html":        "text/html; charset=utf-8",
	".css":         "text/css; charset=utf-8",
	".js":          "text/javascript; charset=utf-8",
	".json":        "application/json",
	".svg":         "image/svg+xml",
	".png":         "image/png",
	".wasm":        "application/wasm",
	".webmanifest": "application/manifest+json",
	".txt":         "text/plain; charset=utf-8",
	".tsv":         "text/tab-separated-values; charset=utf-8",
	".woff2":       "font/woff2",
}

// static answers with the files of a built site: the smallest form that the
// client takes, each with a tag of its own content.
type static struct {
	files fs.FS
	kept  sync.Map // file name -> *file
}

// file is one file as it is sent.
type file struct {
	data    []byte
	changed time.Time
	size    int64 // [bytes] as it lies on disk
	etag    string
}

func (s *static) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	h.Set("Content-Security-Policy", sitePolicy)
	h.Set("X-Content-Type-Options", "nosniff")
	h.Set("Referrer-Policy", "no-referrer")
	h.Set("Cross-Origin-Opener-Policy", "same-origin")
	h.Set("Cross-Origin-Resource-Policy", "same-origin")
	h.Set("Permissions-Policy", "camera=(), geolocation=(), microphone=(), payment=(), usb=()")
	if r.Method == http.MethodPost && r.URL.Path == "/incoming" {
		// A file shared from another app is taken by the service worker. It
		// comes here only when that is missing: then it is not read at all.
		h.Set("Location", "/?incoming=failed")
		w.WriteHeader(http.StatusSeeOther)
		return
	}
	if r.Method != http.MethodGet && r.Method != http.MethodHead {
		h.Set("Allow", "GET, HEAD")
		http.Error(w, "only GET and HEAD", http.StatusMethodNotAllowed)
		return
	}
	name, status := s.find(r.URL.Path)
	if p := r.URL.Path; len(p) > 1 && strings.HasSuffix(p, "/") && status == http.StatusOK {
		// One address per page. Only the name of a file that we have is sent
		// back, so the target can't be bent to another host.
		h.Set("Location", "/"+strings.TrimSuffix(strings.TrimSuffix(name, ".html"), "index"))
		w.WriteHeader(http.StatusMovedPermanently)
		return
	}
	if name == "" {
		http.Error(w, "there is no such page", http.StatusNotFound)
		return
	}
	h.Set("Content-Type", mimeTypes[path.Ext(name)])
	h.Set("Cache-Control", "no-cache") // always ask; the answer is mostly 304
	h.Set("Vary", "Accept-Encoding")
	s.send(w, r, name, status)
}

// find maps a path to a file name; unknown paths get the 404 page.
func (s *static) find(p string) (name string, status int) {
	name = strings.TrimPrefix(path.Clean(p), "/")
	switch {
	case name == "":
		name = "index.html"
	case path.Ext(name) == "":
		name += ".html"
	}
	if mimeTypes[path.Ext(name)] != "" && s.load(name) != nil {
		return name, http.StatusOK
	}
	if s.load("404.html") != nil {
		return "404.html", http.StatusNotFound
	}
	return "", http.StatusNotFound
}

// send picks the encoding and writes the answer.
func (s *static) send(w http.ResponseWriter, r *http.Request, name string, status int) {
	f := s.load(name)
	for _, enc := range [...]struct{ token, ext string }{{"br", ".br"}, {"gzip", ".gz"}} {
		if !accepts(r.Header.Get("Accept-Encoding"), enc.token) {
			continue
		}
		if twin := s.load(name + enc.ext); twin != nil {
			f = twin
			w.Header().Set("Content-Encoding", enc.token)
			break
		}
	}
	w.Header().Set("ETag", f.etag)
	if status != http.StatusOK {
		w.Header().Set("Content-Length", strconv.Itoa(len(f.data)))
		w.WriteHeader(status)
		if r.Method != http.MethodHead {
			w.Write(f.data) // a client that went away is not our error
		}
		return
	}
	// Ranges are of the compressed bytes then, which only a resumed transfer
	// of the same tag asks for.
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(f.data))
}

// load returns a file, from memory while it is unchanged on disk; nil when
// there is none. A site that is built in leaves the plain form of a file away
// when it has the compressed one: the few clients that need it get it unpacked.
func (s *static) load(name string) *file {
	from := name
	info, err := fs.Stat(s.files, from)
	if errors.Is(err, fs.ErrNotExist) && mimeTypes[path.Ext(name)] != "" {
		from += ".gz"
		info, err = fs.Stat(s.files, from)
	}
	if err != nil || info.IsDir() {
		return nil
	}
	if old, ok := s.kept.Load(name); ok {
		f := old.(*file)
		if f.changed.Equal(info.ModTime()) && f.size == info.Size() {
			return f
		}
	}
	data, err := fs.ReadFile(s.files, from)
	if err == nil && from != name {
		data, err = unpacked(data)
	}
	if err != nil {
		return nil
	}
	sum := sha256.Sum256(data)
	f := &file{data: data, changed: info.ModTime(), size: info.Size(), etag: `"` + hex.EncodeToString(sum[:12]) + `"`}
	s.kept.Store(name, f)
	return f
}

func unpacked(data []byte) ([]byte, error) {
	r, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, err
	}
	return io.ReadAll(r) // a file of our own site, so its size is no worry
}

// accepts reports whether an Accept-Encoding header takes the coding: named
// and not with a quality of 0.
func accepts(header, coding string) bool {
	for _, part := range strings.Split(header, ",") {
		token, params, _ := strings.Cut(part, ";")
		if !strings.EqualFold(strings.TrimSpace(token), coding) {
			continue
		}
		q, found := strings.CutPrefix(strings.TrimSpace(strings.ToLower(params)), "q=")
		if !found {
			return true
		}
		v, err := strconv.ParseFloat(strings.TrimSpace(q), 64)
		return err == nil && v > 0
	}
	return false
}
