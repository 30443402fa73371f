package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

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
