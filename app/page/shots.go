package page

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Shots takes in what was hit.
type Shots struct {
	base
	pad    ballPad
	open   string // id of the ball whose details are open
	single bool   // a corrected setting holds for this ball only, not for those after it
	paste  bool
	run    string // id of the first ball of the run whose setting is being chosen
	more   int    // balls that are listed beyond the first page of them
	lines  int    // lines of a file's time line that are drawn beyond the first
}

// OnInit names the page.
func (p *Shots) OnInit() { p.base.OnInit(); p.name = "shots" }

// Render draws the page.
func (p *Shots) Render() app.UI {
	p.name = "shots"
	s := p.st()
	if s.Reading.Phase != act.Idle { // what arrived is shown before there is a session for it
		return p.frame(p.w("shots.lead"), p.reading(s))
	}
	if s.Session == nil {
		return p.frame(p.w("shots.lead"), noSession(p.m, p.wording()))
	}
	return p.frame(p.w("shots.lead"),
		app.Div().Class("columns").Body(
			app.Div().Body(
				app.Div().ID("range").Class("range").Body(p.typing().bay.toHit(s), p.pad.bay.chips(s), lastBall(p.m, p.wording(), s), p.typing().pad(s), thoughtChips(p.m, p.wording(), s)),
				app.Div().Class("plan-state").Body(p.stale(s)),
				p.plan(s),
				ui.Row("", ui.Link("to-live", "quiet", "/live", p.w("page.live.title"))),
				p.files(s),
			),
			app.Div().Body(p.part(func() app.UI { return p.ballList(s) })),
		),
		p.next(),
		app.Div().Body(app.If(p.pad.ear.what != "", func() app.UI { return p.typing().heard() }).Else(func() app.UI { return p.typing().bay.toTurn(s) })),
	)
}

// OnMount keeps the screen lit: hands that hold a club touch nothing.
func (p *Shots) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	awake(true)
	p.typing().askEar(ctx, false)
}

// OnDismount lets it go dark again, and listens no more.
func (p *Shots) OnDismount() {
	awake(false)
	p.typing().hush(app.Context{})
}

// typing is the page's key pad.
func (p *Shots) typing() *ballPad { return p.pad.on(&p.base) }

// plan says what to hit next, how many and why in this order.
func (p *Shots) plan(s act.State) app.UI {
	r := s.Answer.Value
	care := ui.More("before-hitting", p.w("caution.hit"), ui.List("plain", []string{p.w("caution.hit-clear"), p.w("caution.hit-warm"), p.w("caution.hit-pain")}))
	if r == nil || len(r.Plan) == 0 {
		body := []app.UI{ui.P("", p.w("plan.start"))}
		return p.folded("plan", p.w("plan.title"), append(body, care)...)
	}
	done, todo := []app.UI{}, []app.UI{}
	for i, v := range r.Plan {
		if v.Setting < 0 || v.Setting >= len(r.Settings) {
			continue
		}
		set := p.wording().setting(r.Settings[v.Setting].Setting)
		if v.Done >= v.Balls {
			done = append(done, app.Li().Text(p.w("plan.visit", p.wording().balls1(v.Balls), set)))
			continue
		}
		here := len(todo) == 0
		todo = append(todo, app.Li().Class(map[bool]string{true: "here"}[here]).Body(
			app.Div().Body(
				app.Span().Class("plan-what").Text(p.w("plan.visit", p.wording().balls1(v.Balls-v.Done), set)),
				app.If(v.Why.Key != "", func() app.UI { return ui.P("hint", p.wording().msg(v.Why)) }),
			),
			app.If(here, func() app.UI {
				return ui.Button("set-"+strconv.Itoa(i), "", p.w("plan.set"), func(app.Context) { p.typing().bay.setTo(planned(p.m, i)) })
			}),
		))
	}
	return p.folded("plan", p.w("plan.title"),
		app.If(r.Stop.Why.Key != "", func() app.UI { return ui.P("stop", p.wording().msg(r.Stop.Why)) }),
		app.If(len(todo) > 0, func() app.UI { return app.Ol().Class("plan").Body(todo...) }).
			Else(func() app.UI { return ui.P("", p.w("plan.all-done")) }),
		app.If(len(done) > 0, func() app.UI {
			return moreLater("plan-done", p.w("plan.hit", strconv.Itoa(len(done))), func() []app.UI {
				return []app.UI{app.Ol().Class("plan").Body(done...)}
			})
		}),
		care)
}

// folded is a card of which no more than its title is seen until it is opened.
func (p *Shots) folded(id, title string, body ...app.UI) app.UI {
	return later(id, title, false, func() []app.UI { return body })
}

// planned is the setting of a visit of the plan.
func planned(model *act.Model, i int) club.Setting {
	r := model.State().Answer.Value
	if r == nil || i >= len(r.Plan) {
		return act.Now(model.State())
	}
	return r.Settings[r.Plan[i].Setting].Setting
}

// balls1 is "1 ball" or "4 balls".
func (say wording) balls1(n int) string {
	return say.w("balls.many", strconv.Itoa(n))
}

// stale says that the report answers an older state of the session. It is
// always there, empty or not: a page finds again what it has drawn by its place
// among its neighbours, and would draw all that follows anew.
func (b *base) stale(s act.State) app.UI {
	said := []app.UI{}
	switch {
	case s.Answer.Phase == act.Working:
		said = append(said, b.working())
	case s.Answer.Phase == act.Failed:
		said = append(said, ui.Alert("answer-error", b.w("error.answer", b.wording().err(s.Answer.Error))),
			ui.Button("again", "", b.w("app.again"), func(app.Context) { b.m.Answers.Analyse() }))
	case s.Stale() && !b.m.Answers.Pending():
		said = append(said, ui.Row("banner", ui.P("", b.w("app.stale")), ui.Button("again", "", b.w("app.again"), func(app.Context) { b.m.Answers.Analyse() })))
	}
	return app.Div().Class("state").Body(said...)
}

// files opens a file or takes a paste.
func (p *Shots) files(s act.State) app.UI {
	return ui.Card("files", p.w("files.title"),
		app.If(s.Session != nil && len(s.Session.Shots) == 0, func() app.UI { return ui.List("plain hint", []string{p.w("files.what"), p.w("files.few")}) }),
		ui.Row("", openButton(p.m, p.wording(), ""), ui.Button("paste", "", p.w("files.paste"), func(app.Context) { p.paste = !p.paste })),
		app.If(p.paste || s.Drafts[act.PasteField].Text != "", func() app.UI {
			return app.Div().Class("inset").Body(
				app.Label().For("paste-text").Text(p.w("files.paste-here")),
				app.Textarea().ID("paste-text").Rows(6).Attr("spellcheck", "false").Text(s.Drafts[act.PasteField].Text).
					OnInput(func(ctx app.Context, e app.Event) {
						p.m.Drafts.Put(act.PasteField, ctx.JSSrc().Get("value").String(), "")
					}),
				ui.Button("paste-read", "main", p.w("files.read"), func(app.Context) {
					if text := p.st().Drafts[act.PasteField].Text; strings.TrimSpace(text) != "" {
						p.m.Files.Open(p.w("files.pasted"), []byte(text))
						p.paste = false
						p.m.Drafts.Drop(act.PasteField)
					}
				}),
			)
		}),
	)
}

// ballList is the list as a component of its own: it is drawn anew when its
// exported fields change, and not at every key of the key pad.
type ballList struct {
	app.Compo

	Session *shot.Session
	Report  *report.Report
	Open    string
	Onward  bool
	Run     string
	More    int
	Prefs   act.Prefs
	Drafts  map[string]act.Draft // of the open ball

	page *Shots
}

// Render draws the list.
func (l *ballList) Render() app.UI { return l.page.balls(l.page.st()) }

func (p *Shots) ballList(s act.State) app.UI {
	drafts := map[string]act.Draft{}
	for k, d := range s.Drafts {
		if strings.HasPrefix(k, "value-") {
			drafts[k] = d
		}
	}
	return &ballList{Session: s.Session, Report: s.Answer.Value, Open: p.open, Onward: !p.single, Run: p.run, More: p.more, Prefs: s.Prefs, Drafts: drafts, page: p}
}

// listed is how many balls are drawn at one go.
const listed = 5

// balls lists what was hit, with the flags and their reasons.
func (p *Shots) balls(s act.State) app.UI {
	shots := s.Session.Shots
	if len(shots) == 0 {
		return ui.Card("balls", p.w("balls.title"), ui.Empty(p.w("balls.none"), p.w("balls.none-do")))
	}
	rows := map[string]report.ShotRow{}
	why := map[string][]string{}
	general := []string{}
	if r := s.Answer.Value; r != nil {
		for _, row := range r.Shots {
			rows[row.ID] = row
		}
		for _, f := range r.Findings {
			if f.ShotID == "" {
				general = append(general, p.wording().msg(f.Text))
				continue
			}
			why[f.ShotID] = append(why[f.ShotID], p.wording().msg(f.Text))
		}
	}
	lists := []app.UI{}
	counted, out := listedOf(shots, p.open)
	rest := max(0, len(counted)-ballsFirst-p.more)
	for to := len(counted); to > rest; { // the newest first
		from := to - 1
		for from > rest && (to-from < listed || to-from < 8*listed && shots[counted[from]].Setting.Equal(shots[counted[from-1]].Setting)) {
			from--
		}
		first, last := from, to
		lists = append(lists, p.part(func() app.UI {
			list := []app.UI{}
			for k := last - 1; k >= first; k-- {
				i := counted[k]
				h := shots[i]
				if k == len(counted)-1 || !h.Setting.Equal(shots[counted[k+1]].Setting) {
					list = append(list, p.runHead(s, shots[counted[runFrom(shots, counted, k)]]))
				}
				list = append(list, p.ball(i, h, rows[h.ID], why[h.ID]))
			}
			return app.Ol().Class("balls").Body(list...)
		}))
		to = from
	}
	return ui.Card("balls", p.w("balls.title"),
		ui.P("hint", p.w("balls.count", p.wording().balls1(len(shots)))),
		app.Div().Class("state").Body(app.If(len(general) > 0, func() app.UI {
			return ui.Part(p.w("balls.findings"), ui.List("plain", general))
		})),
		app.Div().Body(lists...),
		app.Div().Class("state").Body(app.If(rest > 0, func() app.UI {
			return ui.Button("balls-more", "quiet", p.w("balls.more", strconv.Itoa(min(rest, ballPage))), func(app.Context) { p.more += ballPage })
		})),
		app.Div().Class("state").Body(app.If(len(out) > 0, func() app.UI {
			return moreLater("balls-out", p.w("balls.out", p.wording().balls1(len(out))), func() []app.UI {
				list := []app.UI{}
				for _, i := range out[max(0, len(out)-ballPage):] {
					list = append(list, p.ball(i, shots[i], rows[shots[i].ID], nil))
				}
				return []app.UI{app.Ol().Class("balls").Body(list...)}
			})
		})),
	)
}

// runFrom is the first of the balls that were hit with the setting of the k-th
// that is listed, without another between them.
func runFrom(shots []shot.Shot, counted []int, k int) int {
	for k > 0 && shots[counted[k-1]].Setting.Equal(shots[counted[k]].Setting) {
		k--
	}
	return k
}

// ballsFirst is how many balls are listed, the last that were hit; ballPage is
// how many more a tap lists.
const ballsFirst, ballPage = 8, 100

// listedOf splits balls, by index, into those that are listed and those that are
// left out and folded away: balls of a file with another club or of another
// player. A ball whose details are open stays where it is.
func listedOf(shots []shot.Shot, open string) (counted, out []int) {
	for i, h := range shots {
		if h.Tag == shot.TagOut && h.Source != "" && h.ID != open {
			out = append(out, i)
		} else {
			counted = append(counted, i)
		}
	}
	return counted, out
}

// runHead names the setting of a run of balls; a tap on it offers the others,
// and a second tap gives one to the whole run.
func (p *Shots) runHead(s act.State, h shot.Shot) app.UI {
	id, open := h.ID, p.run == h.ID
	all := act.Settings(s.Session)
	return app.Li().Class("set-here").Body(
		app.Button().Type("button").ID("run-"+id).Class("run").Attr("aria-expanded", strconv.FormatBool(open)).
			Title(p.w("balls.run-set")).Disabled(len(all) < 2).
			OnClick(func(app.Context, app.Event) {
				if p.run == id {
					p.run = ""
				} else {
					p.run = id
				}
			}, app.EventScope("run", id)).Text(p.wording().setting(h.Setting)),
		app.If(open, func() app.UI { return p.chooseSetting("run-"+id, h, true) }),
	)
}

// chooseSetting is one button a setting: it holds for the ball, or from it on
// to the next change.
func (p *Shots) chooseSetting(id string, h shot.Shot, onward bool) app.UI {
	ball := h.ID
	all := act.Settings(p.st().Session)
	return app.Div().Class("choices").Attr("role", "group").Attr("aria-label", p.w("balls.run-set")).Body(
		app.Range(all).Slice(func(i int) app.UI {
			set := all[i]
			class := "quiet"
			if set.Equal(h.Setting) {
				class = "main"
			}
			return ui.Button(id+"-"+strconv.Itoa(i), class, p.wording().setting(set), func(app.Context) {
				p.run = ""
				if all := act.Settings(p.st().Session); i < len(all) { // as it is now: handlers outlive their drawing
					p.m.Balls.SetSetting(ball, all[i], onward)
				}
			})
		}))
}

// signs mark how a ball counts, by shape.
var signs = map[report.Status]string{
	report.Counted: "", report.Mishit: "△", report.Suspect: "?", report.Impossible: "⊘", report.LeftOut: "–",
}

func (p *Shots) ball(i int, h shot.Shot, row report.ShotRow, why []string) app.UI {
	id := h.ID
	numbers := []app.UI{}
	for _, q := range p.columns(h) {
		if v, ok := h.Values.Get(q); ok {
			numbers = append(numbers, app.Span().Class("ball-number").Title(p.wording().quantity(q)).Text(p.wording().value(q, v)))
		}
	}
	open := p.open == id
	status := ""
	if row.Status != "" && row.Status != report.Counted {
		status = p.w("status." + string(row.Status))
	}
	return app.Li().ID("ball-"+id).Class("ball "+string(row.Status)).Body(
		app.Button().Type("button").ID("toggle-"+id).Class("ball-line").Attr("aria-expanded", strconv.FormatBool(open)).
			OnClick(func(app.Context, app.Event) {
				if p.open == id {
					p.open = ""
				} else {
					p.open = id
				}
			}, app.EventScope("toggle", id)).Body(
			app.Span().Class("ball-count").Text(strconv.Itoa(i+1)),
			app.Span().Class("ball-numbers").Body(numbers...),
			app.If(h.Tag != "", func() app.UI { return app.Span().Class("tag").Text(p.w("tag." + string(h.Tag))) }),
			app.If(status != "", func() app.UI {
				return app.Span().Class("flag").Text(signs[row.Status] + " " + status)
			}),
		),
		app.If(len(why) > 0 && open, func() app.UI { return ui.List("why plain", why) }),
		app.If(h.Note != "" && !open, func() app.UI { return ui.P("hint", h.Note) }),
		app.If(open, func() app.UI { return p.details(i, h, row) }),
	)
}

// columns are the numbers shown in the line of a ball.
func (p *Shots) columns(h shot.Shot) []shot.Quantity {
	out := []shot.Quantity{}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch, shot.Spin, shot.Backspin, shot.Total} {
		if _, ok := h.Values.Get(q); ok && len(out) < 4 {
			out = append(out, q)
		}
	}
	return out
}

var tags = []shot.Tag{shot.TagNone, shot.TagMishit, shot.TagToe, shot.TagHeel, shot.TagHigh, shot.TagLow, shot.TagGood, shot.TagWarmup, shot.TagOut}

// details corrects one ball: what it was, how the club was set, its numbers.
func (p *Shots) details(i int, h shot.Shot, row report.ShotRow) app.UI {
	level := row.Level
	id := h.ID
	options := []ui.Option{}
	for _, t := range tags {
		options = append(options, ui.Option{Value: string(t), Label: p.w("tag." + string(t))})
	}
	values := []app.UI{}
	for _, k := range shot.Kinds {
		if v, ok := h.Values.Get(k.Quantity); ok {
			values = append(values, p.correct(id, k, v))
		}
	}
	way := wayOf(p.m, p.wording(), h.Values.WithoutDrift(row.Drift))
	return app.Div().Class("inset").Body(
		app.If(way != "", func() app.UI { return ui.P("way", capital(way)) }),
		app.If(row.Seen != nil && row.Drift != 0, func() app.UI {
			return ui.P("hint", p.wording().message("air.drift", []report.Arg{report.Side(row.Drift)}))
		}),
		app.If(h.Line > 0, func() app.UI { return ui.P("hint", p.w("balls.from", h.Source, strconv.Itoa(h.Line))) }),
		app.If(level != nil, func() app.UI {
			return ui.P("hint", p.w("balls.level", p.wording().value(shot.Carry, level.Carry), p.wording().value(shot.Apex, level.Apex), p.reader().Number(20+units.ZeroC, units.Temperature, 0)))
		}),
		&ui.Choice{ID: "tag-" + id, Label: p.w("balls.tag"), Value: string(h.Tag), Options: options,
			Picked: func(_ app.Context, v string) { p.m.Balls.Tag(id, shot.Tag(v)) }},
		&ui.Field{ID: "note-" + id, Label: p.w("balls.note"), Value: h.Note, Mode: "text", Wide: true,
			Typed: func(_ app.Context, v string) { p.m.Balls.Note(id, v) }},
		ui.Part(p.w("balls.setting"),
			pickOf(p.m, p.wording(), "set-"+id, p.st().Session, h.Setting, func(_ app.Context, t club.Setting) { p.m.Balls.SetSetting(id, t, !p.single) }),
			&ui.Check{ID: "onward-" + id, Label: p.w("balls.onward"), On: !p.single, Turned: func(_ app.Context, on bool) { p.single = !on }},
		),
		moreLater("values-"+id, p.w("balls.values"), func() []app.UI {
			return []app.UI{
				app.Div().Class("values").Body(values...),
				&ui.Field{ID: "ball-of-" + id, Label: p.w("club.ball"), Value: h.Ball, Mode: "text", Typed: func(_ app.Context, v string) { p.m.Balls.SetBall(id, v) }},
			}
		}),
		ui.Row("",
			ui.Icon("up-"+id, "", "↑", p.w("balls.later"), i == len(p.st().Session.Shots)-1, func(app.Context) { p.m.Balls.Move(id, 1) }),
			ui.Icon("down-"+id, "", "↓", p.w("balls.earlier"), i == 0, func(app.Context) { p.m.Balls.Move(id, -1) }),
			ui.Button("remove-"+id, "bad", p.w("balls.remove"), func(app.Context) { p.m.Balls.Remove(id) }),
		),
	)
}
