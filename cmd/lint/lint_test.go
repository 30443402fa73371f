package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// A module of one file, each field with what the programs do to it in its name.
const module = `package main

import "fmt"

type options struct {
	NeverSet, Both, NeverRead int
	Unused                    string
	byPointer, counted        int
	inner                     inner
	list                      [3]int
}

type inner struct{ deep int }

func (i *inner) touch() { i.deep++; fmt.Println(i.deep) }

type from struct{ A, B int }
type to struct{ A, B int }

type key struct{ X, Y int }

func main() {
	o := options{Both: 1}
	o.NeverRead = 2
	p := &o.byPointer
	*p = 3
	o.counted++
	o.inner.touch()
	o.list[1] = 4
	fmt.Println(o.Both, o.NeverSet, o.counted, o.list[1])
	t := to(from{1, 2})
	fmt.Println(t.A + t.B, map[key]int{{1, 2}: 3})
}
`

func TestFieldsThatNoProgramUses(t *testing.T) {
	dir := t.TempDir()
	for name, text := range map[string]string{"go.mod": "module ferrule\n\ngo 1.26\n", "main.go": module,
		"main_test.go": "package main\n\nvar _ = options{NeverSet: 1, Unused: \"by a test\"}\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
	}
	found, err := lint(dir, []target{{patterns: []string{"./..."}}})
	if err != nil {
		t.Fatal(err)
	}
	var got []string
	for _, f := range found {
		if _, what, in := strings.Cut(f, "no program has ferrule.options."); in {
			got = append(got, what)
		} else if !strings.HasPrefix(f, "cmd/lint/kept.go: ") { // none of its fields is in this module
			t.Errorf("found %s", f)
		}
	}
	if want := "NeverRead read, NeverSet set, Unused used"; strings.Join(got, ", ") != want {
		t.Errorf("found %q, want %q", got, want)
	}
	if len(found)-len(got) != len(kept) {
		t.Errorf("%d lines of kept are called stale, want all %d", len(found)-len(got), len(kept))
	}
}

func TestMeasure(t *testing.T) {
	var w strings.Builder
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "a.go"), []byte("package a\n\ntype T struct{}\n\nfunc (t *T) One() {\n}\n\nfunc (T) two() {}\n\nfunc Three() {}\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	if err := measure(&w, dir); err != nil || !strings.HasPrefix(w.String(), "10 lines of program, 0 of tests, 1 packages, 3 exported names\n     2 methods ") {
		t.Errorf("%v: %s", err, w.String())
	}
}

// A receiver that grows beyond what one thing can do is found, and none stands here.
func TestNoReceiverIsTooLarge(t *testing.T) {
	h, err := survey("../..")
	if err != nil {
		t.Fatal(err)
	}
	for _, said := range tooLarge(h.methods) {
		t.Error(said)
	}
	if n := len(h.methods); n < 200 {
		t.Errorf("%d receivers counted", n)
	}
	if found := tooLarge(map[string]int{"a.T": 41, "a.U": 40}); len(found) != 1 || !strings.HasPrefix(found[0], "a.T has 41 methods, at most 40") {
		t.Errorf("found %q", found)
	}
}
