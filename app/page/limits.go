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

// limits are the settings that are left out of the comparison: those that the
// club forbids and those that the player will not use.
func (c *Club) limits(s shot.Session) app.UI {
	h := s.Head
	if len(h.Places()) < 2 && len(h.Weights) == 0 {
		return nil
	}
	list := []app.UI{}
	for i, x := range h.Exclude {
		id := "limit" + strconv.Itoa(i+1)
		list = append(list, app.Li().Class("limit").Body(
			app.Span().Text(ruleSaid(c.wording(), h, x)),
			ui.Icon(id+"-remove", "", "×", c.w("limits.remove", ruleSaid(c.wording(), h, x)), false, func(app.Context) {
				c.m.Editor.Edit(act.Change{Key: "edit.limits"}, func(s *shot.Session) {
					if i < len(s.Head.Exclude) {
						s.Head.Exclude = append(s.Head.Exclude[:i:i], s.Head.Exclude[i+1:]...)
					}
				})
				c.m.Notices.Tell("notice.removed", true)
			}),
		))
	}
	return later("limits", c.w("limits.title"), false, func() []app.UI {
		return []app.UI{
			ui.P("hint", c.w("limits.hint")),
			app.If(len(list) > 0, func() app.UI { return app.Ul().Class("limits").Body(list...) }),
			moreLater("limit-more", c.w("limits.add"), func() []app.UI {
				return []app.UI{
					c.rulePicks(h),
					app.If(c.refused != "", func() app.UI { return ui.Alert("limit-error", c.refused) }),
					ui.Button("limit-add", "", c.w("limits.leave-out"), func(app.Context) { c.leaveOut() }),
				}
			}),
			ui.Status("combinations", "hint", c.w("club.combinations", strconv.Itoa(len(h.Settings())))),
		}
	})
}

// ruleSaid says which settings a rule leaves out; an empty label stands for any.
func ruleSaid(say wording, h club.Head, x club.Setting) string {
	parts := []string{}
	if x.Sleeve != "" {
		parts = append(parts, x.Sleeve)
	}
	for i, w := range x.Weights {
		if w != "" && i < len(h.Weights) {
			parts = append(parts, h.Weights[i].Name+" "+w)
		}
	}
	if len(parts) == 1 {
		return say.w("limits.always", parts[0])
	}
	return say.w("limits.together", strings.Join(parts, " + "))
}

// rulePicks is the rule that is being made: one list for the sleeve and one
// for each weight, each with "any".
func (c *Club) rulePicks(h club.Head) app.UI {
	for len(c.rulings.Weights) < len(h.Weights) {
		c.rulings.Weights = append(c.rulings.Weights, "")
	}
	c.rulings.Weights = c.rulings.Weights[:len(h.Weights)]
	pick := func(id, label, value string, all []string, set func(string)) app.UI {
		options := []ui.Option{{Value: "", Label: c.w("limits.any")}}
		known := value == ""
		for _, l := range all {
			known = known || l == value
			options = append(options, ui.Option{Value: l, Label: l})
		}
		if !known {
			set("")
			value = ""
		}
		return &ui.Pick{ID: id, Label: label, Value: value, Options: options, Picked: func(_ app.Context, v string) { c.refused = ""; set(v) }}
	}
	lists := []app.UI{}
	if places := h.Places(); len(places) > 1 {
		labels := []string{}
		for _, p := range places {
			labels = append(labels, p.Label)
		}
		lists = append(lists, pick("limit-sleeve", c.w("club.sleeve"), c.rulings.Sleeve, labels, func(v string) { c.rulings.Sleeve = v }))
	}
	for i, w := range h.Weights {
		labels := []string{}
		for _, st := range w.Stops {
			labels = append(labels, st.Label)
		}
		lists = append(lists, pick("limit-weight"+strconv.Itoa(i+1), w.Name, c.rulings.Weights[i], labels, func(v string) { c.rulings.Weights[i] = v }))
	}
	return ui.Row("pair", lists...)
}

// leaveOut adds the rule, unless it leaves nothing to compare with: then it
// says why and changes nothing.
func (c *Club) leaveOut() {
	s := c.st().Session
	if s == nil {
		return
	}
	x := club.Setting{Sleeve: c.rulings.Sleeve, Weights: append([]string(nil), c.rulings.Weights...)}
	if strings.Join(append([]string{x.Sleeve}, x.Weights...), "") == "" {
		c.refused = c.w("limits.nothing")
		return
	}
	h := act.Clone(*s).Head
	h.Exclude = append(h.Exclude, x)
	switch {
	case s.Head.Validate() == nil && h.Validate() != nil:
		c.refused = c.w("limits.today", c.wording().setting(asToday(s.Head)))
		return
	case len(h.Settings()) == len(s.Head.Settings()):
		c.refused = c.w("limits.already")
		return
	}
	c.m.Editor.Edit(act.Change{Key: "edit.limits"}, func(s *shot.Session) { s.Head.Exclude = append(s.Head.Exclude, x) })
	c.refused, c.rulings = "", club.Setting{}
	c.m.Notices.Tell("notice.left-out", true)
}

// shaftPart is the rest of the club: it gives swing weight and total weight, and
// tells how the length stands to the rules.
func shaftPart(model *act.Model, say wording, s shot.Session) app.UI {
	inch := units.UnitIn
	grams := func(id, key string, lo, hi float64, of func(*club.Shaft) *float64) app.UI {
		return numberField(model, say, numeric{id: id, label: say.w(key), hold: say.w("club.unknown"), edit: "edit.head", dim: units.Mass, digits: -1, lo: lo, hi: hi,
			get: func(s shot.Session) *float64 { return optional(*of(&s.Head.Shaft)) },
			set: func(s *shot.Session, v *float64) { *of(&s.Head.Shaft) = orZero(v) }})
	}
	h := s.Head
	lines := []string{}
	if change, err := h.Change(asToday(h)); err == nil {
		if points, ok := h.SwingWeight(change); ok {
			lines = append(lines, capital(say.w("whole.swing", club.SwingWeightText(points))))
		}
		if mass, ok := h.TotalMass(change); ok {
			lines = append(lines, capital(say.w("whole.weighs", say.num(mass, units.Mass))))
		}
	}
	if rule := h.LengthRule(); rule != "" {
		lines = append(lines, say.w("length."+rule))
	}
	return moreLater("shaft", say.w("whole.title"), func() []app.UI {
		return []app.UI{
			ui.P("hint", say.w("whole.hint")),
			ui.Row("pair",
				numberField(model, say, numeric{id: "length", label: say.w("whole.length"), hold: say.w("club.unknown"), edit: "edit.head", unit: &inch, digits: 2, lo: 30, hi: 50,
					get: func(s shot.Session) *float64 { return optional(s.Head.Shaft.Length) },
					set: func(s *shot.Session, v *float64) { s.Head.Shaft.Length = orZero(v) }}),
				grams("shaft-mass", "whole.mass", 20, 160, func(f *club.Shaft) *float64 { return &f.Mass }),
			),
			ui.Row("pair",
				grams("grip-mass", "whole.grip", 10, 150, func(f *club.Shaft) *float64 { return &f.GripMass }),
				grams("total-mass", "whole.total", 200, 700, func(f *club.Shaft) *float64 { return &f.TotalMass }),
			),
			numberField(model, say, numeric{id: "balance", label: say.w("whole.balance"), hint: say.w("whole.balance-hint"), hold: "48", edit: "edit.head", digits: -1, lo: 30, hi: 70,
				get: func(s shot.Session) *float64 { return optional(100 * s.Head.Shaft.Balance) },
				set: func(s *shot.Session, v *float64) { s.Head.Shaft.Balance = orZero(v) / 100 }}),
			app.Div().Attr("role", "status").Body(ui.List("plain", lines)),
		}
	})
}
