package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// fold is a chapter whose text is drawn only once it is opened: on a slow
// phone what nobody looks at would hold up what everybody looks at.
type fold struct {
	app.Compo

	ID, Title string
	Show      bool // open it without being asked
	Lines     func() []app.UI

	open bool
}

// later is chapter, drawn when it is opened.
func later(id, title string, open bool, lines func() []app.UI) app.UI {
	return &fold{ID: id, Title: title, Show: open, Lines: lines}
}

// Render draws the heading, and the text where it is open. Where there is no
// screen all is drawn.
func (f *fold) Render() app.UI {
	body := []app.UI{app.Summary().Body(app.H2().Text(f.Title))}
	if f.open || f.Show || app.IsServer {
		body = append(body, f.Lines()...)
	}
	return app.Details().ID(f.ID).Class("more chapter folded").Open(f.Show).
		OnToggle(func(ctx app.Context, _ app.Event) { f.open = ctx.JSSrc().Get("open").Bool() }).Body(body...)
}
