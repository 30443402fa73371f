package page

import (
	"cmp"
	"html"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

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
	return app.Div().ID("grid").Class("part").Body(
		ui.P("hint", c.w("choose.grid-hint", c.w("chart.gains."+string(r.Answer.Gain.Unit)))),
		app.Div().Class("table").TabIndex(0).Attr("role", "region").Attr("aria-label", c.w("choose.grid-caption")).OnClick(c.tapCell).Body(app.Raw(c.table.markup)),
		ui.P("legend", c.w("choose.grid-legend")),
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
	c.opened(ctx, "cell-"+strconv.Itoa(k))
}

// gridMarkup is the grid's table. All text in it is escaped.
func (c *Choose) gridMarkup(r report.Report) string {
	cols, rows, at := gridOf(r, c.st())
	var b strings.Builder
	tag := func(open, text, close string) { b.WriteString(open + html.EscapeString(text) + close) }
	tag(`<table class="grid"><caption>`, c.w("choose.grid-caption"), `</caption>`)
	tag(`<thead><tr><th scope="col">`, c.w("club.sleeve"), `</th>`)
	for _, w := range cols {
		tag(`<th scope="col">`, cmp.Or(w, c.w("setting.all")), `</th>`)
	}
	b.WriteString(`</tr></thead><tbody>`)
	for i, name := range rows {
		tag(`<tr><th scope="row">`, cmp.Or(name, c.w("setting.as-is")), `</th>`)
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
			named["sleeve "+rowOf(x.Setting)] = true
			named["weights "+strings.Join(x.Setting.Weights, " / ")] = true
		}
		for _, h := range s.Session.All() {
			for _, p := range h.Places() {
				row := rowOf(club.Setting{Sleeve: p.Label})
				if s.Session.Several() {
					row = rowOf(club.Setting{Sleeve: p.Label, Club: h.Name})
				}
				if named["sleeve "+row] {
					find(&rows, row)
				}
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
		i := find(&rows, rowOf(s.Setting))
		j := find(&cols, strings.Join(s.Setting.Weights, " / "))
		at[[2]int{i, j}] = k
	}
	return cols, rows, at
}

func (c *Choose) gridCell(r report.Report, k int, tag func(open, text, close string)) {
	s := r.Settings[k]
	gain := worthSaid(c.wording(), s.Gain)
	state := ""
	class := "cell"
	switch {
	case k == r.Reference:
		state, gain = c.w("cell.today"), c.w("cell.zero")
		class += " today"
	case s.Tested:
		state = c.wording().balls1(s.Balls)
		class += " tested"
	}
	if k == r.Answer.Setting {
		state = c.w("cell.chosen")
		class += " chosen"
	}
	if k == c.cell {
		class += " open"
	}
	tag(`<button type="button" id="cell-`+strconv.Itoa(k)+`" class="`+class+`" aria-pressed="`+strconv.FormatBool(k == c.cell)+`"><span class="unseen">`, c.wording().setting(s.Setting)+": ", `</span>`)
	tag(`<span class="cell-gain">`, gain, `</span>`)
	if k != r.Reference {
		tag(chart.Pips(report.Marks(s.PBetter), report.Drives)+`<span class="unseen">`, c.w("cell.sure", c.wording().percent(s.PBetter)), `</span>`)
	}
	tag(`<span class="cell-state">`, state, `</span></button>`)
}

// cellDetail shows the setting that was tapped in the grid.
func (c *Choose) cellDetail(r report.Report) app.UI {
	s := r.Settings[c.cell]
	ref := r.Settings[r.Reference]
	what := c.w("compare.untested")
	if s.Tested {
		what = c.w("compare.tested", c.wording().balls1(s.Balls))
	}
	t := ui.Table{Caption: c.wording().setting(s.Setting), Head: []string{c.w("choose.quantity"), c.w("choose.value"), c.w("choose.against")}, Class: "quantities", ID: "cell", Words: explainedNames(c.wording())}
	for _, a := range s.Quantities {
		if _, ok := shot.KindOf(a.Quantity); ok {
			t.Rows = append(t.Rows, []string{c.wording().quantity(a.Quantity), c.wording().estimate(a.Quantity, a.Value), c.wording().against(a.Quantity, a.Difference)})
		}
	}
	set := s.Setting
	pair := styleOf(c.wording(), "pair")
	return app.Div().Class("part").ID("cell-detail").Body(
		app.If(s.Setting.Club == ref.Setting.Club, func() app.UI { return ui.P("", c.reader().FromToday(s.Change.Against(ref.Change))) }),
		ui.P("hint", what+" "+c.w("choose.share", c.wording().percent(s.Measured))),
		app.If(c.cell != r.Reference, func() app.UI {
			return counted(c.wording(), c.w("compare.better", c.wording().percent(s.PBetter)), s.PBetter)
		}),
		counted(c.wording(), c.w("choose.best", c.wording().percent(s.PBest)), s.PBest),
		slipPicture(chart.Patterns(r, r.Reference, c.cell, pair)),
		app.Range(s.Differs).Slice(func(i int) app.UI { return ui.P("hint", c.wording().msg(s.Differs[i].Text)) }),
		t.Render(),
		ui.Button("hit-cell", "", c.w("choose.hit"), func(ctx app.Context) {
			c.m.Bay.SetNext(cellSetting(c.st(), c.cell, set))
			ctx.Navigate("/shots")
		}),
	)
}

// slipPicture is a drawing whose words stand beside it.
func slipPicture(d chart.Drawing) app.UI {
	return app.Figure().ID("pair").Class("chart").Body(app.Div().Class("drawing").Body(app.Raw(d.SVG)))
}

// worthSaid is an amount of what is aimed for, with its sign and without its unit.
func worthSaid(say wording, w report.Worth) string {
	if w.Unit == report.UnitCarry {
		r := say.r
		return strings.TrimSuffix(strings.TrimSuffix(r.Difference(w.Value.Mean, units.Length, 0), r.Symbol(units.Length)), "\u00a0")
	}
	return say.strokes(w.Value.Mean)
}

// cellSetting reads the setting at the time of the tap: handlers outlive the
// drawing that made them.
func cellSetting(s act.State, cell int, otherwise club.Setting) club.Setting {
	if r := s.Answer.Value; r != nil && cell >= 0 && cell < len(r.Settings) {
		return r.Settings[cell].Setting
	}
	return otherwise
}

// rowOf is what a row of the grid is called: the sleeve's label, with the club
// where the session has several.
func rowOf(t club.Setting) string { return club.Setting{Sleeve: t.Sleeve, Club: t.Club}.Key() }
