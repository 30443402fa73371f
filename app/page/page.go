// Package page has one component a route. A page draws the State of package
// act and calls its actions; it holds only what is open or chosen on the
// screen at the moment.
//
// Reading order: page.go (what all pages share), home.go, then the five steps
// club.go and head.go, shots.go and entry.go, compare.go, choose.go, sheet.go;
// settings.go, how.go, live.go and story.go around them.
package page

import (
	"cmp"
	"context"
	"strconv"
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/bridge"
	"ferrule/app/idb"
	"ferrule/app/ui"
	"ferrule/app/yield"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// start gives the pages their state and registers every route.
func start(m *act.Model) {
	for path, make := range routes {
		app.Route(path, func() app.Composer { return make(base{m: m}) })
	}
	// Asked last: whatever is none of the addresses above.
	app.RouteWithRegexp(".*", func() app.Composer { return &Lost{base: base{m: m}} })
}

// routes are the addresses of the pages.
var routes = map[string]func(b base) app.Composer{
	"/":         func(b base) app.Composer { return &Home{base: b} },
	"/sessions": func(b base) app.Composer { return &Home{base: b} },
	"/club":     func(b base) app.Composer { return &Club{base: b} },
	"/shots":    func(b base) app.Composer { return &Shots{base: b} },
	"/compare":  func(b base) app.Composer { return &Compare{base: b} },
	"/choose":   func(b base) app.Composer { return &Choose{base: b} },
	"/sheet":    func(b base) app.Composer { return &Sheet{base: b} },
	"/shared":   func(b base) app.Composer { return &Shared{base: b} },
	"/settings": func(b base) app.Composer { return &Settings{base: b} },
	"/how":      func(b base) app.Composer { return &How{base: b} },
	"/live":     func(b base) app.Composer { return &Live{base: b} },
	"/client":   func(b base) app.Composer { return &Client{base: b} },
	"/visits":   func(b base) app.Composer { return &Visits{base: b} },
	"/story":    func(b base) app.Composer { return &Story{base: b} },
}

// step is one of the five steps of the path.
type step struct{ name, href, sign string }

var steps = []step{
	{"club", "/club", "1"},
	{"shots", "/shots", "2"},
	{"compare", "/compare", "3"},
	{"choose", "/choose", "4"},
	{"sheet", "/sheet", "5"},
}

// base is what every page has: the state, the words, the frame.
type base struct {
	app.Compo
	m      *act.Model
	name   string
	charts map[string]drawing // as last drawn

	ctx     app.Context // of the page
	ahead   func()      // draws what takes long of a new state, a piece before the page; nil = nothing
	waiting []turn      // parts that are not drawn yet, see part
	again   bool        // the page was gone back to
	client  string      // who is shown, by name: the open session may be another's

	word   string // key of the word that is explained
	wordAt string // id of what was tapped for it
}

// OnInit is asked before the page is drawn for the first time.
func (b *base) OnInit() {
	b.again = app.IsClient && app.Window().Get("ferruleWentBack").Truthy()
}

// OnMount has the page drawn anew whenever the state changes.
func (b *base) OnMount(ctx app.Context) {
	if app.IsServer {
		return
	}
	b.ctx = ctx
	var asked atomic.Bool
	b.m.Loop.Attach(func() {
		if asked.Swap(true) {
			return
		}
		ctx.Dispatch(func(app.Context) {
			asked.Store(false)
			b.m.Loop.Drain()
			b.marks()
			if b.ahead != nil {
				b.ahead()
			}
		})
	})
	if !sparse.Load() {
		b.begin(ctx)
		return
	}
	ctx.Async(func() {
		yield.Turn()
		ctx.Dispatch(func(ctx app.Context) {
			sparse.Store(false)
			ctx.Defer(b.begin)
		})
	})
}

// begin opens what is stored and takes what comes from outside, once the page
// is drawn.
func (b *base) begin(ctx app.Context) {
	b.m.Boot()
	b.m.Loop.Drain()
	b.marks()
	if !listening.Swap(true) {
		listen(b.m)
		ctx.Async(func() {
			yield.Turn()
			b.reader().DecimalMark() // asked by itself, because a browser takes long to tell
			yield.Turn()
			app.Window().Call("ferruleRegister") // see pwa/loader.js
			time.Sleep(time.Second)
			bridge.Default().Warm() // whoever is here will ask for an analysis; the page is at rest by now
		})
	}
	b.incoming(ctx)
	if how := ctx.Page().URL().Query().Get("incoming"); (how == "failed" || how == "refused") && !refusedFile.Swap(true) {
		b.m.Notices.Warn(map[string]string{"failed": "error.incoming", "refused": "error.incoming-refused"}[how])
	}
}

// sparse is whether the program has drawn no more than the frame of its first
// page. The rest follows once the browser has shown the frame and taken
// touches, so that a start never stands still for long.
var sparse atomic.Bool

// refusedFile is whether it was said that a shared file did not come in.
var refusedFile atomic.Bool

// listening is whether the window's events are listened to; once is enough.
var listening atomic.Bool

// listen stores what is unsaved when the page is hidden (a call, another app,
// a closing tab) and lets the keyboard undo outside of text fields.
func listen(model *act.Model) {
	doc := app.Window().Get("document")
	hidden := app.FuncOf(func(app.Value, []app.Value) any {
		if doc.Get("visibilityState").String() == "hidden" {
			model.Keeper.Flush()
		}
		return nil
	})
	doc.Call("addEventListener", "visibilitychange", hidden)
	app.Window().Call("addEventListener", "pagehide", hidden)
	leaving := app.FuncOf(func(_ app.Value, args []app.Value) any {
		if model.Keeper.Unsaved() { // begin to store; ask, for that may fail
			model.Keeper.Flush()
			args[0].Call("preventDefault")
			args[0].Set("returnValue", "unsaved")
		}
		return nil
	})
	app.Window().Call("addEventListener", "beforeunload", leaving)
	keys := app.FuncOf(func(_ app.Value, args []app.Value) any {
		e := args[0]
		if !e.Get("ctrlKey").Bool() && !e.Get("metaKey").Bool() {
			return nil
		}
		tag := e.Get("target").Get("tagName").String()
		if tag == "INPUT" && e.Get("target").Get("type").String() == "text" || tag == "TEXTAREA" {
			return nil // the field's own undo
		}
		switch key := e.Get("key").String(); {
		case (key == "z" || key == "Z") && !e.Get("shiftKey").Bool():
			e.Call("preventDefault")
			model.Editor.Undo()
		case key == "y" || key == "Y" || key == "z" || key == "Z":
			e.Call("preventDefault")
			model.Editor.Redo()
		}
		return nil
	})
	doc.Call("addEventListener", "keydown", keys)
	app.Window().Call("addEventListener", "resize", app.FuncOf(func(app.Value, []app.Value) any {
		measure()
		return nil
	}))
	idb.OnHealed(model.Library.Relist)
	idb.OnIncoming(func() {
		if look := lookIn.Load(); look != nil {
			(*look)()
		}
	})
}

// across is how wide the window was when it was measured last [px]: measuring has the
// browser lay out what is just being drawn.
var across atomic.Int32

func measure() {
	w, _ := app.Window().Size()
	across.Store(int32(w))
}

// lookIn looks for incoming files on behalf of the page that is shown.
var lookIn atomic.Pointer[func()]

// incoming takes files that were shared with the app or opened with it.
func (b *base) incoming(ctx app.Context) {
	look := func() {
		files, taken, refused, err := idb.Incoming(context.Background())
		if refused {
			ctx.Dispatch(func(app.Context) { b.m.Notices.Warn("error.incoming-refused") })
		}
		if err != nil || len(files) == 0 {
			return
		}
		ctx.Dispatch(func(ctx app.Context) {
			bay := b.name == "live" && b.st().Session != nil && !b.st().ReadOnly
			all := make([]act.File, len(files))
			for i, f := range files {
				f.Name = cmp.Or(f.Name, b.w("files.pasted"))
				if all[i] = (act.File{Name: f.Name, Bytes: f.Bytes}); bay {
					b.m.Files.TakeIn(f.Name, f.Bytes, f.From)
				}
			}
			if !bay {
				b.m.Files.OpenAll(all)
				ctx.Navigate("/shots")
			}
			b.m.Files.WhenKept(taken)
		})
	}
	lookIn.Store(&look)
	ctx.Async(look)
}

// OnNav names the page and lets readers of the screen hear it.
func (b *base) OnNav(ctx app.Context) {
	if s := b.m.State(); s.Answer.Value != nil && s.Answer.Value.Given && b.name != "shared" && b.name != "sheet" {
		b.m.Answers.Analyse() // only the sheet has all its numbers in an answer that was given
	}
	ctx.Page().SetTitle(b.w("page."+b.name+".title") + " · Ferrule")
	dressUp(b.m.State().Prefs)
	if moved.Swap(true) {
		ctx.Defer(func(app.Context) {
			app.Window().Call("scrollTo", 0, placeOn(ctx.Page().URL().Path))
			if h := app.Window().GetElementByID("page-title"); h.Truthy() {
				h.Call("focus", map[string]any{"preventScroll": true})
			}
		})
	}
	b.marks()
}

// placeOn is how far down a page was when it was left [px], when the person
// goes back to it; a page that is gone to begins at its top.
func placeOn(path string) float64 {
	w := app.Window()
	if !w.Get("ferruleWentBack").Truthy() {
		return 0
	}
	w.Set("ferruleWentBack", false)
	if at := w.Get("ferrulePlaces").Get(path); at.Truthy() {
		return at.Float()
	}
	return 0
}

// focusOn moves the focus to an element that is drawn anew, or will be within
// a second: who works by keyboard or by ear is left where the question was.
func focusOn(ctx app.Context, id string) {
	onceDrawn(ctx, id, func(el app.Value) { el.Call("focus") })
}

// onceDrawn does something with an element as soon as it is drawn.
func onceDrawn(ctx app.Context, id string, do func(el app.Value)) {
	ctx.Async(func() {
		for range 50 {
			time.Sleep(20 * time.Millisecond)
			if el := app.Window().GetElementByID(id); el.Truthy() {
				do(el)
				return
			}
		}
	})
}

// moved is whether a page was shown before this one.
var moved atomic.Bool

// OnAppUpdate tells that a newer version waits.
func (b *base) OnAppUpdate(ctx app.Context) { b.m.Notices.SetUpdate() }

// marks says on the body how far the program is: tests and CSS read it.
func (b *base) marks() {
	if app.IsServer {
		return
	}
	s := b.m.State()
	busy := "0"
	if undrawn.Load() > 0 || s.Answer.Phase == act.Working || s.Reading.Phase == act.Working || b.m.Answers.Pending() {
		busy = "1"
	}
	dressUp(s.Prefs) // they may have been read just now
	d := app.Window().Get("document").Get("body").Get("dataset")
	if !sparse.Load() {
		d.Set("ready", "1")
	}
	d.Set("busy", busy)
	if s.Booted {
		d.Set("booted", "1")
	}
	d.Set("whole", strconv.FormatBool(undrawn.Load() == 0))
	d.Set("saved", strconv.Itoa(s.Saving.Revision))
	dirty := "0"
	if b.m.Keeper.Unsaved() {
		dirty = "1"
	}
	d.Set("dirty", dirty)
}

// dressed is the theme and the language that the program gave the document; no
// language is "?".
var dressed = struct{ theme, language string }{language: "?"}

// dressUp sets theme and language on the document, where they are others.
func dressUp(p act.Prefs) {
	if app.IsServer || dressed.theme == p.Theme && dressed.language == p.Language {
		return
	}
	dressed.theme, dressed.language = p.Theme, p.Language
	root := app.Window().Get("document").Get("documentElement")
	if p.Theme == "" {
		root.Call("removeAttribute", "data-theme")
	} else {
		root.Call("setAttribute", "data-theme", p.Theme)
	}
	lang := cmp.Or(p.Language, "en")
	root.Set("lang", lang)
}

func (b *base) st() act.State {
	return b.m.State()
}

// reader is for whom the page is written.
func (b *base) reader() text.Reader { return b.wording().r }

func (b *base) wording() wording { return wordingOf(b.m) }

// w is the word of a key with its places filled.
func (b *base) w(key string, args ...string) string { return b.reader().Fill(key, args...) }

// frame draws what stands around a page: name, undo, steps, notices.
func (b *base) frame(lead string, body ...app.UI) app.UI {
	s := b.st()
	if sparse.Load() {
		body = nil
	}
	title := app.H1().ID("page-title").TabIndex(-1).Text(cmp.Or(b.client, b.w("page."+b.name+".title")))
	return app.Div().Class("app").Body(
		app.A().Class("skip").Href("#main").Text(b.w("app.skip")),
		b.top(s),
		b.steps(),
		app.Main().ID("main").DataSet("page", b.name).OnClick(b.ask, app.EventScope(b.name)).Body(
			app.Div().Class("head").Body(
				title,
				app.If(lead != "", func() app.UI { return ui.P("lead", lead) }),
			),
			app.Div().Class("state banners").Body( // always there, as stale is
				app.If(s.Update, func() app.UI {
					return ui.Row("banner", ui.P("", b.w("app.update")), ui.Button("update", "", b.w("app.update-now"), func(ctx app.Context) {
						b.m.Keeper.WhenSaved(func() { app.Window().Call("ferruleApplyUpdate") })
					}))
				}),
				unsavedRows(b.m, b.wording(), s),
				givenDiffers(b.wording(), s),
				app.If(s.ReadOnly, func() app.UI {
					return ui.Row("banner", ui.P("", b.w("app.read-only")), ui.Button("keep-copy", "main", b.w("app.keep"), func(app.Context) { b.m.Sessions.Keep() }))
				}),
			),
			// What is received is nobody's to change yet: the steps that are typed into
			// are switched off as a whole.
			app.FieldSet().ID("page-body").Class("page "+b.name).Disabled(s.ReadOnly && (b.name == "club" || b.name == "shots")).Body(body...),
		),
		b.explains(),
		noticeBox(b.m, b.wording(), s.Notice),
	)
}

func (b *base) top(s act.State) app.UI {
	title := "" // none is said to be none in the lists alone
	if s.Session != nil && b.client == "" {
		title = s.Session.Title
	}
	undo, redo := b.w("app.undo"), b.w("app.redo")
	if s.Undo != "" {
		undo = b.w("app.undo-what", b.w(s.Undo))
	}
	if s.Redo != "" {
		redo = b.w("app.redo-what", b.w(s.Redo))
	}
	return app.Header().Class("top").Body(
		app.A().Class("brand").ID("home").Href("/").Title(b.w("page.home.title")).Body(
			app.Span().Class("ring").Attr("aria-hidden", "true"), app.Span().Text("Ferrule")),
		app.Span().Class("session-title").Text(title),
		app.Span().Class("saved").ID("saved").Text(b.wording().saved(s)),
		ui.Icon("undo", "", "↶", undo, s.Undo == "", func(app.Context) { b.m.Editor.Undo() }),
		app.If(s.Redo != "", func() app.UI {
			return ui.Icon("redo", "", "↷", redo, false, func(app.Context) { b.m.Editor.Redo() })
		}),
		app.A().Class("icon").ID("to-settings").Href("/settings").Title(b.w("page.settings.title")).
			Attr("aria-label", b.w("page.settings.title")).Body(app.Span().Attr("aria-hidden", "true").Text("☰")),
	)
}

// called is the title of a session.
func (say wording) called(s shot.Session) string {
	if s.Title != "" {
		return s.Title
	}
	return say.w("app.untitled")
}

func (say wording) saved(s act.State) string {
	switch {
	case s.Session == nil || s.ReadOnly:
		return ""
	case s.Saving.Phase == act.Failed:
		return say.w("app.not-saved")
	case s.Saving.Phase == act.Working || s.Saving.Pending:
		return say.w("app.saving")
	}
	return say.w("app.saved")
}

func (b *base) steps() app.UI {
	return app.Nav().Class("steps").Attr("aria-label", b.w("app.steps")).Body(
		app.Ol().Body(app.Range(steps).Slice(func(i int) app.UI {
			s := steps[i]
			a := app.A().ID("step-"+s.name).Href(s.href).Class("step").Body(
				app.Span().Class("step-sign").Attr("aria-hidden", "true").Text(s.sign),
				app.Span().Text(b.w("step."+s.name)),
			)
			if s.name == b.name {
				a = a.Attr("aria-current", "page")
			}
			return app.Li().Body(a)
		})),
	)
}

func noticeBox(model *act.Model, say wording, n act.Notice) app.UI {
	role := "status"
	if n.Alert {
		role = "alert"
	}
	return app.Div().ID("notice").Class("notice").Attr("role", role).Body(
		app.If(n.Key != "", func() app.UI {
			return app.Div().Class("notice-box").Body(
				app.Span().Text(say.message(n.Key, n.Args)),
				app.If(n.Undo, func() app.UI {
					return ui.Button("notice-undo", "quiet", say.w("app.undo"), func(app.Context) { model.UndoNotice() })
				}),
				ui.Icon("notice-close", "", "×", say.w("app.close"), false, func(app.Context) { model.Notices.Dismiss() }),
			)
		}),
	)
}

// next leads on to the following step.
func (b *base) next() app.UI {
	return b.part(func() app.UI { // the last thing on a page, after what waits above it
		for i, s := range steps {
			if s.name == b.name && i+1 < len(steps) {
				return app.P().Class("onward").Body(ui.Link("next-step", "main", steps[i+1].href, b.w("app.next", b.w("step."+steps[i+1].name))))
			}
		}
		return nil
	})
}

// noSession is shown by the steps while no session is open.
func noSession(model *act.Model, say wording) app.UI {
	if !model.State().Booted && app.IsClient {
		return ui.Working("", say.w("app.opening"), "", nil)
	}
	return ui.Empty(say.w("empty.session"), say.w("empty.session-do"),
		ui.Row("", exampleButton(model, say, "main"), newButton(model, say, ""), openButton(model, say, "")))
}

// exampleButton is never off: a tap on it while something is worked out would be lost.
func exampleButton(model *act.Model, say wording, class string) app.UI {
	return ui.Button("try-example", class, say.w("home.example"), func(ctx app.Context) {
		model.Sessions.Example("demo")
		ctx.Navigate("/choose")
	})
}

func newButton(model *act.Model, say wording, class string) app.UI {
	return ui.Button("new-session", class, say.w("home.new"), func(ctx app.Context) {
		model.Sessions.New()
		ctx.Navigate("/club")
	})
}

func openButton(model *act.Model, say wording, class string) app.UI {
	return openFile(model, say, class, false)
}

// openFile opens files: fresh ones, from the first page, make a session of their
// own.
func openFile(model *act.Model, say wording, class string, fresh bool) app.UI {
	return &ui.File{ID: "open-file", Input: "file-input", Class: class, Label: say.w("home.open"),
		Accept: ".csv,.tsv,.txt,.xlsx,.xls,.ods,.html,.htm,.zip,.json,.jsonl,.js,.ferrule,text/csv,text/plain", Many: true,
		Opened: func(ctx app.Context, name string, data []byte) {
			model.Files.Add(name, data, fresh)
			ctx.Navigate("/shots")
		},
		Failed: func(ctx app.Context, reason string) { model.Drafts.Put("file", "", reason) },
	}
}
