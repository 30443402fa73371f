//go:build js && wasm

package intl

import (
	"cmp"
	"strconv"
	"strings"
	"sync"
	"syscall/js"

	"ferrule/app/fetch"
	"ferrule/core/text"
	"ferrule/core/units"
)

// Use has package text ask the browser from now on.
func Use() { text.UseForms(forms) }

// Load fetches the words of l, unless they are at hand, and waits for them: call
// it in a goroutine of its own, never in a function that the browser calls.
// Words that do not come are English; the next Load asks again.
func Load(l text.Language) {
	if !l.Spoken() || text.Has(l) {
		return
	}
	if words, ok := fetched("/words/" + string(l) + ".json"); ok {
		text.Load(l, words)
	}
}

// fetched waits for a catalogue of our own site, {"key": "words"}. The browser
// parses it, and its keys and words cross into the program as one text.
func fetched(path string) (words map[string]string, ok bool) {
	catalogue, ok := fetch.Get(path, "json")
	if !ok {
		return nil, false
	}
	flat := js.Global().Get("Object").Call("entries", catalogue).Call("flat")
	return pairs(flat.Call("join", apart).String()), true
}

// Language is the first of the person's languages that has a catalogue.
func Language() string { return string(pick(wanted())) }

// System is what the person's range prints, probably.
func System() units.System { return SystemOf(pick(wanted()), wanted()) }

// wanted are the person's languages, the preferred one first. A page and a
// worker both have them.
func wanted() (tags []string) {
	navigator := js.Global().Get("navigator")
	if !navigator.Truthy() {
		return nil
	}
	if list := navigator.Get("languages"); list.Truthy() {
		for i := range list.Length() {
			tags = append(tags, list.Index(i).String())
		}
	}
	if len(tags) == 0 && navigator.Get("language").Truthy() {
		tags = append(tags, navigator.Get("language").String())
	}
	return tags
}

// forms asks for a language's forms once; a browser without Intl, or one that
// refuses the tag, leaves the plain rules.
func forms(l text.Language) (f text.Forms) {
	l = cmp.Or(l, "en")
	f = text.PlainForms(l)
	defer func() { _ = recover() }()
	tag := locale(l, wanted())
	intl := js.Global().Get("Intl")
	parts := intl.Get("NumberFormat").New(tag).Call("formatToParts", 1.5)
	for i := range parts.Length() {
		if p := parts.Index(i); p.Get("type").String() == "decimal" {
			f.Decimal = []rune(p.Get("value").String())[0]
		}
	}
	f.Plural, f.Day = plural(intl, tag), day(intl, tag)
	return f
}

// plural asks Intl.PluralRules, one rule for each number of decimals, and
// remembers: a page says the same few counts again and again.
func plural(intl js.Value, tag string) func(float64, int) string {
	rules, known := map[int]js.Value{}, map[string]string{}
	return func(v float64, decimals int) string {
		key := strconv.FormatFloat(v, 'f', decimals, 64)
		if c, ok := known[key]; ok {
			return c
		}
		r, ok := rules[decimals]
		if !ok {
			r = intl.Get("PluralRules").New(tag, map[string]any{"minimumFractionDigits": decimals, "maximumFractionDigits": decimals})
			rules[decimals] = r
		}
		c := r.Call("select", v).String()
		if len(known) < 500 {
			known[key] = c
		}
		return c
	}
}

// day is made when the first day is written: no page begins with one, and the
// browser takes as long for it as for all else here.
func day(intl js.Value, tag string) func(int64) string {
	format := sync.OnceValue(func() js.Value {
		return intl.Get("DateTimeFormat").New(tag, map[string]any{"dateStyle": "medium"})
	})
	return func(unix int64) string { return format().Call("format", float64(unix)*1000).String() }
}

// apart parts keys and words; it stands in neither.
const apart = "\x00"

// pairs are the words by key of a text: key, words, key, words...
func pairs(text string) map[string]string {
	parts := strings.Split(text, apart)
	words := make(map[string]string, len(parts)/2)
	for i := 1; i < len(parts); i += 2 {
		words[parts[i-1]] = parts[i]
	}
	return words
}
