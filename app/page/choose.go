package page

import (
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
func (c *Choose) OnInit() { c.base.OnInit(); c.name, c.cell = "choose", -1 }

// Render draws the page.
func (c *Choose) Render() app.UI {
	c.name = "choose"
	s := c.st()
	if s.Answer.Value == nil {
		return c.frame("", c.answerless(s))
	}
	r := *s.Answer.Value
	if n := len(r.Settings); n == 0 || r.Answer.Setting < 0 || r.Answer.Setting >= n || r.Answer.Other >= n || r.Reference >= n {
		return c.frame("", c.stale(s), c.noteList(r), ui.Empty(c.w("empty.shots"), c.w("empty.shots-do"), ui.Link("to-shots", "main", "/shots", c.w("step.shots"))))
	}
	return c.frame("",
		c.stale(s),
		c.windsSaid(r),
		c.answer(s, r),
		c.differs(r),
		c.aimLate(r),
		c.part(func() app.UI {
			return app.Div().Class("chapters").Body(c.whyPart(r), c.todo(r), c.all(s), c.ifs(r), c.method(r))
		}),
		c.part(func() app.UI { return c.care(r) }),
		c.slip(),
		c.next(),
	)
}

// ifs moves the launch and the conditions.
func (c *Choose) ifs(r report.Report) app.UI {
	v := c.st().Varied
	return later("what-if", c.w("if.title"), v.Edition == c.st().Edition && v.Phase != act.Idle, func() []app.UI {
		return []app.UI{c.sliders(c.st(), r), c.varied(c.st()), c.airs(r), c.reach(r)}
	})
}

// method says how the answer was worked out.
func (c *Choose) method(r report.Report) app.UI {
	return later("method", c.w("answer.method"), false, func() []app.UI {
		return []app.UI{c.moves(r), c.noteList(r), ui.P("hint", c.w("caution.estimate")), ui.Row("", ui.Link("to-how", "", "/how", c.w("page.how.title")), ui.Link("to-visits", "", "/visits", c.w("page.visits.title")))}
	})
}

// answer is what is looked at first, on one screen of a phone: the setting,
// drawn; the two patterns; one sentence; how sure; what to do next.
func (c *Choose) answer(s act.State, r report.Report) app.UI {
	a := r.Answer
	today, set := r.Settings[r.Reference].Setting, r.Settings[a.Setting].Setting
	big := c.setting(set)
	if a.Setting == r.Reference {
		big = c.w("choose.keep", c.setting(today))
	}
	to := set
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
				d := chart.Turn(m, c.style("turn"))
				return app.Figure().ID("turn").Class("chart").Body(app.Div().Class("drawing").Body(app.Raw(d.SVG)))
			}),
		),
		app.Div().Class("answer-balls").Body(
			app.Figure().ID("patterns").Class("chart").Body(
				app.Div().Class("drawing fly").OnClick(c.tapBall).Body(app.Raw(c.patterns(s).SVG)),
				ui.Icon("fly", "", "▶", c.w("chart.flown.title"), false, c.watch)),
		),
		app.Div().Class("answer-words").Body(
			app.P().ID("counts").Text(c.counts(r)),
			app.If(r.Air != nil, func() app.UI { return ui.P("hint", c.msg(r.Air.For)) }),
			c.recalled(r),
			c.sure(r),
			c.doNext(r),
		),
	)
}

// patterns draws today's setting and the one that the answer is about, or the
// one that was tapped.
func (c *Choose) patterns(s act.State) chart.Drawing {
	r, st := s.Answer.Value, c.style("patterns")
	other := r.Answer.Other
	return c.once("patterns", c.shownOf(r, st, other), func() chart.Drawing {
		return chart.Patterns(*r, r.Reference, other, st)
	})
}

// counts says in one sentence how 20 drives end, today and then, and the carry.
func (c *Choose) counts(r report.Report) string {
	a := r.Answer
	switch {
	case a.Other < 0 && len(r.Settings) > 1:
		return c.w("answer.ruled-out")
	case a.Other < 0:
		return c.w("answer.only")
	}
	now, then := a.Today.Counts, a.Then.Counts
	with := c.w("answer.then")
	if a.Setting != a.Other {
		with = c.w("answer.with", c.setting(r.Settings[a.Other].Setting))
	}
	of := func(key string, x, y int) string {
		return c.w(key, strconv.Itoa(report.Drives), strconv.Itoa(x), strconv.Itoa(y), with)
	}
	said := of("answer.fairway", now.Fairway, then.Fairway)
	switch {
	case r.Goal == shot.GoalHeight && now.Window >= 0:
		said = of("answer.window", now.Window, then.Window)
	case r.Goal != shot.GoalFairways && r.Ground.TroubleAt > 0 && r.Ground.Trouble != "":
		kind := r.Ground.TroubleKind
		if kind == "" {
			kind = "penalty"
		}
		said = of("answer.trouble."+kind, now.Trouble, then.Trouble)
	}
	carry, _ := r.Settings[a.Other].Of(shot.Carry)
	rd := c.reader()
	size := rd.Number(math.Abs(carry.Difference.Mean), units.Length, 0)
	switch {
	case size == rd.Number(0, units.Length, 0):
		return said + " " + c.w("answer.carry-same")
	case carry.Difference.Mean > 0:
		return said + " " + c.w("answer.carry-more", size)
	}
	return said + " " + c.w("answer.carry-less", size)
}

// sure is how sure it is, as marks that can be counted.
func (c *Choose) sure(r report.Report) app.UI {
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
			app.Span().Class("verdict").Text(c.w("verdict."+string(r.Choice.Verdict))),
			app.Span().Text(" "+c.w(key, strconv.Itoa(a.Marks), strconv.Itoa(report.Drives)))),
		c.marks20(a.Marks),
	)
}

// doNext is the one next action.
func (c *Choose) doNext(r report.Report) app.UI {
	for _, v := range r.Todo.Visits {
		if v.Done < v.Balls && v.Setting >= 0 && v.Setting < len(r.Settings) {
			return ui.Button("do-next", "main big", c.w("answer.next", c.balls1(v.Balls-v.Done), c.setting(r.Settings[v.Setting].Setting)), func(ctx app.Context) {
				if v, ok := firstTodo(c.st()); ok {
					c.m.Bay.SetNext(v)
					ctx.Navigate("/shots")
				}
			})
		}
	}
	return ui.Link("do-next", "main big", "/sheet", c.w("answer.done"))
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

// differs says why the balls that are shown and what is expected of a setting
// differ, where both are seen.
func (c *Choose) differs(r report.Report) app.UI {
	for _, i := range []int{r.Answer.Other, r.Reference} {
		if i < 0 || i >= len(r.Settings) {
			continue
		}
		for _, d := range r.Settings[i].Differs {
			if d.Quantity == shot.Offline {
				return app.P().ID("differs").Class("hint").Text(c.w("answer.differs", c.setting(r.Settings[i].Setting), c.msg(d.Text)))
			}
		}
	}
	return app.P().ID("differs").Hidden(true)
}

// aimLate says that what is wanted was changed after balls were seen.
func (c *Choose) aimLate(r report.Report) app.UI {
	if n := r.Answer.Seen; n > 0 {
		return app.P().ID("aim-late").Class("hint").Text(c.w("aim.seen", strconv.Itoa(n)))
	}
	return app.P().ID("aim-late").Hidden(true)
}

// whyPart says why, one layer down: first how the 20 drives end, then what each
// move does.
func (c *Choose) whyPart(r report.Report) app.UI {
	return later("why", c.w("choose.why"), false, func() []app.UI {
		return []app.UI{c.drives(r), c.flights(r, "flights"), c.aims(r), c.whyList(r), c.gain(r), c.doubts(r)}
	})
}

// drives are the counts of both settings as balls.
func (c *Choose) drives(r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 {
		return nil
	}
	row := func(name string, k report.Counts) app.UI {
		return app.Div().Class("drives-row").Body(
			app.P().Body(app.Strong().Text(name), app.Span().Text(" "+c.w("answer.drives", strconv.Itoa(k.Fairway), strconv.Itoa(k.Rough), strconv.Itoa(k.Trouble)))),
			app.Raw(`<div class="marks">`+chart.Drives(k, c.style("drives"))+`</div>`))
	}
	return app.Div().ID("drives").Class("part").Body(
		row(c.w("answer.today", c.setting(r.Settings[r.Reference].Setting)), a.Today.Counts),
		row(c.setting(r.Settings[a.Other].Setting), a.Then.Counts),
		ui.P("hint", c.w("answer.drives-key")),
		ui.Asked("drives-ring", "ring", c.w("word.ring.is")))
}

// aims says what the change is worth with the aim moved and without: both ways
// of playing it.
func (c *Choose) aims(r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 || r.Goal == shot.GoalCarry || r.Goal == shot.GoalHeight {
		return nil
	}
	rd := c.reader()
	say := func(w report.Worth) string { return rd.Gain(w.Value.Mean, w.Unit) }
	return app.Div().ID("both-ways").Class("part").Body(
		app.H3().Text(c.w("answer.both")),
		ui.List("", []string{
			c.w("answer.still", say(a.Still)),
			c.w("answer.moved", say(a.Moved)),
			c.w("answer.aiming", say(a.Prize.Aiming)),
		}))
}

// gain is what it gains, with its limits, and what to expect of a ball.
func (c *Choose) gain(r report.Report) app.UI {
	a := r.Answer
	if a.Other < 0 {
		return nil
	}
	rd, g := c.reader(), a.Gain
	return app.Div().Class("part").Body(
		app.H3().Text(c.w("answer.gain")),
		ui.P("", c.w("answer.gain-is", rd.Gain(g.Value.Mean, g.Unit), rd.Gain(g.Value.Lo80, g.Unit), rd.Gain(g.Value.Hi80, g.Unit))),
		moreLater("expect", c.w("choose.expect"), func() []app.UI { return []app.UI{c.expect(r)} }))
}

// todo is what to hit, one list with one state.
func (c *Choose) todo(r report.Report) app.UI {
	return later("worth", c.w("answer.todo"), false, func() []app.UI {
		list := app.Ol().Class("plan").Body(app.Range(r.Todo.Visits).Slice(func(i int) app.UI {
			v := r.Todo.Visits[i]
			if v.Setting < 0 || v.Setting >= len(r.Settings) {
				return app.Li().Hidden(true)
			}
			what := c.w("plan.visit", c.balls1(v.Balls-v.Done), c.setting(r.Settings[v.Setting].Setting))
			if r.Todo.State == report.Check {
				what = c.w("range.check", what)
			}
			return app.Li().Body(
				app.Div().Body(app.Span().Class("plan-what").Text(what), ui.P("hint", c.msg(v.Why))),
				ui.Button("hit-"+strconv.Itoa(i), "", c.w("choose.hit"), func(ctx app.Context) {
					if r := c.st().Answer.Value; r != nil && i < len(r.Todo.Visits) {
						c.m.Bay.SetNext(r.Settings[r.Todo.Visits[i].Setting].Setting)
						ctx.Navigate("/shots")
					}
				}),
			)
		}))
		return []app.UI{app.If(r.Todo.Why.Key != "", func() app.UI { return ui.P("stop", c.msg(r.Todo.Why)) }), list, c.check(r)}
	})
}

// all is every setting: the gains on one line each, and the grid.
func (c *Choose) all(s act.State) app.UI {
	r := s.Answer.Value
	if len(r.Settings) < 2 {
		return nil
	}
	return later("all", c.w("choose.grid"), false, func() []app.UI {
		st := c.style("gains")
		d := c.once("gains", c.shownOf(r, st), func() chart.Drawing { return chart.Gains(*r, st) })
		return []app.UI{c.drawn("gains-chart", d, c.tapSetting), c.grid(s)}
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
		if title, lines := c.ballLines(c.ball); title != "" {
			return ui.Slip(title, c.w("app.close"), shut, lines)
		}
	case c.fly:
		return ui.Slip(c.w("chart.flown.title"), c.w("app.close"), shut, c.flights(*r, "flights-slip"))
	case c.cell >= 0 && c.cell < len(r.Settings):
		return ui.Slip(c.setting(r.Settings[c.cell].Setting), c.w("app.close"), shut, c.cellDetail(*r))
	}
	return app.Div().Class("slip-none").Hidden(true)
}

// expect is what a ball will do with the chosen setting, beside today's.
func (c *Choose) expect(r report.Report) app.UI {
	now, then := r.Settings[r.Reference], r.Settings[r.Choice.Setting]
	t := ui.Table{Caption: c.w("choose.expect"), Head: []string{c.w("choose.quantity"), c.w("choose.now"), c.w("choose.then")}, Class: "quantities", ID: "expect", Words: c.explained()}
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
			row(c.quantity(q), c.estimate(q, a.Value), c.estimate(q, b.Value))
		}
	}
	if before, after := c.usual(now), c.usual(then); before != "" && after != "" {
		row(c.w("way.is"), before, after)
	}
	return app.Div().Class("part").Body(t.Render(), c.chances(r))
}

// whyList says what each move does for this player, and what would change the
// advice.
func (c *Choose) whyList(r report.Report) app.UI {
	why, flips := r.Choice.Why, r.Choice.Flips
	return app.Div().Class("part").Body(c.contradicts(r),
		app.If(len(why) > 0, func() app.UI { return c.list(why) }),
		app.If(len(flips) > 0, func() app.UI { return ui.Part(c.w("choose.flips"), c.list(flips)) }))
}

func (c *Choose) noteList(r report.Report) app.UI {
	return app.If(len(r.Notes) > 0, func() app.UI { return ui.Part(c.w("choose.notes"), c.list(r.Notes)) })
}

// care is what to mind before the club is adjusted and hit.
func (c *Choose) care(r report.Report) app.UI {
	if cautions := c.msgs(r.Cautions); len(cautions) > 0 {
		return ui.Caution(c.w("caution.adjust"), cautions...)
	}
	return ui.Caution(c.w("caution.adjust"), c.w("caution.adjust-tool"), c.w("caution.adjust-loose"), c.w("caution.round"))
}

// turns reports whether anything of a club can be set.
func turns(h club.Head) bool { return len(h.Places()) > 1 || len(h.Weights) > 0 }
