package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
)

// Lost is shown at an address that is none of the app's: it says which, that
// nothing is lost, and leads back.
type Lost struct {
	base
	address string
}

// OnInit names the page.
func (p *Lost) OnInit() { p.base.OnInit(); p.name = "lost" }

// OnNav notes the address that was asked for.
func (p *Lost) OnNav(ctx app.Context) {
	p.base.OnNav(ctx)
	p.address = ctx.Page().URL().Path
}

// Render draws the page.
func (p *Lost) Render() app.UI {
	p.name = "lost"
	return p.frame(p.w("lost.lead"),
		app.If(p.address != "", func() app.UI { return app.P().Body(app.Code().Class("address").Text(p.address)) }),
		backLinks(p.m, p.wording()))
}

// backLinks leads to the session that is open and to all of them.
func backLinks(model *act.Model, say wording) app.UI {
	if s := model.State().Session; s != nil {
		return ui.Row("", ui.Link("lost-session", "main", "/choose", say.w("lost.session", say.called(*s))), ui.Link("lost-home", "", "/", say.w("lost.home")))
	}
	return ui.Link("lost-home", "main", "/", say.w("lost.home"))
}
