package page

import "github.com/maxence-charriere/go-app/v10/pkg/app"

// fold is a line or a heading whose text is drawn only once it is opened: on a
// slow phone what nobody looks at would hold up what everybody looks at.
type fold struct {
	app.Compo

	ID, Title string
	Chapter   bool // Title is a heading
	Show      bool // open it without being asked
	Lines     func() []app.UI

	open bool
}

// later is chapter, drawn when it is opened.
func later(id, title string, open bool, lines func() []app.UI) app.UI {
	return &fold{ID: id, Title: title, Chapter: true, Show: open, Lines: lines}
}

// moreLater is ui.More, drawn when it is opened.
func moreLater(id, title string, lines func() []app.UI) app.UI {
	return &fold{ID: id, Title: title, Lines: lines}
}

// Render draws the heading, and the text where it is open. Where there is no
// screen all is drawn.
func (f *fold) Render() app.UI {
	class, summary := "more", app.Summary().Text(f.Title)
	if f.Chapter {
		class, summary = "more chapter folded", app.Summary().Body(app.H2().Text(f.Title))
	}
	body := []app.UI{summary}
	if f.open || f.Show || app.IsServer {
		body = append(body, f.Lines()...)
	}
	return app.Details().ID(f.ID).Class(class).Open(f.Show).
		OnToggle(func(ctx app.Context, _ app.Event) { f.open = ctx.JSSrc().Get("open").Bool() }).Body(body...)
}
