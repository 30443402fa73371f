package page

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/report"
)

// contradicts says aloud where the shots contradict the textbook.
func (c *Choose) contradicts(r report.Report) app.UI {
	return app.If(len(r.Against) > 0, func() app.UI {
		return app.Div().ID("against").Class("inset").Attr("role", "status").Body(
			app.H3().Text(c.w("choose.contradicts")), ui.List("", c.msgs(r.Against)))
	})
}

// moves says what each adjustment does to this player's ball, and how much of
// that was measured.
func (c *Choose) moves(r report.Report) app.UI {
	if len(r.Moves) == 0 {
		return nil
	}
	return app.Div().ID("moves").Class("part").Body(append([]app.UI{app.H3().Text(c.w("choose.moves"))}, c.movesOf(r)...)...)
}

func (c *Choose) movesOf(r report.Report) []app.UI {
	said := make([]report.Message, len(r.Moves))
	tables := make([]app.UI, len(r.Moves))
	for i, m := range r.Moves {
		said[i] = m.Text
		t := ui.Table{Caption: c.w(m.Feature + ".step"), Class: "quantities",
			Head: []string{c.w("choose.quantity"), c.w("choose.move-now"), c.w("choose.move-before"), c.w("choose.move-share")}}
		for _, e := range m.Effects {
			t.Rows = append(t.Rows, []string{c.quantity(e.Quantity), c.against(e.Quantity, e.Value), c.against(e.Quantity, e.Textbook), c.percent(e.Measured)})
		}
		tables[i] = t.Render()
	}
	return []app.UI{
		ui.List("", c.msgs(said)),
		ui.P("hint", c.w("choose.move-interval")),
		moreLater("moves-all", c.w("choose.move-all"), func() []app.UI {
			return tables
		}),
	}
}

// doubts says what the shots cannot tell apart, with the balls that would.
func (c *Choose) doubts(r report.Report) app.UI {
	if len(r.Doubts) == 0 {
		return nil
	}
	list := app.Ul().Class("words").Body(app.Range(r.Doubts).Slice(func(i int) app.UI {
		d := r.Doubts[i]
		line := ui.P("", c.msg(d.Text))
		if d.Setting < 0 || d.Setting >= len(r.Settings) {
			return app.Li().Body(line)
		}
		return app.Li().Body(line, ui.Button("tell-"+strconv.Itoa(i), "", c.w("choose.hit"), func(ctx app.Context) {
			if r := c.st().Answer.Value; r != nil && i < len(r.Doubts) && r.Doubts[i].Setting >= 0 {
				c.m.Bay.SetNext(r.Settings[r.Doubts[i].Setting].Setting)
				ctx.Navigate("/shots")
			}
		}))
	}))
	return app.Div().ID("doubts").Class("part").Body(app.H3().Text(c.w("choose.doubts")), list)
}

// check offers to try a change against today's setting and back again; the
// balls at the end of a session that go to and fro are read as such a check.
func (c *Choose) check(r report.Report) app.UI {
	if len(r.Confirm) == 0 {
		return nil
	}
	list := app.Ol().Class("plan").Body(app.Range(r.Confirm).Slice(func(i int) app.UI {
		v := r.Confirm[i]
		if v.Setting < 0 || v.Setting >= len(r.Settings) {
			return app.Li().Hidden(true)
		}
		return app.Li().Body(app.Span().Class("plan-what").Text(c.w("plan.visit", c.balls1(v.Balls), c.setting(r.Settings[v.Setting].Setting))))
	}))
	return moreLater("check", c.w("choose.check"), func() []app.UI {
		return []app.UI{ui.P("hint", c.w("choose.check-what")), list, ui.Button("check-start", "", c.w("choose.check-start"), func(ctx app.Context) {
			if r := c.st().Answer.Value; r != nil && len(r.Confirm) > 1 {
				today := r.Settings[r.Confirm[0].Setting].Setting
				c.m.Bay.StartTurns(today, r.Settings[r.Confirm[1].Setting].Setting)
				c.m.Bay.SetNext(today)
				ctx.Navigate("/shots")
			}
		})}
	})
}

// varied asks, by a tap, for the advice in other winds, air and with another
// ball, and shows where it would be another.
func (c *Choose) varied(s act.State) app.UI {
	v := s.Varied
	body := []app.UI{ui.P("hint", c.w("vary.what"))}
	switch {
	case v.Edition != s.Edition || v.Phase == act.Idle:
		body = append(body, ui.Button("vary", "", c.w("vary.do"), func(app.Context) { c.m.WhatIf.Vary() }))
	case v.Phase == act.Working:
		body = append(body, ui.Working("", c.w("app.working"), "", nil))
	case v.Phase == act.Failed:
		body = append(body, ui.Alert("vary-error", c.w("vary.failed", c.problem(v.Error))), ui.Button("vary", "", c.w("app.again"), func(app.Context) { c.m.WhatIf.Vary() }))
	default:
		others := 0
		rows := make([]app.UI, len(v.Rows))
		for i, x := range v.Rows {
			advice := c.setting(x.Setting)
			key, p := "answer.sure", x.Sure
			if x.Keep {
				advice, key, p = c.w("choose.keep", advice), "answer.sure-rival", 1-x.Sure
			}
			if !x.Same {
				others++
				advice = c.w("vary.other", advice)
			}
			rows[i] = app.Li().Class("counted").Body(
				app.P().Body(app.Strong().Text(c.msg(x.Text)), app.Span().Text(": "+advice)),
				app.P().Class("hint").Text(capital(c.w(key, strconv.Itoa(report.Marks(p)), strconv.Itoa(report.Drives)))), c.marks20(report.Marks(p)))
		}
		said := c.w("vary.none")
		if others > 0 {
			said = c.w("vary.some", strconv.Itoa(others), strconv.Itoa(len(v.Rows)-1))
		}
		body = append(body, app.P().ID("vary-said").Attr("role", "status").Text(said), app.Ul().Class("words").Body(rows...))
	}
	return later("varied", c.w("vary.title"), v.Edition == s.Edition && v.Phase != act.Idle, func() []app.UI { return body })
}
