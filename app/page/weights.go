package page

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// weights is what can be moved or exchanged in the head.
func (c *Club) weights(h club.Head) app.UI {
	list := app.Range(h.Weights).Slice(func(i int) app.UI { return weightPart(c.m, c.wording(), h, i) })
	return later("weights", c.w("club.weights"), false, func() []app.UI {
		return []app.UI{
			ui.P("hint", c.w("club.weights-hint")),
			app.If(len(h.Weights) > 0, func() app.UI { return ui.P("hint", c.w("moved.disputed")) }),
			app.If(len(h.Weights) > 0 && len(h.Places()) < 2, func() app.UI { return c.lookPart(h) }),
			list,
			ui.Button("add-weight", "", c.w("club.add-weight"), func(app.Context) {
				c.m.Editor.Edit(headEdit, func(s *shot.Session) {
					heel, middle, toe := c.w("weight.heel"), c.w("weight.middle"), c.w("weight.toe")
					s.Head.Weights = append(s.Head.Weights, club.Weight{
						Name: c.w("weight.name", strconv.Itoa(len(s.Head.Weights)+1)), Mass: 10 * units.Gram,
						Stops: []club.Stop{{Label: heel, Toe: -20 * units.Millimetre}, {Label: middle}, {Label: toe, Toe: 20 * units.Millimetre}}})
					for len(s.Head.Current.Weights) < len(s.Head.Weights)-1 {
						s.Head.Current.Weights = append(s.Head.Current.Weights, "")
					}
					s.Head.Current.Weights = append(s.Head.Current.Weights, middle)
					// The balls that were hit before the weight was described were
					// hit with it in today's place.
					for k := range s.Shots {
						if n := len(s.Head.Weights) - 1; s.ClubAt(s.Shots[k].Setting.Club) == 0 && len(s.Shots[k].Setting.Weights) == n && n == 0 {
							s.Shots[k].Setting.Weights = []string{middle}
						}
					}
				})
			}),
		}
	})
}

// weightField ties a field to one number of a weight or of its stop.
func weightField(model *act.Model, say wording, id, key string, dim units.Dimension, lo, hi float64, i int, of func(*club.Weight) *float64) app.UI {
	word := ""
	if key == "club.weight-mass" {
		word = "weight"
	}
	return numberField(model, say, numeric{id: id, label: say.w(key), word: word, edit: "edit.head", dim: dim, digits: -1, lo: lo, hi: hi,
		get: func(s shot.Session) *float64 {
			if i >= len(s.Head.Weights) {
				return nil
			}
			return of(&s.Head.Weights[i])
		},
		set: func(s *shot.Session, v *float64) {
			if i < len(s.Head.Weights) {
				if p := of(&s.Head.Weights[i]); p != nil {
					*p = orZero(v)
				}
			}
		}})
}

func weightPart(model *act.Model, say wording, h club.Head, i int) app.UI {
	w := h.Weights[i]
	n := "weight" + strconv.Itoa(i+1)
	stops := app.Range(w.Stops).Slice(func(j int) app.UI {
		id := n + "-stop" + strconv.Itoa(j+1)
		at := func(of func(*club.Stop) *float64) func(*club.Weight) *float64 {
			return func(w *club.Weight) *float64 {
				if j >= len(w.Stops) {
					return nil
				}
				return of(&w.Stops[j])
			}
		}
		return app.Div().Class("table-row").Body(
			textField(model, id+"-label", say.w("club.label"), "", w.Stops[j].Label, headEdit, func(s *shot.Session, v string) { renameStop(s, i, j, v) }),
			weightField(model, say, id+"-toe", "club.toe", units.Small, -70, 70, i, at(func(s *club.Stop) *float64 { return &s.Toe })),
			weightField(model, say, id+"-back", "club.back", units.Small, -130, 130, i, at(func(s *club.Stop) *float64 { return &s.Back })),
			weightField(model, say, id+"-mass", "club.stop-mass", units.Mass, 0, 100, i, at(func(s *club.Stop) *float64 { return &s.Mass })),
			ui.Icon(id+"-remove", "", "×", say.w("club.remove-stop", w.Stops[j].Label), len(w.Stops) < 2, func(app.Context) {
				model.Editor.Edit(headEdit, func(s *shot.Session) { dropStop(s, i, j) })
				model.Notices.Tell("notice.removed", true)
			}),
		)
	})
	return app.Div().Class("inset").Body(
		ui.Row("pair",
			textField(model, n+"-name", say.w("club.weight-name"), "", w.Name, headEdit, func(s *shot.Session, v string) {
				if i < len(s.Head.Weights) {
					s.Head.Weights[i].Name = v
				}
			}),
			weightField(model, say, n+"-mass", "club.weight-mass", units.Mass, 0, 100, i, func(w *club.Weight) *float64 { return &w.Mass }),
		),
		moreLater(n+"-stops", say.w("club.stops", labelsOf(w)), func() []app.UI {
			return []app.UI{
				ui.P("hint", say.w("club.stops-hint")),
				stops,
				ui.Button(n+"-add", "", say.w("club.add-stop"), func(app.Context) {
					model.Editor.Edit(headEdit, func(s *shot.Session) {
						if i < len(s.Head.Weights) {
							w := &s.Head.Weights[i]
							w.Stops = append(w.Stops, club.Stop{Label: strconv.Itoa(len(w.Stops) + 1)})
						}
					})
				}),
			}
		}),
		ui.Row("",
			ui.Button(n+"-remove", "quiet", say.w("club.remove-weight"), func(app.Context) {
				model.Editor.Edit(headEdit, func(s *shot.Session) { dropWeight(s, i) })
				model.Notices.Tell("notice.removed", true)
			}),
		),
	)
}

// labelsOf lists the places of a weight.
func labelsOf(w club.Weight) string {
	labels := make([]string, len(w.Stops))
	for i, s := range w.Stops {
		labels[i] = s.Label
	}
	return strings.Join(labels, ", ")
}

// eachSetting visits every place where the session names a setting of Head.
func eachSetting(s *shot.Session, f func(*club.Setting)) {
	f(&s.Head.Current)
	for i := range s.Head.Exclude {
		f(&s.Head.Exclude[i])
	}
	for i := range s.Shots { // of the club that is described
		if s.ClubAt(s.Shots[i].Setting.Club) == 0 {
			f(&s.Shots[i].Setting)
		}
	}
}

func renameStop(s *shot.Session, i, j int, label string) {
	if i >= len(s.Head.Weights) || j >= len(s.Head.Weights[i].Stops) {
		return
	}
	old := s.Head.Weights[i].Stops[j].Label
	s.Head.Weights[i].Stops[j].Label = label
	labels := make([]string, len(s.Head.Weights[i].Stops))
	for k, o := range s.Head.Weights[i].Stops {
		labels[k] = o.Label
	}
	if mixed(labels, j, old) {
		return
	}
	eachSetting(s, func(t *club.Setting) {
		if i < len(t.Weights) && t.Weights[i] == old {
			t.Weights[i] = label
		}
	})
}

func dropStop(s *shot.Session, i, j int) {
	if i >= len(s.Head.Weights) || j >= len(s.Head.Weights[i].Stops) || len(s.Head.Weights[i].Stops) < 2 {
		return
	}
	w := &s.Head.Weights[i]
	gone := w.Stops[j].Label
	w.Stops = append(w.Stops[:j:j], w.Stops[j+1:]...)
	if i < len(s.Head.Current.Weights) && s.Head.Current.Weights[i] == gone {
		s.Head.Current.Weights[i] = w.Stops[0].Label
	}
}

func dropWeight(s *shot.Session, i int) {
	if i >= len(s.Head.Weights) {
		return
	}
	s.Head.Weights = append(s.Head.Weights[:i:i], s.Head.Weights[i+1:]...)
	eachSetting(s, func(t *club.Setting) {
		if i < len(t.Weights) {
			t.Weights = append(t.Weights[:i:i], t.Weights[i+1:]...)
		}
	})
}

// pickSetting lets the person say one setting: the sleeve drawn and turned, or a
// list where it cannot be drawn, and a list for each weight.
func pickSetting(model *act.Model, say wording, id string, h club.Head, now club.Setting, picked func(ctx app.Context, s club.Setting)) app.UI {
	lists := []app.UI{}
	if dials(h, now) {
		lists = append(lists, dialOf(model, say, id, h, asToday(h), now, func(ctx app.Context, v string) {
			t := withWeights(h, now)
			t.Sleeve = v
			picked(ctx, t)
		}))
	} else if places := h.Places(); len(places) > 1 || now.Sleeve != "" {
		options := []ui.Option{}
		known := false
		for _, p := range places {
			known = known || p.Label == now.Sleeve
			options = append(options, ui.Option{Value: p.Label, Label: p.Label})
		}
		if !known && now.Sleeve != "" {
			options = append(options, ui.Option{Value: now.Sleeve, Label: now.Sleeve})
		}
		lists = append(lists, &ui.Pick{ID: id + "-sleeve", Label: say.w("club.sleeve"), Value: now.Sleeve, Options: options,
			Picked: func(ctx app.Context, v string) {
				t := withWeights(h, now)
				t.Sleeve = v
				picked(ctx, t)
			}})
	}
	for i, w := range h.Weights {
		options := []ui.Option{}
		for _, s := range w.Stops {
			options = append(options, ui.Option{Value: s.Label, Label: s.Label})
		}
		full := withWeights(h, now)
		lists = append(lists, &ui.Pick{ID: id + "-weight" + strconv.Itoa(i+1), Label: w.Name, Value: full.Weights[i], Options: options,
			Picked: func(ctx app.Context, v string) {
				t := withWeights(h, now)
				t.Weights[i] = v
				picked(ctx, t)
			}})
	}
	if len(lists) == 0 {
		return ui.P("hint", say.w("setting.one"))
	}
	return ui.Row("pair", lists...)
}

// asToday is how a club was set before the session, completed.
func asToday(h club.Head) club.Setting { return h.Settings()[0] }

// pickOf is pickSetting with the club before it, where the session has several.
func pickOf(model *act.Model, say wording, id string, s *shot.Session, now club.Setting, picked func(ctx app.Context, t club.Setting)) app.UI {
	if !s.Several() {
		return pickSetting(model, say, id, s.Head, now, picked)
	}
	options := []ui.Option{}
	for _, h := range s.All() {
		options = append(options, ui.Option{Value: h.Name, Label: h.Name})
	}
	h := s.HeadOf(now)
	return app.Div().Body(
		&ui.Pick{ID: id + "-club", Label: say.w("clubs.which"), Value: h.Name, Options: options, Picked: func(ctx app.Context, v string) {
			other := s.HeadOf(club.Setting{Club: v})
			picked(ctx, asToday(other).Of(other.Name))
		}},
		pickSetting(model, say, id, h, now, func(ctx app.Context, t club.Setting) { picked(ctx, t.Of(h.Name)) }),
	)
}

// withWeights completes a setting that names fewer weights than the head has.
func withWeights(h club.Head, s club.Setting) club.Setting {
	out := club.Setting{Sleeve: s.Sleeve, Weights: make([]string, len(h.Weights))}
	for i := range h.Weights {
		if i < len(s.Weights) {
			out.Weights[i] = s.Weights[i]
		} else if len(h.Weights[i].Stops) > 0 {
			out.Weights[i] = h.Weights[i].Stops[0].Label
		}
	}
	return out
}

// todayCard is how the club was set before the session: what everything is
// compared with.
func todayCard(model *act.Model, say wording, s shot.Session) app.UI {
	h := s.Head
	now := asToday(h)
	lines := []string{}
	if h.Validate() == nil {
		if change, err := h.Change(now); err == nil {
			lines = lookWords(say, h, now, change, change, true)
			lines = lines[:min(2, len(lines))] // of the sleeve, in both readings
		}
	}
	return ui.Card("current", say.w("club.current"),
		ui.P("hint", say.w("club.current-hint")),
		pickSetting(model, say, "current", h, now, func(_ app.Context, t club.Setting) {
			model.Editor.Edit(headEdit, func(s *shot.Session) { s.Head.Current = t })
		}),
		app.Div().ID("current-words").Attr("role", "status").Body(ui.List("plain", lines)),
	)
}
