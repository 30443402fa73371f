package shotfile

import (
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ferrule/core/message"
	"ferrule/core/text"
	"ferrule/core/text/texttest"
)

// What is said of a file is in the reader's language: columns' evidence, notes,
// questions, choices and errors of the bed and of files in wind, in each.
func TestNoEnglishIsLeft(t *testing.T) {
	said := map[string]message.Message{}
	add := func(ms ...message.Message) {
		for _, m := range ms {
			said[m.String()] = m
		}
	}
	take := func(name string, data []byte, opt Options) {
		tab, err := Read(name, data, opt)
		if err != nil {
			add(message.From(err))
		}
		for _, c := range tab.Columns {
			add(c.Evidence...)
		}
		add(tab.Notes...)
		for _, q := range tab.Questions {
			add(q.Text)
			for _, c := range q.Choices {
				if c.Text.Args == nil || c.Text.Args[0].Form != message.FormText { // not the file's own
					add(c.Text)
				}
			}
		}
		for _, e := range tab.Errors {
			add(e.Message)
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
	for _, l := range text.Languages[1:] {
		t.Run(string(l), func(t *testing.T) {
			own := texttest.Of(t, l)
			for s, m := range said {
				got := (text.Reader{Language: l}).Say(m)
				if left := own.Left(got); len(left) > 0 {
					t.Errorf("%q is still English in %q: %s", s, got, left)
				}
			}
		})
	}
	t.Logf("%d sentences", len(said))
}
