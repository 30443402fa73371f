package page

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// whatIf is the launch that the sliders hold.
type whatIf struct {
	set   int // setting that the sliders started from, plus one; 0 = not started
	start wire.Launch
	now   wire.Launch
}

// launchOf is the typical launch of a setting; ok is false where the report
// does not give enough of it.
func launchOf(s report.Setting) (l wire.Launch, ok bool) {
	need := 0
	for _, p := range []struct {
		q  shot.Quantity
		to *float64
	}{{shot.BallSpeed, &l.Speed}, {shot.Launch, &l.Angle}, {shot.Spin, &l.Spin}} {
		if a, has := s.Of(p.q); has {
			*p.to = a.Value.Mean
			need++
		}
	}
	if a, has := s.Of(shot.LaunchDirection); has {
		l.Direction = a.Value.Mean
	}
	if a, has := s.Of(shot.SpinAxis); has {
		l.Axis = a.Value.Mean
	}
	return l, need == 3
}

// sliders let the person move the launch and see the flight move with it.
func (c *Choose) sliders(s act.State, r report.Report) app.UI {
	base, ok := launchOf(r.Settings[r.Choice.Setting])
	if !ok {
		return nil
	}
	if c.what.set != r.Choice.Setting+1 || c.what.start != base {
		c.what = whatIf{set: r.Choice.Setting + 1, start: base, now: base}
	}
	rd := c.reader()
	one := func(id, key string, dim units.Dimension, span, step float64, of func(*wire.Launch) *float64, digits int) app.UI {
		u := rd.System.Unit(dim)
		mid := u.From(*of(&c.what.start))
		at := u.From(*of(&c.what.now))
		lo, hi := math.Floor((mid-span)/step)*step, math.Ceil((mid+span)/step)*step
		words := rd.Number(*of(&c.what.now), dim, digits)
		if dim == units.Spin {
			words = rd.Number(tens(*of(&c.what.now)), dim, digits)
		}
		if id == "if-direction" || id == "if-axis" {
			words = rd.Number(math.Abs(*of(&c.what.now)), dim, digits)
			if a := *of(&c.what.now); math.Abs(a) > 0.05*units.Degree {
				words += " " + c.wording().sideLetter(a)
			}
		} else {
			lo = math.Max(lo, 0)
		}
		return &ui.Slider{ID: id, Label: c.w(key), Value: math.Round(at/step) * step, Min: lo, Max: hi, Step: step, Words: words,
			Moved: func(ctx app.Context, v float64) {
				*of(&c.what.now) = u.SI(v)
				c.m.WhatIf.Fly([]wire.Launch{c.what.start, c.what.now})
			}}
	}
	speedSpan := 15.0
	if rd.System == units.MetricMPS {
		speedSpan = 7
	}
	return app.Div().Class("part").Body(
		ui.P("hint", c.w("if.hint")),
		one("if-speed", "quantity.ball_speed", units.Speed, speedSpan, 1, func(l *wire.Launch) *float64 { return &l.Speed }, 0),
		one("if-launch", "quantity.launch", units.Angle, 6, 0.5, func(l *wire.Launch) *float64 { return &l.Angle }, 1),
		one("if-spin", "quantity.spin", units.Spin, 1500, 50, func(l *wire.Launch) *float64 { return &l.Spin }, 0),
		one("if-direction", "quantity.launch_direction", units.Angle, 6, 0.5, func(l *wire.Launch) *float64 { return &l.Direction }, 1),
		one("if-axis", "quantity.spin_axis", units.Angle, 20, 1, func(l *wire.Launch) *float64 { return &l.Axis }, 0),
		flownTable(c.wording(), s),
		ui.Button("if-reset", "quiet", c.w("if.reset"), func(app.Context) {
			c.what.now = c.what.start
			c.m.WhatIf.Fly([]wire.Launch{c.what.start, c.what.now})
		}),
	)
}

// flownTable shows the flights that the worker flew for the sliders.
func flownTable(say wording, s act.State) app.UI {
	f := s.Flights
	switch {
	case f.Phase == act.Failed:
		return ui.Alert("if-error", say.w("if.failed", say.err(f.Error)))
	case len(f.Flights) < 2:
		return ui.P("hint", say.w("if.move"))
	}
	was, now := f.Flights[0], f.Flights[1]
	labels := []string{say.w("if.was"), say.w("if.now")}
	pseudo := report.Report{Settings: []report.Setting{
		{Setting: club.Setting{Sleeve: labels[0]}, Path: was.Path, Tested: true},
		{Setting: club.Setting{Sleeve: labels[1]}, Path: now.Path, Tested: true},
	}, Reference: -1}
	st := styleOf(say, "if")
	d := chart.Flown(pseudo, 0, 1, st)
	t := ui.Table{Caption: say.w("if.table"), Head: append([]string{say.w("choose.quantity")}, labels...), Class: "quantities", ID: "if", Words: explainedNames(say)}
	add := func(q shot.Quantity, a, b float64) {
		t.Rows = append(t.Rows, []string{say.quantity(q), say.value(q, a), say.value(q, b)})
	}
	add(shot.Carry, was.Carry, now.Carry)
	add(shot.Total, was.Total, now.Total)
	add(shot.Offline, was.Offline, now.Offline)
	add(shot.Apex, was.Apex, now.Apex)
	add(shot.Descent, was.Descent, now.Descent)
	add(shot.FlightTime, was.Time, now.Time)
	return app.Div().Body(
		app.P().ID("if-said").Class("fact").Attr("role", "status").Text(movedSaid(say, was, now)),
		app.Div().Class("drawing").Body(app.Raw(d.SVG)),
		t.Render(),
		ui.P("hint", say.w("if.run", say.value(shot.Total, now.RunDoubt))),
	)
}

// movedSaid says how the moved flight differs from the one at the start.
func movedSaid(say wording, was, now wire.Flight) string {
	far, side := now.Carry-was.Carry, now.Offline-was.Offline
	if math.Abs(far) < 0.25 && math.Abs(side) < 0.25 {
		return say.w("if.same")
	}
	word, turn := say.w("compare.farther"), say.w("side.right")
	if far < 0 {
		word = say.w("compare.shorter")
	}
	if side < 0 {
		turn = say.w("side.left")
	}
	return say.w("if.said", say.num(math.Abs(far), units.Length), word, say.num(math.Abs(side), units.Length), turn)
}

// flights are the typical flights of both settings, from above and from the
// side; a tap has them fly once.
func (c *Choose) flights(r report.Report, id string) app.UI {
	st := styleOf(c.wording(), id)
	d := c.once(id, shownOf(c.st().Answer.Value, st), func() chart.Drawing { return chart.Flown(r, r.Reference, r.Answer.Other, st) })
	return app.Figure().ID(id).Class("chart").Body(
		app.Div().Class("drawing fly").OnClick(func(ctx app.Context, _ app.Event) { play(ctx, id) }, app.EventScope(id)).Body(app.Raw(d.SVG)),
		ui.Drawn(d.Summary),
		ui.Button(id+"-play", "quiet", c.w("chart.flown.play"), func(ctx app.Context) { play(ctx, id) }))
}

// play has what can move in a drawing move once, unless the person wants no
// motion.
func play(ctx app.Context, id string) {
	onceDrawn(ctx, id, func(el app.Value) {
		if app.Window().Call("matchMedia", "(prefers-reduced-motion: reduce)").Get("matches").Bool() {
			return
		}
		for all, i := el.Call("querySelectorAll", "animateMotion"), 0; i < all.Length(); i++ {
			all.Index(i).Call("beginElement")
		}
	})
}
