package page

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/air"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Club asks what is adjusted and what is wanted of it.
type Club struct {
	base
	look    *club.Setting // that is drawn, nil = as it is set today
	rulings club.Setting  // the rule of leaving out that is being made
	refused string        // why it cannot be made
	asked   bool          // the pasted table may be meant in two ways
	telling bool          // how the sleeve turns is being described
}

// OnInit names the page.
func (c *Club) OnInit() { c.base.OnInit(); c.name = "club" }

// Render draws the page.
func (c *Club) Render() app.UI {
	c.name = "club"
	s := c.st()
	if s.Session == nil {
		return c.frame(c.w("club.lead"), noSession(c.m, c.wording()))
	}
	return c.frame("",
		app.Div().Class("columns").Body(
			app.Div().Class("club-want").Body(playerCard(c.m, c.wording(), *s.Session),
				c.part(func() app.UI { return aimCard(c.m, c.wording(), *s.Session) }),
				c.part(func() app.UI { return airCard(c.m, c.wording(), *s.Session) })),
			app.Div().Class("club-head").Body(
				c.part(func() app.UI { return c.clubs(*s.Session) }),
				c.part(func() app.UI { return headCard(c.m, c.wording(), *s.Session) }),
				c.part(func() app.UI { return c.sleeve(s.Session.Head) }),
				c.part(func() app.UI { return c.weights(s.Session.Head) })),
			app.Div().Class("club-today").Body(
				c.part(func() app.UI { return todayCard(c.m, c.wording(), *s.Session) }),
				c.part(func() app.UI { return c.limits(*s.Session) }),
				c.part(func() app.UI {
					return ui.Caution(c.w("caution.adjust"), c.w("caution.adjust-tool"), c.w("caution.adjust-loose"), c.w("caution.adjust-stop"))
				})),
		),
		c.part(func() app.UI { return missingOf(c.wording(), s) }),
		c.next(),
	)
}

var aimEdit = act.Change{Key: "edit.aim"}

func playerCard(model *act.Model, say wording, s shot.Session) app.UI {
	hand := cmp.Or(s.Player.Hand, frame.Right)
	return ui.Card("player", say.w("club.player"),
		&ui.Choice{ID: "hand", Label: say.w("club.hand"), Value: string(hand), Options: []ui.Option{
			{Value: "right", Label: say.w("club.right-handed")}, {Value: "left", Label: say.w("club.left-handed")}},
			Picked: func(_ app.Context, v string) {
				model.Editor.Edit(act.Change{Key: "edit.hand"}, func(s *shot.Session) { s.Player.Hand = frame.Hand(v) })
			}},
		moreLater("player-more", say.w("club.player-more"), func() []app.UI {
			return []app.UI{
				textField(model, "session-title", say.w("club.title"), "", s.Title, act.Change{Key: "edit.title", Quiet: true},
					func(s *shot.Session, v string) { s.Title = v }),
				textField(model, "player-name", say.w("club.name"), say.w("club.name-hint"), s.Player.Name, act.Change{Key: "edit.name", Quiet: true},
					func(s *shot.Session, v string) { s.Player.Name = v }),
				numberField(model, say, numeric{id: "handicap", label: say.w("club.handicap"), hint: say.w("club.handicap-hint"), edit: "edit.player",
					dim: units.None, digits: -1, lo: -10, hi: 54,
					get: func(s shot.Session) *float64 { return s.Player.Handicap },
					set: func(s *shot.Session, v *float64) { s.Player.Handicap = v }}),
			}
		}),
	)
}

// aimCard is what the player wants, in the player's words, written before the
// results are seen.
func aimCard(model *act.Model, say wording, s shot.Session) app.UI {
	goal := cmp.Or(string(s.Aim.Goal), string(shot.GoalStrokes))
	options := []ui.Option{}
	for _, g := range []shot.Goal{shot.GoalStrokes, shot.GoalCarry, shot.GoalFairways, shot.GoalHeight} {
		options = append(options, ui.Option{Value: string(g), Label: say.w("goal." + string(g))})
	}
	return ui.Card("aim", say.w("club.aim"),
		&ui.Choice{ID: "goal", Label: say.w("club.goal"), Value: goal, Options: options, Stack: true,
			Picked: func(_ app.Context, v string) {
				model.Editor.Edit(aimEdit, func(s *shot.Session) { s.Aim.Goal = shot.Goal(v) })
			}},
		app.If(goal == string(shot.GoalHeight), func() app.UI { return windowPart(model, say) }),
		&ui.Choice{ID: "trouble", Label: say.w("club.miss"), Value: string(s.Aim.Trouble), Options: []ui.Option{
			{Value: "left", Label: say.w("side.left")}, {Value: "", Label: say.w("club.neither")}, {Value: "right", Label: say.w("side.right")}},
			Picked: func(_ app.Context, v string) {
				model.Editor.Edit(aimEdit, func(s *shot.Session) { s.Aim.Trouble = frame.Side(v) })
			}},
		app.If(s.Aim.Trouble != "", func() app.UI { return troublePart(model, say, s) }),
		aimMover(model, say, s),
		moreLater("aim-more", say.w("club.aim-more"), func() []app.UI {
			return []app.UI{
				numberField(model, say, numeric{id: "carry-min", label: say.w("club.carry-min"), hold: say.w("club.none"), edit: "edit.aim", dim: units.Length, digits: -1, lo: 20, hi: 400,
					get: func(s shot.Session) *float64 { return s.Aim.CarryMin },
					set: func(s *shot.Session, v *float64) { s.Aim.CarryMin = v }}),
				homeAir(model, say, s),
				aimNumber(model, say, "fairway", "club.fairway", units.Length, 32*units.Yard, 5, 150, func(a *shot.Aim) *float64 { return &a.FairwayWidth }),
				aimNumber(model, say, "hole", "club.hole", units.Length, 400*units.Yard, 150, 700, func(a *shot.Aim) *float64 { return &a.HoleLength }),
				aimNumber(model, say, "drives", "club.drives", units.None, 14, 1, 36, func(a *shot.Aim) *float64 { return &a.BallsPerRound }),
				app.If(goal != string(shot.GoalHeight), func() app.UI { return windowPart(model, say) }),
				numberField(model, say, numeric{id: "balls-left", label: say.w("club.balls-left"), hint: say.w("club.balls-left-hint"), edit: "edit.aim", dim: units.None, digits: 0, lo: 0, hi: 300,
					get: func(s shot.Session) *float64 { return optional(float64(max(0, s.Aim.BallsLeft))) },
					set: func(s *shot.Session, v *float64) { s.Aim.BallsLeft = int(math.Round(orZero(v))) }}),
				numberField(model, say, numeric{id: "minutes-left", label: say.w("club.minutes-left"), edit: "edit.aim", dim: units.None, digits: 0, lo: 0, hi: 600,
					get: func(s shot.Session) *float64 { return optional(s.Aim.MinutesLeft) },
					set: func(s *shot.Session, v *float64) { s.Aim.MinutesLeft = orZero(v) }}),
			}
		}),
		holesPart(model, say, s),
	)
}

// aimMover asks, with a picture, how far the player moves the aim: it decides
// what a setting that only moves the pattern is worth.
func aimMover(model *act.Model, say wording, s shot.Session) app.UI {
	value := "half"
	switch v := s.Aim.Share(); {
	case v < .25:
		value = "none"
	case v > .75:
		value = "all"
	}
	share := map[string]float64{"none": 0, "half": .5, "all": 1}
	options := []ui.Option{}
	for _, v := range []string{"none", "half", "all"} {
		options = append(options, ui.Option{Value: v, Label: say.w("aim." + v)})
	}
	return app.Div().ID("move-aim").Class("part").Body(
		&ui.Choice{ID: "reaim", Label: say.w("aim.ask"), Value: value, Options: options, Stack: true, Picked: func(_ app.Context, v string) {
			model.Editor.Edit(aimEdit, func(s *shot.Session) { at := share[v]; s.Aim.Reaim, s.Aim.Fixed = &at, v == "none" })
		}},
		app.Figure().Class("chart").Body(app.Div().Class("drawing").Body(app.Raw(chart.Aims(share[value], s.Aim.Trouble, styleOf(say, "aims"))))),
		app.P().ID("aim-set").Class("hint").Text(aimWasSet(say, s)),
	)
}

// aimWasSet says when what is wanted was set, and how many balls were seen by then.
func aimWasSet(say wording, s shot.Session) string {
	said := []string{}
	if s.Aim.Seen > 0 {
		said = append(said, say.w("aim.seen", strconv.Itoa(s.Aim.Seen)))
	}
	if s.Aim.SetAt > 0 {
		said = append(said, say.w("aim.on", when(s.Aim.SetAt)))
	}
	if len(said) == 0 && len(s.Shots) > 0 {
		said = append(said, say.w("aim.late"))
	}
	return strings.Join(said, " ")
}

// aimNumber is a field of the aim whose zero means the documented default,
// which stands in the empty field. lo and hi are in yards, or plain.
func aimNumber(model *act.Model, say wording, id, key string, dim units.Dimension, usual, lo, hi float64, of func(*shot.Aim) *float64) app.UI {
	r := say.r
	if dim == units.Length {
		u := r.System.Unit(dim)
		lo, hi = math.Floor(u.From(lo*units.Yard)), math.Ceil(u.From(hi*units.Yard))
	}
	return numberField(model, say, numeric{id: id, label: say.w(key), hold: r.Plain(usual, dim, 0), edit: "edit.aim", dim: dim, digits: -1, lo: lo, hi: hi,
		get: func(s shot.Session) *float64 { return optional(*of(&s.Aim)) },
		set: func(s *shot.Session, v *float64) { *of(&s.Aim) = orZero(v) }})
}

func windowPart(model *act.Model, say wording) app.UI {
	lo, hi := 5.0, 300.0
	if say.r.System != units.Imperial && say.r.System != "" {
		lo, hi = 2, 90
	}
	return ui.Row("pair",
		numberField(model, say, numeric{id: "apex-low", word: "window", label: say.w("club.apex-low"), hold: say.w("club.none"), edit: "edit.aim", dim: units.Height, digits: -1, lo: lo, hi: hi,
			get: func(s shot.Session) *float64 { return s.Aim.ApexLow },
			set: func(s *shot.Session, v *float64) { s.Aim.ApexLow = v }}),
		numberField(model, say, numeric{id: "apex-high", label: say.w("club.apex-high"), hold: say.w("club.none"), edit: "edit.aim", dim: units.Height, digits: -1, lo: lo, hi: hi,
			get: func(s shot.Session) *float64 { return s.Aim.ApexHigh },
			set: func(s *shot.Session, v *float64) { s.Aim.ApexHigh = v }}),
	)
}

func troublePart(model *act.Model, say wording, s shot.Session) app.UI {
	kind := cmp.Or(s.Aim.TroubleKind, "penalty")
	at := cmp.Or(s.Aim.TroubleAt, troubleAt)
	title := say.w("club.trouble-is", say.w("trouble."+kind), say.r.Number(at, units.Length, 0))
	return moreLater("trouble-more", title, func() []app.UI {
		return []app.UI{aimNumber(model, say, "trouble-at", "club.trouble-at", units.Length, troubleAt, 3, 100, func(a *shot.Aim) *float64 { return &a.TroubleAt }),
			&ui.Choice{ID: "trouble-kind", Label: say.w("club.trouble-kind"), Value: kind, Options: []ui.Option{
				{Value: "penalty", Label: say.w("trouble.penalty")}, {Value: "out", Label: say.w("trouble.out")}, {Value: "trees", Label: say.w("trouble.trees")}},
				Picked: func(_ app.Context, v string) {
					model.Editor.Edit(aimEdit, func(s *shot.Session) { s.Aim.TroubleKind = v })
				}},
			numberField(model, say, numeric{id: "trouble-p", label: say.w("club.trouble-p"), hint: say.w("club.trouble-p-hint"), hold: say.w("club.none"), edit: "edit.aim", dim: units.None, digits: -1, lo: 1, hi: 90,
				get: func(s shot.Session) *float64 { return optional(100 * s.Aim.TroublePMax) },
				set: func(s *shot.Session, v *float64) { s.Aim.TroublePMax = orZero(v) / 100 }})}
	})
}

// troubleAt is where trouble begins when nothing was said. [m]
const troubleAt = 25 * units.Yard

// windFrom are the eight directions offered, in degrees from a head wind to
// the right.
var windFrom = []int{0, 45, 90, 135, 180, -135, -90, -45}

func airCard(model *act.Model, say wording, s shot.Session) app.UI {
	where := "out"
	if s.Conditions.Indoors {
		where = "in"
	}
	firm := "0"
	switch f := s.Conditions.Firmness; {
	case f < -0.25:
		firm = "-1"
	case f > 0.25:
		firm = "1"
	}
	r := say.r
	imperial := r.System == units.Imperial || r.System == ""
	lim := func(a, b, x, y float64) (float64, float64) {
		if imperial {
			return a, b
		}
		return x, y
	}
	tlo, thi := lim(0, 120, -18, 50)
	state := []string{say.w("club.outdoors")}
	if s.Conditions.Indoors {
		state[0] = say.w("club.indoors")
	}
	now := s.AirNumber(s.AirNow())
	if now.Temperature != nil {
		state = append(state, r.Number(*now.Temperature, units.Temperature, 0))
	}
	if now.Wind > 0 && !s.Conditions.Indoors {
		state = append(state, say.w("club.wind")+" "+r.Number(now.Wind, units.Speed, 0))
	}
	return later("air", say.w("club.air")+": "+strings.Join(state, ", "), false, func() []app.UI {
		return []app.UI{
			&ui.Choice{ID: "where", Label: say.w("club.where"), Value: where, Options: []ui.Option{
				{Value: "out", Label: say.w("club.outdoors")}, {Value: "in", Label: say.w("club.indoors")}}, Hint: say.w("club.where-hint"),
				Picked: func(_ app.Context, v string) {
					model.Editor.Edit(airEdit, func(s *shot.Session) { s.Conditions.Indoors = v == "in" })
				}},
			ui.Row("pair",
				airNumber(model, say, "temperature", say.w("club.temperature"), r.Plain(293.15, units.Temperature, 0), units.Temperature, 0, tlo, thi,
					func(a *shot.Air) *float64 { return a.Temperature }, func(a *shot.Air, v *float64) { a.Temperature = v }),
				airNumber(model, say, "altitude", say.w("club.altitude"), "0", units.Height, 0, -atMost(say, -air.MinAltitude, units.Height), atMost(say, air.MaxAltitude, units.Height),
					func(a *shot.Air) *float64 { return a.Altitude }, func(a *shot.Air, v *float64) { a.Altitude = v }),
			),
			app.If(!s.Conditions.Indoors, func() app.UI { return windPart(model, say, s) }),
			app.If(len(s.Airs) > 0, func() app.UI { return airLater(model, say, s) }),
			app.If(len(s.Airs) == 0 && len(s.Shots) > 0, func() app.UI { return ui.P("hint", say.w("club.air-next")) }),
			&ui.Choice{ID: "firmness", Label: say.w("club.firmness"), Value: firm, Options: []ui.Option{
				{Value: "-1", Label: say.w("firm.soft")}, {Value: "0", Label: say.w("firm.average")}, {Value: "1", Label: say.w("firm.firm")}},
				Picked: func(_ app.Context, v string) {
					f, _ := strconv.ParseFloat(v, 64)
					model.Editor.Edit(airEdit, func(s *shot.Session) { s.Conditions.Firmness = f })
				}},
			textField(model, "ball", say.w("club.ball"), say.w("club.ball-hint"), s.Ball, act.Change{Key: "edit.ball"},
				func(s *shot.Session, v string) { s.Ball = v }),
		}
	})
}
