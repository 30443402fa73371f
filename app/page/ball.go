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

// airs is what other air does to the player's ball.
func (c *Choose) airs(r report.Report) app.UI {
	if r.Ball == nil || len(r.Ball.Airs) == 0 {
		return nil
	}
	return later("air", c.w("air.title"), false, func() []app.UI { return c.airsOf(r) })
}

func (c *Choose) airsOf(r report.Report) []app.UI {
	rd := c.reader()
	t := ui.Table{Caption: c.w("air.title"), Class: "quantities",
		Head: []string{c.w("air.change"), c.quantity(shot.Carry), c.quantity(shot.Offline), c.quantity(shot.Apex)}}
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
		t.Rows = append(t.Rows, []string{c.w("air."+a.Key, size), rd.Difference(a.Carry, units.Length, 0), c.value(shot.Offline, a.Offline), rd.Difference(a.Apex, units.Height, 0)})
	}
	return []app.UI{ui.P("hint", c.w("air.hint", c.value(shot.Carry, r.Ball.Carry))), t.Render()}
}

// reach says how far the player is from the best launch within reach.
func (c *Choose) reach(r report.Report) app.UI {
	if r.Ball == nil || r.Ball.Reach == nil {
		return nil
	}
	return later("reach", c.w("reach.title"), false, func() []app.UI { return c.reachOf(r) })
}

func (c *Choose) reachOf(r report.Report) []app.UI {
	b := r.Ball.Reach
	rd := c.reader()
	const flat = 2 * units.Yard
	launch := func(v float64) string { return rd.Number(v, units.Angle, 0) }
	spin := func(v float64) string { return rd.Number(math.Round(v/(50*units.RPM))*50*units.RPM, units.Spin, 0) }
	here := c.w("reach.there", c.value(shot.Carry, flat))
	if b.Short > flat {
		here = c.w("reach.short", c.value(shot.Carry, b.Short))
	}
	return []app.UI{
		ui.P("", c.w("reach.best", launch(b.Launch), spin(b.Spin), c.value(shot.Carry, b.Carry))),
		ui.P("fact", here),
		ui.P("", c.w("reach.flat", launch(b.LaunchLow), spin(b.SpinLow), launch(b.LaunchHigh), spin(b.SpinHigh), c.value(shot.Carry, flat))),
		app.If(!b.Measured, func() app.UI { return ui.P("hint", c.w("reach.guess", c.deg(b.Attack))) }),
		ui.P("hint", c.w("reach.doubt")),
	}
}
