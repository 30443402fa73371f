//go:build !js

package main

import (
	"encoding/json"
	"regexp"
	"sort"
	"strings"

	"ferrule/app/intl"
	"ferrule/app/page"
	"ferrule/core/text"
)

// firstPages are the pages as who comes for the first time finds them, in a
// language, by path; pwa/first.js keeps what is tapped in them until the program
// stands. A shared link has pwa/peek.js instead.
func firstPages(l text.Language) map[string]string {
	pages := page.Static(l, intl.SystemOf(l, nil))
	delete(pages, "/shared")
	for path, html := range pages {
		html = tidy(html)
		if path == "/how" || path == "/story" { // long: what they are stands there, the rest comes with the program
			html = pageBody.ReplaceAllString(html, "$1</fieldset>")
		}
		pages[path] = html
	}
	return pages
}

var (
	pageBody = regexp.MustCompile(`(?s)(<fieldset[^>]*id="first-page-body"[^>]*>).*</fieldset>`)
	space    = regexp.MustCompile(`>\s*\n\s*`)
	before   = regexp.MustCompile(`\s*\n\s*<`)
	tag      = regexp.MustCompile(`<([a-zA-Z0-9]+)((?:\s+[^\s=>"/]+(?:="(?:[^"\\]|\\.)*")?)+)(\s*/?)>`)
	attr     = regexp.MustCompile(`([^\s=>"]+)(="((?:[^"\\]|\\.)*)")?`)
)

// tidy takes the indentation out, writes attributes in one order and as HTML has
// them (go-app has no order, quotes values twice and leaves "true" out), and gives
// each id the prefix that keeps it apart from the program's own.
func tidy(html string) string {
	html = before.ReplaceAllString(space.ReplaceAllString(html, ">"), "<")
	return tag.ReplaceAllStringFunc(html, func(t string) string {
		m := tag.FindStringSubmatch(t)
		var out []string
		for _, a := range attr.FindAllStringSubmatch(m[2], -1) {
			name, valued, value := a[1], a[2] != "", strings.Trim(strings.ReplaceAll(a[3], `\"`, `"`), `"`)
			switch name {
			case "data-page": // tests and the service of the program go by it
				continue
			case "checked", "disabled", "hidden", "selected", "open", "multiple":
				if value == "false" {
					continue
				}
			case "id", "for", "name", "aria-labelledby", "aria-describedby", "aria-controls":
				ids := strings.Fields(value)
				for i := range ids {
					ids[i] = "first-" + ids[i]
				}
				value = strings.Join(ids, " ")
			case "href":
				if strings.HasPrefix(value, "#") {
					value = "#first-" + value[1:]
				}
			}
			if strings.HasPrefix(name, "aria-") && !valued {
				value, valued = "true", true
			}
			if valued {
				name += `="` + strings.ReplaceAll(strings.ReplaceAll(value, "url(#", "url(#first-"), `"`, "&#34;") + `"`
			}
			out = append(out, name)
		}
		sort.Strings(out)
		return "<" + m[1] + " " + strings.Join(out, " ") + m[3] + ">"
	})
}

// seenWords say of a page that it is shown as it was seen last, by language.
func seenWords() (string, error) {
	all := map[text.Language]string{}
	for _, l := range text.Languages {
		all[l] = text.Reader{Language: l}.Word("site.seen")
	}
	out, err := json.Marshal(all)
	return string(out), err
}
