package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/share"
)

// Sheet is what the player takes home: print, link, code, file.
type Sheet struct {
	base
	link   string // of the sheet, once asked for
	failed string // why there is no link
	qr     string // the code as one SVG
	copied bool
}

// OnInit names the page.
func (p *Sheet) OnInit() { p.base.OnInit(); p.name = "sheet" }

// Render draws the page.
func (p *Sheet) Render() app.UI {
	p.name = "sheet"
	s := p.st()
	if s.Session == nil || s.Answer.Value == nil {
		return p.frame(p.w("sheet.lead"), p.answerless(s))
	}
	return p.frame(p.w("sheet.lead"),
		p.stale(s),
		ui.Row("no-print",
			ui.ButtonOff("print", "main", p.w("sheet.print"), s.Paper.HTML == "", p.w("app.busy"), func(app.Context) { printSheet() }),
			ui.Button("share-link", "", p.w("sheet.link"), p.share),
			ui.ButtonOff("save-sheet", "", p.w("sheet.file"), s.Paper.HTML == "", p.w("app.busy"), func(app.Context) {
				download("fitting-sheet.html", "text/html", []byte(p.st().Paper.HTML))
			}),
			ui.Button("save-csv", "", p.w("sheet.csv"), func(app.Context) {
				download("shots.csv", "text/csv", act.CSV(*p.st().Session, p.st().Prefs.System))
			}),
			ui.Button("save-session", "", p.w("sheet.session"), func(app.Context) {
				file, err := act.SessionFile(*p.st().Session)
				if err != nil {
					p.failed = err.Error()
					return
				}
				download("session.ferrule", "application/octet-stream", file)
			}),
		),
		&ui.Check{ID: "names", Label: p.w("sheet.names"), On: s.Prefs.Names, Turned: func(_ app.Context, on bool) {
			p.m.SetPrefs(func(x *act.Prefs) { x.Names = on })
			p.link, p.qr = "", ""
		}},
		p.shared(),
		p.paper(s),
	)
}

// paper shows the sheet in a frame of its own, as it will be printed.
func (b *base) paper(s act.State) app.UI {
	if app.IsClient {
		b.m.Print()
		s = b.st()
	}
	switch {
	case s.Paper.Phase == act.Failed:
		return ui.Alert("sheet-error", b.w("sheet.failed", s.Paper.Error))
	case s.Paper.HTML == "":
		return ui.Working("", b.w("sheet.working"), "", nil)
	}
	return app.IFrame().ID("sheet").Class("sheet-frame").Title(b.w("page.sheet.title")).Attr("srcdoc", s.Paper.HTML)
}

func printSheet() {
	if el := app.Window().GetElementByID("sheet"); el.Truthy() {
		w := el.Get("contentWindow")
		w.Call("focus")
		w.Call("print")
	}
}

// shared shows the link and its code.
func (p *Sheet) shared() app.UI {
	switch {
	case p.failed != "":
		return ui.Alert("link-error", p.w("sheet.no-link", p.failed))
	case p.link == "":
		return nil
	}
	return ui.Card("link", p.w("sheet.link-is"),
		ui.P("hint", p.w("sheet.link-what")),
		app.Div().Class("field wide").Body(
			app.Label().For("link-text").Text(p.w("sheet.link-is")),
			app.Input().ID("link-text").Type("text").ReadOnly(true).Value(p.link)),
		ui.Row("",
			ui.Button("copy-link", "", p.w("sheet.copy"), func(ctx app.Context) {
				if c := app.Window().Get("navigator").Get("clipboard"); c.Truthy() {
					c.Call("writeText", p.link)
					p.copied = true
				}
			}),
			app.If(app.Window().Get("navigator").Get("share").Truthy(), func() app.UI {
				return ui.Button("send-link", "", p.w("sheet.send"), func(app.Context) {
					app.Window().Get("navigator").Call("share", map[string]any{"url": p.link, "title": "Ferrule"})
				})
			}),
		),
		app.If(p.copied, func() app.UI { return ui.Status("copied", "", p.w("sheet.copied")) }),
		app.If(strings.HasPrefix(p.qr, "<svg"), func() app.UI {
			return app.Figure().Class("qr").Body(app.FigCaption().Text(p.w("sheet.qr")), app.Div().Body(app.Raw(p.qr)))
		}),
		app.If(p.qr == "", func() app.UI { return ui.P("hint", p.w("sheet.no-qr")) }),
	)
}

// share makes the link: everything is in it, nothing is sent anywhere.
func (p *Sheet) share(ctx app.Context) {
	s := p.st()
	p.copied = false
	p.link, p.qr, p.failed = "", "", ""
	fragment, err := makeLink(*s.Session, *s.Answer.Value, s.Prefs.Names)
	if err != nil {
		p.failed = err.Error()
		return
	}
	p.link = app.Window().Get("location").Get("origin").String() + "/shared#" + share.Prefix + strings.TrimPrefix(fragment, share.Prefix)
	p.qr = makeQR(p.link)
}

// Shared opens what a link holds, to be looked at and kept.
type Shared struct {
	base
	failed  string
	summary *share.Summary // shown until the answer is worked out anew
}

// OnInit names the page.
func (p *Shared) OnInit() { p.base.OnInit(); p.name = "shared" }

// OnNav reads the link. It opens nothing over what is stored.
func (p *Shared) OnNav(ctx app.Context) {
	p.base.OnNav(ctx)
	fragment := ctx.Page().URL().Fragment
	if !strings.HasPrefix(fragment, share.Prefix) {
		return
	}
	link, err := openLink(fragment)
	if err != nil {
		p.failed = p.w(share.Key(err))
		return
	}
	p.failed, p.summary = "", link.Summary
	p.m.Show(link.Session)
}

// Render draws the page.
func (p *Shared) Render() app.UI {
	p.name = "shared"
	s := p.st()
	switch {
	case p.failed != "":
		return p.frame(p.w("shared.lead"), ui.Alert("link-error", p.failed), p.nothing())
	case s.Session == nil:
		return p.frame(p.w("shared.lead"), ui.Empty(p.w("shared.none"), p.w("shared.none-do")), p.nothing())
	case s.Answer.Value == nil:
		return p.frame(p.w("shared.lead"), p.short(), p.answerless(s))
	}
	return p.frame(p.w("shared.lead"), p.paper(s))
}

// short is the answer as the link itself tells it.
func (p *Shared) short() app.UI {
	m := p.summary
	if m == nil {
		return nil
	}
	big := m.Choice.Label
	if m.Keep {
		big = p.w("choose.keep", m.Before.Label)
	}
	return app.Section().Class("answer").Attr("aria-labelledby", "answer").Body(
		ui.P("verdict", p.w("verdict."+string(m.Verdict))),
		app.P().ID("answer").Class("big").Text(big),
		app.If(!m.Keep, func() app.UI {
			return ui.P("moves", p.w("compare.better", p.percent(m.Sure)))
		}),
	)
}
