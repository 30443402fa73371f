package text

import (
	"slices"
	"strings"
	"sync"

	"ferrule/core/message"
	"ferrule/core/shot"
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
// written area by area, a line "key: words" each; the names of quantities are those
// of shot.Kinds. A list is one text: as pairs it would take 32 bytes more a line.
var english = sync.OnceValue(func() map[string]string {
	all := make(map[string]string, 2048)
	put := func(key, words string) {
		known := len(all)
		if all[key] = words; len(all) == known { // a look-up less at every start
			panic("text: key given twice: " + key)
		}
	}
	for _, k := range shot.Kinds {
		put("quantity."+string(k.Quantity), k.Name)
	}
	message.English(put)
	for _, part := range []string{
		enShared, enApp, enAppMore, enChart, enCharttest, enClub,
		enDecide, enHow, enPipeline, enQuantity,
		enResponse, enSheet, enShots, outside, enStore, enVisits, enAnswer, enMemory,
	} {
		for part != "" { // written out, for every start reads them
			colon, end := strings.IndexByte(part, ':'), strings.IndexByte(part, '\n')
			if end < 0 {
				end = len(part)
			}
			put(part[:colon], part[colon+len(": "):end])
			part = part[min(end+1, len(part)):]
		}
	}
	return all
})

// outside are words that no program in a browser says (en_site.go).
var outside string

// The other languages are one file each, {"key": "words"} in the order of the
// English files. A program carries them (embedded.go), save those for the
// browser: they are built with the tag "fetched" and given a file by Load. A
// file is read when its language is first asked for: who reads English never
// pays for it.
var (
	carried  = func(Language) map[string]string { return nil } // what the program has with it
	opened   = map[Language]map[string]string{}
	openedMu sync.Mutex
)

// catalogue returns the words of a language, nil when they are not at hand.
func catalogue(l Language) map[string]string {
	if l == "en" || l == "" {
		return english()
	}
	openedMu.Lock()
	defer openedMu.Unlock()
	words, done := opened[l]
	if !done {
		words = carried(l)
		opened[l] = words
	}
	return words
}

// Has reports whether the words of l are at hand.
func Has(l Language) bool { return catalogue(l) != nil }

// Load takes the words of l, by key, as its file has them.
func Load(l Language, words map[string]string) {
	openedMu.Lock()
	defer openedMu.Unlock()
	opened[l] = words
}
