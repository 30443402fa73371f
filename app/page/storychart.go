package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/shot"
)

// storyCharts draws the charts of the open session's report, and parts of the
// pages as they stand to it: the answer, the grid, the hitting plan, and the big
// view with its ball.
func (p *Story) storyCharts(s act.State) app.UI {
	if s.Session == nil || s.Answer.Value == nil || len(s.Answer.Value.Settings) < 2 {
		return nil
	}
	r := *s.Answer.Value
	choose, live := &Choose{base: p.base, cell: -1}, &Live{base: p.base}
	return app.Div().Body(
		chartOf(p.wording(), "s-landing", chart.Landing(r, styleOf(p.wording(), "s-landing-svg")), nil),
		chartOf(p.wording(), "s-flight", chart.Flight(r, styleOf(p.wording(), "s-flight-svg")), nil),
		chartOf(p.wording(), "s-differences", chart.Differences(r, shot.Carry, styleOf(p.wording(), "s-differences-svg")), nil),
		ui.Card("story-answer", "Answer", choose.answer(s, r), choose.grid(s)),
		ui.Card("story-plan", "Plan", live.openPlan(s)),
		ui.Card("story-live", "Last ball", live.last(s), live.tally(s)),
	)
}
