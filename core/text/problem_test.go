package text

import (
	"go/ast"
	"go/parser"
	"go/token"
	"path/filepath"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/report"
)

func TestProblemsInTheReadersLanguage(t *testing.T) {
	de := Reader{Language: "de"}
	for english, want := range map[string]string{
		`the club: read 3 rings, expected one or two`:                                                `Schläger: gelesen 3 Ringe, erwartet einen oder zwei`,
		`read "12,x", expected a number of yd such as 120`:                                           `gelesen "12,x", erwartet eine Zahl in yd wie 120`,
		`no shots found: line 1, column 1: read nothing: the file is empty, expected a line of what`: `keine Schläge gefunden: Zeile 1, Spalte 1: gelesen nichts: Die Datei ist leer, erwartet a line of what`,
		`read "a", expected one of "up", "flat"`:                                                     `gelesen "a", erwartet eines von "up", "flat"`,
		`something else`:                                                                             `something else`,
		``:                                                                                           ``,
	} {
		if got := de.Problem(english); got != want {
			t.Errorf("%q: %q, want %q", english, got, want)
		}
		if got := (Reader{Language: "en"}).Problem(english); got != english {
			t.Errorf("English %q became %q", english, got)
		}
	}
}

// TestProblemsAreTheProgramsOwn: each sentence that is looked up stands in the
// program, its verbs as places. Who changes an error changes it here too.
func TestProblemsAreTheProgramsOwn(t *testing.T) {
	verb, gap := regexp.MustCompile(`%[-+#.0-9]*[a-z]`), regexp.MustCompile(`\{\d+\}`)
	var all strings.Builder
	for _, dir := range []string{"../club", "../shotfile", "../pipeline", "../typed", "../share", "../record", "../../app/bridge"} {
		paths, _ := filepath.Glob(dir + "/*.go")
		for _, path := range paths {
			if strings.HasSuffix(path, "_test.go") {
				continue
			}
			f, err := parser.ParseFile(token.NewFileSet(), path, nil, 0)
			if err != nil {
				t.Fatal(err)
			}
			ast.Inspect(f, func(n ast.Node) bool {
				if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING {
					if v, err := strconv.Unquote(lit.Value); err == nil {
						v = strings.ReplaceAll(verb.ReplaceAllString(v, "{}"), "%%", "%")
						all.WriteString("\n" + strings.TrimPrefix(v, "{}") + "\n") // a leading place says where
						all.WriteString("\n" + v + "\n")
					}
				}
				return true
			})
		}
	}
	put := map[string]string{ // put together from pieces
		"problem.json-limit": "JSON that can't be read on", "problem.part-limit": "a part of the workbook, {}, that can't be read on", "problem.want-list": "\na list of objects such as ", "problem.neither": ", where {} is neither a unit nor a side\n",
		"problem.record-damaged": "\nthe record is damaged\n", "problem.records": " records\n", "problem.first-line": " as the first line says\n", "problem.in-lines": "\nlines {} to {}: \n", "problem.rel-curve-air": "\n agrees with the curve against the air\n", "problem.turned-over": "\nturned over: {}", "problem.rel-this-way": "this", "problem.rel-other-way": "the other",
		"problem.file": "{}: line {}, column {}: read {}, expected {}", "problem.read": "read {}, expected {}",
		"problem.number": "a number", "problem.number-of": "a number", "problem.no-setting": "none of the {} shots names a setting of this club (read {}):",
	}
	n := 0
	for k, w := range english() {
		if !strings.HasPrefix(k, "problem.") {
			continue
		}
		n++
		shape, ends := gap.ReplaceAllString(w, "{}"), "\n"
		if s := put[k]; s != "" {
			shape, ends = s, ""
		}
		if !strings.Contains(all.String(), ends+shape+ends) {
			t.Errorf("%s: no error of the program says %q", k, w)
		}
	}
	if n < 40 {
		t.Errorf("%d sentences are looked up: the search is broken", n)
	}
}

// TestRefusalsAreInTheReadersLanguage: what a link and a record refuse reaches a person
// as a place of another sentence, and no word of the English one is left.
func TestRefusalsAreInTheReadersLanguage(t *testing.T) {
	for _, sentence := range []string{"4000 shots are too many for a link, at most 3000", "the link would have 90000 characters, at most 60000 are possible: use the file",
		"the record was written by a later version of Ferrule: update, then open it again"} {
		arg := report.Arg{Form: report.FormProblem, Text: sentence}
		if got := (Reader{}).Say(report.Say("error.restore", arg)); !strings.Contains(got, sentence) {
			t.Errorf("English: %q", got)
		}
		for _, l := range []Language{"de", "es", "ja", "ko"} {
			got := " " + strings.ToLower(Reader{Language: l}.Say(report.Say("error.restore", arg))) + " "
			for _, word := range []string{" the ", " shots ", " would ", " record ", " was ", " use "} {
				if strings.Contains(got, word) {
					t.Errorf("%s: %q holds the English word %q", l, got, word)
				}
			}
		}
	}
}
