package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/chart/charttest"
	"ferrule/core/shot"
)

// storyCharts draws the charts of an invented report.
func (p *Story) storyCharts() app.UI {
	r := charttest.Report()
	return app.Div().Body(
		p.drawn("s-landing", chart.Landing(r, p.style("s-landing-svg")), nil),
		p.drawn("s-flight", chart.Flight(r, p.style("s-flight-svg")), nil),
		p.drawn("s-differences", chart.Differences(r, shot.Carry, p.style("s-differences-svg")), nil),
	)
}

// storyAnswers draws parts of the pages as they stand to an invented report: a
// clear answer, the grid, the hitting plan, and the big view with its ball.
func (p *Story) storyAnswers() app.UI {
	r := charttest.Report()
	session := shot.Session{Head: charttest.Head(), Player: shot.Player{Hand: r.Hand}}
	last := r.Shots[len(r.Shots)-1]
	session.Shots = []shot.Shot{{ID: last.ID, Setting: r.Settings[0].Setting, Values: shot.Values{shot.Carry: last.Carry, shot.Offline: last.Offline, shot.BallSpeed: 60}}}
	s := act.State{Booted: true, Session: &session, Answer: act.Answer{Phase: act.Ready, Value: &r}}
	choose := &Choose{base: p.base, cell: -1}
	return app.Div().Body(
		ui.Card("story-answer", "Answer", choose.answer(s, r), choose.grid(s)),
		ui.Card("story-plan", "Plan", (&Live{base: p.base}).openPlan(s)),
		ui.Card("story-live", "Last ball", (&Live{base: p.base}).last(s), (&Live{base: p.base}).tally(s)),
	)
}
