package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

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
		p.back())
}

// back leads to the session that is open and to all of them.
func (b *base) back() app.UI {
	if s := b.st().Session; s != nil {
		return ui.Row("", ui.Link("lost-session", "main", "/choose", b.w("lost.session", b.called(*s))), ui.Link("lost-home", "", "/", b.w("lost.home")))
	}
	return ui.Link("lost-home", "main", "/", b.w("lost.home"))
}
