package text

import (
	"go/ast"
	"go/parser"
	"go/token"
	"io/fs"
	"path/filepath"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"
)

var (
	keyShape = regexp.MustCompile(`^[a-z][a-z0-9_-]*(\.[a-z0-9_-]+)+$`)
	stem     = regexp.MustCompile(`^[a-z][a-z0-9_-]*(\.[a-z0-9_-]+)*[.-]$`) // "verdict.", put together with more
	filled   = regexp.MustCompile(`\{(\d+)(:[^{}|]*\|[^{}|]*)?\}`)
	// inEnglish is a file that holds English words.
	inEnglish = regexp.MustCompile(`core/text/[a-z]{2}(_[a-z_]+)?\.go$`)
	fileName  = regexp.MustCompile(`\.(js|go|css|html|svg|png|wasm|json|csv|txt|tsv|xlsx|md|webmanifest|ico|bin|gz|br|ferrule)$`)
)

// noKeys look like keys and are something else.
var noKeys = map[string]string{
	"sleeve.rings":        "a place in CLUB.json",
	"sleeve.labels":       "a place in CLUB.json",
	"response.deviation.": "the name of a stream of random numbers",
	"response.noise":      "the name of a stream of random numbers",
	"response.draws":      "the name of a stream of random numbers",
}

// literals visits every string constant of the program, tests aside.
func literals(t *testing.T, visit func(at, value string)) {
	t.Helper()
	fset := token.NewFileSet()
	for _, root := range []string{"../../core", "../../app", "../../cmd"} {
		err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") ||
				inEnglish.MatchString(filepath.ToSlash(path)) {
				return err
			}
			f, err := parser.ParseFile(fset, path, nil, 0)
			if err != nil {
				t.Logf("not read: %v", err) // its own build says so louder
				return nil
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if _, isImport := n.(*ast.ImportSpec); isImport {
					return false
				}
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if v, err := strconv.Unquote(lit.Value); err == nil {
						visit(fset.Position(lit.Pos()).String(), v)
					}
				}
				return true
			})
			return nil
		})
		if err != nil {
			t.Fatal(err)
		}
	}
}

// TestEveryKeyUsedExists takes each string of the program that looks like a
// key of a known area ("chart.carry") and looks it up; a stem ("verdict.") must
// begin some key.
func TestEveryKeyUsedExists(t *testing.T) {
	areas := map[string]bool{}
	for k := range english() {
		area, _, _ := strings.Cut(k, ".")
		areas[area] = true
	}
	seen := 0
	literals(t, func(at, v string) {
		area, _, dotted := strings.Cut(v, ".")
		if !dotted || !areas[area] || fileName.MatchString(v) || noKeys[v] != "" {
			return
		}
		switch {
		case stem.MatchString(v):
			for k := range english() {
				if strings.HasPrefix(k, v) {
					return
				}
			}
			t.Errorf("%s: no key begins with %q", at, v)
		case keyShape.MatchString(v):
			seen++
			if _, ok := english()[v]; ok {
				return
			}
			for k := range english() { // "sheet.check" beside "sheet.check.rounds": a stem without its dot
				if strings.HasPrefix(k, v+".") || strings.HasPrefix(k, v+"-") {
					return
				}
			}
			t.Errorf("%s: key %q is in no catalogue", at, v)
		}
	})
	if seen < 200 {
		t.Errorf("only %d keys were found in the program: the search is broken", seen)
	}
}

// TestEveryKeyIsUsed finds words that nothing says any more: a literal or a
// stem of the program must reach each key.
func TestEveryKeyIsUsed(t *testing.T) {
	whole, stems := map[string]bool{}, map[string]bool{}
	literals(t, func(_, v string) {
		whole[v] = true
		if strings.HasSuffix(v, ".") || strings.HasSuffix(v, "-") {
			stems[v] = true
		}
	})
	var unused []string
	for k := range english() {
		used := whole[k]
		for i := range k {
			used = used || (k[i] == '.' || k[i] == '-') && (stems[k[:i+1]] || whole[k[:i]])
		}
		if !used {
			unused = append(unused, k)
		}
	}
	sort.Strings(unused)
	if len(unused) > 0 {
		t.Errorf("nothing says %d keys: %s", len(unused), strings.Join(unused, ", "))
	}
}

// TestLanguagesMatch: no key is missing in any language, none is too many, and
// each translation has the same places to fill.
func TestLanguagesMatch(t *testing.T) {
	for _, lang := range Languages[1:] {
		words := catalogue(lang)
		for k, w := range english() {
			got, ok := words[k]
			if !ok {
				t.Errorf("%s.json: key %q is missing; English: %s", lang, k, w)
				continue
			}
			if a, b := places(w), places(got); a != b {
				t.Errorf("%s: %q fills %s, English %s", lang, k, b, a)
			}
			if strings.TrimSpace(got) == "" && strings.TrimSpace(w) != "" {
				t.Errorf("%s: %q is empty", lang, k)
			}
		}
		for k := range words {
			if _, ok := english()[k]; !ok {
				t.Errorf("%s: key %q is not in the English catalogue", lang, k)
			}
		}
	}
}

// places lists which places a text fills, each once.
func places(w string) string {
	seen := map[string]bool{}
	var out []string
	for _, m := range filled.FindAllStringSubmatch(w, -1) {
		if m[2] == "" && !seen[m[1]] {
			seen[m[1]] = true
			out = append(out, "{"+m[1]+"}")
		}
	}
	sort.Strings(out)
	return strings.Join(out, " ")
}

// A word in English holds no machine's leftovers: no doubled spaces, no key in
// brackets, no place counted from one.
func TestWordsAreClean(t *testing.T) {
	for _, lang := range Languages {
		for k, w := range catalogue(lang) {
			if strings.Contains(w, "  ") || strings.HasPrefix(w, "[") || strings.Contains(strings.ToLower(w), "significant") || strings.Contains(w, "TODO") || strings.Contains(w, "}\u00a0{") {
				t.Errorf("%s: %s = %q", lang, k, w)
			}
			if ps := places(w); ps != "" && !strings.HasPrefix(ps, "{0}") && !strings.Contains(ps, "{1}") && !strings.Contains(ps, "{2}") {
				t.Errorf("%s: %s has the places %s, counted from nought", lang, k, ps)
			}
		}
	}
}

// sameWords are words that a language shares with English: names of units and
// terms that its players use as they are.
var sameWords = map[Language]string{
	"es": "bytes kB No Lie lie driver Loft loft fade draw hook slice push pull Carry carry backspin spin",
	"ja": "OB kB",
	"ko": "kB",
	"de": "kB Name Handicap Wind Ball Lie Loft Link Carry L R Driver Hybrid Fade Draw Hook Slice Push Pull Fairway Backspin Sidespin Ring min",
}

// TestNoEnglishIsLeft finds words that were forgotten in English: a text equal
// to the English one must consist of words that the language shares with it.
func TestNoEnglishIsLeft(t *testing.T) {
	word := regexp.MustCompile(`\pL+`)
	for _, lang := range Languages[1:] {
		shared := map[string]bool{}
		for _, w := range strings.Fields(sameWords[lang]) {
			shared[w] = true
		}
		for k, w := range catalogue(lang) {
			if w != english()[k] {
				continue
			}
			for _, x := range word.FindAllString(w, -1) {
				if !shared[x] {
					t.Errorf("%s: %s = %q is English", lang, k, w)
					break
				}
			}
		}
	}
}

// overstated are the words that no catalogue may use of a difference: what a
// test of hypotheses calls so is not what a person understands by it.
var overstated = regexp.MustCompile(`(?i)significan(t|ce)|significativ|signifikan|有意|유의(미|하|한|성)|guaranteed|garantiza|garantiert`)

// TestWordsDoNotOverstate holds every language.
func TestWordsDoNotOverstate(t *testing.T) {
	for _, lang := range Languages {
		for k, w := range catalogue(lang) {
			if overstated.MatchString(w) {
				t.Errorf("%s: %s = %q overstates", lang, k, w)
			}
		}
	}
}

// TestFilesOfLanguages: each file is JSON that names no key twice (a decoder
// would keep the last and say nothing).
func TestFilesOfLanguages(t *testing.T) {
	line := regexp.MustCompile(`(?m)^  ("(?:[^"\\]|\\.)*"): `)
	for _, lang := range Languages[1:] {
		raw, err := files.ReadFile(string(lang) + ".json")
		if err != nil {
			t.Errorf("language %s is offered and has no file: %v", lang, err)
			continue
		}
		if keys := line.FindAllSubmatch(raw, -1); len(keys) != len(catalogue(lang)) || len(keys) == 0 {
			t.Errorf("%s.json: %d lines with a key, %d keys read: one stands twice, two share a line, or the JSON is damaged", lang, len(keys), len(catalogue(lang)))
		}
	}
}
