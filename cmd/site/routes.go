//go:build !js

package main

import (
	"encoding/json"

	"ferrule/core/text"
)

// route is one address of the app. The text that stands on it before the
// program has started is static: no data, no ARIA states.
type route struct {
	Path string
	name string // of its words
	step bool   // one of the five steps, linked from every page
}

var words text.Reader

// Heading is the page's name.
func (r route) Heading() string {
	if r.Path == lost.Path {
		return words.Word("site.lost.title")
	}
	return words.Word("page." + r.name + ".title")
}

// Lead says what the page is for.
func (r route) Lead() string { return words.Word("site." + r.name) }

// Title is the page's title in the browser.
func (r route) Title() string { return r.Heading() + " · Ferrule" }

// routes are all addresses of the app; every one starts offline. A test holds
// them against those that app/page registers.
var routes = []route{
	{"/", "home", false},
	{"/club", "club", true},
	{"/shots", "shots", true},
	{"/compare", "compare", true},
	{"/choose", "choose", true},
	{"/sheet", "sheet", true},
	{"/sessions", "home", false},
	{"/shared", "shared", false},
	{"/settings", "settings", false},
	{"/how", "how", false},
	{"/live", "live", false},
	{"/client", "client", false},
	{"/visits", "visits", false},
	{"/story", "story", false},
}

// lost is delivered with status 404.
var lost = route{"/404", "lost", false}

// linked are the pages that a page without its program leads to.
func linked() []route {
	var rs []route
	for _, r := range routes {
		if r.step || r.Path == "/" {
			rs = append(rs, r)
		}
	}
	return rs
}

// manifest is the web app manifest. Files reach the app in two ways: shared
// from another app (a POST that the service worker takes) and opened from the
// file manager (the launch queue in the loader).
func manifest() []byte {
	type m = map[string]any
	types := m{
		"text/csv":                 []string{".csv"},
		"text/plain":               []string{".txt", ".tsv"},
		"application/octet-stream": []string{".ferrule"},
		"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet": []string{".xlsx"},
	}
	accept := []string{"text/csv", "text/plain", "text/tab-separated-values", ".csv", ".txt", ".tsv", ".xlsx", ".ferrule",
		"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"}
	out, err := json.MarshalIndent(m{
		"id": "/", "name": "Ferrule", "short_name": "Ferrule", "description": words.Word("site.description"), "lang": "en",
		"scope": "/", "start_url": "/", "display": "standalone",
		"background_color": "#f6f4ee", "theme_color": "#f6f4ee",
		"categories": []string{"sports", "utilities"},
		"icons": []m{
			{"src": "/icon.svg", "type": "image/svg+xml", "sizes": "any"},
			{"src": "/icon-192.png", "type": "image/png", "sizes": "192x192"},
			{"src": "/icon-512.png", "type": "image/png", "sizes": "512x512"},
			{"src": "/icon-maskable.png", "type": "image/png", "sizes": "512x512", "purpose": "maskable"},
		},
		"share_target": m{
			"action": "/incoming", "method": "POST", "enctype": "multipart/form-data",
			"params": m{"title": "title", "text": "text", "url": "url",
				"files": []m{{"name": "file", "accept": accept}}},
		},
		"screenshots":    screenshots(),
		"shortcuts":      shortcuts(),
		"file_handlers":  []m{{"action": "/", "accept": types}},
		"launch_handler": m{"client_mode": []string{"navigate-existing", "auto"}},
	}, "", "  ")
	if err != nil {
		panic(err) // a map of constants always encodes
	}
	return out
}

// shortcuts are the pages that a long press on the app's icon leads to: typing
// balls, the answer, the sheet.
func shortcuts() (out []map[string]any) {
	for _, r := range routes {
		if r.Path == "/shots" || r.Path == "/choose" || r.Path == "/sheet" {
			out = append(out, map[string]any{"name": r.Heading(), "url": r.Path})
		}
	}
	return out
}

// shown are the pages whose pictures an installer shows: the answer first.
func shown() (rs []route) {
	for _, path := range []string{"/choose", "/shots", "/club"} {
		for _, r := range routes {
			if r.Path == path {
				rs = append(rs, r)
			}
		}
	}
	return rs
}

const pictures = "/screens/"

func picture(r route) string { return pictures + r.name + ".png" }

// screenshots are pictures of a phone with the invented example, from `make screens`.
func screenshots() (out []map[string]any) {
	for _, r := range shown() {
		out = append(out, map[string]any{"src": picture(r), "type": "image/png", "sizes": "390x844", "form_factor": "narrow", "label": r.Heading()})
	}
	return out
}
