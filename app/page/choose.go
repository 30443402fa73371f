package page

import (
	"html"
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
	cell  int // setting that is looked at in the grid, -1 = none
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
	if len(r.Settings) == 0 || r.Choice.Setting < 0 || r.Choice.Setting >= len(r.Settings) {
		return c.frame("", c.stale(s), c.noteList(r), ui.Empty(c.w("empty.shots"), c.w("empty.shots-do"), ui.Link("to-shots", "main", "/shots", c.w("step.shots"))))
	}
	return c.frame("",
		c.answer(s, r),
		c.stale(s),
		app.Div().Class("columns").Body(
			app.Div().Body(c.sure(s, r), c.why(r), c.worth(r)),
			app.Div().Body(
				c.part(func() app.UI { return c.grid(s) }),
				c.part(func() app.UI {
					return app.Div().Class("chapters").Body(c.doubts(r), c.moves(r), c.sliders(s, r), c.varied(s), c.airs(r), c.reach(r))
				})),
		),
		c.part(func() app.UI { return c.care(r) }),
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

// drives is how many balls a round has, as the player said.
func drives(s act.State) float64 {
	if s.Session != nil {
		return s.Session.Aim.Drives()
	}
	return shot.Aim{}.Drives()
}

// sure says how sure the answer is and what it gains, each with its interval.
func (c *Choose) sure(s act.State, r report.Report) app.UI {
	ch := r.Choice
	rounds := drives(s)
	body := []app.UI{}
	if !ch.Keep && ch.Setting != r.Reference {
		body = append(body,
			app.Dl().Class("facts").Body(
				c.fact(c.w("choose.chance"), c.percent(ch.Sure), c.w("choose.chance-of")),
				c.fact(c.w("choose.round"), c.strokes(ch.Gain.Mean*rounds),
					c.w("choose.round-range", c.strokes(ch.Gain.Lo80*rounds), c.strokes(ch.Gain.Hi80*rounds), c.reader().Number(rounds, units.None, 0))),
				c.fact(c.w("choose.carry"), c.reader().Difference(ch.Yards.Mean, units.Length, 0),
					c.w("choose.range", c.reader().Difference(ch.Yards.Lo80, units.Length, 0), c.reader().Difference(ch.Yards.Hi80, units.Length, 0))),
			))
	} else if ch.RunnerUp >= 0 && ch.RunnerUp < len(r.Settings) {
		best := r.Settings[ch.RunnerUp]
		body = append(body, ui.P("", c.w("choose.no-better", c.setting(best.Setting), c.percent(best.PBetter))))
	}
	rival := app.If(ch.RunnerUp >= 0 && ch.RunnerUp < len(r.Settings) && !ch.Keep, func() app.UI {
		return ui.P("hint", c.w("choose.runner-up", c.setting(r.Settings[ch.RunnerUp].Setting)))
	})
	body = append(body, ui.P("hint", c.w("caution.estimate")), moreLater("expect", c.w("choose.expect"), func() []app.UI {
		return []app.UI{rival, c.expect(r)}
	}))
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

// whyShown is how many reasons stand open: with them the answer, why and what
// to hit next fill two screens of a phone.
const whyShown = 4

// why says what each move does for this player; further reasons, what would
// change the advice and what else to know are one tap away.
func (c *Choose) why(r report.Report) app.UI {
	why, more := c.msgs(r.Choice.Why), []app.UI{}
	if len(why) > whyShown {
		more = append(more, ui.List("", why[whyShown:]))
		why = why[:whyShown]
	}
	if notes := c.msgs(r.Notes); len(notes) > 0 {
		more = append(more, ui.List("", notes))
	}
	if flips := c.msgs(r.Choice.Flips); len(flips) > 0 {
		more = append(more, ui.Part(c.w("choose.flips"), ui.List("", flips)))
	}
	return ui.Card("why", c.w("choose.why"), c.contradicts(r),
		app.If(len(why) > 0, func() app.UI { return ui.List("", why) }),
		app.If(len(more) > 0, func() app.UI {
			return moreLater("why-more", c.w("choose.notes"), func() []app.UI {
				return more
			})
		}))
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

// grid shows all combinations, tested and not, each with its expected gain and
// how sure that is. It is one piece of markup: 80 cells made node by node take
// the screen's thread longer than a frame. A tap marks its cell itself.
func (c *Choose) grid(s act.State) app.UI {
	r := s.Answer.Value
	if len(r.Settings) < 2 {
		return nil
	}
	of := shown{report: r, reader: c.reader()}
	if c.table.of != of {
		c.table = gridTable{of, c.gridMarkup(*r)}
	}
	return ui.Card("grid", c.w("choose.grid"),
		ui.P("hint", c.w("choose.grid-hint", c.reader().Number(drives(c.st()), units.None, 0))),
		app.Div().Class("table").TabIndex(0).Attr("role", "region").Attr("aria-label", c.w("choose.grid-caption")).OnClick(c.tapCell).Body(app.Raw(c.table.markup)),
		ui.P("legend", c.w("choose.grid-legend")),
		c.cellDetail(*r),
	)
}

// gridTable is the grid as last drawn, and what it was drawn of.
type gridTable struct {
	of     shown
	markup string
}

// tapCell shows the setting whose cell was tapped.
func (c *Choose) tapCell(ctx app.Context, e app.Event) {
	cell := e.Get("target").Call("closest", ".cell")
	if !cell.Truthy() {
		return
	}
	k, err := strconv.Atoi(strings.TrimPrefix(cell.Get("id").String(), "cell-"))
	if err != nil {
		return
	}
	mark := func(k int, on bool) {
		if b := app.Window().GetElementByID("cell-" + strconv.Itoa(k)); b.Truthy() {
			b.Call("setAttribute", "aria-pressed", strconv.FormatBool(on))
			b.Get("classList").Call("toggle", "open", on)
		}
	}
	mark(c.cell, false)
	mark(k, true)
	c.cell = k
}

// gridMarkup is the grid's table. All text in it is escaped.
func (c *Choose) gridMarkup(r report.Report) string {
	cols, rows, at := gridOf(r, c.st())
	var b strings.Builder
	tag := func(open, text, close string) { b.WriteString(open + html.EscapeString(text) + close) }
	tag(`<table class="grid"><caption>`, c.w("choose.grid-caption"), `</caption>`)
	tag(`<thead><tr><th scope="col">`, c.w("club.sleeve"), `</th>`)
	for _, w := range cols {
		tag(`<th scope="col">`, or(w, c.w("setting.all")), `</th>`)
	}
	b.WriteString(`</tr></thead><tbody>`)
	for i, name := range rows {
		tag(`<tr><th scope="row">`, or(name, c.w("setting.as-is")), `</th>`)
		for j := range cols {
			if k, ok := at[[2]int{i, j}]; ok {
				b.WriteString(`<td>`)
				c.gridCell(r, k, tag)
				b.WriteString(`</td>`)
			} else {
				b.WriteString(`<td class="no">·</td>`)
			}
		}
		b.WriteString(`</tr>`)
	}
	b.WriteString(`</tbody></table>`)
	return b.String()
}

func or(text, otherwise string) string {
	if text == "" {
		return otherwise
	}
	return text
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

func (c *Choose) gridCell(r report.Report, k int, tag func(open, text, close string)) {
	s := r.Settings[k]
	gain := c.strokes(-s.Difference.Mean * drives(c.st()))
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
	tag(`<button type="button" id="cell-`+strconv.Itoa(k)+`" class="`+class+`" aria-pressed="`+strconv.FormatBool(k == c.cell)+`"><span class="unseen">`, c.setting(s.Setting)+": ", `</span>`)
	tag(`<span class="cell-gain">`, gain, `</span>`)
	if k != r.Reference {
		tag(`<span class="cell-sure" aria-hidden="true">`, dots(s.PBetter), `</span>`)
		tag(`<span class="unseen">`, c.w("cell.sure", c.percent(s.PBetter)), `</span>`)
	}
	tag(`<span class="cell-state">`, state, `</span></button>`)
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
