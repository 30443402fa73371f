// Package ui holds what a screen is built from: fields, buttons, cards, the
// frame around a chart, tables, the key pad. A component draws its exported
// fields and calls its callbacks; it computes nothing, stores nothing and
// reads no address.
//
// Three traps of go-app shape it. Handlers are compared by code pointer, so a
// closure made in a loop keeps the variables of its first drawing: every
// handler here carries a scope made of what it captured. An attribute with an
// empty value is dropped, so an input is cleared through JavaScript. Values of
// func type never compare equal, so a component with callbacks is always
// drawn anew; that is cheap, and right.
package ui

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Do is what a button does.
type Do func(ctx app.Context)

// on makes a handler of do. scope must name all that do captured.
func on(do Do) app.EventHandler {
	return func(ctx app.Context, e app.Event) { do(ctx) }
}

// Button draws a button. id must be unique on the page and, since it is the
// handler's scope too, must name all that do captured (a shot's id, ...).
func Button(id, class, label string, do Do) app.UI {
	return app.Button().ID(id).Type("button").Class("button "+class).Text(label).
		OnClick(on(do), app.EventScope(id))
}

// ButtonOff draws a button that is off when off is true, with the reason as
// its description.
func ButtonOff(id, class, label string, off bool, why string, do Do) app.UI {
	b := app.Button().ID(id).Type("button").Class("button "+class).Text(label).
		Disabled(off).OnClick(on(do), app.EventScope(id))
	if off && why != "" {
		b = b.Title(why)
	}
	return b
}

// Icon draws a button that shows a sign and is named for readers of the screen.
func Icon(id, class, sign, name string, off bool, do Do) app.UI {
	return app.Button().ID(id).Type("button").Class("icon "+class).Title(name).
		Attr("aria-label", name).Disabled(off).
		OnClick(on(do), app.EventScope(id)).
		Body(app.Span().Attr("aria-hidden", "true").Text(sign))
}

// Link draws a link that looks like a button.
func Link(id, class, href, label string) app.UI {
	return app.A().ID(id).Class("button " + class).Href(href).Text(label)
}

// Card is a part of a page with its own heading.
func Card(id, title string, body ...app.UI) app.UI {
	return app.Section().ID(id).Class("card").Attr("aria-labelledby", id+"-h").Body(
		append([]app.UI{app.H2().ID(id + "-h").Text(title)}, body...)...)
}

// Part is a smaller part inside a card.
func Part(title string, body ...app.UI) app.UI {
	return app.Div().Class("part").Body(append([]app.UI{app.H3().Text(title)}, body...)...)
}

// P is a paragraph.
func P(class, text string) app.UI { return app.P().Class(class).Text(text) }

// Row puts things beside each other where there is room.
func Row(class string, body ...app.UI) app.UI {
	return app.Div().Class("row " + class).Body(body...)
}

// List draws sentences as a list.
func List(class string, items []string) app.UI {
	return app.Ul().Class(class).Body(app.Range(items).Slice(func(i int) app.UI {
		return app.Li().Text(items[i])
	}))
}

// Caution is a word of care that must be seen.
func Caution(title string, items ...string) app.UI {
	return app.Aside().Class("caution").Attr("aria-label", title).Body(
		app.P().Class("caution-title").Text(title),
		List("plain", items),
	)
}

// More hides what is seldom needed behind a line that says what it is.
func More(id, summary string, body ...app.UI) app.UI {
	return app.Details().ID(id).Class("more").Body(
		append([]app.UI{app.Summary().Text(summary)}, body...)...)
}

// Slip is what a tap asked for, laid over the foot of the screen so that it is
// seen wherever the tap was. The caller moves the focus to slip-title, which is
// what readers of the screen then say; Escape closes it too.
func Slip(title, shut string, closed Do, body ...app.UI) app.UI {
	return app.Section().ID("slip").Class("slip").Attr("role", "dialog").Attr("aria-labelledby", "slip-title").
		OnKeyDown(func(ctx app.Context, e app.Event) {
			if e.Get("key").String() == "Escape" {
				closed(ctx)
			}
		}).Body(
		app.Div().Class("slip-head").Body(
			app.H2().ID("slip-title").TabIndex(-1).Text(title),
			Icon("slip-close", "", "×", shut, false, closed)),
		app.Div().Class("slip-body").Body(body...))
}

// Asked is a word that explains itself: the page listens for taps on data-word
// and shows the drawing of that key.
func Asked(id, key, text string) app.UI {
	return app.Button().ID(id).Type("button").Class("word").DataSet("word", key).Attr("aria-haspopup", "dialog").Text(text)
}

// Empty says what to do next where there is nothing yet.
func Empty(title, text string, body ...app.UI) app.UI {
	return app.Div().Class("empty").Body(append([]app.UI{
		app.P().Class("empty-title").Text(title),
		app.P().Text(text),
	}, body...)...)
}

// Status is a line that readers of the screen hear when it changes.
func Status(id, class, text string) app.UI {
	return app.P().ID(id).Class("status "+class).Attr("role", "status").Text(text)
}

// Alert is an error that readers of the screen hear at once.
func Alert(id, text string) app.UI {
	return app.P().ID(id).Class("alert").Attr("role", "alert").Text(text)
}

// Working says that something is being worked out and lets the person stop it.
func Working(id, text, stop string, cancel Do) app.UI {
	return app.Div().Class("working").Body(
		app.Span().Class("spin").Attr("aria-hidden", "true"),
		app.Span().Attr("role", "status").Text(text),
		app.If(cancel != nil, func() app.UI { return Button(id, "quiet", stop, cancel) }),
	)
}

// classes joins the names whose condition holds: classes("a", true, "b", no).
func classes(pairs ...any) string {
	var out []string
	for i := 0; i+1 < len(pairs); i += 2 {
		if pairs[i+1].(bool) {
			out = append(out, pairs[i].(string))
		}
	}
	return strings.Join(out, " ")
}
