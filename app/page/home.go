package page

import (
	"cmp"
	"strconv"
	"strings"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/report"
	"ferrule/core/store"
	"ferrule/core/units"
)

// Home lists the sessions and begins new ones.
type Home struct {
	base
	asking string // id of the session whose removal is being asked about
	gone   string // id of the session that was removed last
	sought string // what is looked for among the sessions
	who    string // the player whose page is shown, empty = all sessions
}

// OnInit names the page.
func (h *Home) OnInit() { h.base.OnInit(); h.name = "home" }

// Render draws the page.
func (h *Home) Render() app.UI {
	h.name = "home"
	s := h.st()
	if h.client = ""; h.who != "" {
		return h.player(s)
	}
	// Who comes back wants the session of last time, not to be told what this is.
	lead, first, goOn := h.w("home.lead"), "main", app.UI(nil)
	if !s.Booted && s.Prefs.Last != "" { // as it will be
		lead, first = "", ""
		goOn = ui.Row("starts", ui.Working("", h.w("app.opening"), "", nil))
	}
	if s.Session != nil {
		lead, first = "", ""
		to := "/shots"
		if len(s.Session.Shots) > 0 {
			to = "/choose"
		}
		goOn = ui.Row("starts", ui.Link("go-on", "main", to, h.w("home.go-on", h.wording().called(*s.Session))))
	}
	if sparse.Load() {
		return h.frame(lead)
	}
	return h.frame(lead,
		goOn,
		// with the buttons or not at all: what comes later would move them under the finger
		app.If(s.Session == nil && (s.Booted || s.Prefs.Last == ""), func() app.UI { return h.sample() }),
		ui.Row("starts", exampleButton(h.m, h.wording(), first), newButton(h.m, h.wording(), ""), openFile(h.m, h.wording(), "", true)),
		app.If(s.Reading.Phase == act.Failed, func() app.UI { return ui.Alert("file-error", h.wording().err(s.Reading.Error)) }),
		ui.P("hint", h.w("home.example-what")),
		ui.Card("sessions", h.w("home.sessions"), h.list(s)...),
		ui.Card("backup", h.w("home.backup"),
			ui.P("", h.w("home.backup-what")),
			app.If(s.Sessions.Unbacked > 0, func() app.UI {
				return ui.Alert("backup-due", h.w("home.backup-due", strconv.Itoa(s.Sessions.Unbacked)))
			}),
			ui.Row("",
				ui.ButtonOff("do-backup", "", h.w("home.backup-do"), len(s.Sessions.Entries) == 0 && !h.m.Heads.HasTaken(), h.w("home.none"), func(ctx app.Context) {
					h.m.Library.Backup(func(all []byte) {
						download(file{"ferrule-backup-" + time.Now().Format("2006-01-02") + ".bin", "application/octet-stream", all})
					})
				}),
				&ui.File{ID: "do-restore", Input: "restore-input", Label: h.w("home.restore"), Accept: ".bin,.ferrule,application/octet-stream",
					Opened: func(ctx app.Context, name string, data []byte) { h.m.Library.Restore(data) }},
			),
			app.If(s.Sessions.Health.Lasting, func() app.UI {
				kept := h.w(storageKey(s))
				if s.Sessions.Health.Used > 0 {
					kept = h.w("home.storage", h.reader().Number(float64(s.Sessions.Health.Used)/1e6, units.None, 1)) + " " + kept
				}
				return app.P().ID("storage-kept").Class("hint").Text(kept)
			}),
			app.If(len(s.Sessions.Health.Missing) > 0, func() app.UI {
				return ui.Alert("storage-missing", h.w("home.missing", strconv.Itoa(len(s.Sessions.Health.Missing)), strings.Join(s.Sessions.Health.Missing, ", ")))
			}),
		),
		h.damaged(s),
		ui.Card("more", h.w("home.more"),
			ui.Row("", ui.Link("to-how", "", "/how", h.w("page.how.title")), ui.Link("to-live", "", "/live", h.w("page.live.title")), ui.Link("to-visits", "", "/visits", h.w("page.visits.title"))),
			ui.Row("", h.example("left", "example-left"), h.example("thin", "example-thin")),
		),
	)
}

func (h *Home) example(name, id string) app.UI {
	return ui.Button(id, "quiet", h.w("home."+id), func(ctx app.Context) {
		h.m.Sessions.Example(name)
		ctx.Navigate("/choose")
	})
}

func (h *Home) list(s act.State) []app.UI {
	switch {
	case s.Sessions.Phase == act.Failed:
		return []app.UI{ui.Alert("list-error", h.wording().r.Say(report.Say("error.list", s.Sessions.Error)))}
	case s.Sessions.Phase != act.Ready:
		return []app.UI{ui.P("hint", h.w("home.listing"))}
	case len(s.Sessions.Entries) == 0:
		return []app.UI{ui.Empty(h.w("home.none"), h.w("home.none-do")), h.undelete()}
	}
	entries := h.m.Library.Found(h.sought)
	rows := app.Ul().Class("sessions").Body(app.Range(entries).Slice(func(i int) app.UI {
		e := entries[i]
		return app.Li().Class("session").Body(
			h.opens(e.ID, e.Title, e.Changed, e.Shots),
			h.playerOf(e.ID, e.Player),
			app.If(h.asking != e.ID, func() app.UI {
				return ui.Icon("delete-"+e.ID, "", "×", h.w("home.delete", h.title(e)), false, func(ctx app.Context) {
					h.asking = e.ID
					focusOn(ctx, "spare-"+e.ID)
				})
			}).Else(func() app.UI {
				return ui.Row("ask",
					ui.Button("really-"+e.ID, "bad", h.w("home.really"), func(ctx app.Context) {
						h.asking, h.gone = "", e.ID
						h.m.Library.Delete(e.ID)
						focusOn(ctx, "undelete")
					}),
					ui.Button("spare-"+e.ID, "quiet", h.w("app.no"), func(ctx app.Context) {
						h.asking = ""
						focusOn(ctx, "delete-"+e.ID)
					}))
			}),
		)
	}))
	return []app.UI{h.search(s), rows, h.undelete()}
}

// opens opens a session; at is its date in the list.
func (h *Home) opens(id, title string, at int64, balls int) app.UI {
	return app.Button().Type("button").ID("open-"+id).Class("session-open").
		OnClick(func(ctx app.Context, _ app.Event) {
			h.m.Sessions.Open(id)
			ctx.Navigate("/shots")
		}, app.EventScope("open", id)).Body(
		app.Span().Class("session-name").Text(cmp.Or(title, h.w("app.untitled"))),
		app.Span().Class("hint").Text(h.w("home.entry", when(at), strconv.Itoa(balls))),
	)
}

// manySessions are so many that one is looked for.
const manySessions = 6

func (h *Home) search(s act.State) app.UI {
	return app.If(len(s.Sessions.Entries) >= manySessions || h.sought != "", func() app.UI {
		return &ui.Field{ID: "search", Label: h.w("home.search"), Value: h.sought, Mode: "text", Wide: true, Typed: func(_ app.Context, text string) { h.sought = text }}
	})
}

// undelete brings the session back that was removed last.
func (h *Home) undelete() app.UI {
	return app.If(h.m.Library.CanUndelete(), func() app.UI {
		return ui.Button("undelete", "quiet", h.w("home.undelete"), func(ctx app.Context) {
			h.m.Library.Undelete()
			focusOn(ctx, "open-"+h.gone)
		})
	})
}

func (h *Home) title(e store.Head) string {
	t := cmp.Or(e.Title, h.w("app.untitled"))
	if e.Player != "" {
		t += " · " + e.Player
	}
	return t
}

// when writes a date as the browser's language does; natively as ISO.
func when(unix int64) string {
	if unix == 0 {
		return ""
	}
	if app.IsServer {
		return time.Unix(unix, 0).UTC().Format("2006-01-02")
	}
	lang := app.Window().Get("document").Get("documentElement").Get("lang").String()
	d := app.Window().Get("Date").New(float64(unix) * 1000)
	return d.Call("toLocaleString", lang, map[string]any{"dateStyle": "medium", "timeStyle": "short"}).String()
}
