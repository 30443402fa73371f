package core

import (
	"bytes"
	"encoding/json"
	"fmt"
	"go/ast"
	"go/parser"
	"go/token"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"testing"
)

// rooms says which rooms of core a room may import. A room that is not here
// fails the test: decide where it stands before it grows.
var rooms = map[string]string{
	"units": "", "frame": "", "seed": "", "jsontext": "", "linear": "", "robust": "",
	"air":      "message units",
	"bayes":    "linear",
	"club":     "frame message units",
	"flight":   "air linear message units",
	"shot":     "air club frame message units", // a shot names the setting it was hit with
	"message":  "units",
	"report":   "club frame message shot units",
	"text":     "club message report shot units",
	"wire":     "club message report share shot",
	"typed":    "shot units frame message",
	"spoken":   "typed",
	"store":    "jsontext shot",
	"share":    "club frame jsontext message report shot units",
	"chart":    "club frame report shot text units",
	"sheet":    "chart club frame report shot text units",
	"impact":   "club flight frame message robust seed units",
	"export":   "club jsontext message report shot typed units",
	"shotfile": "air club export flight frame message robust shot typed units", // flight: units and signs are judged by how balls fly
	"clean":    "linear message report robust shot units",
	"score":    "frame message shot units",
	"response": "bayes club flight impact linear message report robust seed shot units",
	"record":   "club linear message",
	"predict":  "club flight linear response robust seed units",
	"decide":   "club frame linear message predict report robust score seed shot units",
	"pipeline": "air clean club decide export flight frame impact message predict record report response robust score seed share sheet shot shotfile spoken text units wire",
}

// bans are direct imports that a part of the tree may not have, and why.
var bans = []struct{ under, path, why string }{
	{"core/", "syscall/js", "core knows no browser: it runs in tests, on the command line and in the worker alike"},
	{"core/", "github.com/maxence-charriere/go-app", "core draws nothing on a screen"},
	{"core/", "net/http", "nothing leaves the device; it would add 1.4 MB to the page"},
	{"core/", "html/template", "0.65 MB in the page; pages are built by escaped strings"},
	{"core/", "math/rand\"", "the old global generator cannot be seeded per analysis; use core/seed"},
	{"app/", "ferrule/core/pipeline", "all analysis runs in the worker"},
	{"app/", "ferrule/core/flight", "the page computes nothing; ask the worker"},
	{"app/", "ferrule/core/shotfile", "files are read in the worker"},
	{"app/", "gonum.org", "the page links no numerics"},
	{"cmd/page", "gonum.org", "the page links no numerics"},
	{"cmd/page", "ferrule/core/pipeline", "the page links no numerics"},
}

// gonumFree are the rooms that the page links.
var gonumFree = strings.Fields("units frame seed message club shot report text wire typed export store share chart sheet jsontext")

type pkg struct {
	ImportPath                           string
	Imports, Deps                        []string
	GoFiles, TestGoFiles, IgnoredGoFiles []string
	Dir                                  string
}

func list(t *testing.T, env []string, args ...string) []pkg {
	t.Helper()
	cmd := exec.Command("go", append([]string{"list", "-e", "-json"}, args...)...)
	cmd.Dir = ".."
	cmd.Env = append(os.Environ(), env...)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var ps []pkg
	for dec := json.NewDecoder(bytes.NewReader(out)); dec.More(); {
		var p pkg
		if err := dec.Decode(&p); err != nil {
			t.Fatal(err)
		}
		ps = append(ps, p)
	}
	return ps
}

func TestWhoMayImportWhom(t *testing.T) {
	for _, p := range list(t, []string{"GOOS=js", "GOARCH=wasm"}, "./...") {
		rel := strings.TrimPrefix(p.ImportPath, "ferrule/")
		for _, ban := range bans {
			for _, imp := range p.Imports {
				if strings.HasPrefix(rel+"/", ban.under) && strings.HasPrefix(imp+"\"", ban.path) {
					t.Errorf("%s imports %s: %s", rel, imp, ban.why)
				}
			}
		}
		room, isRoom := strings.CutPrefix(rel, "core/")
		if !isRoom || strings.HasSuffix(room, "test") {
			continue
		}
		base, _, _ := strings.Cut(room, "/")
		allowed, known := rooms[base]
		if !known {
			t.Errorf("core/%s stands in no table: add it to rooms with what it may import", base)
			continue
		}
		ok := map[string]bool{base: true}
		for _, a := range strings.Fields(allowed) {
			ok[a] = true
		}
		for _, imp := range p.Imports {
			if r, in := strings.CutPrefix(imp, "ferrule/core/"); in {
				r, _, _ = strings.Cut(r, "/")
				if !ok[r] {
					t.Errorf("core/%s imports core/%s, which its line in rooms does not allow", room, r)
				}
			} else if strings.HasPrefix(imp, "ferrule/") && !(room == "pipeline" && imp == "ferrule/testdata/demo") { // the built-in examples
				t.Errorf("core/%s imports %s: core knows only core", room, imp)
			}
		}
	}
}

func TestThePageLinksNoNumerics(t *testing.T) {
	for _, room := range gonumFree {
		for _, p := range list(t, []string{"GOOS=js", "GOARCH=wasm"}, "./core/"+room) {
			for _, d := range p.Deps {
				if strings.HasPrefix(d, "gonum.org/") || d == "net/http" {
					t.Errorf("core/%s pulls in %s, which the page must not link", room, d)
				}
			}
		}
	}
	for _, p := range list(t, []string{"GOOS=js", "GOARCH=wasm"}, "./cmd/page") {
		for _, d := range p.Deps {
			if strings.HasPrefix(d, "gonum.org/") || d == "ferrule/core/pipeline" || d == "ferrule/core/shotfile" {
				t.Errorf("cmd/page links %s", d)
			}
		}
	}
}

// slices.Sort and its like, and sort.Float64s by it, are compiled once for each type
// that they sort; what the page links sorts by package sort. Texts and whole numbers
// are sorted by other packages already.
var slicesSort = regexp.MustCompile(`slices\.Sort\w*\(|sort\.Float64s\(`)

func TestThePageSortsByOneSort(t *testing.T) {
	patterns := []string{"../app/*/*.go"}
	for _, room := range gonumFree {
		patterns = append(patterns, room+"/*.go")
	}
	n := 0
	for _, pattern := range patterns {
		names, err := filepath.Glob(pattern)
		if err != nil {
			t.Fatal(err)
		}
		for _, name := range names {
			text, err := os.ReadFile(name)
			if err != nil {
				t.Fatal(err)
			}
			n++
			if !strings.HasSuffix(name, "_test.go") && slicesSort.Match(text) {
				t.Errorf("%s uses slices.Sort... or sort.Float64s, of which the page links a copy for each type: use sort.Slice", name)
			}
		}
	}
	if n < 100 {
		t.Errorf("%d files read", n)
	}
}

// Every package has its row in the house of DEVELOPERS.md, those that serve
// tests aside.
func TestEveryPackageStandsInTheGuide(t *testing.T) {
	guide, err := os.ReadFile("../DEVELOPERS.md")
	if err != nil {
		t.Fatal(err)
	}
	n := 0
	for _, env := range [][]string{nil, {"GOOS=js", "GOARCH=wasm"}} {
		for _, p := range list(t, env, "./app/...", "./cmd/...", "./core/...") {
			rel := strings.TrimPrefix(p.ImportPath, "ferrule/")
			if rel == "core" || strings.HasSuffix(rel, "test") {
				continue
			}
			n++
			if !bytes.Contains(guide, []byte("`"+rel+"`")) {
				t.Errorf("%s has no row in the house of DEVELOPERS.md", rel)
			}
		}
	}
	if n < 60 {
		t.Errorf("go list named only %d packages", n)
	}
}

// sources parses every non-test Go file below core.
func sources(t *testing.T, visit func(path string, fset *token.FileSet, f *ast.File, text string)) {
	t.Helper()
	err := filepath.Walk(".", func(path string, info os.FileInfo, err error) error {
		if err != nil || info.IsDir() || !strings.HasSuffix(path, ".go") || strings.HasSuffix(path, "_test.go") {
			return err
		}
		raw, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		fset := token.NewFileSet()
		f, err := parser.ParseFile(fset, path, raw, parser.ParseComments)
		if err != nil {
			return err
		}
		visit(path, fset, f, string(raw))
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
}

var bracket = regexp.MustCompile(`\[[^\]]+\]`)

// Every exported float of an exported struct states its unit in brackets, on
// the field or on a field before it in the same group of lines.
func TestExportedFloatsStateTheirUnit(t *testing.T) {
	sources(t, func(path string, fset *token.FileSet, f *ast.File, text string) {
		ast.Inspect(f, func(n ast.Node) bool {
			spec, ok := n.(*ast.TypeSpec)
			if !ok || !spec.Name.IsExported() {
				return true
			}
			st, ok := spec.Type.(*ast.StructType)
			if !ok {
				return true
			}
			for _, field := range st.Fields.List {
				if !isFloat(field.Type) || len(field.Names) == 0 || !field.Names[0].IsExported() {
					continue
				}
				said := bracket.MatchString(field.Comment.Text() + field.Doc.Text())
				if !said && !bracket.MatchString(commentOf(f, st)) {
					t.Errorf("%s: %s.%s is a float without a unit in brackets", fset.Position(field.Pos()), spec.Name.Name, field.Names[0].Name)
				}
			}
			return true
		})
	})
}

// commentOf is the doc of the type that st belongs to: a type may state one
// unit for all its fields there.
func commentOf(f *ast.File, st *ast.StructType) string {
	for _, d := range f.Decls {
		if g, ok := d.(*ast.GenDecl); ok && g.Pos() <= st.Pos() && st.End() <= g.End() {
			return g.Doc.Text()
		}
	}
	return ""
}

func isFloat(e ast.Expr) bool {
	switch x := e.(type) {
	case *ast.Ident:
		return x.Name == "float64"
	case *ast.StarExpr:
		return isFloat(x.X)
	}
	return false
}

func TestOnePackageCommentEach(t *testing.T) {
	comments, seen := map[string]int{}, map[string]bool{}
	sources(t, func(path string, _ *token.FileSet, f *ast.File, _ string) {
		dir := filepath.Dir(path)
		seen[dir] = true
		if f.Doc != nil {
			comments[dir]++
		}
	})
	dirs := make([]string, 0, len(seen))
	for d := range seen {
		dirs = append(dirs, d)
	}
	sort.Strings(dirs)
	for _, d := range dirs {
		if comments[d] != 1 {
			t.Errorf("core/%s has %d package comments, want one", d, comments[d])
		}
	}
}

// TestEveryRoomHasAnExample: a newcomer runs what the package comment says to begin
// with. jsontext is written by other packages' values alone.
func TestEveryRoomHasAnExample(t *testing.T) {
	for room := range rooms {
		if room == "jsontext" {
			continue
		}
		text, err := os.ReadFile(filepath.Join(room, "example_test.go"))
		if err != nil || !regexp.MustCompile(`(?ms)^func Example\w+\(\) \{.*// Output:\n\t// \S`).Match(text) {
			t.Errorf("core/%s has no example with an output in example_test.go (%v)", room, err)
		}
	}
}

func TestCoreAsksNoClockAndNoGlobalChance(t *testing.T) {
	banned := regexp.MustCompile(`\btime\.(Now|Since)\(|\brand\.(Float64|IntN|NormFloat64|Perm|Uint64|N)\(`)
	sources(t, func(path string, _ *token.FileSet, f *ast.File, text string) {
		for i, line := range strings.Split(text, "\n") {
			if m := banned.FindString(line); m != "" && !strings.HasPrefix(strings.TrimSpace(line), "//") {
				t.Errorf("core/%s:%d: %s: the time and the seed come in as values", path, i+1, m)
			}
		}
	})
}

// The sizes are habits, not laws; tables and generated code are outside them.
func TestFilesAndFunctionsStaySmall(t *testing.T) {
	sources(t, func(path string, fset *token.FileSet, f *ast.File, text string) {
		if n := strings.Count(text, "\n"); n > 600 && !strings.Contains(path, "table") && !strings.Contains(path, string(filepath.Separator)+"text"+string(filepath.Separator)) && !strings.HasPrefix(path, "text") {
			t.Errorf("core/%s has %d lines, at most 600", path, n)
		}
		for _, d := range f.Decls {
			fn, ok := d.(*ast.FuncDecl)
			if !ok {
				continue
			}
			table := strings.HasPrefix(path, "text") && fn.Name.Name == "init" // a catalogue, word by word
			if n := fset.Position(fn.End()).Line - fset.Position(fn.Pos()).Line; n > 90 && !table {
				t.Errorf("%s: %s has %d lines, at most 90", fset.Position(fn.Pos()), fn.Name.Name, n)
			}
		}
	})
}

// forbidden words never reach a person: they claim more than shots can show.
func TestNoWordClaimsTooMuch(t *testing.T) {
	word := regexp.MustCompile(`(?i)\bsignificant(ly)?\b`)
	sources(t, func(path string, fset *token.FileSet, f *ast.File, _ string) {
		ast.Inspect(f, func(n ast.Node) bool {
			if lit, ok := n.(*ast.BasicLit); ok && lit.Kind == token.STRING && word.MatchString(lit.Value) {
				t.Errorf("%s: %s", fset.Position(lit.Pos()), fmt.Sprintf("%.60s", lit.Value))
			}
			return true
		})
	})
}
