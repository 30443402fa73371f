package main

import (
	"bytes"
	"compress/gzip"
	"context"
	"crypto/sha256"
	"encoding/base64"
	"encoding/hex"
	"fmt"
	"io"
	"io/fs"
	"net"
	"net/http"
	"net/http/httptest"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
	"time"

	"ferrule/cmd/internal/policy"
)

// asSite is a site with what matters: a page, a script with both twins, a
// program, a manifest.
func asSite() fstest.MapFS {
	return fstest.MapFS{
		"index.html":           {Data: []byte("<h1>home</h1>")},
		"shots.html":           {Data: []byte("<h1>shots</h1>")},
		"404.html":             {Data: []byte("<h1>lost</h1>")},
		"loader.js":            {Data: []byte("plain script")},
		"loader.js.br":         {Data: []byte("brotli bytes")},
		"loader.js.gz":         {Data: gz("plain script")},
		"page.wasm":            {Data: []byte("\x00asm")},
		"manifest.webmanifest": {Data: []byte("{}")},
		"secret.key":           {Data: []byte("not a file of the site")},
	}
}

func gz(s string) []byte {
	var b bytes.Buffer
	w := gzip.NewWriter(&b)
	w.Write([]byte(s))
	w.Close()
	return b.Bytes()
}

func get(t *testing.T, h http.Handler, method, target string, header ...string) *http.Response {
	t.Helper()
	r := httptest.NewRequest(method, "http://localhost/", nil)
	r.URL.Path, r.URL.RawQuery, _ = strings.Cut(target, "?")
	for i := 0; i < len(header); i += 2 {
		r.Header.Set(header[i], header[i+1])
	}
	w := httptest.NewRecorder()
	h.ServeHTTP(w, r)
	return w.Result()
}

func body(t *testing.T, r *http.Response) string {
	t.Helper()
	b, err := io.ReadAll(r.Body)
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

func TestStaticFindsPages(t *testing.T) {
	h := &static{files: asSite()}
	for _, c := range []struct {
		path   string
		status int
		body   string
		kind   string
	}{
		{"/", 200, "<h1>home</h1>", "text/html; charset=utf-8"},
		{"/index.html", 200, "<h1>home</h1>", "text/html; charset=utf-8"},
		{"/shots", 200, "<h1>shots</h1>", "text/html; charset=utf-8"},
		{"/shots?x=1", 200, "<h1>shots</h1>", "text/html; charset=utf-8"},
		{"/loader.js", 200, "plain script", "text/javascript; charset=utf-8"},
		{"/page.wasm", 200, "\x00asm", "application/wasm"},
		{"/manifest.webmanifest", 200, "{}", "application/manifest+json"},
		{"/404", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"/404.html", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"/nowhere", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"/loader.js.br", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"/secret.key", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"/../shots", 200, "<h1>shots</h1>", "text/html; charset=utf-8"},
		{"/../../etc/passwd", 404, "<h1>lost</h1>", "text/html; charset=utf-8"},
		{"//evil.example/..", 200, "<h1>home</h1>", "text/html; charset=utf-8"},
	} {
		r := get(t, h, "GET", c.path)
		if got := body(t, r); r.StatusCode != c.status || got != c.body || r.Header.Get("Content-Type") != c.kind {
			t.Errorf("GET %s = %d %q %q, want %d %q %q", c.path, r.StatusCode, r.Header.Get("Content-Type"), got, c.status, c.kind, c.body)
		}
	}
}

func TestStaticHeaders(t *testing.T) {
	h := &static{files: asSite()}
	for _, path := range []string{"/", "/loader.js", "/page.wasm", "/nowhere"} {
		r := get(t, h, "GET", path)
		for name, want := range map[string]string{
			"Content-Security-Policy":      policy.Header,
			"X-Content-Type-Options":       "nosniff",
			"Referrer-Policy":              "no-referrer",
			"Cross-Origin-Opener-Policy":   "same-origin",
			"Cross-Origin-Resource-Policy": "same-origin",
			"Vary":                         "Accept-Encoding",
			"Cache-Control":                "no-cache",
		} {
			if program := map[string]string{"Vary": "Accept-Encoding, Available-Dictionary", "Cache-Control": "max-age=2592000"}[name]; path == "/page.wasm" && program != "" {
				want = program
			}
			if got := r.Header.Get(name); got != want {
				t.Errorf("GET %s: %s = %q, want %q", path, name, got, want)
			}
		}
	}
	for _, word := range []string{"unsafe-eval'; style", "http", "*"} {
		if strings.Contains(strings.ReplaceAll(policy.Header, "wasm-unsafe-eval", ""), word) {
			t.Errorf("the policy lets in %q: %s", word, policy.Header)
		}
	}
}

func TestStaticPicksTheEncoding(t *testing.T) {
	h := &static{files: asSite()}
	tags := map[string]string{}
	for _, c := range []struct{ accept, want string }{
		{"", ""}, {"identity", ""}, {"br", "br"}, {"gzip, deflate, br", "br"}, {"gzip, deflate", "gzip"},
		{"br;q=0, gzip;q=0.5", "gzip"}, {"BR", "br"}, {"brotli", ""}, {"gzip;q=0", ""}, {"br;q=zero", ""}, {" br ; q=1 ", "br"},
		{"*", "br"}, {"*;q=0", ""}, {"gzip, *;q=0", "gzip"}, {"br;q=0, *", "gzip"}, {"gzip;q=1, br;q=0.2", "gzip"}, {"identity, br;q=0.5", ""}, {"identity;q=0.1, *;q=0.2", "br"}, {"br;q=2", ""},
	} {
		r := get(t, h, "GET", "/loader.js", "Accept-Encoding", c.accept)
		if got := r.Header.Get("Content-Encoding"); got != c.want {
			t.Errorf("Accept-Encoding %q: %q, want %q", c.accept, got, c.want)
		}
		if got := body(t, r); c.want == "" && got != "plain script" || c.want == "br" && got != "brotli bytes" {
			t.Errorf("Accept-Encoding %q: body %q", c.accept, got)
		}
		tags[c.want] = r.Header.Get("ETag")
		// the page has no twin: it comes as it is
		if r := get(t, h, "GET", "/", "Accept-Encoding", c.accept); r.Header.Get("Content-Encoding") != "" {
			t.Errorf("GET / with Accept-Encoding %q is encoded", c.accept)
		}
	}
	if tags[""] == tags["br"] || tags["br"] == tags["gzip"] || tags[""] == "" {
		t.Errorf("the forms share a tag: %v", tags)
	}
}

// RFC 9842, 2.2: what a client holds is a SHA-256 in base64 between colons.
func TestStaticSendsADifferenceToWhoHoldsTheDictionary(t *testing.T) {
	files := asSite()
	held, other := sha256.Sum256([]byte("a dictionary")), sha256.Sum256([]byte("another"))
	files["worker.wasm"] = &fstest.MapFile{Data: []byte("the program")}
	files["worker.wasm.br"] = &fstest.MapFile{Data: []byte("brotli program")}
	files["worker.wasm."+hex.EncodeToString(held[:8])+".dcb"] = &fstest.MapFile{Data: []byte("difference")}
	h := &static{files: files}
	of := func(sum [32]byte) string { return ":" + base64.StdEncoding.EncodeToString(sum[:]) + ":" }
	tags := map[string]bool{}
	for _, c := range []struct{ accept, held, coding, body string }{
		{"gzip, br, zstd, dcb, dcz", of(held), "dcb", "difference"},
		{"gzip, br, zstd, dcb, dcz", of(other), "br", "brotli program"},
		{"gzip, br, zstd, dcb, dcz", "", "br", "brotli program"},
		{"gzip, br, zstd, dcb, dcz", ":::", "br", "brotli program"},
		{"gzip, br, dcb;q=0", of(held), "br", "brotli program"},
		{"gzip, br", of(held), "br", "brotli program"},
		{"", of(held), "", "the program"},
	} {
		r := get(t, h, "GET", "/worker.wasm", "Accept-Encoding", c.accept, "Available-Dictionary", c.held)
		if got := body(t, r); r.Header.Get("Content-Encoding") != c.coding || got != c.body {
			t.Errorf("%+v: %q as %q", c, got, r.Header.Get("Content-Encoding"))
		}
		tags[r.Header.Get("ETag")] = true
		for tag := range tags { // of whatever coding: the content is there
			if r := get(t, h, "GET", "/worker.wasm", "Accept-Encoding", c.accept, "Available-Dictionary", c.held, "If-None-Match", tag); r.StatusCode != 304 {
				t.Errorf("%+v with %s: status %d", c, tag, r.StatusCode)
			}
		}
	}
	if len(tags) != 3 {
		t.Errorf("%d tags of three codings: %v", len(tags), tags)
	}
	for name, of := range map[string]string{"/page.wasm": `match="/*.wasm"`, "/worker.wasm": `match="/worker.wasm"`, "/loader.js": ""} {
		if got := get(t, h, "GET", name).Header.Get("Use-As-Dictionary"); got != of {
			t.Errorf("%s: Use-As-Dictionary %q, want %q", name, got, of)
		}
	}
}

func TestStaticUnpacksWhatIsOnlyThereCompressed(t *testing.T) {
	files := asSite()
	files["worker.wasm.gz"] = &fstest.MapFile{Data: gz("the program")}
	files["bad.js.gz"] = &fstest.MapFile{Data: []byte("no gzip")}
	h := &static{files: files}
	if r := get(t, h, "GET", "/worker.wasm"); body(t, r) != "the program" || r.Header.Get("Content-Type") != "application/wasm" || r.Header.Get("Content-Encoding") != "" {
		t.Errorf("plain: %d %v", r.StatusCode, r.Header)
	}
	if r := get(t, h, "GET", "/worker.wasm", "Accept-Encoding", "gzip"); body(t, r) != string(gz("the program")) || r.Header.Get("Content-Encoding") != "gzip" {
		t.Errorf("compressed: %d %v", r.StatusCode, r.Header)
	}
	for _, path := range []string{"/bad.js", "/worker.wasm.gz"} {
		if r := get(t, h, "GET", path); r.StatusCode != 404 {
			t.Errorf("GET %s = %d", path, r.StatusCode)
		}
	}
}

func TestStaticAnswersOnlyWhatChanged(t *testing.T) {
	files := asSite()
	h := &static{files: files}
	first := get(t, h, "GET", "/loader.js").Header.Get("ETag")
	if r := get(t, h, "GET", "/loader.js", "If-None-Match", first); r.StatusCode != 304 || body(t, r) != "" {
		t.Errorf("the same tag: status %d", r.StatusCode)
	}
	files["loader.js"] = &fstest.MapFile{Data: []byte("newer script"), ModTime: time.Unix(9, 0)}
	same := get(t, h, "GET", "/loader.js").Header.Get("ETag")
	files["loader.js"] = &fstest.MapFile{Data: []byte("NEWER SCRIPT"), ModTime: time.Unix(9, 0)} // of one size and time
	if r := get(t, h, "GET", "/loader.js"); body(t, r) != "NEWER SCRIPT" || r.Header.Get("ETag") == same {
		t.Error("a changed file of the same size and time is not seen")
	}
	files["loader.js"] = &fstest.MapFile{Data: []byte("newer script"), ModTime: time.Unix(9, 0)}
	r := get(t, h, "GET", "/loader.js", "If-None-Match", first)
	if r.StatusCode != 200 || body(t, r) != "newer script" || r.Header.Get("ETag") == first {
		t.Errorf("a changed file: status %d, tag %s", r.StatusCode, r.Header.Get("ETag"))
	}
	if r := get(t, h, "HEAD", "/shots"); r.StatusCode != 200 || body(t, r) != "" || r.Header.Get("Content-Length") != "14" {
		t.Errorf("HEAD: %d %v", r.StatusCode, r.Header)
	}
}

func TestStaticTakesNothingIn(t *testing.T) {
	h := &static{files: asSite()}
	for _, m := range []string{"POST", "PUT", "DELETE", "OPTIONS"} {
		if r := get(t, h, m, "/shots"); r.StatusCode != 405 || r.Header.Get("Allow") != "GET, HEAD" {
			t.Errorf("%s = %d", m, r.StatusCode)
		}
	}
	// shared files end here only without a service worker: they are not read
	if r := get(t, h, "POST", "/incoming"); r.StatusCode != 303 || r.Header.Get("Location") != "/?incoming=failed" {
		t.Errorf("POST /incoming = %d %s", r.StatusCode, r.Header.Get("Location"))
	}
}

func TestStaticRedirectsStayHere(t *testing.T) {
	h := &static{files: asSite()}
	for path, want := range map[string]string{"/shots/": "/shots", "//shots/": "/shots", "/index/": "/"} {
		if r := get(t, h, "GET", path); r.StatusCode != 301 || r.Header.Get("Location") != want {
			t.Errorf("GET %s = %d to %q, want %q", path, r.StatusCode, r.Header.Get("Location"), want)
		}
	}
	for _, path := range []string{"//evil.example/", `/\evil.example/`, "/%2f/evil.example/"} {
		if r := get(t, h, "GET", path); r.Header.Get("Location") != "" {
			t.Errorf("GET %s leads to %q", path, r.Header.Get("Location"))
		}
	}
}

func TestSiteFilesRefusesWaysOut(t *testing.T) {
	dir := t.TempDir()
	outside := filepath.Join(t.TempDir(), "outside.html")
	for name, text := range map[string]string{outside: "outside", filepath.Join(dir, "index.html"): "home"} {
		if err := os.WriteFile(name, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(outside, filepath.Join(dir, "out.html")); err != nil {
		t.Skip("no symbolic links here:", err)
	}
	files, err := siteFiles(dir)
	if err != nil {
		t.Fatal(err)
	}
	if r := get(t, &static{files: files}, "GET", "/out"); r.StatusCode != 404 {
		t.Errorf("a link out of the folder was followed: %d %q", r.StatusCode, body(t, r))
	}
	if _, err := fs.ReadFile(files, "../outside.html"); err == nil {
		t.Error("the folder was left")
	}
	for name, bad := range map[string]string{"an empty folder": t.TempDir(), "no folder": filepath.Join(dir, "nowhere")} {
		if _, err := siteFiles(bad); err == nil || !strings.Contains(err.Error(), "make site") {
			t.Errorf("siteFiles of %s: %v, want what to do", name, err)
		}
	}
}

func TestServeStopsWhenToldAndFinishesItsAnswers(t *testing.T) {
	ln, err := net.Listen("tcp", "localhost:0")
	if err != nil {
		t.Fatal(err)
	}
	ctx, stop := context.WithCancel(t.Context())
	done := make(chan error, 1)
	var out bytes.Buffer
	go func() { done <- serve(ctx, ln, newServer(asSite(), streams{nil, &out, &out}), "", "") }()
	url := "http://" + ln.Addr().String() + "/shots"
	r, err := http.Get(url)
	if err != nil || r.StatusCode != 200 {
		t.Fatalf("GET = %v, %v", r, err)
	}
	r.Body.Close()
	stop()
	select {
	case err := <-done:
		if err != nil {
			t.Error(err)
		}
	case <-time.After(10 * time.Second):
		t.Fatal("it did not stop")
	}
	if _, err := http.Get(url); err == nil {
		t.Error("it still answers")
	}
}

func TestServeSaysWhereAndWhatIsWrong(t *testing.T) {
	var out bytes.Buffer
	announce(streams{nil, &out, &out}, &net.TCPAddr{IP: net.IPv4(127, 0, 0, 1), Port: 8080}, false)
	if !strings.Contains(out.String(), "http://localhost:8080/") || !strings.Contains(out.String(), "-addr :8080") {
		t.Errorf("announce: %s", &out)
	}
	out.Reset()
	announce(streams{nil, &out, &out}, &net.TCPAddr{IP: net.IPv6unspecified, Port: 8443}, true)
	if !strings.Contains(out.String(), "https://localhost:8443/") {
		t.Errorf("announce: %s", &out)
	}
	for _, ip := range lanAddresses() {
		if !strings.Contains(out.String(), fmt.Sprintf("https://%s:8443/", ip)) {
			t.Errorf("announce does not name %s: %s", ip, &out)
		}
	}
	busy, err := net.Listen("tcp", "localhost:0")
	if err != nil {
		t.Fatal(err)
	}
	defer busy.Close()
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "index.html"), nil, 0o600); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		args []string
		exit int
		want string
	}{
		{[]string{"-addr", busy.Addr().String(), "-dir", dir}, exitInput, "choose another with -addr"},
		{[]string{"-dir", filepath.Join(dir, "none")}, exitInput, "make site"},
		{[]string{"extra"}, exitUsage, "unexpected"},
		{[]string{"-cert", "x"}, exitUsage, "go together"},
		{[]string{"-nonsense"}, exitUsage, "nonsense"},
	} {
		out.Reset()
		if got := runServe(c.args, streams{nil, &out, &out}); got != c.exit || !strings.Contains(out.String(), c.want) {
			t.Errorf("serve %v = %d %q, want %d and %q", c.args, got, &out, c.exit, c.want)
		}
	}
}

// TestARebuiltSiteIsServedAtOnce builds the folder anew under a running server,
// and takes it away.
func TestARebuiltSiteIsServedAtOnce(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "site")
	build := func(text string) {
		if err := os.RemoveAll(dir); err != nil {
			t.Fatal(err)
		}
		if err := os.MkdirAll(dir, 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, "index.html"), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	build("one")
	files, err := siteFiles(dir)
	if err != nil {
		t.Fatal(err)
	}
	var said bytes.Buffer
	h := newServer(files, streams{nil, &said, &said}).Handler
	for _, want := range []string{"one", "two"} {
		build(want)
		if r := get(t, h, "GET", "/"); r.StatusCode != 200 || body(t, r) != want {
			t.Errorf("built %q: %d", want, r.StatusCode)
		}
	}
	if err := os.RemoveAll(dir); err != nil {
		t.Fatal(err)
	}
	for range 2 {
		if r := get(t, h, "GET", "/"); r.StatusCode != 503 {
			t.Errorf("without a folder: %d", r.StatusCode)
		}
	}
	if n := strings.Count(said.String(), "make site"); n != 1 {
		t.Errorf("the missing folder is said %d times: %s", n, &said)
	}
	build("three")
	if r := get(t, h, "GET", "/"); body(t, r) != "three" {
		t.Error("the site that is back is not served")
	}
}

// TestAForeignPageHandsNothingIn posts the form of the share target as browsers
// mark it when a page of another site, or of a sister site, sends it.
func TestAForeignPageHandsNothingIn(t *testing.T) {
	h := &static{files: asSite()}
	for site, want := range map[string]int{"cross-site": 403, "same-site": 403, "same-origin": 303, "none": 303, "": 303} {
		r := get(t, h, "POST", "/incoming", "Sec-Fetch-Site", site)
		if r.StatusCode != want {
			t.Errorf("Sec-Fetch-Site %q: %d, want %d", site, r.StatusCode, want)
		}
		if want == 403 && !strings.Contains(body(t, r), "refused") {
			t.Errorf("Sec-Fetch-Site %q: it does not say that it was refused", site)
		}
	}
}

func TestCertificatesAreTriedFirst(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"index.html", "cert.pem", "key.pem"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte("no certificate"), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	var out bytes.Buffer
	args := []string{"-addr", "localhost:0", "-dir", dir, "-cert", filepath.Join(dir, "cert.pem"), "-key", filepath.Join(dir, "key.pem")}
	if got := runServe(args, streams{nil, &out, &out}); got != exitInput || !strings.Contains(out.String(), "cannot be used") || strings.Contains(out.String(), "https://") {
		t.Errorf("serve = %d %q", got, &out)
	}
}

func TestTheStandardInputIsBounded(t *testing.T) {
	var out bytes.Buffer
	if got := runRead([]string{"-"}, streams{endless{}, &out, &out}); got != exitInput || !strings.Contains(out.String(), "MB") {
		t.Errorf("read - = %d %q", got, &out)
	}
}

type endless struct{}

func (endless) Read(b []byte) (int, error) { return len(b), nil }
