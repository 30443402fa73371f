package page

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/core/chart"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
)

// A chance is read as words and counted as marks of report.Drives.

// marks20 are n of report.Drives, to be counted; the words stand beside them.
func marks20(say wording, n int) app.UI {
	return app.Raw(`<div class="marks">` + chart.Marks(n, report.Drives, styleOf(say, "marks")) + `</div>`)
}

// counted is a chance in words with its marks below.
func counted(say wording, words string, p float64) app.UI {
	return app.Div().Class("counted").Body(app.P().Text(words), marks20(say, report.Marks(p)))
}

// sentences is sentences, each chance in them with its marks.
func sentences(say wording, ms []report.Message) app.UI {
	return app.Ul().Class("").Body(app.Range(ms).Slice(func(i int) app.UI {
		body := []app.UI{app.Span().Text(say.msg(ms[i]))}
		for _, a := range ms[i].Args {
			if a.Form == message.FormChance {
				body = append(body, marks20(say, report.Marks(a.Value)))
			}
		}
		return app.Li().Body(body...)
	}))
}

// chancesPart are how often today's setting and the other do what the count of
// drives does not tell, each of 20 drives.
func chancesPart(say wording, r report.Report) app.UI {
	a := r.Answer
	i := max(a.Other, 0)
	if a.Other < 0 {
		i = r.Reference
	}
	now, then := r.Settings[r.Reference], r.Settings[i]
	of := []app.UI{}
	add := func(key string, x, y int) {
		row := func(name string, n int) app.UI {
			return app.Div().Class("counted").Body(app.P().Class("hint").Text(say.w("chance.of", name, strconv.Itoa(n), strconv.Itoa(report.Drives))), marks20(say, n))
		}
		body := []app.UI{app.P().Body(app.Strong().Text(capital(say.w(key)))), row(say.w("chart.patterns.today"), x)}
		if i != r.Reference {
			body = append(body, row(say.setting(then.Setting), y))
		}
		of = append(of, app.Div().Class("chance").Body(body...))
	}
	if r.Ground.Trouble != frame.SideLeft {
		add("choose.p-left", report.Marks(now.PLeft), report.Marks(then.PLeft))
	}
	if r.Ground.Trouble != frame.SideRight {
		add("choose.p-right", report.Marks(now.PRight), report.Marks(then.PRight))
	}
	if r.Ground.ApexHigh > 0 && now.Counts.Window >= 0 {
		add("choose.p-apex", now.Counts.Window, then.Counts.Window)
	}
	if r.Ground.CarryMin > 0 && now.Counts.Short >= 0 {
		add("choose.p-carry", report.Drives-now.Counts.Short, report.Drives-then.Counts.Short)
	}
	return app.Div().ID("chances").Class("part").Body(of...)
}
