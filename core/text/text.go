// Package text holds every word that a person reads, one catalogue a
// language, and turns a report.Message into a sentence in the user's language
// and units.
package text

import (
	"fmt"
	"math"
	"strings"

	"ferrule/core/report"
	"ferrule/core/units"
)

// Language is a BCP 47 primary tag that has a catalogue.
type Language string

// Reader is for whom a sentence is written.
type Reader struct {
	Language Language     // "" = English
	System   units.System // "" = imperial
	Mark     rune         // decimal mark, 0 = by language
}

// catalogues maps a language to its words. Each language file adds its own.
var catalogues = map[Language]map[string]string{}

// add puts words into a language's catalogue; a key given twice is a bug.
func add(lang Language, words map[string]string) {
	c := catalogues[lang]
	if c == nil {
		c = map[string]string{}
		catalogues[lang] = c
	}
	for k, w := range words {
		if _, twice := c[k]; twice {
			panic("text: key given twice: " + string(lang) + " " + k)
		}
		c[k] = w
	}
}

// Languages lists the languages that have a catalogue, English first.
var Languages = []Language{"en"}

// Word returns the text of a key without filling any place. A key that is in
// no catalogue comes back in brackets, so that it is seen in a test and on a page.
func (r Reader) Word(key string) string {
	if w, ok := catalogues[r.Language][key]; ok {
		return w
	}
	if w, ok := catalogues["en"][key]; ok {
		return w
	}
	return "[" + key + "]"
}

// Say renders a message: places are {0}, {1}, ...
func (r Reader) Say(m report.Message) string {
	s := r.Word(m.Key)
	for i, a := range m.Args {
		s = strings.ReplaceAll(s, fmt.Sprintf("{%d}", i), r.arg(a))
	}
	return s
}

func (r Reader) mark() rune {
	if r.Mark != 0 {
		return r.Mark
	}
	if r.Language == "de" || r.Language == "es" {
		return ','
	}
	return '.'
}

// decimals is how finely a dimension is shown when nothing else is asked for.
func decimals(d units.Dimension, u units.Unit) int {
	switch d {
	case units.Angle, units.Time, units.Small:
		return 1
	case units.None:
		return 2
	case units.Speed:
		if u == units.UnitMPS {
			return 1
		}
	}
	return 0
}

// Number writes an SI value of dimension d in the reader's unit, with it.
// digits < 0 takes the usual number of decimals.
func (r Reader) Number(v float64, d units.Dimension, digits int) string {
	u := r.System.Unit(d)
	if digits < 0 {
		digits = decimals(d, u)
	}
	s := units.Format(u.From(v), digits, r.mark())
	switch {
	case u.Symbol == "":
		return s
	case u.Symbol == "°":
		return s + "°"
	}
	return s + "\u00a0" + u.Symbol
}

// Difference writes a difference of two SI values with its sign. Differences
// ignore a unit's offset, so that 5 K is 9 degF of difference.
func (r Reader) Difference(v float64, d units.Dimension, digits int) string {
	u := r.System.Unit(d)
	s := r.Number(v+u.Offset, d, digits)
	if v > 0 && !strings.HasPrefix(strings.Trim(s, "0.,\u00a0"), u.Symbol) {
		s = "+" + s
	}
	return s
}

func (r Reader) arg(a report.Arg) string {
	switch a.Form {
	case report.FormNumber:
		return r.Number(a.Value, a.Dim, a.Digits)
	case report.FormSigned:
		return r.Difference(a.Value, a.Dim, a.Digits)
	case report.FormPercent:
		return units.Format(100*a.Value, 0, r.mark()) + "\u00a0%"
	case report.FormCount:
		return units.Format(math.Round(a.Value), 0, r.mark())
	case report.FormStrokes:
		return units.Format(a.Value, 2, r.mark())
	case report.FormText:
		return a.Text
	case report.FormQuantity:
		return r.Word("quantity." + a.Text)
	case report.FormKey:
		return r.Word(a.Text)
	case report.FormSide:
		size := r.Number(math.Abs(a.Value), units.Length, a.Digits)
		side := "side.right"
		switch {
		case size == r.Number(0, units.Length, a.Digits): // what is shown as nothing has no side
			side = "side.none"
		case a.Value < 0:
			side = "side.left"
		}
		return size + " " + r.Word(side)
	}
	return "?"
}
