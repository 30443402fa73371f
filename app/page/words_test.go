package page

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"ferrule/core/shot"
	"ferrule/core/text"
)

// Every key that the screens name has its words: a missing one would stand in
// brackets on the page.
func TestEveryWordIsThere(t *testing.T) {
	key := regexp.MustCompile(`(?:\bw|Tell|say|alert|Fill|Word)\("([a-z][a-z0-9.-]*[a-z0-9])"`)
	edit := regexp.MustCompile(`(?:Key:|edit:)\s+"([a-z.-]+)"`)
	r := text.Reader{}
	seen := 0
	for _, glob := range []string{"*.go", "../act/*.go", "../ui/*.go"} {
		files, _ := filepath.Glob(glob)
		for _, f := range files {
			if strings.HasSuffix(f, "_test.go") {
				continue
			}
			src, err := os.ReadFile(f)
			if err != nil {
				t.Fatal(err)
			}
			for _, re := range []*regexp.Regexp{key, edit} {
				for _, m := range re.FindAllStringSubmatch(string(src), -1) {
					seen++
					if w := r.Word(m[1]); strings.HasPrefix(w, "[") {
						t.Errorf("%s: no words for %q", f, m[1])
					}
				}
			}
		}
	}
	if seen < 300 {
		t.Fatalf("found only %d keys: the pattern no longer matches the code", seen)
	}
	made := []string{"page.lost.title"}
	for _, s := range steps {
		made = append(made, "step."+s.name)
	}
	for path := range routes {
		name := strings.TrimPrefix(path, "/")
		if name == "" || name == "sessions" {
			name = "home"
		}
		made = append(made, "page."+name+".title")
	}
	for _, g := range tags {
		made = append(made, "tag."+string(g))
	}
	for s := range signs {
		made = append(made, "status."+string(s))
	}
	for _, x := range roles {
		made = append(made, "role."+x)
	}
	for _, k := range shot.Kinds {
		made = append(made, "quantity."+string(k.Quantity))
	}
	for _, p := range parts {
		made = append(made, "how."+p.name)
		for i := 1; i <= p.lines; i++ {
			made = append(made, "how."+p.name+"."+string(rune('0'+i)))
		}
	}
	made = append(made, "goal.strokes", "goal.carry", "goal.fairways", "goal.height", "verdict.clear", "verdict.likely", "verdict.leaning", "verdict.cannot tell",
		"wind.0", "wind.45", "wind.90", "wind.135", "wind.180", "wind.-135", "wind.-90", "wind.-45")
	for _, k := range made {
		for _, l := range text.Languages {
			if w := (text.Reader{Language: l}).Word(k); strings.HasPrefix(w, "[") {
				t.Errorf("%s: no words for %q", l, k)
			}
		}
	}
}
