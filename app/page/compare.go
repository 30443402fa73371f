package page

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
)

// Compare shows whether the tested settings differ.
type Compare struct {
	base
	beside   int  // the setting shown beside the reference, -1 = the one that the answer is about
	measured bool // balls are drawn as measured
	measure  shot.Quantity
	question int    // which number of balls is asked for
	tapped   string // id of the ball that was tapped
}

// OnInit names the page.
func (c *Compare) OnInit() {
	c.base.OnInit()
	c.name, c.measure, c.beside = "compare", shot.Carry, -1
}

// answerless is shown while there is no report: why, and what to do.
func (b *base) answerless(s act.State) app.UI {
	switch {
	case s.Answer.Phase == act.Working || b.m.Answers.Pending():
		return app.Div().Class("empty").Body(b.working())
	case s.Session == nil:
		return noSession(b.m, b.wording())
	case s.Answer.Phase == act.Failed:
		return b.stale(s)
	case len(s.Session.Shots) == 0:
		return ui.Empty(b.w("empty.shots"), b.w("empty.shots-do"), ui.Link("to-shots", "main", "/shots", b.w("step.shots")))
	}
	return ui.Row("banner", ui.P("", b.w("app.stale")), ui.Button("again", "main", b.w("app.again"), func(app.Context) { b.m.Answers.Analyse() }))
}

// styleOf is how charts are drawn for this page. Narrow drawings keep their text
// readable on a phone: the drawing is made for the width it is shown at.
func styleOf(say wording, id string) chart.Style {
	width, wide := 360.0, 1200 // [px]
	if strings.HasPrefix(id, "live") {
		wide = 1700 // three columns there
	}
	if int(across.Load()) >= wide {
		width = 520
	}
	return chart.Style{ID: id, Width: width, Reader: say.r}
}

// drawing is a chart that was drawn, and what it was drawn of.
type drawing struct {
	of  any
	got chart.Drawing
}

// once draws a chart anew only when what it shows has changed: a page is drawn
// at every key, a chart takes longer than a frame on a slow phone. of must be
// comparable and name all that draw uses.
func (b *base) once(id string, of any, draw func() chart.Drawing) chart.Drawing {
	if d, ok := b.charts[id]; ok && d.of == of {
		return d.got
	}
	if b.charts == nil {
		b.charts = map[string]drawing{}
	}
	d := draw()
	b.charts[id] = drawing{of, d}
	return d
}

// shown is what a chart of a report depends on, to be compared.
type shown struct {
	report *report.Report
	reader text.Reader
	width  float64
	what   string
}

func shownOf(r *report.Report, st chart.Style, what ...any) shown {
	return shown{r, st.Reader, st.Width, fmt.Sprint(st.Only, what)}
}

// chartOf frames a drawing of package chart.
func chartOf(say wording, id string, d chart.Drawing, tapped func(ctx app.Context, kind, id string)) app.UI {
	return &ui.Chart{ID: id, Title: d.Title, SVG: d.SVG, Summary: d.Summary, Numbers: say.w("app.numbers"),
		Table: ui.Table{Caption: d.Table.Caption, Head: d.Table.Head, Rows: d.Table.Rows}, Tapped: tapped}
}

// Render draws the page.
func (c *Compare) Render() app.UI {
	c.name = "compare"
	s := c.st()
	if s.Session == nil || s.Answer.Value == nil {
		return c.frame(c.w("compare.lead"), c.answerless(s))
	}
	r := *s.Answer.Value
	keys := chart.Keys(r)
	only := pair(r, keys, c.beside)
	drawn := r
	if c.measured {
		drawn = r.AsMeasured()
	}
	landing, flight, diff := styleOf(c.wording(), "landing"), styleOf(c.wording(), "flight"), styleOf(c.wording(), "differences")
	landing.Only, flight.Only, diff.Only = only, only, only
	return c.frame(c.w("compare.lead"),
		c.stale(s),
		app.Div().Class("columns").Body(
			app.Div().Body(
				c.choose(r, keys, only),
				chartOf(c.wording(), "landing-chart", c.once("landing", shownOf(s.Answer.Value, landing, c.measured), func() chart.Drawing { return chart.Landing(drawn, landing) }), c.tap),
				c.part(func() app.UI { return c.reference(s, r) }),
				c.part(func() app.UI { return c.sentences(r, only) }),
			),
			app.Div().Body(
				c.part(func() app.UI {
					return chartOf(c.wording(), "flight-chart", c.once("flight", shownOf(s.Answer.Value, flight), func() chart.Drawing { return chart.Flight(r, flight) }), c.tap)
				}),
				c.part(func() app.UI {
					return ui.Card("differences", c.w("compare.differences"),
						c.which(r),
						chartOf(c.wording(), "differences-chart", c.once("differences", shownOf(s.Answer.Value, diff, c.measure), func() chart.Drawing { return chart.Differences(r, c.measure, diff) }), c.tap),
						c.averages(r),
						c.airTable(r),
					)
				}),
				c.part(func() app.UI { return c.need(r) }),
			),
		),
		c.part(func() app.UI { return ui.P("hint", c.w("caution.estimate")) }),
		c.tappedBall(),
		c.next(),
	)
}

// pair are the settings that are shown: the reference and one other, that which
// was tapped or which the answer is about.
func pair(r report.Report, keys []int, other int) []int {
	if !slices.Contains(keys, other) || other == r.Reference {
		other = r.Answer.Other
	}
	if !slices.Contains(keys, other) {
		other = -1
		for _, k := range keys {
			if k != r.Reference {
				other = k
				break
			}
		}
	}
	if other < 0 {
		return keys
	}
	return []int{r.Reference, other}
}

// choose shows one setting beside the reference by one tap, and the balls as
// they were measured or in the air that the answer is for.
func (c *Compare) choose(r report.Report, keys, only []int) app.UI {
	if len(keys) < 2 {
		return app.Div().ID("shown").Hidden(true)
	}
	chips := []app.UI{}
	for i, k := range keys {
		if k == r.Reference {
			continue
		}
		chips = append(chips, chip("show-"+strconv.Itoa(k), strconv.Itoa(i+1)+" · "+c.wording().setting(r.Settings[k].Setting), slices.Contains(only, k), "", func() { c.beside = k }))
	}
	air := "answer"
	if c.measured {
		air = "measured"
	}
	other := slices.ContainsFunc(r.Shots, func(s report.ShotRow) bool { return s.Seen != nil })
	name := c.w("compare.shown", c.wording().setting(r.Settings[r.Reference].Setting))
	return app.Div().ID("shown").Class("part").Body(
		ui.P("hint", name),
		app.Div().Class("set-buttons").Attr("role", "group").Attr("aria-label", name).Body(chips...),
		app.If(other, func() app.UI {
			return &ui.Choice{ID: "balls-air", Label: c.w("compare.air"), Value: air, Options: []ui.Option{{Value: "answer", Label: c.w("compare.air-answer")}, {Value: "measured", Label: c.w("compare.air-measured")}},
				Picked: func(_ app.Context, v string) { c.measured = v == "measured" }}
		}))
}

// reference lets the person choose what everything is compared with.
func (c *Compare) reference(s act.State, r report.Report) app.UI {
	options := []ui.Option{}
	all := act.Settings(s.Session)
	for i, set := range all {
		options = append(options, ui.Option{Value: strconv.Itoa(i), Label: c.wording().setting(set)})
	}
	if s.ReadOnly { // a received session is nobody's to change: it says what it compares with
		return ui.Card("reference", c.w("compare.reference"), ui.P("", c.wording().setting(act.Reference(s.Session))))
	}
	return ui.Card("reference", c.w("compare.reference"),
		&ui.Pick{ID: "reference-is", Label: c.w("compare.reference-is"), Value: "0", Options: options, Hint: c.w("compare.reference-hint"), Wide: true,
			Picked: func(_ app.Context, v string) {
				i, err := strconv.Atoi(v)
				if err != nil || i < 0 || i >= len(all) {
					return
				}
				c.m.Editor.Edit(act.Change{Key: "edit.reference"}, func(s *shot.Session) {
					if at := s.ClubAt(all[i].Club); at >= 0 {
						s.Club(at).Current = all[i].Of("")
						if s.Several() {
							s.Own = s.Club(at).Name
						}
					}
				})
			}},
	)
}

// sentences say of each setting what its balls say, in words.
func (c *Compare) sentences(r report.Report, only []int) app.UI {
	list := []app.UI{}
	for _, i := range only {
		if i == r.Reference {
			continue
		}
		set := r.Settings[i]
		lines := []string{}
		for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
			if a, ok := set.Of(q); ok {
				lines = append(lines, c.difference(a))
			}
		}
		what := c.w("compare.tested", c.wording().balls1(set.Balls))
		if !set.Tested {
			what = c.w("compare.untested")
		}
		if set.Mishits > 0 {
			what += " " + c.w("compare.mishits", strconv.Itoa(set.Mishits))
		}
		list = append(list, app.Li().Body(
			app.H3().Body(app.Raw("<span class=\"mark\">"+chart.Mark(r, i, 22, chart.Style{ID: "key" + strconv.Itoa(i), Reader: c.reader()})+"</span>"),
				app.Span().Text(" "+c.wording().setting(set.Setting))),
			ui.P("hint", what),
			ui.List("plain", lines),
			counted(c.wording(), c.w("compare.better", c.wording().percent(set.PBetter)), set.PBetter),
		))
	}
	if len(list) == 0 {
		return ui.Empty(c.w("compare.one"), c.w("compare.one-do"), ui.Link("to-shots", "main", "/shots", c.w("step.shots")))
	}
	ref := c.wording().setting(r.Settings[r.Reference].Setting)
	return ui.Card("in-words", c.w("compare.words", ref), app.Ul().Class("words").Body(list...))
}

// difference says in a sentence what an interval means.
func (c *Compare) difference(a report.Amount) string {
	k, _ := shot.KindOf(a.Quantity)
	d := a.Difference
	rd := c.reader()
	size := func(v float64) string {
		if v < 0 {
			v = -v
		}
		return rd.Number(v, k.Dim, 0)
	}
	word := func(v float64) string {
		switch {
		case k.Compass && v < 0:
			return c.w("side.left")
		case k.Compass:
			return c.w("side.right")
		case v < 0:
			return c.w("compare.shorter")
		}
		return c.w("compare.farther")
	}
	is, same := "compare.carry-is", "compare.carry-same"
	if k.Compass {
		is, same = "compare.side-is", "compare.side-same"
	}
	text := c.w(same, size(d.Lo80), word(d.Lo80), size(d.Hi80), word(d.Hi80))
	if size(d.Mean) != size(0) { // what is shown as nothing goes no way
		text = c.w(is, size(d.Mean), word(d.Mean), size(d.Lo80), word(d.Lo80), size(d.Hi80), word(d.Hi80))
	}
	switch {
	case d.Lo95 > 0 || d.Hi95 < 0:
		text += " " + c.w("compare.told-apart")
	case d.Lo80 > 0 || d.Hi80 < 0:
		text += " " + c.w("compare.likely-apart")
	case a.BallsMore > 400:
		text += " " + c.w("compare.never")
	case a.BallsMore > 0:
		text += " " + c.w("compare.more", c.wording().balls1(a.BallsMore))
	default:
		text += " " + c.w("compare.not-apart")
	}
	return text
}

// which lets the person choose the quantity of the table of differences.
func (c *Compare) which(r report.Report) app.UI {
	options := []ui.Option{{Value: "", Label: c.w("compare.strokes")}}
	seen := []shot.Quantity{}
	for _, s := range r.Settings {
		for _, a := range s.Quantities {
			if !slices.Contains(seen, a.Quantity) {
				seen = append(seen, a.Quantity)
				options = append(options, ui.Option{Value: string(a.Quantity), Label: c.wording().quantity(a.Quantity)})
			}
		}
	}
	return &ui.Pick{ID: "quantity", Label: c.w("compare.quantity"), Value: string(c.measure), Options: options,
		Picked: func(_ app.Context, v string) { c.measure = shot.Quantity(v) }}
}

func (c *Compare) tap(ctx app.Context, kind, id string) {
	if kind == "shot" {
		c.tapped = id
		focusOn(ctx, "slip-title")
	}
}

// tappedBall shows the ball whose mark was tapped, in view and from below.
func (c *Compare) tappedBall() app.UI {
	title, lines := ballLines(c.m, c.wording(), c.tapped)
	if title == "" || c.word != "" {
		return app.Div().Class("slip-none").Hidden(true)
	}
	return ui.Slip(title, c.w("app.close"), func(ctx app.Context) {
		c.tapped = ""
		focusOn(ctx, "landing-chart")
	}, lines)
}

// ballLines says all that is known of a ball; the title is empty where there
// is none.
func ballLines(model *act.Model, say wording, id string) (title string, list app.UI) {
	s := model.State()
	if s.Session == nil {
		return "", nil
	}
	i := slices.IndexFunc(s.Session.Shots, func(h shot.Shot) bool { return h.ID == id })
	if i < 0 {
		return "", nil
	}
	lines := []app.UI{}
	add := func(text string) { lines = append(lines, app.Li().Text(text)) }
	h := s.Session.Shots[i]
	if w := wayOf(model, say, h.Values.WithoutDrift(driftOf(s.Answer.Value, h.ID))); w != "" {
		add(capital(w))
	}
	for _, k := range shot.Kinds {
		if v, ok := h.Values.Get(k.Quantity); ok && len(lines) < 11 {
			text := say.quantity(k.Quantity) + " " + say.value(k.Quantity, v)
			if key := chart.WordOf(string(k.Quantity)); key != "" {
				lines = append(lines, app.Li().Body(ui.Asked("ball-"+string(k.Quantity), key, text)))
			} else {
				add(text)
			}
		}
	}
	if r := s.Answer.Value; r != nil {
		for _, f := range r.Findings {
			if f.ShotID == h.ID {
				add(say.msg(f.Text))
			}
		}
	}
	return say.w("compare.ball", strconv.Itoa(i+1), say.setting(h.Setting)), app.Ul().Class("plain two").Body(lines...)
}
