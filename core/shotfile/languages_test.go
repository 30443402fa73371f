package shotfile

import (
	"encoding/json"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/text"
)

var (
	quotes  = regexp.MustCompile(`"(?:[^"\\]|\\.)*"`)
	titles  = regexp.MustCompile(`\([^()]*\)`) // a list of the file's titles
	letters = regexp.MustCompile(`\pL[\pL'’-]*`)
)

// words are those of the catalogue of l, in small letters.
func words(t *testing.T, l text.Language) map[string]bool {
	t.Helper()
	out := map[string]bool{}
	if l == "en" {
		names, err := filepath.Glob("../text/en_*.go")
		if err != nil || len(names) == 0 {
			t.Fatalf("no English words: %v", err)
		}
		entry := regexp.MustCompile("(?m)^\t\\{\"[a-z0-9_.-]+\", [\"`](.*)[\"`]\\},")
		for _, name := range names {
			raw, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			for _, m := range entry.FindAllSubmatch(raw, -1) {
				for _, w := range letters.FindAllString(strings.ToLower(string(m[1])), -1) {
					out[w] = true
				}
			}
		}
		for _, k := range shot.Kinds {
			for _, w := range strings.Fields(k.Name) {
				out[w] = true
			}
		}
		return out
	}
	raw, err := os.ReadFile("../text/" + string(l) + ".json")
	if err != nil {
		t.Fatal(err)
	}
	var all map[string]string
	if err := json.Unmarshal(raw, &all); err != nil {
		t.Fatal(err)
	}
	for _, sentence := range all {
		for _, w := range letters.FindAllString(strings.ToLower(sentence), -1) {
			out[w] = true
		}
	}
	return out
}

// leftovers are the words of a sentence in another language that only the
// English catalogue has. What stands in quotation marks or brackets is the file's own.
func leftovers(sentence string, english, own map[string]bool) (out []string) {
	for _, w := range letters.FindAllString(strings.ToLower(titles.ReplaceAllString(quotes.ReplaceAllString(sentence, ""), "")), -1) {
		if len(w) > 2 && w != "mph" && english[w] && !own[w] {
			out = append(out, w)
		}
	}
	return out
}

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
	names, err := filepath.Glob("../../testdata/*/*")
	if err != nil || len(names) < 50 {
		t.Fatalf("%d fixtures, %v", len(names), err)
	}
	for _, name := range names {
		if data, err := os.ReadFile(name); err == nil && len(data) < 1<<18 && !strings.HasSuffix(name, ".go") {
			take(filepath.Base(name), data, Options{})
		}
	}
	take("a.csv", airFile("Temperature,Wind (mph),Wind Direction", "40,5,NW"), Options{})
	english := words(t, "en")
	for _, l := range text.Languages[1:] {
		t.Run(string(l), func(t *testing.T) {
			own := words(t, l)
			for s := range said {
				got := (text.Reader{Language: l}).Problem(s)
				if left := leftovers(got, english, own); s != "" && (got == s || len(left) > 0) {
					t.Errorf("%q is still English in %q: %s", s, got, left)
				}
			}
		})
	}
	t.Logf("%d sentences", len(said))
}
