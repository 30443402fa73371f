package page

import (
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/air"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// airEdit is one undo step of the air.
var airEdit = act.Change{Key: "edit.air"}

// airNumber is a number of the air that holds from the next ball on.
func airNumber(model *act.Model, say wording, id, label, hold string, dim units.Dimension, digits int, lo, hi float64, of func(*shot.Air) *float64, set func(*shot.Air, *float64)) app.UI {
	return numberField(model, say, numeric{id: id, label: label, hold: hold, edit: "edit.air", dim: dim, digits: digits, lo: lo, hi: hi,
		get: func(s shot.Session) *float64 { a := s.AirNumber(s.AirNow()); return of(&a) },
		set: func(s *shot.Session, v *float64) { s.EditAir(func(a *shot.Air) { set(a, v) }) }})
}

// windPart are speed and direction of the wind that the next ball is hit in.
func windPart(model *act.Model, say wording, s shot.Session) app.UI {
	from := int(math.Round(s.AirNumber(s.AirNow()).WindFrom/units.Degree/45)) * 45
	if from == -180 {
		from = 180
	}
	dirs := []ui.Option{}
	for _, d := range windFrom {
		dirs = append(dirs, ui.Option{Value: strconv.Itoa(d), Label: say.w("wind." + strconv.Itoa(d))})
	}
	return ui.Row("pair",
		airNumber(model, say, "wind", say.w("club.wind"), "0", units.Speed, -1, 0, atMost(say, air.MaxWind, units.Speed),
			func(a *shot.Air) *float64 { return optional(a.Wind) }, func(a *shot.Air, v *float64) { a.Wind = orZero(v) }),
		&ui.Pick{ID: "wind-from", Label: say.w("club.wind-from"), Value: strconv.Itoa(from), Options: dirs,
			Picked: func(_ app.Context, v string) {
				d, _ := strconv.Atoi(v)
				model.Editor.Edit(airEdit, func(s *shot.Session) { s.EditAir(func(a *shot.Air) { a.WindFrom = float64(d) * units.Degree }) })
			}},
	)
}

// atMost is a limit in the reader's unit, rounded down.
func atMost(say wording, v float64, d units.Dimension) float64 {
	return math.Floor(say.r.System.Unit(d).From(v))
}

// airLater says from which ball on the air above holds, once balls were hit in
// another one.
func airLater(model *act.Model, say wording, s shot.Session) app.UI {
	last := float64(len(s.Shots) + 1)
	return numberField(model, say, numeric{id: "air-from", label: say.w("club.air-from"), hint: say.w("club.air-from-hint"), edit: "edit.air", dim: units.None, digits: 0, lo: 1, hi: last,
		get: func(s shot.Session) *float64 { v := float64(s.AirBegins() + 1); return &v },
		set: func(s *shot.Session, v *float64) {
			if v != nil {
				s.BeginAir(int(*v) - 1)
			}
		}})
}

// homeAir chooses the air that the answer is for.
func homeAir(model *act.Model, say wording, s shot.Session) app.UI {
	at := "still"
	if s.Aim.Home != nil {
		at = "home"
	}
	edit := func(f func(h *shot.Home)) func(*shot.Session) {
		return func(s *shot.Session) {
			if s.Aim.Home == nil {
				s.Aim.Home = &shot.Home{}
			}
			f(s.Aim.Home)
		}
	}
	return app.Div().Body(
		&ui.Choice{ID: "answer-air", Label: say.w("club.answer-air"), Value: at, Hint: say.w("club.answer-air-hint"), Options: []ui.Option{
			{Value: "still", Label: say.w("club.still-air")}, {Value: "home", Label: say.w("club.home-course")}},
			Picked: func(_ app.Context, v string) {
				model.Editor.Edit(aimEdit, func(s *shot.Session) {
					s.Aim.Home = nil
					if v == "home" {
						s.Aim.Home = &shot.Home{}
					}
				})
			}},
		app.If(s.Aim.Home != nil, func() app.UI {
			return ui.Row("pair",
				numberField(model, say, numeric{id: "home-altitude", label: say.w("club.altitude"), edit: "edit.aim", dim: units.Height, digits: 0, lo: -atMost(say, -air.MinAltitude, units.Height), hi: atMost(say, air.MaxAltitude, units.Height),
					get: func(s shot.Session) *float64 {
						if s.Aim.Home == nil {
							return nil
						}
						return s.Aim.Home.Altitude
					},
					set: func(s *shot.Session, v *float64) { edit(func(h *shot.Home) { h.Altitude = v })(s) }}),
				numberField(model, say, numeric{id: "home-wind", label: say.w("club.home-wind"), hold: "0", edit: "edit.aim", dim: units.Speed, digits: -1, lo: 0, hi: atMost(say, air.MaxWind, units.Speed),
					get: func(s shot.Session) *float64 {
						if s.Aim.Home == nil {
							return nil
						}
						return optional(s.Aim.Home.Wind)
					},
					set: func(s *shot.Session, v *float64) { edit(func(h *shot.Home) { h.Wind = orZero(v) })(s) }}),
			)
		}),
	)
}

// windsSaid are the winds that the balls say other than was typed, each with a
// button that takes it.
func windsSaid(model *act.Model, say wording, r report.Report) app.UI {
	said := []app.UI{}
	if r.Air != nil {
		for _, x := range r.Air.Blocks {
			if !x.Differs {
				continue
			}
			kind := "note"
			if x.Against {
				kind = "alert"
			}
			said = append(said, app.Div().Class(kind).Body(
				ui.P("", say.msg(x.Text)),
				ui.Button("take-wind-"+strconv.Itoa(x.First), "", say.w("air.take"), func(app.Context) { model.Balls.TakeWind(x.Number, x.Said.Speed, x.Said.From) }),
			))
		}
	}
	return app.Div().Class("winds").Body(said...)
}

// airTable shows the averages of each setting as measured and in the air of the
// answer, side by side.
func (c *Compare) airTable(r report.Report) app.UI {
	if r.Air == nil {
		return nil
	}
	t := ui.Table{Caption: c.w("air.table"), Class: "quantities", Head: []string{c.w("compare.setting"), c.w("compare.balls")}}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
		t.Head = append(t.Head, c.w("air.measured", c.wording().quantity(q)), c.w("air.brought", c.wording().quantity(q)))
	}
	for _, m := range r.Air.Means {
		t.Rows = append(t.Rows, []string{c.wording().setting(r.Settings[m.Setting].Setting), strconv.Itoa(m.Balls), c.wording().value(shot.Carry, m.Seen.Carry), c.wording().value(shot.Carry, m.Brought.Carry),
			c.wording().value(shot.Offline, m.Seen.Offline), c.wording().value(shot.Offline, m.Brought.Offline)})
	}
	return moreLater("air-table", c.w("air.table"), func() []app.UI { return []app.UI{t.Render(), ui.P("hint", c.wording().msg(r.Air.For))} })
}

// driftOf is what the wind did to the side of a ball of the session [m].
func driftOf(r *report.Report, id string) float64 {
	if r == nil {
		return 0
	}
	for _, row := range r.Shots {
		if row.ID == id {
			return row.Drift
		}
	}
	return 0
}
