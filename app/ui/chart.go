package ui

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Chart frames a drawing: its title, the drawing, what it says in words, and
// its numbers one tap away. Marks that carry data-shot or data-setting can be
// tapped.
type Chart struct {
	app.Compo

	ID      string
	Title   string
	SVG     string // one root element, text escaped by who made it
	Summary string
	Numbers string // what the table is called
	Table   Table

	Tapped func(ctx app.Context, kind, id string)

	open bool // the numbers are looked at
}

// Render draws the frame.
func (c *Chart) Render() app.UI {
	return app.Figure().ID(c.ID).Class("chart").Body(
		app.FigCaption().Class("unseen").Text(c.Title), // the drawing bears it for the eye
		app.Div().Class("drawing").OnClick(c.tap).Body(
			app.If(strings.HasPrefix(c.SVG, "<svg"), func() app.UI { return app.Raw(c.SVG) }),
		),
		Drawn(c.Summary),
		app.If(c.Summary != "" || len(c.Table.Rows) > 0, func() app.UI {
			// The table of 60 balls is drawn when it is opened: its cells would
			// hold up what everybody looks at by more than a frame.
			return app.Details().ID(c.ID+"-numbers").Class("more").
				OnToggle(func(ctx app.Context, _ app.Event) { c.open = ctx.JSSrc().Get("open").Bool() }).Body(
				app.Summary().Text(c.Numbers),
				app.If(c.Summary != "", func() app.UI { return app.P().Class("summary").Text(c.Summary) }),
				app.If(len(c.Table.Rows) > 0 && (c.open || app.IsServer), func() app.UI { return c.Table.Render() }),
			)
		}),
	)
}

// Drawn is what a drawing says, beneath it: shown where letters are twice as large,
// for those of a drawing do not grow with them.
func Drawn(words string) app.UI { return P("drawn-words", words) }

func (c *Chart) tap(ctx app.Context, e app.Event) {
	if c.Tapped == nil {
		return
	}
	for _, kind := range []string{"shot", "setting"} {
		mark := e.Get("target").Call("closest", "[data-"+kind+"]")
		if mark.Truthy() {
			c.Tapped(ctx, kind, mark.Call("getAttribute", "data-"+kind).String())
			return
		}
	}
}

// Table is numbers in rows; the first cell of a row is its heading.
type Table struct {
	Caption string
	Head    []string
	Rows    [][]string
	Class   string
	ID      string            // begins the ids of Words
	Words   map[string]string // headings of rows that explain themselves, with the key of their drawing
	Mark    int               // row that stands out, -1 = none; 0 value marks row 0 only with Marked
	Marked  bool              // Mark holds
}

// Render draws the table; it scrolls sideways in a box of its own.
func (t Table) Render() app.UI {
	return app.Div().Class("table").TabIndex(0).Attr("role", "group").Attr("aria-label", t.Caption).Body(
		app.Table().Class(t.Class).Body(
			app.Caption().Text(t.Caption),
			app.THead().Body(app.Tr().Body(app.Range(t.Head).Slice(func(i int) app.UI {
				return app.Th().Scope("col").Text(t.Head[i])
			}))),
			app.TBody().Body(app.Range(t.Rows).Slice(func(r int) app.UI {
				return app.Tr().Class(classes("marked", t.Marked && t.Mark == r)).Body(app.Range(t.Rows[r]).Slice(func(i int) app.UI {
					if key := t.Words[t.Rows[r][0]]; i == 0 && key != "" {
						return app.Th().Scope("row").Body(Asked(t.ID+"-"+key+"-"+strconv.Itoa(r), key, t.Rows[r][0]))
					}
					if i == 0 {
						return app.Th().Scope("row").Text(t.Rows[r][i])
					}
					return app.Td().Text(t.Rows[r][i])
				}))
			})),
		),
	)
}
