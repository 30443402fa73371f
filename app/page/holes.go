package page

import (
	"cmp"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// mostHoles is how many own holes can be described: the driving holes of two
// courses and more.
const mostHoles = 60

// holesPart are the player's own driving holes: the setting is then judged on
// these, and no longer on the one hole described above.
func holesPart(model *act.Model, say wording, s shot.Session) app.UI {
	rows := []app.UI{}
	for i, h := range s.Aim.Holes {
		rows = append(rows, holePart(model, say, i, h))
	}
	summary := say.w("holes.title")
	if n := len(s.Aim.Holes); n > 0 {
		summary = say.w("holes.some", strconv.Itoa(n))
	}
	return moreLater("holes", summary, func() []app.UI {
		return []app.UI{
			ui.P("hint", say.w("holes.hint")),
			app.Div().Class("part").Body(rows...),
			ui.ButtonOff("add-hole", "", say.w("holes.add"), len(s.Aim.Holes) >= mostHoles, say.w("holes.most", strconv.Itoa(mostHoles)), func(app.Context) {
				model.Editor.Edit(aimEdit, func(s *shot.Session) {
					h := shot.Hole{}
					if n := len(s.Aim.Holes); n > 0 { // most holes of a course are alike
						h = s.Aim.Holes[n-1]
						h.Name = ""
					}
					s.Aim.Holes = append(s.Aim.Holes, h)
				})
			}),
		}
	})
}

// holePart is one of them.
func holePart(model *act.Model, say wording, i int, h shot.Hole) app.UI {
	id, n := "hole"+strconv.Itoa(i+1), strconv.Itoa(i+1)
	r := say.r
	number := func(key, word string, usual, lo, hi float64, of func(*shot.Hole) *float64) app.UI {
		u := r.System.Unit(units.Length)
		return numberField(model, say, numeric{id: id + key, label: say.w(word), hold: r.Plain(usual*units.Yard, units.Length, 0), edit: "edit.aim", dim: units.Length, digits: -1,
			lo: float64(int(u.From(lo * units.Yard))), hi: float64(int(u.From(hi*units.Yard)) + 1),
			get: func(s shot.Session) *float64 {
				if i >= len(s.Aim.Holes) {
					return nil
				}
				return optional(*of(&s.Aim.Holes[i]))
			},
			set: func(s *shot.Session, v *float64) {
				if i < len(s.Aim.Holes) {
					*of(&s.Aim.Holes[i]) = orZero(v)
				}
			}})
	}
	name := cmp.Or(h.Name, n)
	return app.Div().Class("inset").Attr("role", "group").Attr("aria-label", say.w("holes.one", name)).Body(
		ui.Row("hole-head",
			textField(model, id+"-name", say.w("holes.name", n), "", h.Name, act.Change{Key: "edit.aim"}, func(s *shot.Session, v string) {
				if i < len(s.Aim.Holes) {
					s.Aim.Holes[i].Name = v
				}
			}),
			ui.Icon(id+"-remove", "", "×", say.w("holes.remove", name), false, func(app.Context) {
				model.Editor.Edit(act.Change{Key: "edit.aim"}, func(s *shot.Session) {
					if i < len(s.Aim.Holes) {
						s.Aim.Holes = append(s.Aim.Holes[:i:i], s.Aim.Holes[i+1:]...)
					}
				})
				model.Notices.Tell("notice.removed", true)
			}),
		),
		ui.Row("pair",
			number("-length", "club.hole", 400, 150, 700, func(h *shot.Hole) *float64 { return &h.Length }),
			number("-wide", "club.fairway", 32, 5, 150, func(h *shot.Hole) *float64 { return &h.FairwayWidth }),
		),
		&ui.Choice{ID: id + "-miss", Label: say.w("club.miss"), Value: string(h.Trouble), Options: []ui.Option{
			{Value: "left", Label: say.w("side.left")}, {Value: "", Label: say.w("club.neither")}, {Value: "right", Label: say.w("side.right")}},
			Picked: func(_ app.Context, v string) {
				model.Editor.Edit(aimEdit, func(s *shot.Session) {
					if i < len(s.Aim.Holes) {
						s.Aim.Holes[i].Trouble = frame.Side(v)
					}
				})
			}},
		app.If(h.Trouble != "", func() app.UI {
			return number("-at", "club.trouble-at", 25, 3, 100, func(h *shot.Hole) *float64 { return &h.TroubleAt })
		}),
	)
}
