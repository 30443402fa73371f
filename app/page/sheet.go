package page

import (
	"encoding/base64"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/export"
	"ferrule/core/share"
)

// Sheet is what the player takes home: print, picture, link, code, file. What
// leaves the device is shown first, and names are asked for each time.
type Sheet struct {
	base
	sending string // what is shown before it leaves, see parcels; "" = nothing
	names   bool   // with names, this once
	link    string // of the answer that made says
	made    string
	failed  error // why there is nothing to send
	copied  bool
	offer   bool // the app can be installed

	picture []byte // PNG of the answer that drawn says
	drawn   string
}

// parcels are what can leave as a file.
var parcels = []string{"picture", "sheet", "table", "still", "session"}

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
	onPaper := ""
	if p.sending == "link" || s.Prefs.Code {
		p.makeLink(s)
	}
	if s.Prefs.Code {
		onPaper = p.link
	}
	return p.frame(p.w("sheet.lead"),
		p.stale(s),
		ui.Row("no-print", p.offerOf("print", "main"), p.offerOf("picture", ""), p.offerOf("link", "")),
		app.Div().Class("state").Body(takenUp(p.m, p.wording(), s)), // in its place, empty or not
		p.parcel(s),
		moreLater("sheet-files", p.w("sheet.files"), func() []app.UI {
			files := []app.UI{}
			for _, kind := range parcels[1:] {
				files = append(files, p.offerOf(kind, ""))
			}
			return []app.UI{ui.Row("", files...), &ui.Check{ID: "on-paper", Label: p.w("sheet.on-paper"), On: s.Prefs.Code, Turned: func(_ app.Context, on bool) {
				p.m.Preferences.Set(func(x *act.Prefs) { x.Code = on })
			}}}
		}),
		paperFrame(p.m, p.wording(), s, onPaper, p.names),
		app.If(p.offer, func() app.UI {
			return ui.Row("banner no-print", ui.P("", p.w("sheet.install")),
				ui.Button("install", "", p.w("settings.install"), func(ctx app.Context) { ctx.ShowAppInstallPrompt() }))
		}),
		app.If(!s.ReadOnly, func() app.UI { return p.bench(*s.Session) }),
	)
}

// offerOf is the button that shows what would leave.
func (p *Sheet) offerOf(kind, class string) app.UI {
	off := p.st().Paper.Phase != act.Ready && (kind == "print" || kind == "sheet")
	return ui.ButtonOff("send-"+kind, class, p.w("send."+kind), off, p.w("app.busy"), func(ctx app.Context) {
		if kind == "print" && !named(p.st()) {
			printSheet()
			return
		}
		p.sending, p.names, p.copied, p.failed = kind, false, false, nil
		focusOn(ctx, "parcel-h")
	})
}

// named tells whether the session holds a name that could be printed.
func named(s act.State) bool { return s.Session.Player.Name != "" || s.Session.Title != "" }

// parcel shows what is about to leave, asks for names, and lets it go.
func (p *Sheet) parcel(s act.State) app.UI {
	kind := p.sending
	if kind == "" {
		return app.Div().Hidden(true)
	}
	if kind == "picture" {
		p.draw(s)
	}
	f := p.fileOf(kind, s)
	return app.Section().ID("parcel").Class("card no-print").Attr("aria-labelledby", "parcel-h").Body(
		app.H2().ID("parcel-h").TabIndex(-1).Text(p.w("send."+kind)),
		ui.P("hint", p.w("send.holds."+kind)),
		app.If(kind != "still", func() app.UI {
			return &ui.Check{ID: "names", Label: p.w("sheet.names"), On: p.names, Turned: func(_ app.Context, on bool) { p.names = on }}
		}),
		app.If(p.failed != nil, func() app.UI { return ui.Alert("link-error", p.w("sheet.no-link", p.wording().err(p.failed))) }),
		p.preview(kind, f),
		ui.Row("", p.lettingGo(kind, len(f.data) > 0)...),
		app.If(p.copied, func() app.UI { return ui.Status("copied", "", p.w("sheet.copied")) }),
		p.code(kind),
	)
}

// preview is what the file shows, or how it begins.
func (p *Sheet) preview(kind string, f file) app.UI {
	const begins = 900 // [bytes] of a file
	switch {
	case kind == "link":
		return p.linkText()
	case kind == "print" || kind == "sheet":
		return ui.P("hint", p.w("send.below"))
	case len(f.data) == 0:
		return ui.Working("", p.w("app.busy"), "", nil)
	case kind == "picture":
		return app.Img().ID("parcel-picture").Class("parcel-picture").Alt(p.w("send.picture")).Src("data:image/png;base64," + base64.StdEncoding.EncodeToString(f.data))
	}
	return app.Pre().ID("parcel-text").Class("parcel-text").TabIndex(0).Text(strings.ToValidUTF8(string(f.data[:min(begins, len(f.data))]), "") + "…")
}

// lettingGo are the buttons that end the card. A handler keeps the variables of
// its first drawing, so each asks for the file as it is by then.
func (p *Sheet) lettingGo(kind string, ready bool) []app.UI {
	now := func() file { return p.fileOf(p.sending, p.st()) }
	done := func() { p.sending, p.names = "", false }
	nav := app.Window().Get("navigator")
	buttons := []app.UI{}
	add := func(id, class, word string, off bool, do func(app.Context)) {
		buttons = append(buttons, ui.ButtonOff(id, class, p.w(word), off, p.w("app.busy"), do))
	}
	canSend := !app.IsServer && nav.Get("share").Truthy()
	switch kind {
	case "print":
		add("print", "main", "send.print", p.st().Paper.Phase != act.Ready, func(app.Context) { printSheet(); done() })
	case "link":
		add("copy-link", "main", "sheet.copy", p.link == "", func(app.Context) {
			if c := nav.Get("clipboard"); c.Truthy() {
				c.Call("writeText", p.link)
				p.copied = true
			}
		})
		if canSend {
			add("do-send", "", "sheet.send", p.link == "", func(app.Context) { dialogue(nav, map[string]any{"url": p.link, "title": "Ferrule"}); done() })
		}
	default:
		if canSend {
			add("do-send", "main", "sheet.send", !ready, func(app.Context) {
				f := now()
				if len(f.data) > 0 && !send(f) {
					download(f)
				}
				done()
			})
		}
		add("do-save", "", "send.save", !ready, func(app.Context) {
			if f := now(); len(f.data) > 0 {
				download(f)
				done()
			}
		})
	}
	return append(buttons, ui.Button("send-not", "quiet", p.w("send.not"), func(app.Context) { done() }))
}

// fileOf is what leaves as a file, without names unless they were ticked.
func (p *Sheet) fileOf(kind string, s act.State) file {
	session, r := *s.Session, *s.Answer.Value
	if !p.names {
		session = act.Anonymous(session)
	}
	name := func(ending string) string { return export.FileName(*s.Session, kind, ending) }
	switch kind {
	case "picture":
		return file{name(".png"), "image/png", p.picture}
	case "sheet":
		if s.Paper.Phase != act.Ready { // it is being written anew: what is there may hold the names
			return file{}
		}
		return file{name(".html"), "text/html", []byte(s.Paper.HTML)}
	case "table":
		return file{name(".csv"), "text/csv", export.CSV(export.File{Session: session, Answer: answerText(s)}, s.Prefs.System)}
	case "still":
		return file{name(".csv"), "text/csv", export.StillCSV(session, r, s.Prefs.System)}
	case "session":
		data, err := export.JSON(export.File{Session: session, Answer: answerText(s)})
		if err != nil {
			p.failed = err
		}
		return file{name(".json"), "application/json", data}
	}
	return file{}
}

// answerText is the answer as the file carries it; none while it is of an older
// edition of the session.
func answerText(s act.State) string {
	given, err := share.GiveOf(*s.Answer.Value)
	if err != nil || s.Stale() {
		return ""
	}
	text, err := given.Text(len(s.Session.Shots))
	if err != nil {
		return ""
	}
	return text
}

// draw has the answer drawn as a picture, once for an answer.
func (p *Sheet) draw(s act.State) {
	wanted := p.answerOf(s)
	if p.drawn == wanted || app.IsServer {
		return
	}
	p.drawn, p.picture = wanted, nil
	ctx := p.ctx
	p.m.Sheet.Picture(p.names, func(svg string, failed error) {
		if p.drawn != wanted {
			return
		}
		if p.failed = failed; svg != "" {
			toPNG(svg, func(png []byte) {
				ctx.Dispatch(func(app.Context) {
					if p.drawn == wanted {
						p.picture = png
					}
				})
			})
		}
	})
}

// answerOf names what a link or a picture is of.
func (p *Sheet) answerOf(s act.State) string {
	return strconv.Itoa(s.Answer.Edition) + s.Session.ID + strconv.FormatBool(p.names) + s.Prefs.Language + string(s.Prefs.System)
}

// paperFrame shows the sheet in a frame of its own, as high as it is: the browser's
// own print gives that frame alone.
func paperFrame(model *act.Model, say wording, s act.State, link string, names bool) app.UI {
	if app.IsClient {
		model.Sheet.Print(link, names)
		s = model.State()
	}
	switch {
	case s.Paper.Phase == act.Failed:
		return ui.Alert("sheet-error", say.w("sheet.failed", say.err(s.Paper.Error)))
	case s.Paper.HTML == "":
		return app.Div().Class("sheet-wait").Body(ui.Working("", say.w("sheet.working"), "", nil)) // as high as the sheet will be
	}
	// Nothing in it runs; the page may look at it and print it.
	return app.IFrame().ID("sheet").Class("sheet-frame").Title(say.w("page.sheet.title")).Sandbox("allow-same-origin allow-modals").Attr("srcdoc", s.Paper.HTML).
		OnLoad(func(ctx app.Context, _ app.Event) { app.Window().Call("ferruleTall", ctx.JSSrc()) })
}

func printSheet() {
	if el := app.Window().GetElementByID("sheet"); el.Truthy() {
		w := el.Get("contentWindow")
		w.Call("focus")
		w.Call("print")
	}
}

// linkText shows the link, and where it will not do.
func (p *Sheet) linkText() app.UI {
	reach := share.ReachOf(app.Window().Get("location").Get("hostname").String())
	return app.Div().ID("link").Body(
		app.If(reach != share.Everybody, func() app.UI { return ui.Status("link-near", "banner", p.w("send.reach."+string(reach))) }),
		app.If(len(p.link) > share.Comfortable, func() app.UI {
			return ui.Status("link-long", "", p.w("sheet.long", strconv.Itoa(len(p.link))))
		}),
		app.Div().Class("field wide").Body(
			app.Label().For("link-text").Text(p.w("sheet.link-is")),
			app.Input().ID("link-text").Type("text").ReadOnly(true).Value(p.link)),
	)
}

// code is the picture of the link, where another device could follow it.
func (p *Sheet) code(kind string) app.UI {
	if kind != "link" || p.link == "" || app.IsServer || share.ReachOf(app.Window().Get("location").Get("hostname").String()) == share.Nobody {
		return app.Div().Hidden(true)
	}
	qr, err := share.QRSVG(p.link, p.w("sheet.qr"))
	if err != nil {
		return ui.P("hint", p.w("sheet.no-qr"))
	}
	return app.Figure().Class("qr").Body(app.FigCaption().Text(p.w("sheet.qr")), app.Div().Body(app.Raw(qr)))
}

// makeLink makes the link, once for an answer: everything is in it, nothing
// is sent anywhere.
func (p *Sheet) makeLink(s act.State) {
	made := p.answerOf(s)
	if p.made == made {
		return
	}
	p.made, p.link, p.failed = made, "", nil
	given, err := share.GiveOf(*s.Answer.Value)
	text := ""
	if err == nil {
		text, err = share.Encode(*s.Session, &given, share.Options{Names: p.names})
	}
	if err != nil {
		p.failed = err
		return
	}
	p.link = app.Window().Get("location").Get("origin").String() + "/shared#" + share.Prefix + text
}
