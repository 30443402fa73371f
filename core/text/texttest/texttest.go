// Package texttest finds English words in what should be in another language.
package texttest

import (
	"encoding/json"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/text"
)

var (
	quotes  = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
	titles  = regexp.MustCompile(`\([^()]*\)`) // a list of the file's titles
	letters = regexp.MustCompile(`\pL[\pL'’-]*`)
	entry   = regexp.MustCompile("(?m)^(?:const .*`|\t`)?[a-z0-9_. -]+: (.*)$")
)

// Words are those of a language and of English, in small letters.
type Words struct{ english, own map[string]bool }

// Of reads the words from the catalogues, for a test of a room of core.
func Of(t *testing.T, l text.Language) Words {
	t.Helper()
	w := Words{map[string]bool{}, map[string]bool{}}
	add := func(to map[string]bool, sentence string) {
		for _, word := range letters.FindAllString(strings.ToLower(sentence), -1) {
			to[word] = true
		}
	}
	read := func(name string) []byte {
		raw, err := os.ReadFile(name)
		if err != nil {
			t.Fatal(err)
		}
		return raw
	}
	names, err := filepath.Glob("../text/en_*.go")
	if err != nil || len(names) == 0 {
		t.Fatalf("no English words: %v", err)
	}
	for _, name := range names {
		for _, m := range entry.FindAllSubmatch(read(name), -1) {
			add(w.english, string(m[1]))
		}
	}
	message.English(func(_, sentence string) { add(w.english, sentence) })
	for _, k := range shot.Kinds {
		for _, word := range strings.Fields(k.Name) {
			w.english[word] = true
		}
	}
	var all map[string]string
	if err := json.Unmarshal(read("../text/"+string(l)+".json"), &all); err != nil {
		t.Fatal(err)
	}
	for _, sentence := range all {
		add(w.own, sentence)
	}
	return w
}

// Left are the words of a sentence that only English has. What stands in quotation marks
// or brackets is the file's own.
func (w Words) Left(sentence string) (out []string) {
	for _, word := range letters.FindAllString(strings.ToLower(titles.ReplaceAllString(quotes.ReplaceAllString(sentence, ""), "")), -1) {
		if len(word) > 2 && word != "mph" && w.english[word] && !w.own[word] {
			out = append(out, word)
		}
	}
	return out
}
