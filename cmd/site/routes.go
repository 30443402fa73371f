package main

import "encoding/json"

// route is one address of the app with the text that stands on it before the
// program has started: static text only, no data, no ARIA states.
type route struct {
	Path    string
	Heading string
	Text    []string
	Step    bool // one of the five steps, linked from every page
}

// Title is the page's title.
func (r route) Title() string {
	if r.Path == "/" {
		return "Ferrule"
	}
	return r.Heading + " · Ferrule"
}

const description = "Fit an adjustable golf club from your own shots: what each setting does for you, how sure that is, and what to hit next. Works offline; nothing leaves your device."

// routes are all addresses of the app; every one must start offline.
var routes = []route{
	{"/", "Find the setting that suits you", []string{
		"Ferrule compares the settings of an adjustable club from the shots you hit, and says which one to keep, how sure that is, and what is worth hitting next.",
		"Everything is computed on this device. Nothing is sent anywhere."}, false},
	{"/club", "Club", []string{"What you are adjusting, and what you want from it."}, true},
	{"/shots", "Shots", []string{"What you hit: typed in, pasted, or from a file."}, true},
	{"/compare", "Compare", []string{"Is the difference between two settings real?"}, true},
	{"/choose", "Choose", []string{"How to set the club, how sure that is, and what to hit next."}, true},
	{"/sheet", "Sheet", []string{"One page to take home."}, true},
	{"/sessions", "Sessions", []string{"Your sessions on this device."}, false},
	{"/settings", "Settings", []string{"Units, theme, language and storage."}, false},
	{"/how", "How it works", []string{"The method in plain words, its limits and its sources."}, false},
	{"/shared", "Shared sheet", []string{"A fitting sheet that somebody shared with you."}, false},
}

// lost is delivered with status 404.
var lost = route{"/404", "There is no such page", []string{"The address may be mistyped."}, false}

func linked() []route {
	var rs []route
	for _, r := range routes {
		if r.Step || r.Path == "/sessions" {
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
		"id": "/", "name": "Ferrule", "short_name": "Ferrule", "description": description, "lang": "en",
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
		"file_handlers":  []m{{"action": "/", "accept": types}},
		"launch_handler": m{"client_mode": []string{"navigate-existing", "auto"}},
	}, "", "  ")
	if err != nil {
		panic(err) // a map of constants always encodes
	}
	return out
}
