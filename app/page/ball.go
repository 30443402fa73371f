package page

import (
	"math"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// airSteps are the sizes of the changes of report.AirChange by key, in SI.
var airSteps = map[string]struct {
	size   float64 // [SI]
	dim    units.Dimension
	digits int
}{
	"head": {10 * units.MPH, units.Speed, 0}, "tail": {10 * units.MPH, units.Speed, 0},
	"right": {10 * units.MPH, units.Speed, 0}, "left": {10 * units.MPH, units.Speed, 0},
}

// airsPart is what other air does to the player's ball.
func airsPart(say wording, r report.Report) app.UI {
	if r.Ball == nil || len(r.Ball.Airs) == 0 {
		return nil
	}
	return later("air", say.w("air.title"), false, func() []app.UI { return airsOf(say, r) })
}

func airsOf(say wording, r report.Report) []app.UI {
	rd := say.r
	t := ui.Table{Caption: say.w("air.title"), Class: "quantities",
		Head: []string{say.w("air.change"), say.quantity(shot.Carry), say.quantity(shot.Offline), say.quantity(shot.Apex)}}
	for _, a := range r.Ball.Airs {
		size := "10\u00a0°C"
		if rd.System.Unit(units.Temperature) == units.UnitF {
			size = "18\u00a0°F" // the same step
		}
		if s, ok := airSteps[a.Key]; ok {
			size = rd.Number(s.size, s.dim, s.digits)
		} else if a.Key == "high" {
			size = rd.Number(1000, units.Height, 0)
		}
		t.Rows = append(t.Rows, []string{say.w("air."+a.Key, size), rd.Difference(a.Carry, units.Length, 0), say.value(shot.Offline, a.Offline), rd.Difference(a.Apex, units.Height, 0)})
	}
	return []app.UI{ui.P("hint", say.w("air.hint", say.value(shot.Carry, r.Ball.Carry))), t.Render()}
}

// reachPart says how far the player is from the best launch within reach.
func reachPart(say wording, r report.Report) app.UI {
	if r.Ball == nil || r.Ball.Reach == nil {
		return nil
	}
	return later("reach", say.w("reach.title"), false, func() []app.UI { return reachOf(say, r) })
}

func reachOf(say wording, r report.Report) []app.UI {
	b := r.Ball.Reach
	rd := say.r
	const flat = 2 * units.Yard
	launch := func(v float64) string { return rd.Number(v, units.Angle, 0) }
	spin := func(v float64) string { return rd.Number(math.Round(v/(50*units.RPM))*50*units.RPM, units.Spin, 0) }
	here := say.w("reach.there", say.value(shot.Carry, flat))
	if b.Short > flat {
		here = say.w("reach.short", say.value(shot.Carry, b.Short))
	}
	return []app.UI{
		ui.P("", say.w("reach.best", launch(b.Launch), spin(b.Spin), say.value(shot.Carry, b.Carry))),
		ui.P("fact", here),
		ui.P("", say.w("reach.flat", launch(b.LaunchLow), spin(b.SpinLow), launch(b.LaunchHigh), spin(b.SpinHigh), say.value(shot.Carry, flat))),
		app.If(!b.Measured, func() app.UI { return ui.P("hint", say.w("reach.guess", say.deg(b.Attack))) }),
		ui.P("hint", say.w("reach.doubt")),
	}
}
