// Package chart draws a report as SVG text: pure functions, no browser, no
// chart library. The same drawings serve the page (through one raw element),
// the printed sheet and the tests.
//
// Each function returns a Drawing: the SVG, its title, a text summary for who
// cannot see it, and the same numbers as a Table. Settings are told apart by
// shape, by a number printed beside the mark and by colour, in that order of
// trust: no drawing needs colour to be read.
//
// Marks carry data-shot="ID" or data-setting="INDEX" (an index into
// Report.Settings), so that one listener on a parent catches every tap.
// Shapes above them are at least 24 px wide where the drawing is not shrunk.
//
// Colours are CSS variables with the light theme as fallback, unless
// Style.Theme is set; see Theme.
//
// Begin with Turn and its example.
package chart

import (
	"strings"

	"ferrule/core/report"
	"ferrule/core/text"
)

// Style says for whom and where a drawing is made.
type Style struct {
	ID     string      // prefix of every id in the SVG; must be unique in its page
	Width  float64     // [px] of the drawing, 0 = 360
	Reader text.Reader // language and units
	Theme  *Theme      // colours written out; nil = CSS variables
	Only   []int       // settings to show, nil = what the drawing finds useful
	Print  bool        // no tap targets
}

// Drawing is one chart with everything that goes with it.
type Drawing struct {
	Title   string
	Summary string // one to a few sentences
	SVG     string
	Table   Table
}

// Table is a chart's numbers as text, for "as a table" and for copying.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
}

// written is the table with sep between its cells and end behind each line.
func (t Table) written(sep, end string, cell func(string) string) string {
	var b strings.Builder
	for _, row := range append([][]string{t.Head}, t.Rows...) {
		for i, c := range row {
			if i > 0 {
				b.WriteString(sep)
			}
			b.WriteString(cell(c))
		}
		b.WriteString(end)
	}
	return b.String()
}

// TSV writes the table with tabs, as spreadsheets take it from the clipboard.
func (t Table) TSV() string {
	return t.written("\t", "\n", strings.NewReplacer("\t", " ", "\n", " ", "\r", " ").Replace)
}

// CSV writes the table with commas, quoted where needed (RFC 4180).
func (t Table) CSV() string {
	return t.written(",", "\r\n", func(c string) string {
		if strings.ContainsAny(c, ",\"\r\n") {
			return `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		return c
	})
}

// Keys lists the settings that have a number in every drawing, in that order:
// the reference first, then the tested ones as the report lists them, then the
// choice when it was not tested.
func Keys(r report.Report) []int {
	var ks []int
	if r.Reference >= 0 && r.Reference < len(r.Settings) {
		ks = append(ks, r.Reference)
	}
	for i, s := range r.Settings {
		if s.Tested && i != r.Reference {
			ks = append(ks, i)
		}
	}
	if c := r.Choice.Setting; c >= 0 && c < len(r.Settings) && c != r.Reference && !r.Settings[c].Tested {
		ks = append(ks, c)
	}
	return ks
}

// key is a setting's number in the drawings, from 1; settings outside Keys
// follow behind in the order in which they are shown.
type key struct{ setting, number int }

// shown returns the settings to draw with their numbers: Style.Only, or the
// given default. Indices outside the report are left out.
func (st Style) shown(r report.Report, fallback []int) []key {
	list := st.Only
	if list == nil {
		list = fallback
	}
	ks := Keys(r)
	extra := len(ks)
	var out []key
	for _, i := range list {
		if i < 0 || i >= len(r.Settings) {
			continue
		}
		n := 0
		for p, k := range ks {
			if k == i {
				n = p + 1
			}
		}
		if n == 0 {
			extra++
			n = extra
		}
		out = append(out, key{i, n})
	}
	return out
}

func (st Style) width() float64 {
	if st.Width <= 0 {
		return 360
	}
	return st.Width
}

// say fills a word's places with texts that are ready.
func (st Style) say(word string, args ...string) string { return st.Reader.Fill(word, args...) }

// label is a setting's name: the user's own labels, or that nothing is set.
func (st Style) label(s report.Setting) string {
	if k := s.Setting.Key(); k != "" {
		return k
	}
	return st.Reader.Word("setting.as-is")
}
