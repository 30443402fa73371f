package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"errors"
	"io"
	"io/fs"
	"log"
	"net/http"
	"path"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"ferrule/cmd/internal/policy"
)

// embedded is the site built into the program, nil when there is none; see
// embed.go.
var embedded fs.FS

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
	".bin":         "application/octet-stream",
	".webmanifest": "application/manifest+json",
	".txt":         "text/plain; charset=utf-8",
	".tsv":         "text/tab-separated-values; charset=utf-8",
	".woff2":       "font/woff2",
}

// static answers with the files of a built site: the smallest form that the
// client takes, each with a tag of its content and coding.
type static struct {
	files fs.FS
	log   *log.Logger // may be nil
	kept  sync.Map    // file name -> *file
	gone  atomic.Bool // the site was missed, and that was said
}

// file is one file as it is sent.
type file struct {
	raw  []byte // as it lies on disk
	data []byte
	sum  string // of data
}

func (s *static) ServeHTTP(w http.ResponseWriter, r *http.Request) {
	h := w.Header()
	for _, x := range policy.Headers {
		h.Set(x[0], x[1])
	}
	if r.Method == http.MethodPost && r.URL.Path == "/incoming" {
		// A file shared from another app is taken by the service worker. It
		// comes here only when that is missing: then it is not read at all.
		if site := r.Header.Get("Sec-Fetch-Site"); site == "cross-site" || site == "same-site" {
			http.Error(w, "a page of another site tried to hand Ferrule a file: refused, nothing was taken", http.StatusForbidden)
			return
		}
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
	if s.missing(status) {
		http.Error(w, "the site is not there at the moment: it is being built, or its folder was removed", http.StatusServiceUnavailable)
		return
	}
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
	h.Set("Vary", "Accept-Encoding")
	if path.Ext(name) == ".wasm" {
		asDictionary(h, name)
	}
	s.send(w, r, name, status)
}

// asDictionary lets a browser keep a program to unpack later ones with (RFC 9842):
// the screens' is one for every program, each is one for its own next version. A
// browser keeps only what may be stored; our scripts ask each time all the same.
func asDictionary(h http.Header, name string) {
	of := "/" + name
	if name == "page.wasm" {
		of = "/*.wasm"
	}
	h.Set("Use-As-Dictionary", `match="`+of+`"`)
	h.Set("Cache-Control", "max-age=2592000")
	h.Set("Vary", "Accept-Encoding, Available-Dictionary")
}

// against is the end of the name of what cmd/site compressed with the dictionary
// that a client holds, "" when it holds none.
func against(r *http.Request) string {
	sum, err := base64.StdEncoding.DecodeString(strings.Trim(r.Header.Get("Available-Dictionary"), ": "))
	if err != nil || len(sum) != sha256.Size {
		return ""
	}
	return "." + hex.EncodeToString(sum[:8]) + ".dcb"
}

// missing reports whether the site itself is gone, and says so once.
func (s *static) missing(status int) bool {
	if status == http.StatusOK {
		if s.gone.Swap(false) && s.log != nil {
			s.log.Print("the site is back")
		}
		return false
	}
	if _, err := fs.Stat(s.files, "index.html"); err == nil {
		return false
	}
	if !s.gone.Swap(true) && s.log != nil {
		s.log.Print("the site's folder is gone or empty: build it with `make site`; it is served again once it is there")
	}
	return true
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
	if name != "404.html" && mimeTypes[path.Ext(name)] != "" && s.load(name) != nil {
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
	if f == nil { // it went while we looked
		http.Error(w, "there is no such page", http.StatusNotFound)
		return
	}
	sum, accept, coding := f.sum, r.Header.Get("Accept-Encoding"), ""
	best := quality(accept, "identity")
	for _, enc := range [...]struct{ token, ext string }{{"gzip", ".gz"}, {"br", ".br"}, {"dcb", against(r)}} { // of equals the last, which is the smallest
		q := quality(accept, enc.token)
		if q == 0 || q < best || enc.ext == "" {
			continue
		}
		if twin := s.load(name + enc.ext); twin != nil {
			f, best, coding = twin, q, enc.token
			w.Header().Set("Content-Encoding", coding)
		}
	}
	// A tag names content and coding. Who has the content in another coding, which
	// depends on the dictionary of that moment, needs it no more than who has this one.
	tag := `"` + sum + coding + `"`
	w.Header().Set("ETag", tag)
	if strings.Contains(r.Header.Get("If-None-Match"), `"`+sum) {
		r.Header.Set("If-None-Match", tag)
	}
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

// load returns a file, nil when there is none. It is read each time, for two
// builds may leave files of one size and time; what is the same is kept once,
// however many clients it is sent to. A site that is built in leaves the plain
// form of a file away when it has the compressed one: the few clients that need
// it get it unpacked.
func (s *static) load(name string) *file {
	from := name
	raw, err := fs.ReadFile(s.files, from)
	if errors.Is(err, fs.ErrNotExist) && mimeTypes[path.Ext(name)] != "" {
		from += ".gz"
		raw, err = fs.ReadFile(s.files, from)
	}
	if err != nil {
		return nil
	}
	if old, ok := s.kept.Load(name); ok {
		if f := old.(*file); bytes.Equal(f.raw, raw) {
			return f
		}
	}
	data := raw
	if from != name {
		if data, err = unpacked(raw); err != nil {
			return nil
		}
	}
	sum := sha256.Sum256(data)
	f := &file{raw: raw, data: data, sum: hex.EncodeToString(sum[:12])}
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

// quality is how much a client wants a coding, 0 = not at all, by its
// Accept-Encoding header (RFC 9110, 12.5.3): its own weight, else that of "*".
// Unencoded is taken unless it is refused; here it counts last where nothing is
// said of it.
func quality(header, coding string) float64 {
	q, found := 0.0, false
	for _, part := range strings.Split(header, ",") {
		token, params, _ := strings.Cut(part, ";")
		token = strings.TrimSpace(token)
		named := strings.EqualFold(token, coding)
		if !named && (token != "*" || found) {
			continue
		}
		q = 1
		if text, has := strings.CutPrefix(strings.ReplaceAll(strings.ToLower(params), " ", ""), "q="); has {
			v, err := strconv.ParseFloat(text, 64)
			if q = v; err != nil || !(v >= 0 && v <= 1) {
				q = 0
			}
		}
		if found = named; named {
			return q
		}
	}
	if coding == "identity" && q == 0 {
		return 1e-6
	}
	return q
}
