package page

import (
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/units"
)

var headEdit = act.Change{Key: "edit.head"}

// headCard draws the editor of the club head.
func headCard(model *act.Model, say wording, s shot.Session) app.UI {
	h := s.Head
	return ui.Card("head", say.w("club.head"),
		textField(model, "head-name", say.w("club.head-name"), "", h.Name, act.Change{Key: "edit.head", Quiet: true},
			func(s *shot.Session, v string) { s.RenameClub(0, v) }),
		ui.Row("pair",
			headAngle(model, say, "loft", "club.loft", "", 3, 50, true, func(h *club.Head) *float64 { return &h.Loft }),
			headAngle(model, say, "lie", "club.lie", "", 45, 75, true, func(h *club.Head) *float64 { return &h.Lie }),
		),
		moreLater("head-more", say.w("club.head-more"), func() []app.UI {
			return []app.UI{
				numberField(model, say, numeric{id: "measured-loft", label: say.w("club.measured-loft"), hint: say.w("club.measured-loft-hint"), hold: say.w("club.none"), edit: "edit.head", dim: units.Angle, digits: -1, lo: 3, hi: 50,
					get: func(s shot.Session) *float64 { return s.Head.MeasuredLoft },
					set: func(s *shot.Session, v *float64) { relabel(s, func() { s.Head.MeasuredLoft = v }) }}),
				headAngle(model, say, "face", "club.face", "club.face-hint", -10, 10, false, func(h *club.Head) *float64 { return &h.Face }),
				numberField(model, say, numeric{id: "head-mass", label: say.w("club.mass"), edit: "edit.head", dim: units.Mass, digits: -1, lo: 100, hi: 400, need: true,
					get: func(s shot.Session) *float64 { return &s.Head.Mass },
					set: func(s *shot.Session, v *float64) { s.Head.Mass = orZero(v) }}),
				&ui.Pick{ID: "hold", Label: say.w("club.hold"), Value: held(h.Hold), Hint: say.w("club.hold-hint"), Options: []ui.Option{
					{Value: "between", Label: say.w("hold.between")}, {Value: "soled", Label: say.w("hold.soled")}, {Value: "square", Label: say.w("hold.square")}},
					Picked: func(_ app.Context, v string) {
						model.Editor.Edit(headEdit, func(s *shot.Session) { s.Head.Hold = v })
					}},
				&ui.Pick{ID: "kind", Label: say.w("club.kind"), Value: kind(h.Kind), Options: []ui.Option{
					{Value: "driver", Label: say.w("kind.driver")}, {Value: "fairway", Label: say.w("kind.fairway")}, {Value: "hybrid", Label: say.w("kind.hybrid")}},
					Picked: func(_ app.Context, v string) {
						model.Editor.Edit(headEdit, func(s *shot.Session) { s.Head.Kind = v })
					}},
			}
		}),
		partsCard(model, say, s),
		shaftPart(model, say, s),
	)
}

func held(s string) string {
	if s == "" {
		return "between"
	}
	return s
}

func kind(s string) string {
	if s == "" {
		return "driver"
	}
	return s
}

func headAngle(model *act.Model, say wording, id, key, hint string, lo, hi float64, need bool, of func(*club.Head) *float64) app.UI {
	if hint != "" {
		hint = say.w(hint)
	}
	return numberField(model, say, numeric{id: id, label: say.w(key), hint: hint, edit: "edit.head", dim: units.Angle, digits: -1, lo: lo, hi: hi, need: need, word: chart.WordOf(id),
		get: func(s shot.Session) *float64 { return of(&s.Head) },
		set: func(s *shot.Session, v *float64) { relabel(s, func() { *of(&s.Head) = orZero(v) }) }})
}

// sleeve is how the shaft is tilted in the head.
func (c *Club) sleeve(h club.Head) app.UI {
	how := "none"
	switch {
	case len(h.Sleeve.Table) > 0:
		how = "table"
	case len(h.Sleeve.Rings) > 0:
		how = "tilt"
	}
	return ui.Card("sleeve", c.w("club.sleeve"),
		&fold{ID: "describe", Title: c.w("club.describe"), Show: how == "none" || c.telling, Lines: func() []app.UI {
			return []app.UI{
				&ui.Choice{ID: "sleeve-how", Label: c.w("club.sleeve-how"), Value: how, Stack: true, Options: []ui.Option{
					{Value: "none", Label: c.w("sleeve.none")}, {Value: "tilt", Label: c.w("sleeve.tilt")}, {Value: "table", Label: c.w("sleeve.table")}},
					Picked: func(_ app.Context, v string) {
						c.m.Editor.Edit(headEdit, func(s *shot.Session) { sleeveKind(&s.Head, v) })
						c.look, c.telling = nil, true
					}},
				app.If(how == "tilt", func() app.UI { return ringFields(c.m, c.wording(), h) }),
				app.If(how == "table", func() app.UI { return c.table(h) }),
			}
		}},
		checkTable(c.m, c.wording(), h),
		app.If(how != "none", func() app.UI {
			return moreLater("places", c.w("club.places"), func() []app.UI { return []app.UI{c.places(h)} })
		}),
		sleeveTrouble(c.wording(), h),
	)
}

// sleeveTrouble lists what is wrong with the description of the head.
func sleeveTrouble(say wording, h club.Head) app.UI {
	errs, _ := h.Validate().(club.FieldErrors)
	return app.If(len(errs) > 0, func() app.UI {
		lines := []string{}
		for _, e := range errs {
			lines = append(lines, e.Field+": "+say.msg(e.Message))
		}
		return app.Div().Class("alert").Attr("role", "alert").Body(ui.P("", say.w("club.head-wrong")), ui.List("plain", lines))
	})
}

// sleeveKind changes how the sleeve is described; labels that are in use stay
// known because shots keep theirs.
func sleeveKind(h *club.Head, how string) {
	switch how {
	case "tilt":
		h.Sleeve = club.Sleeve{Rings: []club.Ring{{Tilt: 1.5 * units.Degree, Positions: 8}}}
	case "table":
		t := []club.Position{}
		for _, p := range h.Places() {
			if p.Label != "" {
				t = append(t, club.Position{Label: p.Label, Loft: p.Change.LoftSquare, Lie: p.Change.Upright, Face: p.Change.FaceSoled})
			}
		}
		if len(t) == 0 {
			t = []club.Position{{Label: "1"}, {Label: "2", Unknown: true}} // the zero line, and one that nobody described yet
		}
		h.Sleeve = club.Sleeve{Table: t}
	default:
		h.Sleeve = club.Sleeve{}
	}
	h.Current.Sleeve = h.Places()[0].Label
}

func ringFields(model *act.Model, say wording, h club.Head) app.UI {
	body := []app.UI{}
	for i := range h.Sleeve.Rings {
		n := strconv.Itoa(i + 1)
		id := "ring" + n
		body = append(body, ui.Row("pair",
			numberField(model, say, numeric{id: id + "-tilt", label: say.w("club.tilt", n), hint: say.w("club.tilt-hint"), edit: "edit.head", dim: units.Angle, digits: -1, lo: 0, hi: 5, need: true,
				get: func(s shot.Session) *float64 {
					return ringOf(&s.Head, i, func(r *club.Ring) *float64 { return &r.Tilt })
				},
				set: func(s *shot.Session, v *float64) {
					relabel(s, func() {
						if p := ringOf(&s.Head, i, func(r *club.Ring) *float64 { return &r.Tilt }); p != nil {
							*p = orZero(v)
						}
					})
				}}),
			numberField(model, say, numeric{id: id + "-positions", label: say.w("club.positions"), edit: "edit.head", dim: units.None, digits: 0, lo: 1, hi: 72, need: true,
				get: func(s shot.Session) *float64 {
					if i >= len(s.Head.Sleeve.Rings) {
						return nil
					}
					v := float64(s.Head.Sleeve.Rings[i].Positions)
					return &v
				},
				set: func(s *shot.Session, v *float64) {
					relabel(s, func() {
						if i < len(s.Head.Sleeve.Rings) {
							s.Head.Sleeve.Rings[i].Positions = int(orZero(v) + 0.5)
							nameAnew(&s.Head.Sleeve)
						}
					})
				}}),
		))
	}
	two := len(h.Sleeve.Rings) > 1
	return app.Div().Class("inset").Body(append(body,
		&ui.Check{ID: "two-rings", Label: say.w("club.two-rings"), On: two, Turned: func(_ app.Context, on bool) {
			model.Editor.Edit(headEdit, func(s *shot.Session) {
				relabel(s, func() {
					if r := s.Head.Sleeve.Rings; on && len(r) == 1 {
						s.Head.Sleeve.Rings = append(r, club.Ring{Tilt: r[0].Tilt, Positions: 4})
					} else if !on && len(r) > 1 {
						s.Head.Sleeve.Rings = r[:1]
					}
					nameAnew(&s.Head.Sleeve)
				})
			})
		}})...)
}

// nameAnew gives two rings plain labels, and one none.
func nameAnew(s *club.Sleeve) {
	s.Labels = nil
	if names := s.RingLabels(); names != nil {
		s.NameRings(names)
	}
}

func ringOf(h *club.Head, i int, of func(*club.Ring) *float64) *float64 {
	if i >= len(h.Sleeve.Rings) {
		return nil
	}
	return of(&h.Sleeve.Rings[i])
}

// relabel runs a change of the head and keeps what was hit where it was: labels
// that are made up from what a position does change with it, place by place and
// all at once, since one place's new label may be another's old one. When the
// number of places changes, made-up labels stay and say what they meant.
func relabel(s *shot.Session, change func()) {
	before, own := s.Head.Places(), len(s.Head.Sleeve.Labels) > 0
	change()
	after := s.Head.Places()
	if own || len(before) == len(after) {
		eachSetting(s, func(t *club.Setting) {
			for i := range min(len(before), len(after)) {
				if t.Sleeve == before[i].Label {
					t.Sleeve = after[i].Label
					return
				}
			}
		})
	}
	known := false
	for _, p := range after {
		known = known || p.Label == s.Head.Current.Sleeve
	}
	if !known && len(after) > 0 {
		s.Head.Current.Sleeve = after[0].Label
	}
}

// rename gives position i of the sleeve another label everywhere. While two
// positions bear one label nothing else is renamed: what was hit with the one
// would become the other's for good.
func rename(s *shot.Session, labels []string, i int, label string) {
	old := labels[i]
	labels[i] = label
	if mixed(labels, i, old) {
		return
	}
	eachSetting(s, func(t *club.Setting) {
		if t.Sleeve == old {
			t.Sleeve = label
		}
	})
}

// mixed reports whether label i, or the one that it was, is another's too.
func mixed(labels []string, i int, old string) bool {
	for j, l := range labels {
		if j != i && (l == old || l == labels[i]) {
			return true
		}
	}
	return false
}

// renamePlace writes the label of one position of an angled sleeve.
func renamePlace(s *shot.Session, i int, label string) {
	places := s.Head.Places()
	if i >= len(places) {
		return
	}
	labels := make([]string, len(places))
	for j, p := range places {
		labels[j] = p.Label
	}
	rename(s, labels, i, label)
	s.Head.Sleeve.Labels = labels
}

// freeLabel is the number of a new row that no row bears as its label.
func freeLabel(t []club.Position) string {
	for n := len(t) + 1; ; n++ {
		label := strconv.Itoa(n)
		if !slices.ContainsFunc(t, func(p club.Position) bool { return p.Label == label }) {
			return label
		}
	}
}

// renameRow writes the label of one row of a printed table.
func renameRow(s *shot.Session, i int, label string) {
	t := s.Head.Sleeve.Table
	if i >= len(t) {
		return
	}
	labels := make([]string, len(t))
	for j, o := range t {
		labels[j] = o.Label
	}
	rename(s, labels, i, label)
	t[i].Label = label
}

// table is the printed table of the club's maker, typed in.
func (c *Club) table(h club.Head) app.UI {
	rows := app.Range(h.Sleeve.Table).Slice(func(i int) app.UI {
		n := strconv.Itoa(i + 1)
		p := h.Sleeve.Table[i]
		cell := func(id, key string, of func(*club.Position) *float64) app.UI {
			return numberField(c.m, c.wording(), numeric{id: "row" + n + id, label: c.w(key), edit: "edit.head", dim: units.Angle, digits: -1, lo: -8, hi: 8,
				get: func(s shot.Session) *float64 {
					if i >= len(s.Head.Sleeve.Table) || s.Head.Sleeve.Table[i].Unknown {
						return nil
					}
					return of(&s.Head.Sleeve.Table[i])
				},
				set: func(s *shot.Session, v *float64) {
					if i < len(s.Head.Sleeve.Table) && !(v == nil && s.Head.Sleeve.Table[i].Unknown) { // emptied again: still unknown
						*of(&s.Head.Sleeve.Table[i]) = orZero(v)
						s.Head.Sleeve.Table[i].Unknown = false
					}
				}})
		}
		return app.Div().Class("table-row").Body(
			textField(c.m, "row"+n+"-label", c.w("club.label"), "", p.Label, headEdit, func(s *shot.Session, v string) { renameRow(s, i, v) }),
			cell("-loft", "club.loft-change", func(p *club.Position) *float64 { return &p.Loft }),
			cell("-lie", "club.lie-change", func(p *club.Position) *float64 { return &p.Lie }),
			cell("-face", "club.face-change", func(p *club.Position) *float64 { return &p.Face }),
			ui.Icon("row"+n+"-remove", "", "×", c.w("club.remove-position", p.Label), len(h.Sleeve.Table) < 2, func(app.Context) {
				c.m.Editor.Edit(act.Change{Key: "edit.head"}, func(s *shot.Session) {
					t := s.Head.Sleeve.Table
					if i < len(t) && len(t) > 1 {
						s.Head.Sleeve.Table = append(t[:i:i], t[i+1:]...)
						if s.Head.Current.Sleeve == t[i].Label {
							s.Head.Current.Sleeve = s.Head.Sleeve.Table[0].Label
						}
					}
				})
				c.m.Notices.Tell("notice.removed", true)
			}),
		)
	})
	return app.Div().Class("inset").Body(
		c.printed(h),
		ui.P("hint", c.w("club.table-hint")), rows,
		ui.Button("add-position", "", c.w("club.add-position"), func(app.Context) {
			c.m.Editor.Edit(headEdit, func(s *shot.Session) {
				t := s.Head.Sleeve.Table
				s.Head.Sleeve.Table = append(t, club.Position{Label: freeLabel(t), Unknown: true})
			})
		}),
	)
}

// places shows what each position does, in both readings, as it is typed.
func (c *Club) places(h club.Head) app.UI {
	places := h.Places()
	looked := c.looked(h).Sleeve
	typed := len(h.Sleeve.Rings) > 0
	rows := app.Range(places).Slice(func(i int) app.UI {
		p := places[i]
		show := func(v float64) string {
			if p.Change.Unknown {
				return "?"
			}
			return c.wording().deg(v)
		}
		return app.Tr().Class(map[bool]string{true: "marked"}[p.Label == looked]).Body(
			app.Th().Scope("row").Body(
				app.Button().Type("button").ID("show"+strconv.Itoa(i+1)).Class("row-name").Title(c.w("club.draw", p.Label)).
					Attr("aria-pressed", strconv.FormatBool(p.Label == looked)).
					OnClick(func(app.Context, app.Event) { c.lookAt(i) }, app.EventScope("show", p.Label)).Text(p.Label)),
			app.Td().Text(show(p.Change.LoftSquare)),
			app.Td().Text(show(p.Change.Upright)),
			app.Td().Text(show(p.Change.FaceSoled)),
		)
	})
	return app.Div().Class("part").Body(
		c.lookPart(h),
		app.Div().Class("table").TabIndex(0).Attr("role", "region").Attr("aria-label", c.w("club.places")).Body(
			app.Table().Class("places").Body(
				app.Caption().Text(c.w("club.places")),
				app.THead().Body(app.Tr().Body(
					app.Th().Scope("col").Text(c.w("club.label")),
					app.Th().Scope("col").Text(c.w("club.col-loft")),
					app.Th().Scope("col").Text(c.w("club.col-lie")),
					app.Th().Scope("col").Text(c.w("club.col-face")),
				)),
				app.TBody().Body(rows),
			),
		),
		ui.P("hint", c.w("club.places-hint")),
		app.If(typed, func() app.UI {
			names := placeNames(c.m, c.wording(), places)
			if rings := h.Sleeve.RingLabels(); rings != nil {
				names = ringNames(c.m, c.wording(), rings)
			}
			return moreLater("place-names", c.w("club.rename"), func() []app.UI {
				return []app.UI{ui.P("hint", c.w("club.rename-hint")), app.Div().Class("values").Body(names...)}
			})
		}),
	)
}

// placeNames are the fields of the labels of an angled sleeve's positions.
func placeNames(model *act.Model, say wording, places []club.Place) (out []app.UI) {
	for i, p := range places {
		n := strconv.Itoa(i + 1)
		out = append(out, &ui.Field{ID: "place" + n, Label: say.w("club.label-of", n), Hint: briefly(say, p.Change), Value: p.Label, Mode: "text",
			Typed: func(_ app.Context, v string) {
				model.Editor.Edit(act.Change{Key: "edit.head", Field: "place" + n}, func(s *shot.Session) { renamePlace(s, i, v) })
			}})
	}
	return out
}

// ringNames are those of the places of two rings: twelve fields name 32 positions.
func ringNames(model *act.Model, say wording, rings [][]string) (out []app.UI) {
	for k := range rings {
		for i, l := range rings[k] {
			id := "ring" + strconv.Itoa(k+1) + "-place" + strconv.Itoa(i+1)
			out = append(out, textField(model, id, say.w("dial.ring", strconv.Itoa(k+1))+", "+strconv.Itoa(i+1), "", l, headEdit, func(s *shot.Session, v string) {
				names := s.Head.Sleeve.RingLabels()
				if names == nil || k >= len(names) || i >= len(names[k]) || v == "" || slices.Contains(names[k], v) {
					return
				}
				relabel(s, func() { names[k][i] = v; s.Head.Sleeve.NameRings(names) })
			}))
		}
	}
	return out
}

// briefly is what a position does, to tell it from its neighbours.
func briefly(say wording, x club.Change) string {
	return say.r.FromOwn(x)
}

// lookAt draws a position of the sleeve; the weights stay where they are.
func (c *Club) lookAt(i int) {
	h := c.st().Session.Head
	if places := h.Places(); i < len(places) {
		t := withWeights(h, c.looked(h))
		t.Sleeve = places[i].Label
		c.look = &t
	}
}
