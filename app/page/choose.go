package page

import (
	"cmp"
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Choose gives the answer: the setting, why, how sure, what next.
type Choose struct {
	base
	cell  int    // setting that is looked at, -1 = none
	ball  string // id of the ball that is looked at
	fly   bool   // the flights are looked at
	from  string // id of what the slip came up from
	what  whatIf
	table gridTable
}

// OnInit names the page.
func (c *Choose) OnInit() {
	c.base.OnInit()
	c.name, c.cell = "choose", -1
	c.ahead = func() {
		if s := c.st(); drawable(s.Answer.Value) {
			c.patterns(s)
		}
	}
}

// drawable reports whether an answer names settings that it has.
func drawable(r *report.Report) bool {
	return r != nil && r.Answer.Setting >= 0 && max(r.Answer.Setting, r.Answer.Other, r.Reference) < len(r.Settings)
}

// Render draws the page.
func (c *Choose) Render() app.UI {
	c.name = "choose"
	s := c.st()
	if s.Answer.Value == nil {
		return c.frame("", c.answerless(s))
	}
	r := *s.Answer.Value
	if !drawable(&r) {
		return c.frame("", c.stale(s), noteList(c.wording(), r), ui.Empty(c.w("empty.shots"), c.w("empty.shots-do"), ui.Link("to-shots", "main", "/shots", c.w("step.shots"))))
	}
	return c.frame("",
		c.stale(s),
		windsSaid(c.m, c.wording(), r),
		c.answer(s, r),
		settingsDiffer(c.wording(), r),
		aimLate(c.wording(), r),
		c.part(func() app.UI {
			return app.Div().Class("chapters").Body(c.whyPart(r), todoPart(c.m, c.wording(), r), c.all(s), c.ifs(r), methodPart(c.wording(), r))
		}),
		c.part(func() app.UI { return carePart(c.wording(), r) }),
		c.slip(),
		c.next(),
	)
}

// ifs moves the launch and the conditions.
func (c *Choose) ifs(r report.Report) app.UI {
	v := c.st().Varied
	return later("what-if", c.w("if.title"), v.Edition == c.st().Edition && v.Phase != act.Idle, func() []app.UI {
		return []app.UI{c.sliders(c.st(), r), variedPart(c.m, c.wording(), c.st()), airsPart(c.wording(), r), reachPart(c.wording(), r)}
	})
}

// methodPart says how the answer was worked out.
func methodPart(say wording, r report.Report) app.UI {
	return later("method", say.w("answer.method"), false, func() []app.UI {
		return []app.UI{movesPart(say, r), noteList(say, r), ui.P("hint", say.w("caution.estimate")), ui.Row("", ui.Link("to-how", "", "/how", say.w("page.how.title")), ui.Link("to-visits", "", "/visits", say.w("page.visits.title")))}
	})
}

// answer is what is looked at first, on one screen of a phone: the setting,
// drawn; the two patterns; one sentence; how sure; what to do next.
func (c *Choose) answer(s act.State, r report.Report) app.UI {
	a := r.Answer
	today, set := r.Settings[r.Reference].Setting, r.Settings[a.Setting].Setting
	big := c.wording().setting(set)
	if a.Setting == r.Reference {
		big = c.w("choose.keep", c.wording().setting(today))
	}
	to, balls := set, c.patterns(s)
	class := "answer"
	if s.Stale() {
		class = "answer old"
	}
	return app.Section().Class(class).Attr("aria-labelledby", "answer").Body(
		app.Div().Class("answer-set").Body(
			app.P().ID("answer").Class("big").Attr("role", "status").Text(big),
			app.If(s.Session != nil && turns(s.Session.HeadOf(to)), func() app.UI {
				h := s.Session.HeadOf(to)
				m := chart.Move{Head: h, From: today, To: withWeights(h, to), Hand: s.Session.Player.Hand}
				if today.Club != to.Club { // of another club: from how it is set itself
					m.From = asToday(h)
				}
				d := chart.Turn(m, styleOf(c.wording(), "turn"))
				return app.Figure().ID("turn").Class("chart").Body(app.Div().Class("drawing").Body(app.Raw(d.SVG)), ui.Drawn(d.Summary))
			}),
		),
		app.Div().Class("answer-balls").Body(
			app.Figure().ID("patterns").Class("chart").Body(
				app.Div().Class("drawing fly").OnClick(c.tapBall).Body(app.Raw(balls.SVG)),
				ui.Icon("fly", "", "▶", c.w("chart.flown.title"), false, c.watch)),
			ui.Drawn(balls.Summary),
		),
		app.Div().Class("answer-words").Body(
			app.P().ID("counts").Text(countsSaid(c.wording(), r)),
			app.If(r.Air != nil, func() app.UI { return ui.P("hint", c.wording().msg(r.Air.For)) }),
			recalledLine(c.wording(), r),
			sureSaid(c.wording(), r),
			doNext(c.m, c.wording(), r),
		),
	)
}

// patterns draws today's setting and the one that the answer is about, or the
// one that was tapped.
func (c *Choose) patterns(s act.State) chart.Drawing {
	r, st := s.Answer.Value, styleOf(c.wording(), "patterns")
	other := r.Answer.Other
	return c.once("patterns", shownOf(r, st, other), func() chart.Drawing {
		return chart.Patterns(*r, r.Reference, other, st)
	})
}

// countsSaid says in one sentence how 20 drives end, today and then, and the carry.
func countsSaid(say wording, r report.Report) string {
	a := r.Answer
	switch {
	case a.Other < 0 && len(r.Settings) > 1:
		return say.w("answer.ruled-out")
	case a.Other < 0:
		return say.w("answer.only")
	}
	now, then := a.Today.Counts, a.Then.Counts
	with := say.w("answer.then")
	if a.Setting != a.Other {
		with = say.w("answer.with", say.setting(r.Settings[a.Other].Setting))
	}
	of := func(key string, x, y int) string {
		return say.w(key, strconv.Itoa(report.Drives), strconv.Itoa(x), strconv.Itoa(y), with)
	}
	said := of("answer.fairway", now.Fairway, then.Fairway)
	switch {
	case r.Goal == shot.GoalHeight && now.Window >= 0:
		said = of("answer.window", now.Window, then.Window)
	case r.Goal != shot.GoalFairways && r.Ground.TroubleAt > 0 && r.Ground.Trouble != "":
		kind := cmp.Or(r.Ground.TroubleKind, "penalty")
		said = of("answer.trouble."+kind, now.Trouble, then.Trouble)
	}
	carry, _ := r.Settings[a.Other].Of(shot.Carry)
	rd := say.r
	size := rd.Number(math.Abs(carry.Difference.Mean), units.Length, 0)
	switch {
	case size == rd.Number(0, units.Length, 0):
		return said + " " + say.w("answer.carry-same")
	case carry.Difference.Mean > 0:
		return said + " " + say.w("answer.carry-more", size)
	}
	return said + " " + say.w("answer.carry-less", size)
}

// sureSaid is how sure it is, as marks that can be counted.
func sureSaid(say wording, r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 {
		return nil
	}
	key := "answer.sure"
	if a.Setting != a.Other {
		key = "answer.sure-rival"
	}
	return app.Div().ID("sure").Body(
		app.P().Body(
			app.Span().Class("verdict").Text(say.w("verdict."+string(r.Choice.Verdict))),
			app.Span().Text(" "+say.w(key, strconv.Itoa(a.Marks), strconv.Itoa(report.Drives)))),
		marks20(say, a.Marks),
	)
}

// doNext is the one next action.
func doNext(model *act.Model, say wording, r report.Report) app.UI {
	for _, v := range r.Todo.Visits {
		if v.Done < v.Balls && v.Setting >= 0 && v.Setting < len(r.Settings) {
			return ui.Button("do-next", "main big", say.w("answer.next", say.balls1(v.Balls-v.Done), say.setting(r.Settings[v.Setting].Setting)), func(ctx app.Context) {
				if v, ok := firstTodo(model.State()); ok {
					model.Bay.SetNext(v)
					ctx.Navigate("/shots")
				}
			})
		}
	}
	return ui.Link("do-next", "main big", "/sheet", say.w("answer.done"))
}

// firstTodo is the setting to hit next, at the time of the tap.
func firstTodo(s act.State) (club.Setting, bool) {
	if r := s.Answer.Value; r != nil {
		for _, v := range r.Todo.Visits {
			if v.Done < v.Balls && v.Setting >= 0 && v.Setting < len(r.Settings) {
				return r.Settings[v.Setting].Setting, true
			}
		}
	}
	return club.Setting{}, false
}

// settingsDiffer says why the balls that are shown and what is expected of a setting
// differ, where both are seen.
func settingsDiffer(say wording, r report.Report) app.UI {
	for _, i := range []int{r.Answer.Other, r.Reference} {
		if i < 0 || i >= len(r.Settings) {
			continue
		}
		for _, d := range r.Settings[i].Differs {
			if d.Quantity == shot.Offline {
				return app.P().ID("differs").Class("hint").Text(say.w("answer.differs", say.setting(r.Settings[i].Setting), say.msg(d.Text)))
			}
		}
	}
	return app.P().ID("differs").Hidden(true)
}

// aimLate says that what is wanted was changed after balls were seen.
func aimLate(say wording, r report.Report) app.UI {
	if n := r.Answer.Seen; n > 0 {
		return app.P().ID("aim-late").Class("hint").Text(say.w("aim.seen", strconv.Itoa(n)))
	}
	return app.P().ID("aim-late").Hidden(true)
}

// whyPart says why, one layer down: first how the 20 drives end, then what each
// move does.
func (c *Choose) whyPart(r report.Report) app.UI {
	return later("why", c.w("choose.why"), false, func() []app.UI {
		return []app.UI{drivesPart(c.wording(), r), c.flights(r, "flights"), aimsPart(c.wording(), r), whyList(c.wording(), r), gainSaid(c.m, c.wording(), r), doubtsPart(c.m, c.wording(), r)}
	})
}

// drivesPart are the counts of both settings as balls.
func drivesPart(say wording, r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 {
		return nil
	}
	row := func(name string, k report.Counts) app.UI {
		return app.Div().Class("drives-row").Body(
			app.P().Body(app.Strong().Text(name), app.Span().Text(" "+say.w("answer.drives", strconv.Itoa(k.Fairway), strconv.Itoa(k.Rough), strconv.Itoa(k.Trouble)))),
			app.Raw(`<div class="marks">`+chart.Drives(k, styleOf(say, "drives"))+`</div>`))
	}
	return app.Div().ID("drives").Class("part").Body(
		row(say.w("answer.today", say.setting(r.Settings[r.Reference].Setting)), a.Today.Counts),
		row(say.setting(r.Settings[a.Other].Setting), a.Then.Counts),
		ui.P("hint", say.w("answer.drives-key")),
		ui.Asked("drives-ring", "ring", say.w("word.ring.is")))
}

// aimsPart says what the change is worth with the aim moved and without: both ways
// of playing it.
func aimsPart(say wording, r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 || r.Goal == shot.GoalCarry || r.Goal == shot.GoalHeight {
		return nil
	}
	rd := say.r
	gain := func(w report.Worth) string { return rd.Gain(w.Value.Mean, w.Unit) }
	return app.Div().ID("both-ways").Class("part").Body(
		app.H3().Text(say.w("answer.both")),
		ui.List("", []string{
			say.w("answer.still", gain(a.Still)),
			say.w("answer.moved", gain(a.Moved)),
			say.w("answer.aiming", gain(a.Prize.Aiming)),
		}))
}

// gainSaid is what it gains, with its limits, and what to expect of a ball.
func gainSaid(model *act.Model, say wording, r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 {
		return nil
	}
	rd, g := say.r, a.Gain
	return app.Div().Class("part").Body(
		app.H3().Text(say.w("answer.gain")),
		ui.P("", say.w("answer.gain-is", rd.Gain(g.Value.Mean, g.Unit), rd.Gain(g.Value.Lo80, g.Unit), rd.Gain(g.Value.Hi80, g.Unit))),
		moreLater("expect", say.w("choose.expect"), func() []app.UI { return []app.UI{expected(model, say, r)} }))
}

// todoPart is what to hit, one list with one state.
func todoPart(model *act.Model, say wording, r report.Report) app.UI {
	return later("worth", say.w("answer.todo"), false, func() []app.UI {
		list := app.Ol().Class("plan").Body(app.Range(r.Todo.Visits).Slice(func(i int) app.UI {
			v := r.Todo.Visits[i]
			if v.Setting < 0 || v.Setting >= len(r.Settings) {
				return app.Li().Hidden(true)
			}
			what := say.w("plan.visit", say.balls1(v.Balls-v.Done), say.setting(r.Settings[v.Setting].Setting))
			if r.Todo.State == report.Check {
				what = say.w("range.check", what)
			}
			return app.Li().Body(
				app.Div().Body(app.Span().Class("plan-what").Text(what), ui.P("hint", say.msg(v.Why))),
				ui.Button("hit-"+strconv.Itoa(i), "", say.w("choose.hit"), func(ctx app.Context) {
					if r := model.State().Answer.Value; r != nil && i < len(r.Todo.Visits) {
						model.Bay.SetNext(r.Settings[r.Todo.Visits[i].Setting].Setting)
						ctx.Navigate("/shots")
					}
				}),
			)
		}))
		return []app.UI{app.If(r.Todo.Why.Key != "", func() app.UI { return ui.P("stop", say.msg(r.Todo.Why)) }), list, checkPart(model, say, r)}
	})
}

// all is every setting: the gains on one line each, and the grid.
func (c *Choose) all(s act.State) app.UI {
	r := s.Answer.Value
	if len(r.Settings) < 2 {
		return nil
	}
	return later("all", c.w("choose.grid"), false, func() []app.UI {
		st := styleOf(c.wording(), "gains")
		d := c.once("gains", shownOf(r, st), func() chart.Drawing { return chart.Gains(*r, st) })
		return []app.UI{chartOf(c.wording(), "gains-chart", d, c.tapSetting), c.grid(s)}
	})
}

// tapSetting shows the setting that was tapped in a drawing.
func (c *Choose) tapSetting(ctx app.Context, kind, id string) {
	if k, err := strconv.Atoi(id); err == nil && kind == "setting" {
		c.cell = k
		c.opened(ctx, "gains-chart")
	}
}

// tapBall shows the ball that was tapped; beside the balls, how they fly.
func (c *Choose) tapBall(ctx app.Context, e app.Event) {
	mark := e.Get("target").Call("closest", "[data-shot]")
	if mark.Truthy() {
		c.ball = mark.Call("getAttribute", "data-shot").String()
	} else {
		c.watch(ctx)
		return
	}
	c.opened(ctx, "patterns")
}

// watch shows how the balls fly, from above and from the side.
func (c *Choose) watch(ctx app.Context) {
	c.fly = true
	play(ctx, "flights-slip")
	c.opened(ctx, "fly")
}

// opened moves the focus to the slip that has come up, and remembers where it
// came from.
func (c *Choose) opened(ctx app.Context, from string) {
	c.from = from
	focusOn(ctx, "slip-title")
}

// slip is what a tap asked for, from below and over the page: a setting or a
// ball.
func (c *Choose) slip() app.UI {
	r := c.st().Answer.Value
	shut := func(ctx app.Context) {
		c.cell, c.ball, c.fly = -1, "", false
		focusOn(ctx, c.from)
	}
	switch {
	case r == nil || c.word != "": // the word's own lies over it
	case c.ball != "":
		if title, lines := ballLines(c.m, c.wording(), c.ball); title != "" {
			return ui.Slip(title, c.w("app.close"), shut, lines)
		}
	case c.fly:
		return ui.Slip(c.w("chart.flown.title"), c.w("app.close"), shut, c.flights(*r, "flights-slip"))
	case c.cell >= 0 && c.cell < len(r.Settings):
		return ui.Slip(c.wording().setting(r.Settings[c.cell].Setting), c.w("app.close"), shut, c.cellDetail(*r))
	}
	return app.Div().Class("slip-none").Hidden(true)
}

// expected is what a ball will do with the chosen setting, beside today's.
func expected(model *act.Model, say wording, r report.Report) app.UI {
	now, then := r.Settings[r.Reference], r.Settings[r.Choice.Setting]
	t := ui.Table{Caption: say.w("choose.expect"), Head: []string{say.w("choose.quantity"), say.w("choose.now"), say.w("choose.then")}, Class: "quantities", ID: "expect", Words: explainedNames(say)}
	if r.Choice.Setting == r.Reference {
		t.Head = t.Head[:2]
	}
	row := func(name string, cells ...string) {
		t.Rows = append(t.Rows, append([]string{name}, cells[:len(t.Head)-1]...))
	}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.Apex, shot.Launch, shot.Spin, shot.Descent} {
		a, ok := now.Of(q)
		b, also := then.Of(q)
		if ok && also {
			row(say.quantity(q), say.estimate(q, a.Value), say.estimate(q, b.Value))
		}
	}
	if before, after := usualWay(model, say, now), usualWay(model, say, then); before != "" && after != "" {
		row(say.w("way.is"), before, after)
	}
	return app.Div().Class("part").Body(t.Render(), chancesPart(say, r))
}

// whyList says what each move does for this player, and what would change the
// advice.
func whyList(say wording, r report.Report) app.UI {
	why, flips := r.Choice.Why, r.Choice.Flips
	return app.Div().Class("part").Body(contradiction(say, r),
		app.If(len(why) > 0, func() app.UI { return sentences(say, why) }),
		app.If(len(flips) > 0, func() app.UI { return ui.Part(say.w("choose.flips"), sentences(say, flips)) }))
}

func noteList(say wording, r report.Report) app.UI {
	return app.If(len(r.Notes) > 0, func() app.UI { return ui.Part(say.w("choose.notes"), sentences(say, r.Notes)) })
}

// carePart is what to mind before the club is adjusted and hit.
func carePart(say wording, r report.Report) app.UI {
	if cautions := say.msgs(r.Cautions); len(cautions) > 0 {
		return ui.Caution(say.w("caution.adjust"), cautions...)
	}
	return ui.Caution(say.w("caution.adjust"), say.w("caution.adjust-tool"), say.w("caution.adjust-loose"), say.w("caution.round"))
}

// turns reports whether anything of a club can be set.
func turns(h club.Head) bool { return len(h.Places()) > 1 || len(h.Weights) > 0 }
