//go:build !js

package main

import (
	"bytes"
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"html"
	"regexp"

	"ferrule/app/act"
	"ferrule/app/intl"
	"ferrule/app/page"
	"ferrule/core/pipeline"
	"ferrule/core/text"
)

// chapters are what stands under the answer: it comes with the program.
var chapters = regexp.MustCompile(`(?s)<div class="chapters">.*</fieldset>`)

// examples works out the answer to each built-in session and tells pwa/first.js
// where it stands, by a name that bears its content: as the program takes it and,
// in each language, as a page to be read until the program is there.
func examples(files site) error {
	names, shown := map[string]string{}, map[text.Language]map[string]string{}
	put := func(name, kind string, content []byte) {
		sum := sha256.Sum256(content)
		names[name] = fmt.Sprintf("/example/%s-%x.%s", name, sum[:6], kind)
		files[names[name]] = content
	}
	for _, name := range pipeline.Examples {
		worked, err := pipeline.Worked(name, act.Seed)
		if err != nil {
			return fmt.Errorf("the example %s: %w", name, err)
		}
		put(name, "bin", worked)
		for _, l := range text.Languages {
			if shown[l] == nil {
				shown[l] = map[string]string{}
			}
			said := `<p class="first-said" role="status">` + html.EscapeString(text.Reader{Language: l}.Word("site.worked")) + `</p>`
			shown[l][name] = said + chapters.ReplaceAllString(tidy(page.Worked(l, intl.SystemOf(l, nil), worked)), "</fieldset>")
		}
	}
	for l, pages := range shown {
		raw, err := json.Marshal(pages)
		if err != nil {
			return err
		}
		put(string(l), "json", raw)
	}
	list, err := json.Marshal(names)
	files["/first.js"] = bytes.Replace(files["/first.js"], []byte("{{.Examples}}"), list, 1)
	return err
}
