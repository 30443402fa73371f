package page

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/export"
	"ferrule/core/share"
	"ferrule/core/text"
)

// Sheet is what the player takes home: print, link, code, file.
type Sheet struct {
	base
	wanted bool   // the link is to be shown
	link   string // of the answer that made says
	made   string
	failed string // why there is no link
	copied bool
	offer  bool // the app can be installed
}

// OnInit names the page.
func (p *Sheet) OnInit() { p.base.OnInit(); p.name = "sheet" }

// OnMount asks whether the app can be installed: with the job done is the
// moment to offer it.
func (p *Sheet) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	p.offer = ctx.IsAppInstallable()
}

// OnAppInstallChange shows the offer or takes it back.
func (p *Sheet) OnAppInstallChange(ctx app.Context) { p.offer = ctx.IsAppInstallable() }

// Render draws the page.
func (p *Sheet) Render() app.UI {
	p.name = "sheet"
	s := p.st()
	if s.Session == nil || s.Answer.Value == nil {
		return p.frame(p.w("sheet.lead"), p.answerless(s))
	}
	if p.wanted || s.Prefs.Code {
		p.makeLink(s)
	}
	onPaper := ""
	if s.Prefs.Code {
		onPaper = p.link
	}
	busy := p.w("app.busy")
	return p.frame(p.w("sheet.lead"),
		p.stale(s),
		ui.Row("no-print",
			ui.ButtonOff("print", "main", p.w("sheet.print"), s.Paper.HTML == "", busy, func(app.Context) { printSheet() }),
			ui.Button("share-link", "", p.w("sheet.link"), func(app.Context) { p.wanted, p.copied = true, false }),
		),
		p.shared(),
		moreLater("sheet-files", p.w("sheet.files"), func() []app.UI {
			return []app.UI{
				ui.Row("",
					ui.ButtonOff("send-file", "", p.w("sheet.send-file"), s.Paper.HTML == "", busy, func(app.Context) { p.sendFiles() }),
					ui.ButtonOff("save-sheet", "", p.w("sheet.file"), s.Paper.HTML == "", busy, func(app.Context) {
						download("fitting-sheet.html", "text/html", []byte(p.st().Paper.HTML))
					}),
					ui.Button("save-plan", "", p.w("sheet.plan"), func(app.Context) {
						download("landing-places.svg", "image/svg+xml", []byte(landingPicture(p.st(), p.reader())))
					}),
					ui.Button("save-csv", "", p.w("sheet.csv"), func(app.Context) {
						download("shots.csv", "text/csv", export.CSV(*p.st().Session, p.st().Prefs.System))
					}),
					ui.ButtonOff("save-still", "", p.w("sheet.csv-still"), s.Answer.Value == nil, busy, func(app.Context) {
						download("shots-still-air.csv", "text/csv", export.StillCSV(*p.st().Session, *p.st().Answer.Value, p.st().Prefs.System))
					}),
					ui.Button("save-session", "", p.w("sheet.session"), func(app.Context) {
						file, err := export.JSON(*p.st().Session)
						if err != nil {
							p.failed = err.Error()
							return
						}
						download("session.json", "application/json", file)
					}),
				),
			}
		}),
		moreLater("sheet-what", p.w("sheet.what"), func() []app.UI {
			return []app.UI{
				&ui.Check{ID: "names", Label: p.w("sheet.names"), On: s.Prefs.Names, Turned: func(_ app.Context, on bool) {
					p.m.SetPrefs(func(x *act.Prefs) { x.Names = on })
				}},
				&ui.Check{ID: "on-paper", Label: p.w("sheet.on-paper"), On: s.Prefs.Code, Turned: func(_ app.Context, on bool) {
					p.m.SetPrefs(func(x *act.Prefs) { x.Code = on })
				}},
				app.If(!s.Prefs.Names, func() app.UI { return ui.P("hint", p.w("sheet.names-off")) }),
			}
		}),
		p.paper(s, onPaper),
		app.If(p.offer, func() app.UI {
			return ui.Row("banner no-print", ui.P("", p.w("sheet.install")),
				ui.Button("install", "", p.w("settings.install"), func(ctx app.Context) { ctx.ShowAppInstallPrompt() }))
		}),
		p.bench(*s.Session),
	)
}

// paper shows the sheet in a frame of its own, as it will be printed.
func (b *base) paper(s act.State, link string) app.UI {
	if app.IsClient {
		b.m.Print(link)
		s = b.st()
	}
	switch {
	case s.Paper.Phase == act.Failed:
		return ui.Alert("sheet-error", b.w("sheet.failed", b.problem(s.Paper.Error)))
	case s.Paper.HTML == "":
		return app.Div().Class("sheet-wait").Body(ui.Working("", b.w("sheet.working"), "", nil)) // as high as the sheet will be
	}
	// Nothing in it runs; the page may look at it and print it.
	return app.IFrame().ID("sheet").Class("sheet-frame").Title(b.w("page.sheet.title")).Sandbox("allow-same-origin allow-modals").Attr("srcdoc", s.Paper.HTML)
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
	case !p.wanted:
		return nil
	case p.failed != "":
		return ui.Alert("link-error", p.w("sheet.no-link", p.failed))
	}
	qr, err := share.QRSVG(p.link, p.w("sheet.qr"))
	return ui.Card("link", p.w("sheet.link-is"),
		ui.P("hint", p.w("sheet.link-what")),
		app.If(len(p.link) > share.Comfortable, func() app.UI {
			return ui.Status("link-long", "", p.w("sheet.long", strconv.Itoa(len(p.link))))
		}),
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
					dialogue(app.Window().Get("navigator"), map[string]any{"url": p.link, "title": "Ferrule"})
				})
			}),
		),
		app.If(p.copied, func() app.UI { return ui.Status("copied", "", p.w("sheet.copied")) }),
		app.If(err == nil, func() app.UI {
			return app.Figure().Class("qr").Body(app.FigCaption().Text(p.w("sheet.qr")), app.Div().Body(app.Raw(qr)))
		}).Else(func() app.UI { return ui.P("hint", p.w("sheet.no-qr")) }),
	)
}

// makeLink makes the link, once for an answer: everything is in it, nothing
// is sent anywhere.
func (p *Sheet) makeLink(s act.State) {
	made := strconv.Itoa(s.Answer.Edition) + s.Session.ID + strconv.FormatBool(s.Prefs.Names)
	if p.made == made {
		return
	}
	p.made, p.link, p.failed = made, "", ""
	given, err := share.GiveOf(*s.Answer.Value)
	text := ""
	if err == nil {
		text, err = share.Encode(*s.Session, &given, share.Options{Names: s.Prefs.Names})
	}
	if err != nil {
		p.failed = err.Error()
		return
	}
	p.link = app.Window().Get("location").Get("origin").String() + "/shared#" + share.Prefix + text
}

// sendFiles hands the sheet and the balls to another app as files, without
// names unless they are ticked; a browser that cannot gets them as downloads.
func (p *Sheet) sendFiles() {
	s := p.st()
	session := *s.Session
	if !s.Prefs.Names {
		session = act.Anonymous(session)
	}
	files := []file{
		{"fitting-sheet.html", "text/html", []byte(s.Paper.HTML)},
		{"shots.csv", "text/csv", export.CSV(session, s.Prefs.System)},
	}
	if !send(files) {
		for _, f := range files {
			download(f.name, f.kind, f.data)
		}
	}
}

// landingPicture is the plan of the landing places as a picture file.
func landingPicture(s act.State, to text.Reader) string {
	svg := chart.Landing(*s.Answer.Value, chart.Style{ID: "plan", Width: 640, Reader: to, Theme: &chart.Light, Print: true}).SVG
	if !strings.Contains(svg, "xmlns=") {
		svg = strings.Replace(svg, "<svg ", `<svg xmlns="http://www.w3.org/2000/svg" `, 1)
	}
	return svg
}
