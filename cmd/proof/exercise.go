package main

import (
	"bytes"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// edit puts new in the place of old in a file. Where old is empty the file is
// made anew: of new, or of the words of another one.
type edit struct{ file, old, new, words string }

// lesson is one of the things that DEVELOPERS.md says how to add. Half of it is
// done first: the tests named must see what is missing, and pass with the rest.
type lesson struct {
	adds  string
	first []edit
	tests string // arguments of go test
	fails string // the tests that see it
	rest  []edit
}

var lessons = []lesson{
	{"a column", []edit{
		{file: "core/shot/quantity.go", old: "\tStrikeHigh      Quantity", new: "\tClosure Quantity = \"closure\" // [rad/s] how fast the face turns\n\tStrikeHigh      Quantity"},
		{file: "core/shot/quantity.go", old: "\t{StrikeHigh,", new: "\t{Closure, \"Closure Rate\", \"closure rate\", units.Spin, false, bounds{0, 2000 * rpm}, bounds{0, 600 * rpm}},\n\t{StrikeHigh,"},
	}, "./core/text ./core/share -run LanguagesMatch|EveryFieldIsDecidedOn", "TestLanguagesMatch TestEveryFieldIsDecidedOn", []edit{
		{file: "core/share/columns.go", old: "{shot.StrikeHigh, .1 * mm, mm, 0},\n", new: "{shot.StrikeHigh, .1 * mm, mm, 0},\n{shot.Closure, rpm, 10 * rpm, 300 * rpm},\n"},
		{file: "core/text/es.json", old: "  \"quantity.strike_high\"", new: "  \"quantity.closure\": \"velocidad de cierre\",\n  \"quantity.strike_high\""},
		{file: "core/text/de.json", old: "  \"quantity.strike_high\"", new: "  \"quantity.closure\": \"Schließrate\",\n  \"quantity.strike_high\""},
		{file: "core/text/ja.json", old: "  \"quantity.strike_high\"", new: "  \"quantity.closure\": \"フェースの閉じる速さ\",\n  \"quantity.strike_high\""},
		{file: "core/text/ko.json", old: "  \"quantity.strike_high\"", new: "  \"quantity.closure\": \"닫힘 속도\",\n  \"quantity.strike_high\""},
	}},
	{"a dialect", []edit{
		{file: "core/shotfile/newcomer_test.go", new: "package shotfile\n\nimport (\n\t\"testing\"\n\n\t\"ferrule/core/shot\"\n)\n\n" +
			"func TestANewDialect(t *testing.T) {\n\ttab, err := Read(\"a.csv\", []byte(\"Boldfart (mph),Slaglengde (yd)\\n150,250\\n148,245\\n151,252\\n\"), Options{})\n" +
			"\tif err != nil || len(tab.Shots) != 3 || tab.Shots[0].Values[shot.BallSpeed] == 0 || tab.Shots[0].Values[shot.Carry] == 0 {\n\t\tt.Fatal(tab.Shots, err)\n\t}\n}\n"},
	}, "./core/shotfile -run ANewDialect", "TestANewDialect", []edit{
		{file: "core/shotfile/words.go", old: "\tput(\"shotid\",", new: "\tput(\"boldfart\", meaning{quantity: shot.BallSpeed})\n\tput(\"slaglengde\", meaning{quantity: shot.Carry})\n\tput(\"shotid\","},
	}},
	{"a language", []edit{
		{file: "core/text/catalogue.go", old: "\"ja\", \"ko\"}", new: "\"ja\", \"ko\", \"it\"}"},
		{file: "core/text/catalogue.go", old: "\"ko\": \"한국어\"", new: "\"ko\": \"한국어\", \"it\": \"Italiano\""},
	}, "./core/text -run Language|English|Words", "TestLanguagesMatch TestFilesOfLanguages", []edit{
		{file: "core/text/it.json", words: "core/text/es.json"}, // a translator's work: Spanish words stand in
		{file: "core/text/embedded.go", old: "ko.json", new: "ko.json it.json"},
		{file: "core/text/forms.go", old: "\t\"es\": \"2/1/2006\",", new: "\t\"es\": \"2/1/2006\", \"it\": \"2/1/2006\","},
		{file: "core/text/keys_test.go", old: "\t\"es\": \"bytes", new: "\t\"it\": \"bytes kB No Lie lie driver Loft loft fade draw hook slice push pull Carry carry backspin spin\",\n\t\"es\": \"bytes"},
	}},
}

// exercise does each lesson in a copy of the code.
func exercise() error {
	const copied = "build/exercise"
	if err := copyCode(copied); err != nil {
		return err
	}
	for _, l := range lessons {
		before := map[string][]byte{}
		if err := apply(copied, l.first, before); err != nil {
			return fmt.Errorf("%s: %w", l.adds, err)
		}
		failed, err := testCopy(copied, l.tests)
		if err != nil {
			return fmt.Errorf("%s, half done: %w", l.adds, err)
		}
		for _, want := range strings.Fields(l.fails) {
			if !slices.Contains(failed, want) {
				return fmt.Errorf("%s, half done: %s passes; failed: %s", l.adds, want, strings.Join(failed, " "))
			}
		}
		if err := apply(copied, l.rest, before); err != nil {
			return fmt.Errorf("%s: %w", l.adds, err)
		}
		if failed, err = testCopy(copied, l.tests); err != nil || len(failed) > 0 {
			return fmt.Errorf("%s, done as the guide says: %s fail, %v", l.adds, strings.Join(failed, " "), err)
		}
		fmt.Printf("%-11s touches %d files; half done, %s see it\n", l.adds, len(before), strings.ReplaceAll(l.fails, " ", " and "))
		for file, text := range before {
			if err := restore(filepath.Join(copied, file), text); err != nil {
				return err
			}
		}
	}
	return nil
}

// apply makes the edits in dir and keeps what stood there before the first one.
func apply(dir string, edits []edit, before map[string][]byte) error {
	for _, e := range edits {
		name := filepath.Join(dir, e.file)
		text, err := os.ReadFile(name)
		if err != nil && e.old != "" {
			return err
		}
		if _, known := before[e.file]; !known {
			before[e.file] = text
		}
		changed := []byte(e.new)
		switch {
		case e.words != "":
			if changed, err = os.ReadFile(filepath.Join(dir, e.words)); err != nil {
				return err
			}
		case e.old != "":
			if bytes.Count(text, []byte(e.old)) != 1 {
				return fmt.Errorf("%s holds %q %d times, the exercise needs it once", e.file, e.old, bytes.Count(text, []byte(e.old)))
			}
			changed = bytes.Replace(text, []byte(e.old), changed, 1)
		}
		if err := os.WriteFile(name, changed, 0o644); err != nil {
			return err
		}
	}
	return nil
}

// restore puts text back; nil is a file that was not there.
func restore(name string, text []byte) error {
	if text == nil {
		return os.Remove(name)
	}
	return os.WriteFile(name, text, 0o644)
}
