package shotfile

import (
	"math/rand/v2"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/text"
)

var (
	english = regexp.MustCompile(`\b(the|and|agrees|shots?|numbers|says|expected|header|taken|lines|curve|face|landing|names|columns|separated)\b`)
	quotes  = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
)

// What is said of a file is in the reader's language: columns' evidence, notes,
// questions, choices and errors of the bed and of files in wind, in each.
func TestNoEnglishIsLeft(t *testing.T) {
	said := map[string]bool{}
	take := func(name string, data []byte, opt Options) {
		tab, err := Read(name, data, opt)
		if err != nil {
			said[err.Error()] = true
		}
		for _, c := range tab.Columns {
			for _, e := range strings.Split(c.Evidence, "; ") {
				said[e] = true
			}
		}
		for _, n := range tab.Notes {
			said[n] = true
		}
		for _, q := range tab.Questions {
			said[q.Text] = true
		}
		for _, e := range tab.Errors {
			said[e.Message] = true
		}
	}
	for i := range 60 {
		r := rand.New(rand.NewPCG(uint64(i), *windSeed))
		f := hitInWind(r, 4, []int{8, 12, 30}[i%3], i%2 > 0)
		take("f.csv", f.data, Options{})
	}
	for k := range 60 {
		w, _ := heldBack(rand.New(rand.NewPCG(uint64(k), 9_000_002)))
		take(w.file, w.data, w.options(nil))
	}
	for k := range 60 {
		name, data := anyDevice(rand.New(rand.NewPCG(uint64(k), 31_337))).write(rand.New(rand.NewPCG(1, 1)))
		take(name, data, Options{})
	}
	for _, w := range bed() {
		take(w.file, w.data, w.options(nil))
	}
	take("a.csv", airFile("Temperature,Wind (mph),Wind Direction", "40,5,NW"), Options{})
	for _, l := range []text.Language{"es", "de", "ja", "ko"} {
		for s := range said {
			got := (text.Reader{Language: l}).Problem(s)
			if s != "" && (got == s || english.MatchString(quotes.ReplaceAllString(got, ""))) {
				t.Errorf("%s: %q is still English in %q", l, s, got)
			}
		}
	}
	t.Logf("%d sentences", len(said))
}
