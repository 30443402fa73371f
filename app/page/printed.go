package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// printedField is the draft of a table that is pasted or typed as printed.
const printedField = "printed"

// printed takes the maker's table as it is printed, in one paste. What cannot
// be read stays in the field with the reason, and nothing of it is used.
func (c *Club) printed(h club.Head) app.UI {
	d := c.st().Drafts[printedField]
	return app.Div().Class("field wide").Body(
		app.Label().For(printedField).Text(c.w("printed.paste")),
		app.Textarea().ID(printedField).Rows(4).Attr("spellcheck", "false").Placeholder(c.w("printed.hold")).Text(d.Text).
			OnInput(func(ctx app.Context, _ app.Event) {
				c.asked = false
				c.m.Draft(printedField, ctx.JSSrc().Get("value").String(), "")
			}),
		app.If(d.Error != "", func() app.UI { return ui.Alert("printed-error", d.Error) }),
		app.If(c.asked, func() app.UI {
			return ui.Row("",
				ui.P("", c.w("printed.ask")),
				ui.Button("printed-whole", "", c.w("printed.whole"), func(app.Context) { c.usePrinted(club.LoftsWhole) }),
				ui.Button("printed-changes", "", c.w("printed.changes"), func(app.Context) { c.usePrinted(club.LoftsChanges) }))
		}),
		ui.Button("printed-use", "main", c.w("printed.use"), func(app.Context) { c.usePrinted(club.LoftsGuess) }),
	)
}

// usePrinted reads the table and describes the sleeve by it, or asks.
func (c *Club) usePrinted(how club.Lofts) {
	s := c.st().Session
	text := c.st().Drafts[printedField].Text
	if s == nil {
		return
	}
	got, err := club.ReadPrinted(text, s.Head, how)
	if err != nil {
		c.m.Draft(printedField, text, c.w("printed.wrong", c.problem(err.Error())))
		return
	}
	if c.asked = got.Both; c.asked {
		return
	}
	c.m.Edit(act.Change{Key: "edit.head"}, func(s *shot.Session) {
		relabel(s, func() { s.Head.Sleeve = club.Sleeve{Table: got.Rows} })
	})
	c.m.DropDraft(printedField)
	c.look = nil
	c.m.Tell("notice.printed", true)
}
