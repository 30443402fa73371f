package page

import (
	"math"
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

// Choose gives the answer: the setting, why, how sure, what next.
type Choose struct {
	base
	cell int // setting that is looked at in the grid, -1 = none
	what whatIf
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
	if len(r.Settings) == 0 || r.Choice.Setting < 0 || r.Choice.Setting >= len(r.Settings) {
		return c.frame("", c.stale(s), c.noteList(r), ui.Empty(c.w("empty.shots"), c.w("empty.shots-do"), ui.Link("to-shots", "main", "/shots", c.w("step.shots"))))
	}
	return c.frame("",
		c.answer(s, r),
		c.stale(s),
		app.Div().Class("columns").Body(
			app.Div().Body(c.sure(s, r), c.why(r), c.varied(s), c.doubts(r), c.worth(r)),
			app.Div().Body(c.gridPart(s), c.moves(r), c.sliders(s, r), c.airs(r), c.reach(r)),
		),
		c.care(r),
		c.next(),
	)
}

// answer is the largest thing on the page: the setting, in the person's own
// label and in degrees and millimetres.
func (c *Choose) answer(s act.State, r report.Report) app.UI {
	set := r.Settings[r.Choice.Setting]
	ref := r.Settings[r.Reference]
	big := c.setting(set.Setting)
	moves := c.reader().FromToday(set.Change.Against(ref.Change))
	if r.Choice.Keep {
		big, moves = c.w("choose.keep", c.setting(ref.Setting)), c.w("choose.keep-moves")
	}
	return app.Section().Class(map[bool]string{true: "answer old", false: "answer"}[s.Stale()]).Attr("aria-labelledby", "answer").Body(
		ui.P("verdict", c.w("verdict."+string(r.Choice.Verdict))),
		app.P().ID("answer").Class("big").Attr("role", "status").Text(big),
		ui.P("moves", moves),
		app.If(r.Choice.Headline.Key != "", func() app.UI { return ui.P("headline", c.msg(r.Choice.Headline)) }),
	)
}

// sure says how sure the answer is and what it gains, each with its interval.
func (c *Choose) sure(s act.State, r report.Report) app.UI {
	ch := r.Choice
	rounds := 14.0
	if s.Session != nil && s.Session.Aim.BallsPerRound > 0 {
		rounds = s.Session.Aim.BallsPerRound
	}
	body := []app.UI{}
	if !ch.Keep && ch.Setting != r.Reference {
		body = append(body,
			app.Dl().Class("facts").Body(
				c.fact(c.w("choose.chance"), c.percent(ch.Sure), c.w("choose.chance-of")),
				c.fact(c.w("choose.round"), c.strokes(ch.Gain.Mean*rounds),
					c.w("choose.range", c.strokes(ch.Gain.Lo80*rounds), c.strokes(ch.Gain.Hi80*rounds))),
				c.fact(c.w("choose.carry"), c.reader().Difference(ch.Yards.Mean, units.Length, 0),
					c.w("choose.range", c.reader().Difference(ch.Yards.Lo80, units.Length, 0), c.reader().Difference(ch.Yards.Hi80, units.Length, 0))),
			))
	} else {
		best := r.Settings[ch.Setting]
		if ch.RunnerUp >= 0 && ch.RunnerUp < len(r.Settings) {
			best = r.Settings[ch.RunnerUp]
		}
		body = append(body, ui.P("", c.w("choose.no-better", c.setting(best.Setting), c.percent(best.PBetter))))
	}
	body = append(body, c.expect(r))
	if ch.RunnerUp >= 0 && ch.RunnerUp < len(r.Settings) && !ch.Keep {
		body = append(body, ui.P("hint", c.w("choose.runner-up", c.setting(r.Settings[ch.RunnerUp].Setting))))
	}
	body = append(body, ui.P("hint", c.w("caution.estimate")))
	return ui.Card("sure", c.w("choose.sure"), body...)
}

func (c *Choose) fact(name, value, detail string) app.UI {
	return app.Div().Body(app.Dt().Text(name), app.Dd().Body(app.Span().Class("fact").Text(value), app.Span().Class("hint").Text(detail)))
}

// expect is what a ball will do with the chosen setting, beside today's.
func (c *Choose) expect(r report.Report) app.UI {
	now, then := r.Settings[r.Reference], r.Settings[r.Choice.Setting]
	t := ui.Table{Caption: c.w("choose.expect"), Head: []string{c.w("choose.quantity"), c.w("choose.now"), c.w("choose.then")}, Class: "quantities"}
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
	row(c.w("choose.fairway"), c.percent(now.PFairway), c.percent(then.PFairway))
	row(c.w("choose.p-left"), c.percent(now.PLeft), c.percent(then.PLeft))
	row(c.w("choose.p-right"), c.percent(now.PRight), c.percent(then.PRight))
	if r.Ground.ApexHigh > 0 {
		row(c.w("choose.p-apex"), c.percent(now.PApex), c.percent(then.PApex))
	}
	if r.Ground.CarryMin > 0 {
		row(c.w("choose.p-carry"), c.percent(now.PCarry), c.percent(then.PCarry))
	}
	return t.Render()
}

// why says what each move does for this player, and what would change it.
func (c *Choose) why(r report.Report) app.UI {
	body := []app.UI{c.contradicts(r)}
	if why := c.msgs(r.Choice.Why); len(why) > 0 {
		body = append(body, ui.List("", why))
	}
	if flips := c.msgs(r.Choice.Flips); len(flips) > 0 {
		body = append(body, ui.Part(c.w("choose.flips"), ui.List("", flips)))
	}
	body = append(body, c.noteList(r))
	return ui.Card("why", c.w("choose.why"), body...)
}

func (c *Choose) noteList(r report.Report) app.UI {
	notes := c.msgs(r.Notes)
	return app.If(len(notes) > 0, func() app.UI { return ui.Part(c.w("choose.notes"), ui.List("", notes)) })
}

// care is what to mind before the club is adjusted and hit.
func (c *Choose) care(r report.Report) app.UI {
	if cautions := c.msgs(r.Cautions); len(cautions) > 0 {
		return ui.Caution(c.w("caution.adjust"), cautions...)
	}
	return ui.Caution(c.w("caution.adjust"), c.w("caution.adjust-tool"), c.w("caution.adjust-loose"), c.w("caution.round"))
}

// worth lists the settings whose next balls are worth most.
func (c *Choose) worth(r report.Report) app.UI {
	if len(r.Next) == 0 && r.Stop.Why.Key == "" {
		return nil
	}
	list := app.Ol().Class("plan").Body(app.Range(r.Next).Slice(func(i int) app.UI {
		n := r.Next[i]
		if i >= 3 || n.Setting < 0 || n.Setting >= len(r.Settings) {
			return app.Li().Hidden(true)
		}
		set := r.Settings[n.Setting].Setting
		line := c.w("plan.visit", c.balls1(n.Balls), c.setting(set))
		if n.Minutes > 0 {
			line += " · " + c.w("choose.minutes", strconv.Itoa(int(math.Ceil(n.Minutes))))
		}
		return app.Li().Body(
			app.Div().Body(app.Span().Class("plan-what").Text(line), ui.P("hint", c.msg(n.Why))),
			ui.Button("hit-"+strconv.Itoa(i), "", c.w("choose.hit"), func(ctx app.Context) {
				if r := c.st().Answer.Value; r != nil && i < len(r.Next) {
					c.m.SetNext(r.Settings[r.Next[i].Setting].Setting)
					ctx.Navigate("/shots")
				}
			}),
		)
	}))
	return ui.Card("worth", c.w("choose.worth"),
		app.If(r.Stop.Why.Key != "", func() app.UI { return ui.P("stop", c.msg(r.Stop.Why)) }), list, c.check(r))
}

// dots say how sure it is that a setting beats today's, by their number: four
// steps, so that the grid is read without colour.
func dots(p float64) string {
	n := 0
	for _, t := range []float64{0.5, 0.65, 0.85, 0.95} {
		if p >= t {
			n++
		}
	}
	return strings.Repeat("●", n) + strings.Repeat("○", 4-n)
}

// gridPart is the grid as a component of its own, so that a moved slider does
// not draw it anew.
type gridPart struct {
	app.Compo

	Report *report.Report
	Cell   int
	Prefs  act.Prefs

	page *Choose
}

// Render draws the grid.
func (g *gridPart) Render() app.UI { return g.page.grid(*g.Report) }

func (c *Choose) gridPart(s act.State) app.UI {
	if len(s.Answer.Value.Settings) < 2 {
		return nil
	}
	return &gridPart{Report: s.Answer.Value, Cell: c.cell, Prefs: s.Prefs, page: c}
}

// grid shows all combinations, tested and not, each with its expected gain and
// how sure that is.
func (c *Choose) grid(r report.Report) app.UI {
	cols, rows, at := gridOf(r, c.st())
	head := []app.UI{app.Th().Scope("col").Text(c.w("club.sleeve"))}
	for _, w := range cols {
		if w == "" {
			w = c.w("setting.all")
		}
		head = append(head, app.Th().Scope("col").Text(w))
	}
	body := app.Range(rows).Slice(func(i int) app.UI {
		cells := []app.UI{}
		name := rows[i]
		if name == "" {
			name = c.w("setting.as-is")
		}
		cells = append(cells, app.Th().Scope("row").Text(name))
		for j := range cols {
			k, ok := at[[2]int{i, j}]
			if !ok {
				cells = append(cells, app.Td().Class("no").Text("·"))
				continue
			}
			cells = append(cells, app.Td().Body(c.gridCell(r, k)))
		}
		return app.Tr().Body(cells...)
	})
	return ui.Card("grid", c.w("choose.grid"),
		ui.P("hint", c.w("choose.grid-hint")),
		app.Div().Class("table").TabIndex(0).Attr("role", "region").Attr("aria-label", c.w("choose.grid-caption")).Body(
			app.Table().Class("grid").Body(
				app.Caption().Text(c.w("choose.grid-caption")),
				app.THead().Body(app.Tr().Body(head...)),
				app.TBody().Body(body))),
		ui.P("legend", c.w("choose.grid-legend")),
		c.cellDetail(r),
	)
}

// gridOf lays the settings out: a row a position of the sleeve, a column a
// combination of the weights.
func gridOf(r report.Report, s act.State) (cols, rows []string, at map[[2]int]int) {
	at = map[[2]int]int{}
	find := func(list *[]string, v string) int {
		for i, x := range *list {
			if x == v {
				return i
			}
		}
		*list = append(*list, v)
		return len(*list) - 1
	}
	// The order of the head's own description, where it is known: neighbours on
	// the club are neighbours in the grid.
	if s.Session != nil {
		named := map[string]bool{}
		for _, x := range r.Settings {
			named["sleeve "+x.Setting.Sleeve] = true
			named["weights "+strings.Join(x.Setting.Weights, " / ")] = true
		}
		for _, p := range s.Session.Head.Places() {
			if named["sleeve "+p.Label] {
				find(&rows, p.Label)
			}
		}
		if w := s.Session.Head.Weights; len(w) == 1 {
			for _, st := range w[0].Stops {
				if named["weights "+st.Label] {
					find(&cols, st.Label)
				}
			}
		}
	}
	for k, s := range r.Settings {
		i := find(&rows, s.Setting.Sleeve)
		j := find(&cols, strings.Join(s.Setting.Weights, " / "))
		at[[2]int{i, j}] = k
	}
	return cols, rows, at
}

func (c *Choose) gridCell(r report.Report, k int) app.UI {
	s := r.Settings[k]
	id := "cell-" + strconv.Itoa(k)
	gain := c.strokes(-s.Difference.Mean * 14)
	state := ""
	class := "cell"
	switch {
	case k == r.Reference:
		state, gain = c.w("cell.today"), c.w("cell.zero")
		class += " today"
	case s.Tested:
		state = c.balls1(s.Balls)
		class += " tested"
	}
	if k == r.Choice.Setting {
		state = c.w("cell.chosen")
		class += " chosen"
	}
	if k == c.cell {
		class += " open"
	}
	sure := dots(s.PBetter)
	if k == r.Reference {
		sure = ""
	}
	return app.Button().Type("button").ID(id).Class(class).
		Attr("aria-pressed", strconv.FormatBool(k == c.cell)).
		OnClick(func(app.Context, app.Event) { c.cell = k }, app.EventScope(id)).Body(
		app.Span().Class("unseen").Text(c.setting(s.Setting)+": "),
		app.Span().Class("cell-gain").Text(gain),
		app.Span().Class("cell-sure").Attr("aria-hidden", "true").Text(sure),
		app.If(sure != "", func() app.UI { return app.Span().Class("unseen").Text(c.w("cell.sure", c.percent(s.PBetter))) }),
		app.Span().Class("cell-state").Text(state),
	)
}

// cellDetail shows the setting that was tapped in the grid.
func (c *Choose) cellDetail(r report.Report) app.UI {
	if c.cell < 0 || c.cell >= len(r.Settings) {
		return ui.P("hint", c.w("choose.tap"))
	}
	s := r.Settings[c.cell]
	ref := r.Settings[r.Reference]
	what := c.w("compare.untested")
	if s.Tested {
		what = c.w("compare.tested", c.balls1(s.Balls))
	}
	t := ui.Table{Caption: c.setting(s.Setting), Head: []string{c.w("choose.quantity"), c.w("choose.value"), c.w("choose.against")}, Class: "quantities"}
	for _, a := range s.Quantities {
		if _, ok := shot.KindOf(a.Quantity); ok {
			t.Rows = append(t.Rows, []string{c.quantity(a.Quantity), c.estimate(a.Quantity, a.Value), c.against(a.Quantity, a.Difference)})
		}
	}
	set := s.Setting
	return app.Div().Class("inset").ID("cell-detail").Attr("role", "status").Body(
		app.H3().Text(c.setting(s.Setting)),
		ui.P("", c.reader().FromToday(s.Change.Against(ref.Change))),
		ui.P("hint", what+" "+c.w("choose.share", c.percent(s.Measured))),
		ui.P("", c.w("compare.better", c.percent(s.PBetter))+" "+c.w("choose.best", c.percent(s.PBest))),
		t.Render(),
		ui.Button("hit-cell", "", c.w("choose.hit"), func(ctx app.Context) {
			c.m.SetNext(cellSetting(c.st(), c.cell, set))
			ctx.Navigate("/shots")
		}),
	)
}

// cellSetting reads the setting at the time of the tap: handlers outlive the
// drawing that made them.
func cellSetting(s act.State, cell int, otherwise club.Setting) club.Setting {
	if r := s.Answer.Value; r != nil && cell >= 0 && cell < len(r.Settings) {
		return r.Settings[cell].Setting
	}
	return otherwise
}
