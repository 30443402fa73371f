package text

import (
	"cmp"
	"math"
	"strings"
	"sync"
	"time"

	"ferrule/core/message"
	"ferrule/core/units"
)

// Forms is how a language writes numbers and days. A browser knows it best,
// down to the region (a Mexican writes 1.5, a Spaniard 1,5); without one the
// plain rules of PlainForms stand in.
type Forms struct {
	Decimal rune                          // the decimal mark
	Plural  func(v float64, d int) string // CLDR category of v written with d decimals: "one", "other", ...
	Day     func(unix int64) string       // a day, as a person writes it
}

var (
	formsMu   sync.Mutex
	forms     = map[Language]Forms{}
	findForms = PlainForms
)

// UseForms has the forms of each language asked from find instead of
// PlainForms. A program calls it once, before it writes anything.
func UseForms(find func(Language) Forms) {
	formsMu.Lock()
	defer formsMu.Unlock()
	findForms, forms = find, map[Language]Forms{}
}

func formsOf(l Language) Forms {
	formsMu.Lock()
	defer formsMu.Unlock()
	f, ok := forms[l]
	if !ok {
		f = findForms(l)
		forms[l] = f
	}
	return f
}

// dayPattern is how a day is written where no browser helps. English keeps the
// order that no reader can take for another.
var dayPattern = map[Language]string{
	"es": "2/1/2006", "de": "2.1.2006", "ja": "2006/01/02", "ko": "2006. 1. 2.",
}

// PlainForms are a language's forms without its regions: the categories are
// those of CLDR's plural rules for cardinals, of which the five languages need
// "one" and "other" only (millions aside, which nobody hits).
func PlainForms(l Language) Forms {
	f := Forms{Decimal: '.', Plural: func(v float64, d int) string {
		if v == 1 && d == 0 {
			return "one"
		}
		return "other"
	}, Day: func(unix int64) string {
		p := cmp.Or(dayPattern[l], "2006-01-02")
		return time.Unix(unix, 0).UTC().Format(p)
	}}
	switch l {
	case "es":
		f.Decimal = ','
		f.Plural = func(v float64, _ int) string { // es: n = 1, decimals or not
			if v == 1 {
				return "one"
			}
			return "other"
		}
	case "de":
		f.Decimal = ','
	case "ja", "ko":
		f.Plural = func(float64, int) string { return "other" }
	}
	return f
}

// Day writes the day of a time as the reader does.
func (r Reader) Day(unix int64) string { return formsOf(r.Language).Day(unix) }

// filling is what goes into one place of a sentence.
type filling struct {
	text     string
	count    float64
	decimals int
	counts   bool // text is a bare number, so that words can agree with it
}

// counted reads a text back that is a bare number.
func counted(s string) (float64, bool) {
	v, err := units.ParseNumber(s)
	return v, err == nil
}

// Fill returns the word of a key with its places filled by texts that are
// ready. {0} is the first of them; {0:ball|balls} is the first word when the
// language counts text 0 as one, else the second.
func (r Reader) Fill(key string, args ...string) string {
	fs := make([]filling, len(args))
	for i, a := range args {
		fs[i].text = a
		// A bare whole number needs no mark, which a browser takes long to tell.
		if fs[i].count, fs[i].counts = counted(a); fs[i].counts && strings.Trim(a, "0123456789") != "" {
			if _, behind, ok := strings.Cut(a, string(r.mark())); ok {
				fs[i].decimals = len(behind)
			}
		}
	}
	return r.expand(r.Word(key), fs)
}

// expand fills the places of s, in the forms of the language.
func (r Reader) expand(s string, args []filling) string {
	return message.Expand(s, len(args), func(i int) string { return args[i].text }, func(i int) bool {
		return args[i].counts && formsOf(r.Language).Plural(math.Abs(args[i].count), args[i].decimals) == "one"
	})
}
