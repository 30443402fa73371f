//go:build !js

package main

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image/png"
	"os"
	"regexp"
	"sort"
	"strings"
	"testing"

	"ferrule/cmd/internal/policy"
	"ferrule/core/text"
)

// The routes that the pages register stand in app/page/page.go as a map with
// literal keys; reading them there keeps this program free of the pages.
func TestEveryRouteOfTheAppHasItsPage(t *testing.T) {
	src, err := os.ReadFile("../../app/page/page.go")
	if err != nil {
		t.Fatal(err)
	}
	_, block, found := strings.Cut(string(src), "var routes = ")
	if !found {
		t.Fatal("app/page/page.go has no var routes any more: read them where they are now")
	}
	block, _, _ = strings.Cut(block, "\n}")
	var app, site []string
	for _, m := range regexp.MustCompile(`(?m)^\s*"(/[a-z]*)":`).FindAllStringSubmatch(block, -1) {
		app = append(app, m[1])
	}
	for _, r := range routes {
		site = append(site, r.Path)
	}
	sort.Strings(app)
	sort.Strings(site)
	if a, s := strings.Join(app, " "), strings.Join(site, " "); a != s {
		t.Errorf("routes of the app:  %s\nroutes of the site: %s", a, s)
	}
}

func TestPagesSayWhatTheyAreAndAskNobodyElse(t *testing.T) {
	files := site{}
	if err := pages(files, "../../pwa"); err != nil {
		t.Fatal(err)
	}
	remote := regexp.MustCompile(`(src|href)="(https?:)?//`)
	inline := regexp.MustCompile(`<script(?:[^>]*)>\s*[^<\s]|\son[a-z]+="`)
	for _, r := range append(routes, lost) {
		html := string(files[r.Path])
		if strings.Contains(html, "[page.") || strings.Contains(html, "[site.") {
			t.Errorf("%s has a word that is in no catalogue", r.Path)
		}
		for _, want := range []string{"<h1", `lang="en"`, "wasm-unsafe-eval", `name="viewport"`, "manifest.webmanifest"} {
			if !strings.Contains(html, want) {
				t.Errorf("%s lacks %s", r.Path, want)
			}
		}
		if m := remote.FindString(html); m != "" {
			t.Errorf("%s asks another host: %s", r.Path, m)
		}
		if m := inline.FindString(html); m != "" {
			t.Errorf("%s has an inline script, which the policy forbids: %s", r.Path, m)
		}
	}
}

func TestScriptsAskNobodyElse(t *testing.T) {
	remote := regexp.MustCompile(`https?://|["'` + "`" + `]//[a-z]`)
	for _, name := range []string{"first.js", "loader.js", "sw.js", "guard.js", "worker.js", "peek.js", "root.js", "shell.css", "icon.svg"} {
		src, err := os.ReadFile("../../pwa/" + name)
		if err != nil {
			t.Fatal(err)
		}
		text := strings.ReplaceAll(string(src), "http://www.w3.org/2000/svg", "")
		if m := remote.FindString(text); m != "" {
			t.Errorf("pwa/%s names another host: %s", name, m)
		}
	}
}

// The header files hold each header that our server sends, in the form of each
// kind of host.
func TestHeaderFiles(t *testing.T) {
	files := policy.Files()
	for name, form := range map[string]string{"_headers": "  %s: %s\n", ".htaccess": "Header always set %s \"%s\"\n", "headers.nginx": "add_header %s \"%s\" always;\n"} {
		for _, h := range policy.Headers {
			if want := fmt.Sprintf(form, h[0], h[1]); !strings.Contains(files[name], want) {
				t.Errorf("%s lacks %q", name, want)
			}
		}
	}
	for _, want := range []string{"frame-ancestors 'none'", "connect-src 'self'", "require-trusted-types-for 'script'"} {
		if !strings.Contains(files["_headers"], want) {
			t.Errorf("the policy lacks %s", want)
		}
	}
}

// The words in the page of a shared link are those that its script says.
func TestTheScriptOfSharedLinksHasItsWords(t *testing.T) {
	src, err := os.ReadFile("../../pwa/peek.js")
	if err != nil {
		t.Fatal(err)
	}
	said := map[string]bool{}
	for _, m := range regexp.MustCompile(`"([a-z]+\.[a-z.-]+)"`).FindAllStringSubmatch(string(src), -1) {
		if m[1] != "ferrule.prefs" {
			said[m[1]] = true
		}
	}
	for _, k := range peekKeys {
		if !said[k] {
			t.Errorf("pwa/peek.js does not say %s", k)
		}
		delete(said, k)
	}
	for k := range said {
		t.Errorf("pwa/peek.js says %s, which is not in its words", k)
	}
	files := site{}
	if err := pages(files, "../../pwa"); err != nil {
		t.Fatal(err)
	}
	for path, html := range files {
		if strings.HasPrefix(path, "/first/") {
			continue
		}
		shared := path == "/shared"
		for _, part := range []string{`src="/peek.js"`, `id="peek"`, "4.1a(3)"} {
			if strings.Contains(string(html), part) != shared {
				t.Errorf("%s: %s is there: %v", path, part, !shared)
			}
		}
		if strings.Contains(string(html), `src="root.js"`) == (path == lost.Path) {
			t.Errorf("%s and the word about the root of the address", path)
		}
	}
	prefs, err := os.ReadFile("../../app/act/preferences.go")
	if err != nil || !strings.Contains(string(prefs), `PrefsKey = "ferrule.prefs"`) {
		t.Error("the preferences are kept under another name than pwa/peek.js reads:", err)
	}
}

func TestManifest(t *testing.T) {
	var m struct {
		Name, Display, Scope string
		StartURL             string `json:"start_url"`
		Icons                []struct{ Src, Sizes, Purpose string }
		ShareTarget          struct{ Action, Method, Enctype string } `json:"share_target"`
		FileHandlers         []struct{ Action string }                `json:"file_handlers"`
		Shortcuts            []struct{ Name, URL string }
		Screenshots          []struct{ Src, Sizes, Label string }
	}
	if err := json.Unmarshal(manifest(), &m); err != nil {
		t.Fatal(err)
	}
	if m.Name != "Ferrule" || m.Display != "standalone" || m.Scope != "/" || m.StartURL != "/" ||
		m.ShareTarget.Action != "/incoming" || m.ShareTarget.Method != "POST" || len(m.FileHandlers) != 1 {
		t.Errorf("manifest: %+v", m)
	}
	if len(m.Shortcuts) != 3 || m.Shortcuts[0].URL != "/shots" || m.Shortcuts[0].Name == "" {
		t.Errorf("shortcuts: %+v", m.Shortcuts)
	}
	for _, shot := range m.Screenshots {
		raw, err := os.ReadFile("../../testdata" + shot.Src)
		if err != nil {
			t.Fatal(err)
		}
		img, err := png.DecodeConfig(bytes.NewReader(raw))
		if size := fmt.Sprintf("%dx%d", img.Width, img.Height); err != nil || size != shot.Sizes || shot.Label == "" {
			t.Errorf("%+v: %s, %v", shot, size, err)
		}
	}
	if out, err := (site{"/screens/club.png": nil, "/": nil}).serviceWorker([]byte("{{.Files}}"), ""); err != nil || bytes.Contains(out, []byte("screens")) || len(m.Screenshots) != 3 {
		t.Errorf("%d pictures, kept by the service worker: %s %v", len(m.Screenshots), out, err)
	}
	var sizes []string
	for _, i := range m.Icons {
		sizes = append(sizes, i.Sizes+i.Purpose)
	}
	if got := strings.Join(sizes, " "); got != "any 192x192 512x512 512x512maskable" {
		t.Errorf("icons: %s", got)
	}
	sw, err := os.ReadFile("../../pwa/sw.js")
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Contains(sw, []byte(`"`+m.ShareTarget.Action+`"`)) {
		t.Errorf("the service worker does not take what is sent to %s", m.ShareTarget.Action)
	}
}

func TestIcons(t *testing.T) {
	for _, maskable := range []bool{false, true} {
		img, err := png.Decode(bytes.NewReader(icon(64, maskable)))
		if err != nil {
			t.Fatal(err)
		}
		_, _, _, corner := img.At(0, 0).RGBA()
		if (corner != 0) != maskable {
			t.Errorf("maskable %v: the corner has alpha %d", maskable, corner)
		}
		seen := map[string]bool{}
		for y := range 64 {
			for x := range 64 {
				r, g, b, a := img.At(x, y).RGBA()
				for name, c := range map[string][3]uint8{"ink": {ink.R, ink.G, ink.B}, "accent": {accent.R, accent.G, accent.B}, "paper": {paper.R, paper.G, paper.B}} {
					if a == 0xffff && uint8(r>>8) == c[0] && uint8(g>>8) == c[1] && uint8(b>>8) == c[2] {
						seen[name] = true
					}
				}
			}
		}
		if len(seen) != 3 {
			t.Errorf("maskable %v: the icon shows only %v", maskable, seen)
		}
	}
}

func TestVersionIsOfTheContent(t *testing.T) {
	a := site{"/": []byte("one"), "/x.js": []byte("two")}
	b := site{"/": []byte("one"), "/x.js": []byte("tw0")}
	sw := []byte("worker {{.Version}} {{.Files}}")
	v, again := a.version(sw), a.version(sw) // a map's order must not tell
	if v == b.version(sw) || v != again || a.version(sw) == a.version([]byte("other")) {
		t.Error("the version does not follow the content")
	}
	out, err := a.serviceWorker(sw, "v")
	if err != nil {
		t.Fatal(err)
	}
	// printf one | openssl sha256 -binary | base64
	if want := `"/": "dpLDrTVAu4A8Ags67mbNiIcSMjTqDG5xQ8Ct1z/0Me0="`; !strings.Contains(string(out), "worker v") || !strings.Contains(string(out), want) {
		t.Errorf("service worker: %s, want %s in it", out, want)
	}
}

func TestFileNames(t *testing.T) {
	for path, want := range map[string]string{"/": "index.html", "/shots": "shots.html", "/404": "404.html", "/page.wasm": "page.wasm"} {
		if got := fileName(path); got != want {
			t.Errorf("fileName(%q) = %q, want %q", path, got, want)
		}
	}
}

func TestAProgramThatIsTooHeavyFails(t *testing.T) {
	for quick, budget := range budget {
		if err := overBudget(map[string]int{"page.wasm": budget["/page.wasm"], "worker.wasm": 1}, quick); err != nil {
			t.Error(err)
		}
		for path, most := range budget {
			if err := overBudget(map[string]int{fileName(path): most + 1}, quick); err == nil || !strings.Contains(err.Error(), path) {
				t.Errorf("%s: %v", path, err)
			}
		}
	}
}

// The pages that stand before the program are the same in each build, their ids
// are none of the program's, and what can be tapped has one.
func TestFirstPages(t *testing.T) {
	for _, l := range text.Languages {
		pages, again := firstPages(l), firstPages(l)
		for path, html := range pages {
			if again[path] != html {
				t.Fatalf("%s %s is written in two ways", l, path)
			}
			for _, m := range regexp.MustCompile(`\s(?:id|for)="([^"]*)"`).FindAllStringSubmatch(html, -1) {
				if !strings.HasPrefix(m[1], "first-") {
					t.Errorf("%s %s: the id %q may be one of the program's", l, path, m[1])
				}
			}
			for _, m := range regexp.MustCompile(`<(button|input|select)[^>]*>`).FindAllString(html, -1) {
				if !strings.Contains(m, ` id="first-`) {
					t.Errorf("%s %s: a tap on %s cannot be played", l, path, m)
				}
			}
			if strings.Contains(html, `role="alert"`) {
				t.Errorf("%s %s warns before anything is wrong", l, path)
			}
			if len(html) > 25_000 {
				t.Errorf("%s %s: %d bytes before the first tap", l, path, len(html))
			}
		}
		if home := pages["/"]; !strings.Contains(home, "first-try-example") || !strings.Contains(home, "first-new-session") {
			t.Errorf("%s: the first page cannot be begun with: %.300s", l, home)
		}
	}
}
