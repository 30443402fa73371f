package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// sample shows what an answer looks like, before anything is tapped: the same
// drawings, of invented balls.
func (h *Home) sample() app.UI {
	r, m := sampleAnswer()
	turn, balls := styleOf(h.wording(), "sample-turn"), styleOf(h.wording(), "sample-balls")
	turn.Print, balls.Print = true, true
	return app.Figure().ID("sample").Class("sample").Body(
		app.Div().Class("drawing").Body(app.Raw(chart.Turn(m, turn).SVG)),
		app.Div().Class("drawing").Body(app.Raw(chart.Patterns(r, 0, 1, balls).SVG)),
		app.Raw(`<div class="marks">`+chart.Marks(17, report.Drives, styleOf(h.wording(), "sample"))+`</div>`),
		app.FigCaption().Text(h.w("home.sample")),
	)
}

// sampleAnswer is invented: a ball lost to the right, and a setting that brings
// it nearer.
func sampleAnswer() (report.Report, chart.Move) {
	const yd = units.Yard
	head := club.Example()
	m := chart.Move{Head: head, From: head.Current, To: club.Setting{Sleeve: head.Places()[1].Label, Weights: []string{head.Weights[0].Stops[0].Label}}, Hand: frame.Right}
	r := report.Report{Ground: report.Ground{FairwayHalf: 16 * yd, TroubleAt: 25 * yd, Trouble: frame.SideRight, TroubleKind: "trees"}}
	for i, set := range []club.Setting{m.From, m.To} {
		side := []float64{14, 3}[i]
		r.Settings = append(r.Settings, report.Setting{Setting: set, Tested: true, Quantities: []report.Amount{
			{Quantity: shot.Carry, Value: report.Interval{Mean: 215 * yd}, Spread: 9 * yd},
			{Quantity: shot.Offline, Value: report.Interval{Mean: side * yd}, Spread: 12 * yd}}})
		for _, at := range [][2]float64{{-11, -14}, {4, -9}, {9, -3}, {-6, 1}, {1, 5}, {12, 8}, {-3, 13}, {6, 18}} {
			r.Shots = append(r.Shots, report.ShotRow{Setting: i, Status: report.Counted, Known: true, Carry: (215 + at[0]) * yd, Offline: (side + at[1]) * yd})
		}
	}
	return r, m
}
