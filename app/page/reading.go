package page

import (
	"cmp"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// reading shows what a file holds as it was understood, every guess open to
// correction, before a single ball is taken over.
func (p *Shots) reading(s act.State) app.UI {
	g := s.Reading
	leave := ui.Button("drop-file", "quiet", p.w("file.drop"), func(app.Context) { p.m.Files.Drop() })
	switch {
	case g.Phase == act.Failed:
		return ui.Card("file", p.w("file.title", g.Name), ui.Alert("file-error", p.w("file.failed", p.wording().err(g.Error))), ui.P("hint", p.w("file.unchanged")), p.waiting(g), ui.Row("", openButton(p.m, p.wording(), "main"), leave))
	case g.Backup != nil:
		k := g.Backup
		said := p.w("file.backup", strconv.Itoa(k.Sessions), strconv.Itoa(k.Shots), strconv.Itoa(k.Clubs))
		if k.Records > 0 {
			said += " " + p.w("file.backup-records", strconv.Itoa(k.Records))
		}
		return ui.Card("file", p.w("file.title", g.Name), ui.Status("file-said", "", said),
			ui.P("", p.w("file.keep-it")), p.waiting(g),
			ui.Row("", ui.Button("keep-backup", "main", p.w("file.keep-backup"), func(app.Context) { p.m.Files.TakeBackup() }), leave))
	case g.Own != nil:
		return p.ownSession(g, leave)
	case g.Table == nil:
		return ui.Card("file", p.w("file.title", g.Name), ui.Working("", p.w("file.reading"), "", nil), leave)
	}
	t := g.Table
	n := len(t.Shots) - g.Out
	found := p.w("file.found", p.wording().balls1(n), strconv.Itoa(len(g.Settings)))
	if g.Phase == act.Working { // in the same line: what is tapped stays where it is
		found = p.w("file.reading")
	}
	both, buttons := p.take(s)
	return app.Div().Class("page").Body(
		ui.Card("file", p.w("file.title", g.Name),
			ui.Status("file-said", "", found),
			p.waiting(g),
			app.If(g.Remembered, func() app.UI {
				return ui.Row("banner", ui.P("", p.w("file.remembered")), ui.Button("forget-columns", "quiet", p.w("file.forget"), func(app.Context) { p.m.Reader.ForgetColumns() }))
			}),
			p.questions(t.Questions),
			p.repairs(t.Questions),
			p.clubs(t),
			both,
			ui.Row("", leave, app.If(g.Undo > 0, func() app.UI {
				return ui.Button("undo-file", "quiet", p.w("file.undo"), func(app.Context) { p.m.Reader.Undo() })
			})),
			app.If(len(t.Notes) > 0, func() app.UI { return ui.Part(p.w("file.notes"), ui.List("plain", p.wording().msgs(t.Notes))) }),
			app.If(len(t.Errors) > 0, func() app.UI {
				return ui.More("row-errors", p.w("file.errors", strconv.Itoa(len(t.Errors))), ui.List("plain", rowErrors(p, t.Errors)))
			}),
		),
		p.timeLine(s),
		p.names(s),
		p.columnMap(t.Columns),
		app.Div().Class("take").Body(buttons...),
	)
}

// questions are what the file leaves open: a tap answers one. What was answered
// stands with its answer.
func (p *Shots) questions(list []shot.Question) app.UI {
	body := []app.UI{}
	for k, q := range list {
		if q.ID == "clubs" || q.ID == "columns" && len(q.Choices) < 2 {
			if q.Open {
				body = append(body, ui.P("open-question", p.wording().msg(q.Text)))
			}
			continue
		}
		if q.Open || !q.Taken {
			body = append(body, p.question(k, q)...)
		}
	}
	return app.If(len(body) > 0, func() app.UI {
		return app.Div().ID("file-questions").Class("alert").Attr("role", "alert").Body(append([]app.UI{ui.P("", p.w("file.ask"))}, body...)...)
	})
}

// repairs are where the file contradicts itself, each with what was made of it.
func (p *Shots) repairs(list []shot.Question) app.UI {
	body := []app.UI{}
	for k, q := range list {
		if q.Taken {
			body = append(body, p.question(k, q)...)
		}
	}
	return app.If(len(body) > 0, func() app.UI {
		return app.Div().ID("file-repairs").Class("banner").Body(append([]app.UI{ui.P("", p.w("file.repaired"))}, body...)...)
	})
}

func (p *Shots) question(k int, q shot.Question) []app.UI {
	buttons := []app.UI{}
	for i, c := range q.Choices {
		buttons = append(buttons, chip("answer-"+strconv.Itoa(k)+"-"+strconv.Itoa(i), p.wording().msg(c.Text), !q.Open && q.Answer == c.Value, q.ID+c.Value, func() { p.m.Reader.Answer(q.ID, c.Value) }))
	}
	return []app.UI{ui.P("open-question", p.wording().msg(q.Text)), app.Div().Class("choices").Attr("role", "group").Body(buttons...)}
}

// clubs lists the clubs of a file with their balls; a tap says which belong to
// the session.
func (p *Shots) clubs(t *shot.Table) app.UI {
	if len(t.Clubs) == 0 || len(t.Clubs) == 1 && t.Clubs[0].Kept && len(t.Questions) == 0 {
		return app.Div()
	}
	open := false
	for _, q := range t.Questions {
		open = open || q.ID == "clubs" && q.Open
	}
	buttons := []app.UI{}
	for i, c := range t.Clubs {
		name, on := c.Name, c.Kept && !open
		name = cmp.Or(name, p.w("file.no-club"))
		buttons = append(buttons, chip("club-"+strconv.Itoa(i), p.w("file.name", name, p.wording().balls1(c.Balls)), on, c.Name+strconv.FormatBool(open), func() { p.m.Reader.KeepClub(c.Name, !on) }))
	}
	return app.Div().Body(ui.Part(p.w("file.clubs"), ui.P("hint", p.w("file.clubs-hint")), app.Div().Class("choices").Attr("role", "group").Attr("aria-label", p.w("file.clubs")).Body(buttons...)))
}

// take offers what can be done with the balls: a session of their own, or into
// the open one, with the players and the days of both. The buttons stay at the foot
// of the screen, where they are while the file is read anew.
func (p *Shots) take(s act.State) (both app.UI, buttons []app.UI) {
	g := s.Reading
	n := len(g.Table.Shots) - g.Out
	fresh := max(0, len(g.Table.Shots)-g.Known)
	why := p.w("file.no-balls")
	switch {
	case g.Open > 0:
		why = p.w("file.open-first")
	case g.Known > 0:
		why = p.w("file.known", p.wording().balls1(g.Known))
	}
	offer := func(id, class, key string, n int, off bool, do func()) app.UI {
		return ui.ButtonOff(id, class, p.w(key, p.wording().balls1(n)), off || n == 0 || g.Open > 0, why, func(app.Context) { do() })
	}
	add := max(0, n-g.Known)
	if !g.Into {
		return app.Div(), []app.UI{offer("accept-file", "main", "file.accept", add, fresh == 0, p.m.Files.Accept)}
	}
	both = app.Div().Body(
		app.If(g.Known > 0, func() app.UI { return ui.P("", p.w("file.known", p.wording().balls1(g.Known))) }),
		ui.List("plain", []string{
			p.w("file.whose-open", p.whose([]string{s.Session.Player.Name}, s.Session.Shots), p.wording().balls1(len(s.Session.Shots))),
			p.w("file.whose-file", p.whose(g.Table.Players, g.Table.Shots), p.wording().balls1(n)),
		}))
	if g.Fresh {
		return both, []app.UI{offer("accept-file", "main", "file.accept-new", n, false, p.m.Files.AcceptNew), offer("accept-into", "", "file.accept-into", add, fresh == 0, p.m.Files.Accept)}
	}
	return both, []app.UI{offer("accept-new", "", "file.accept-new", n, false, p.m.Files.AcceptNew), offer("accept-file", "main", "file.accept-into", add, fresh == 0, p.m.Files.Accept)}
}

// whose names players and days, as far as they are known.
func (p *Shots) whose(players []string, shots []shot.Shot) string {
	out := []string{}
	for _, n := range players {
		if n != "" {
			out = append(out, n)
		}
	}
	if len(out) == 0 {
		out = append(out, p.w("file.nobody"))
	}
	return strings.Join(append(out, act.Days(shots)...), ", ")
}

// shownSettings is how many settings are buttons on the time line; the others
// are in a list.
const shownSettings = 8

// linesFirst is how many lines of the time line are drawn; lineCount is how many
// more a tap draws.
const linesFirst, lineCount = 6, 30

// timeLine lists the balls of a file between its breaks: one tap says with which
// setting those from there on were hit. Lines whose balls are all left out are not
// there.
func (p *Shots) timeLine(s act.State) app.UI {
	g := s.Reading
	all := act.Settings(s.Session)
	named := slices.ContainsFunc(g.Settings, func(n act.Named) bool { return n.Label != "" })
	var lines []act.Line
	for _, l := range g.Lines {
		if l.Kept > 0 {
			lines = append(lines, l)
		}
	}
	if len(lines) == 0 || len(all) < 2 || len(lines) < 2 && named {
		return app.Div()
	}
	rows := []app.UI{}
	shown := min(len(lines), linesFirst+p.lines)
	for k, l := range lines[:shown] {
		rows = append(rows, app.Li().Class("file-part").Body(p.line(g, k, l, all)...))
	}
	typed := s.Drafts[act.SplitField]
	split := func() {
		text := p.st().Drafts[act.SplitField].Text
		if strings.TrimSpace(text) == "" {
			return
		}
		if p.m.Reader.Split(text) {
			p.m.Drafts.Drop(act.SplitField)
			return
		}
		p.m.Drafts.Put(act.SplitField, text, p.w("file.split-wrong", text, strconv.Itoa(len(g.Table.Shots))))
	}
	body := []app.UI{ui.P("hint", p.w("file.parts-hint")),
		app.Ol().Class("plain").Body(rows...),
		app.If(shown < len(lines), func() app.UI {
			return ui.Button("parts-more", "quiet", p.w("file.parts-more", strconv.Itoa(len(lines)-shown)), func(app.Context) { p.lines += lineCount })
		}),
		ui.Row("", &ui.Field{ID: act.SplitField, Label: p.w("file.split"), Value: typed.Text, Error: typed.Error, Mode: "text", Hold: "7-12",
			Typed: func(_ app.Context, text string) { p.m.Drafts.Put(act.SplitField, text, "") }, Enter: func(app.Context) { split() }},
			ui.Button("split", "quiet", p.w("file.split-do"), func(app.Context) { split() }))}
	if named { // the file says it itself: who wants it otherwise opens the line
		return p.folded("file-parts", p.w("file.parts"), body...)
	}
	return ui.Card("file-parts", p.w("file.parts"), body...)
}

func (p *Shots) line(g act.Reading, k int, l act.Line, all []club.Setting) []app.UI {
	what := []string{}
	_, at, _ := strings.Cut(strings.ReplaceAll(g.Table.Shots[l.From].Clock, "T", " "), " ")
	for _, t := range []string{l.Sheet, l.Day, at, l.Title} {
		if t != "" && !slices.Contains(what, t) {
			what = append(what, t)
		}
	}
	if l.Why == "gap" || l.Why == "units" {
		what = append(what, p.w("file.why-"+l.Why))
	}
	text := p.w("file.part", strconv.Itoa(l.From+1), strconv.Itoa(l.From+l.Balls), p.wording().balls1(l.Kept))
	if len(what) > 0 {
		text += " · " + strings.Join(what, ", ")
	}
	id := "part-" + strconv.Itoa(k)
	buttons := []app.UI{}
	for i, set := range all[:min(len(all), shownSettings)] {
		buttons = append(buttons, chip(id+"-"+strconv.Itoa(i), p.wording().setting(set), i == l.Use, strconv.Itoa(l.From), func() { p.m.Reader.SetFrom(l.From, i) }))
	}
	if len(all) > shownSettings {
		options := []ui.Option{{Value: "-1", Label: p.w("file.as-written")}}
		for i, set := range all {
			options = append(options, ui.Option{Value: strconv.Itoa(i), Label: p.wording().setting(set)})
		}
		buttons = append(buttons, &ui.Pick{ID: id + "-all", Label: p.w("file.part-set"), Bare: true, Value: strconv.Itoa(l.Use), Options: options, Wide: true,
			Picked: func(_ app.Context, v string) {
				use, _ := strconv.Atoi(v)
				p.m.Reader.SetFrom(l.From, use)
			}})
	}
	return []app.UI{ui.P("", text), app.Div().Class("choices").Attr("role", "group").Attr("aria-label", p.w("file.part-set")).Body(buttons...)}
}

// waiting names the files that come next.
func (p *Shots) waiting(g act.Reading) app.UI {
	return app.If(len(g.Waiting) > 0, func() app.UI {
		return ui.P("hint", p.w("file.waiting", strconv.Itoa(len(g.Waiting)), strings.Join(g.Waiting, ", ")))
	})
}

// ownSession offers a file of our own as the session that it is.
func (p *Shots) ownSession(g act.Reading, leave app.UI) app.UI {
	n := len(g.Own.Shots)
	title := cmp.Or(g.Own.Title, p.w("app.untitled"))
	return ui.Card("file", p.w("file.title", g.Name),
		ui.Status("file-said", "", p.w("file.own", title, p.wording().balls1(n))),
		ui.P("", p.w("file.keep-it")),
		p.waiting(g),
		ui.Row("", ui.Button("open-own", "main", p.w("file.open-own"), func(ctx app.Context) {
			shown := p.st().Reading.Given != nil
			if p.m.Files.OpenOwn(); shown {
				ctx.Navigate("/shared")
			}
		}),
			ui.ButtonOff("accept-file", "", p.w("file.accept", p.wording().balls1(n)), n == 0, p.w("file.no-balls"), func(app.Context) { p.m.Files.Accept() }), leave))
}

func rowErrors(p *Shots, errs []shot.RowError) []string {
	out := []string{}
	for i, e := range errs {
		if i == 50 {
			return append(out, "…")
		}
		e.Column = cmp.Or(e.Column, p.w("file.whole-row"))
		out = append(out, p.w("file.row", strconv.Itoa(e.Line), e.Column, p.wording().msg(e.Message)))
	}
	return out
}

// names matches the settings that the file names with the head's.
func (p *Shots) names(s act.State) app.UI {
	g := s.Reading
	all := act.Settings(s.Session)
	if len(g.Settings) == 0 || len(g.Settings) == 1 && g.Settings[0].Label == "" && len(all) < 2 {
		return nil
	}
	options := []ui.Option{{Value: "-1", Label: p.w("file.as-written")}}
	for i, set := range all {
		options = append(options, ui.Option{Value: strconv.Itoa(i), Label: p.wording().setting(set)})
	}
	rows := app.Range(g.Settings).Slice(func(i int) app.UI {
		n := g.Settings[i]
		label := cmp.Or(n.Label, p.w("file.unnamed"))
		const same = "same:"
		options, value := slices.Clone(options), strconv.Itoa(n.Use)
		for _, o := range g.Settings { // of which this one may be a slip of the pen
			if o.Label != n.Label && o.Label != "" && o.Use < 0 && o.Same == "" {
				options = append(options, ui.Option{Value: same + o.Label, Label: p.w("file.same-as", o.Label)})
			}
		}
		if n.Same != "" {
			value = same + n.Same
		}
		return &ui.Pick{ID: "name-" + strconv.Itoa(i), Label: p.w("file.name", label, p.wording().balls1(n.Shots)), Value: value, Options: options, Wide: true,
			Picked: func(_ app.Context, v string) {
				if as, ok := strings.CutPrefix(v, same); ok {
					p.m.Reader.SameSetting(n.Label, as)
					return
				}
				use, _ := strconv.Atoi(v)
				p.m.Reader.UseSetting(n.Label, use)
			}}
	})
	return ui.Card("file-settings", p.w("file.settings"), ui.P("hint", p.w("file.settings-hint")), rows)
}

// roles are what a column can be besides a measured number.
var roles = []string{"club", "setting", "sleeve", "weight", "player", "session", "ball", "time", "number", "tag", "note", "side", "temperature", "pressure", "humidity", "altitude", "wind", "wind-from"}

func (p *Shots) columnMap(columns []shot.Column) app.UI {
	what := []ui.Option{{Value: "", Label: p.w("file.ignored")}}
	for _, r := range roles {
		what = append(what, ui.Option{Value: "role:" + r, Label: p.w("role." + r)})
	}
	for _, k := range shot.Kinds {
		what = append(what, ui.Option{Value: string(k.Quantity), Label: p.wording().quantity(k.Quantity)})
	}
	rows := app.Range(columns).Slice(func(i int) app.UI {
		c := columns[i]
		n := strconv.Itoa(i)
		value := string(c.Quantity)
		if value == "" && c.Role != "" {
			value = "role:" + c.Role
		}
		k, known := shot.KindOf(c.Quantity)
		return app.Div().Class("column").Body(
			app.H3().Text(p.header(c.Header)),
			ui.Row("pair",
				&ui.Pick{ID: "column-" + n, Label: p.w("file.means"), Value: value, Options: what,
					Picked: func(_ app.Context, v string) {
						c := c
						c.Quantity, c.Role = "", ""
						if r, ok := strings.CutPrefix(v, "role:"); ok {
							c.Role = r
						} else {
							c.Quantity = shot.Quantity(v)
						}
						c.Unit = ""
						p.m.Reader.FixColumn(c)
					}},
				app.If(known && k.Dim != units.None, func() app.UI {
					return &ui.Pick{ID: "unit-" + n, Label: p.w("file.unit"), Value: c.Unit, Options: unitsOf(k.Dim, c.Unit),
						Picked: func(_ app.Context, v string) {
							c := c
							c.Unit = v
							p.m.Reader.FixColumn(c)
						}}
				}),
			),
			app.If(known && k.Compass, func() app.UI {
				return &ui.Check{ID: "flip-" + n, Label: p.w("file.flip"), On: c.Flipped,
					Turned: func(_ app.Context, on bool) {
						c := c
						c.Flipped = on
						p.m.Reader.FixColumn(c)
					}}
			}),
			app.If(len(c.Written) > 0, func() app.UI {
				written := strings.Join(c.Written, " | ")
				if asWritten(c) {
					return ui.P("hint", p.w("file.cells", written))
				}
				return ui.P("hint", p.w("file.written", written, strings.Join(c.Read, " | ")))
			}),
			app.If(len(c.Evidence) > 0, func() app.UI { return ui.P("hint", strings.Join(p.wording().msgs(c.Evidence), "; ")) }),
		)
	})
	return ui.Card("file-columns", p.w("file.columns"), ui.P("hint", p.w("file.columns-hint")), rows)
}

// asWritten reports whether a column's cells are understood as they stand there, but
// for the unit, which has a list of its own.
func asWritten(c shot.Column) bool {
	for i, w := range c.Written {
		if i >= len(c.Read) {
			return false
		}
		if read := strings.ReplaceAll(c.Read[i], "−", "-"); read != w && read != w+" "+c.Unit {
			return false
		}
	}
	return true
}

func (p *Shots) header(h string) string {
	if strings.TrimSpace(h) == "" {
		return p.w("file.no-header")
	}
	return h
}

// unitsOf lists the units in which a file may give a dimension; the one it was
// read in is always among them.
func unitsOf(d units.Dimension, now string) []ui.Option {
	var us []units.Unit
	switch d {
	case units.Length, units.Height:
		us = []units.Unit{units.UnitYd, units.UnitM, units.UnitFt}
	case units.Small:
		us = []units.Unit{units.UnitMm, units.UnitIn}
	case units.Speed:
		us = []units.Unit{units.UnitMPH, units.UnitKMH, units.UnitMPS, units.UnitFPS}
	case units.Angle:
		us = []units.Unit{units.UnitDeg, units.UnitRad}
	case units.Spin:
		us = []units.Unit{units.UnitRPM, units.UnitRadS}
	case units.Time:
		us = []units.Unit{units.UnitSec}
	}
	out := []ui.Option{}
	known := false
	for _, u := range us {
		known = known || u.Symbol == now
		out = append(out, ui.Option{Value: u.Symbol, Label: u.Symbol})
	}
	if !known {
		out = append([]ui.Option{{Value: now, Label: now}}, out...)
	}
	return out
}
