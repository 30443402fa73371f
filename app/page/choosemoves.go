package page

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/report"
)

// contradiction says aloud where the shots contradict the textbook.
func contradiction(say wording, r report.Report) app.UI {
	return app.If(len(r.Against) > 0, func() app.UI {
		return app.Div().ID("against").Class("inset").Attr("role", "status").Body(
			app.H3().Text(say.w("choose.contradicts")), ui.List("", say.msgs(r.Against)))
	})
}

// movesPart says what each adjustment does to this player's ball, and how much of
// that was measured.
func movesPart(say wording, r report.Report) app.UI {
	if len(r.Moves) == 0 {
		return nil
	}
	return app.Div().ID("moves").Class("part").Body(append([]app.UI{app.H3().Text(say.w("choose.moves"))}, movesOf(say, r)...)...)
}

func movesOf(say wording, r report.Report) []app.UI {
	said := make([]report.Message, len(r.Moves))
	tables := make([]app.UI, len(r.Moves))
	for i, m := range r.Moves {
		said[i] = m.Text
		t := ui.Table{Caption: say.w(m.Feature + ".step"), Class: "quantities",
			Head: []string{say.w("choose.quantity"), say.w("choose.move-now"), say.w("choose.move-before"), say.w("choose.move-share")}}
		for _, e := range m.Effects {
			t.Rows = append(t.Rows, []string{say.quantity(e.Quantity), say.against(e.Quantity, e.Value), say.against(e.Quantity, e.Textbook), say.percent(e.Measured)})
		}
		tables[i] = t.Render()
	}
	return []app.UI{
		ui.List("", say.msgs(said)),
		ui.P("hint", say.w("choose.move-interval")),
		moreLater("moves-all", say.w("choose.move-all"), func() []app.UI {
			return tables
		}),
	}
}

// doubtsPart says what the shots cannot tell apart, with the balls that would.
func doubtsPart(model *act.Model, say wording, r report.Report) app.UI {
	if len(r.Doubts) == 0 {
		return nil
	}
	list := app.Ul().Class("words").Body(app.Range(r.Doubts).Slice(func(i int) app.UI {
		d := r.Doubts[i]
		line := ui.P("", say.msg(d.Text))
		if d.Setting < 0 || d.Setting >= len(r.Settings) {
			return app.Li().Body(line)
		}
		return app.Li().Body(line, ui.Button("tell-"+strconv.Itoa(i), "", say.w("choose.hit"), func(ctx app.Context) {
			if r := model.State().Answer.Value; r != nil && i < len(r.Doubts) && r.Doubts[i].Setting >= 0 {
				model.Bay.SetNext(r.Settings[r.Doubts[i].Setting].Setting)
				ctx.Navigate("/shots")
			}
		}))
	}))
	return app.Div().ID("doubts").Class("part").Body(app.H3().Text(say.w("choose.doubts")), list)
}

// checkPart offers to try a change against today's setting and back again; the
// balls at the end of a session that go to and fro are read as such a check.
func checkPart(model *act.Model, say wording, r report.Report) app.UI {
	if len(r.Confirm) == 0 {
		return nil
	}
	list := app.Ol().Class("plan").Body(app.Range(r.Confirm).Slice(func(i int) app.UI {
		v := r.Confirm[i]
		if v.Setting < 0 || v.Setting >= len(r.Settings) {
			return app.Li().Hidden(true)
		}
		return app.Li().Body(app.Span().Class("plan-what").Text(say.w("plan.visit", say.balls1(v.Balls), say.setting(r.Settings[v.Setting].Setting))))
	}))
	return moreLater("check", say.w("choose.check"), func() []app.UI {
		return []app.UI{ui.P("hint", say.w("choose.check-what")), list, ui.Button("check-start", "", say.w("choose.check-start"), func(ctx app.Context) {
			if r := model.State().Answer.Value; r != nil && len(r.Confirm) > 1 {
				today := r.Settings[r.Confirm[0].Setting].Setting
				model.Bay.StartTurns(today, r.Settings[r.Confirm[1].Setting].Setting)
				model.Bay.SetNext(today)
				ctx.Navigate("/shots")
			}
		})}
	})
}

// variedPart asks, by a tap, for the advice in other winds, air and with another
// ball, and shows where it would be another.
func variedPart(model *act.Model, say wording, s act.State) app.UI {
	v := s.Varied
	body := []app.UI{ui.P("hint", say.w("vary.what"))}
	switch {
	case v.Edition != s.Edition || v.Phase == act.Idle:
		body = append(body, ui.Button("vary", "", say.w("vary.do"), func(app.Context) { model.WhatIf.Vary() }))
	case v.Phase == act.Working:
		body = append(body, ui.Working("", say.w("app.working"), "", nil))
	case v.Phase == act.Failed:
		body = append(body, ui.Alert("vary-error", say.w("vary.failed", say.err(v.Error))), ui.Button("vary", "", say.w("app.again"), func(app.Context) { model.WhatIf.Vary() }))
	default:
		others := 0
		rows := make([]app.UI, len(v.Rows))
		for i, x := range v.Rows {
			advice := say.setting(x.Setting)
			key, p := "answer.sure", x.Sure
			if x.Keep {
				advice, key, p = say.w("choose.keep", advice), "answer.sure-rival", 1-x.Sure
			}
			if !x.Same {
				others++
				advice = say.w("vary.other", advice)
			}
			rows[i] = app.Li().Class("counted").Body(
				app.P().Body(app.Strong().Text(say.msg(x.Text)), app.Span().Text(": "+advice)),
				app.P().Class("hint").Text(capital(say.w(key, strconv.Itoa(report.Marks(p)), strconv.Itoa(report.Drives)))), marks20(say, report.Marks(p)))
		}
		said := say.w("vary.none")
		if others > 0 {
			said = say.w("vary.some", strconv.Itoa(others), strconv.Itoa(len(v.Rows)-1))
		}
		body = append(body, app.P().ID("vary-said").Attr("role", "status").Text(said), app.Ul().Class("words").Body(rows...))
	}
	return later("varied", say.w("vary.title"), v.Edition == s.Edition && v.Phase != act.Idle, func() []app.UI { return body })
}
