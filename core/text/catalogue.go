package text

import (
	"embed"
	"encoding/json"
	"sync"
)

// Languages lists the languages that the program speaks, English first.
var Languages = []Language{"en", "es", "de", "ja", "ko"}

// english is the catalogue that every other one must match key by key. It is
// written in Go, area by area, beside the packages whose words it holds.
var english = map[string]string{}

// add puts words into the English catalogue; a key given twice is a bug.
func add(_ Language, words map[string]string) {
	for k, w := range words {
		if _, twice := english[k]; twice {
			panic("text: key given twice: " + k)
		}
		english[k] = w
	}
}

// The other languages are one file each, {"key": "words"} in the order of the
// English files. A file is read when its language is first asked for: who
// reads English never pays for it.
//
//go:embed es.json de.json ja.json ko.json
var files embed.FS

var (
	opened   = map[Language]map[string]string{}
	openedMu sync.Mutex
)

// catalogue returns the words of a language, nil when it has none.
func catalogue(l Language) map[string]string {
	if l == "en" || l == "" {
		return english
	}
	openedMu.Lock()
	defer openedMu.Unlock()
	words, done := opened[l]
	if !done {
		if raw, err := files.ReadFile(string(l) + ".json"); err == nil {
			_ = json.Unmarshal(raw, &words) // a damaged file fails the tests; a reader gets English
		}
		opened[l] = words
	}
	return words
}

// Has reports whether l has a catalogue.
func Has(l Language) bool { return catalogue(l) != nil }
