package text

import (
	"encoding/json"
	"fmt"
	"slices"
	"sync"
)

// Languages lists the languages that the program speaks, English first.
var Languages = []Language{"en", "es", "de", "ja", "ko"}

// names are what the languages call themselves. They stand here, because they
// are read while only one catalogue is at hand.
var names = map[Language]string{"en": "English", "es": "Español", "de": "Deutsch", "ja": "日本語", "ko": "한국어"}

// Name is what the language calls itself, empty for one that is not spoken.
func (l Language) Name() string { return names[l] }

// Spoken reports whether the program speaks l, its catalogue at hand or not.
func (l Language) Spoken() bool { return slices.Contains(Languages, l) }

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
// English files. A program carries them (embedded.go), save those for the
// browser: they are built with the tag "fetched" and given a file by Load. A
// file is read when its language is first asked for: who reads English never
// pays for it.
var (
	file     = func(Language) []byte { return nil } // what the program carries
	opened   = map[Language]map[string]string{}
	openedMu sync.Mutex
)

// catalogue returns the words of a language, nil when they are not at hand.
func catalogue(l Language) map[string]string {
	if l == "en" || l == "" {
		return english
	}
	openedMu.Lock()
	defer openedMu.Unlock()
	words, done := opened[l]
	if !done {
		_ = json.Unmarshal(file(l), &words) // a damaged file fails the tests; a reader gets English
		opened[l] = words
	}
	return words
}

// Has reports whether the words of l are at hand.
func Has(l Language) bool { return catalogue(l) != nil }

// Load takes the words of l from the content of its file. The error says why
// it is no catalogue; the words are then English as before.
func Load(l Language, content []byte) error {
	var words map[string]string
	if err := json.Unmarshal(content, &words); err != nil {
		return fmt.Errorf("the words of %q: %w", l, err)
	}
	openedMu.Lock()
	defer openedMu.Unlock()
	opened[l] = words
	return nil
}
