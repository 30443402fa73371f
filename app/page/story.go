package page

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
)

// Story shows every component, with the charts of the open session, for looking at and for
// tests: what is drawn here is what the pages draw.
type Story struct {
	base
	typed string
	pick  string
	on    bool
	slide float64
}

// OnInit names the page.
func (p *Story) OnInit() { p.base.OnInit(); p.name, p.pick, p.slide = "story", "b", 12 }

// Render draws the page.
func (p *Story) Render() app.UI {
	p.name = "story"
	do := func(app.Context) { p.on = !p.on }
	return p.frame("",
		ui.Card("story-buttons", "Button",
			ui.Row("", ui.Button("s-main", "main", "Main", do), ui.Button("s-plain", "", "Plain", do), ui.Button("s-quiet", "quiet", "Quiet", do),
				ui.Button("s-bad", "bad", "Remove", do), ui.ButtonOff("s-off", "", "Off", true, "why", do), ui.Icon("s-icon", "", "↶", "Undo", false, do))),
		ui.Card("story-fields", "Field",
			&ui.Field{ID: "s-field", Label: "Carry", Value: p.typed, Unit: "yd", Hint: "to where it lands", Typed: func(_ app.Context, t string) { p.typed = t }},
			&ui.Field{ID: "s-wrong", Label: "Loft", Value: "ten", Unit: "°", Error: "Read “ten”, expected a number such as 10.5."},
			&ui.Pick{ID: "s-pick", Label: "Pick", Value: p.pick, Options: []ui.Option{{Value: "a", Label: "First"}, {Value: "b", Label: "Second"}}, Picked: func(_ app.Context, v string) { p.pick = v }},
			&ui.Choice{ID: "s-choice", Label: "Choice", Value: p.pick, Options: []ui.Option{{Value: "a", Label: "First"}, {Value: "b", Label: "Second"}}, Picked: func(_ app.Context, v string) { p.pick = v }},
			&ui.Check{ID: "s-check", Label: "Check", On: p.on, Turned: func(_ app.Context, on bool) { p.on = on }},
			&ui.Slider{ID: "s-slide", Label: "Slider", Value: p.slide, Min: 0, Max: 20, Step: 1, Words: strconv.Itoa(int(p.slide)) + "°", Moved: func(_ app.Context, v float64) { p.slide = v }},
		),
		ui.Card("story-words", "Words",
			ui.Empty("Nothing yet", "Do this next.", ui.Button("s-do", "main", "Do", do)),
			ui.Caution("Care", "Never hit with a loose head."), ui.Alert("s-alert", "Something went wrong."),
			ui.Status("s-status", "", "All is well."), ui.Working("s-cancel", "Working", "Stop", do),
			ui.More("s-more", "More", ui.P("", "Hidden until asked for."))),
		ui.Card("story-table", "Table", ui.Table{Caption: "Numbers", Head: []string{"Setting", "Carry"}, Rows: [][]string{{"up", "212 yd"}, {"flat", "208 yd"}}, Marked: true, Mark: 1}.Render()),
		p.storyCharts(p.st()),
	)
}
