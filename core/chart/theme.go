package chart

import (
	"strconv"
	"strings"
)

// role is what a colour is for.
type role int

const (
	paper   role = iota // ground
	ink                 // text and strong lines
	soft                // secondary text
	rule                // grid lines and thin borders
	accent              // the choice
	fairway             // the fairway's band
	trouble             // hatching of the costly side
	series0             // the reference; the other settings follow
)

// Series is how many colours tell settings apart; with more settings they
// repeat, with other shapes.
const Series = 6

// Theme is one set of colours, each "#rrggbb". Text on Paper has a contrast of
// at least 7:1 (Ink) and 4.5:1 (Soft), marks and lines that carry meaning at
// least 3:1 (WCAG 2.2, 1.4.3 and 1.4.11); a test computes it. The series stay
// apart for the three kinds of colour blindness; a test computes that too.
type Theme struct {
	Name    string
	Paper   string
	Ink     string
	Soft    string // secondary text
	Rule    string // thin lines that carry no meaning alone
	Accent  string
	OnInk   string // text on Accent or Ink
	Fairway string
	Trouble string
	Wash    string // ground of raised parts
	Bad     string // errors
	Series  [Series]string
	Stroke  float64 // [1] factor on line widths, for app.css
}

// The three themes.
var (
	Light = Theme{Name: "light", Paper: "#faf9f5", Ink: "#1b1e21", Soft: "#565c61", Rule: "#c9c7bf", Accent: "#0b6b57", OnInk: "#ffffff",
		Fairway: "#e3ecdc", Trouble: "#8a5a2b", Wash: "#f0eee7", Bad: "#a8201a", Stroke: 1,
		Series: [Series]string{"#1b1e21", "#2a87e1", "#cf5b0e", "#1b4293", "#a80f21", "#8a6084"}}
	Dark = Theme{Name: "dark", Paper: "#14171a", Ink: "#f0eee8", Soft: "#a9adb0", Rule: "#41464b", Accent: "#4fd1a5", OnInk: "#0d1012",
		Fairway: "#20301f", Trouble: "#c99a5b", Wash: "#1e2226", Bad: "#ff8a80", Stroke: 1,
		Series: [Series]string{"#f0eee8", "#09cff9", "#ffa81b", "#277bd8", "#b76018", "#9f9f99"}}
	Sun = Theme{Name: "sun", Paper: "#ffffff", Ink: "#000000", Soft: "#1a1a1a", Rule: "#4a4a4a", Accent: "#00563f", OnInk: "#ffffff",
		Fairway: "#e4f2e4", Trouble: "#5c3200", Wash: "#f2f2f2", Bad: "#9c0000", Stroke: 2,
		Series: [Series]string{"#000000", "#3c66fc", "#de2415", "#1b1bc3", "#6f1263", "#87638a"}}
)

// Themes lists the themes as the settings page offers them.
var Themes = []Theme{Light, Dark, Sun}

// variables names the CSS variable of each role.
var variables = [...]string{"--paper", "--ink", "--soft", "--rule", "--accent", "--fairway", "--trouble"}

func (t Theme) of(r role) string {
	switch r {
	case paper:
		return t.Paper
	case ink:
		return t.Ink
	case soft:
		return t.Soft
	case rule:
		return t.Rule
	case accent:
		return t.Accent
	case fairway:
		return t.Fairway
	case trouble:
		return t.Trouble
	}
	return t.Series[int(r-series0)%Series]
}

// color is what stands in a fill or stroke attribute.
func (c *canvas) color(r role) string {
	if c.st.Theme != nil {
		return c.st.Theme.of(r)
	}
	name := "--series-" + strconv.Itoa(int(r-series0)%Series)
	if int(r) < len(variables) {
		name = variables[r]
	}
	return "var(" + name + ", " + Light.of(r) + ")"
}

// Variables writes the theme as CSS declarations.
func (t Theme) Variables() string {
	var b strings.Builder
	put := func(name, value string) { b.WriteString(name + ":" + value + ";") }
	for r, name := range variables {
		put(name, t.of(role(r)))
	}
	for i, s := range t.Series {
		put("--series-"+strconv.Itoa(i), s)
	}
	put("--on-ink", t.OnInk)
	put("--wash", t.Wash)
	put("--bad", t.Bad)
	put("--stroke", strconv.FormatFloat(t.Stroke, 'f', -1, 64))
	scheme := "light"
	if t.Name == "dark" {
		scheme = "dark"
	}
	put("color-scheme", scheme)
	return b.String()
}

// CSS is the style sheet that defines the variables: light unless the system
// asks for dark, and whatever data-theme on the root element says.
func CSS() string {
	return ":root{" + Light.Variables() + "}\n" +
		"@media (prefers-color-scheme: dark){:root:not([data-theme]){" + Dark.Variables() + "}}\n" +
		"[data-theme=\"light\"]{" + Light.Variables() + "}\n" +
		"[data-theme=\"dark\"]{" + Dark.Variables() + "}\n" +
		"[data-theme=\"sun\"]{" + Sun.Variables() + "}\n"
}
