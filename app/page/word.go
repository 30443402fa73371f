package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/shot"
)

// A word of the trade is explained where it stands, by one tap, with a drawing.

// explainedNames are the names of quantities that a drawing explains, with its key.
func explainedNames(say wording) map[string]string {
	out := map[string]string{}
	for _, k := range shot.Kinds {
		if key := chart.WordOf(string(k.Quantity)); key != "" {
			out[say.quantity(k.Quantity)] = key
		}
	}
	return out
}

// ask shows the drawing of the word that was tapped.
func (b *base) ask(ctx app.Context, e app.Event) {
	if el := e.Get("target").Call("closest", "[data-word]"); el.Truthy() {
		b.wordAt, b.word = el.Get("id").String(), el.Get("dataset").Get("word").String()
		focusOn(ctx, "slip-title")
	}
}

// explains is the word that is explained, over the page.
func (b *base) explains() app.UI {
	if b.word == "" {
		return app.Div().Class("slip-none").Hidden(true)
	}
	name := b.w("word." + b.word + ".is")
	if k, ok := shot.KindOf(shot.Quantity(b.word)); ok {
		name = b.wording().quantity(k.Quantity)
	}
	return ui.Slip(capital(name), b.w("app.close"), func(ctx app.Context) {
		b.word = ""
		focusOn(ctx, b.wordAt)
	}, app.Raw(chart.Word(b.word)), app.P().Text(b.w("word."+b.word)))
}
