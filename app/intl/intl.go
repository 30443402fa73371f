// Package intl asks the browser's Intl how numbers, plurals and days are
// written in the reader's language and region, and which language that is. It
// is the only user of that interface; what it learns reaches the words through
// text.UseForms, in the page's program and in the worker's alike. Away from a
// browser the plain rules of package text stand.
package intl

import (
	"strings"

	"ferrule/core/text"
	"ferrule/core/units"
)

// pick returns the first wanted tag (BCP 47, the person's own order) whose
// language is spoken, and English when none is.
func pick(wanted []string) text.Language {
	for _, tag := range wanted {
		if l := text.Language(primary(tag)); l.Spoken() {
			return l
		}
	}
	return "en"
}

// locale returns the first wanted tag of language l, which may name a region
// ("es-MX"), or l itself.
func locale(l text.Language, wanted []string) string {
	for _, tag := range wanted {
		if primary(tag) == string(l) {
			return tag
		}
	}
	return string(l)
}

// SystemOf is what the ranges of a language and region mostly print: metres and
// km/h in German, Spanish and Korean, yards and mph elsewhere (common practice,
// no source). It only begins with this; the settings have the last word.
// pwa/peek.js says the same before the program is there.
func SystemOf(l text.Language, wanted []string) units.System {
	switch tag := locale(l, wanted); {
	case l == "es" && (tag == "es-US" || tag == "es-MX"):
		return units.Imperial
	case l == "es", l == "de", l == "ko":
		return units.Metric
	}
	return units.Imperial
}

// primary is the language of a tag: "es" of "es-MX".
func primary(tag string) string {
	p, _, _ := strings.Cut(strings.ToLower(tag), "-")
	return p
}
