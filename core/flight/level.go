package flight

import (
	"ferrule/core/air"
	"ferrule/core/units"
)

// Measured is what a device saw of a flight; nil = not measured.
type Measured struct {
	Carry   *float64 // [m] straight distance to the landing place
	Offline *float64 // [m] right of the target line
	Apex    *float64 // [m]
}

// Level brings a measured flight from the air it was hit in to another: carry
// and apex are multiplied by what the model says of the two airs for this
// launch, offline is moved by the difference. What the model gets wrong of the
// ball in both airs alike cancels. The raw values are the caller's to keep.
// The error is that of Fly.
func Level(l Launch, m Measured, from, to Env) (Measured, error) {
	a, err := Fly(l, from)
	if err != nil {
		return Measured{}, err
	}
	b, err := Fly(l, to)
	if err != nil {
		return Measured{}, err
	}
	var out Measured
	times := func(v *float64, was, is float64) *float64 {
		if v == nil || was < 1 {
			return v // a topped ball knows no air
		}
		x := *v * is / was
		return &x
	}
	out.Carry, out.Apex = times(m.Carry, a.Distance(), b.Distance()), times(m.Apex, a.Apex, b.Apex)
	if m.Offline != nil {
		x := *m.Offline + b.Offline - a.Offline
		out.Offline = &x
	}
	return out, nil
}

// AirChange is what other air does to one ball, against its flight in still air.
type AirChange struct {
	Key     string  // see Elsewhere
	Carry   float64 // [m] along the line
	Offline float64 // [m] right +
	Apex    float64 // [m]
	Total   float64 // [m]
}

// The steps of Elsewhere.
const (
	breeze  = 10 * units.MPH // [m/s] at 10 m
	warmer  = 10.0           // [K]
	uphill  = 1000.0         // [m]
	quarter = 90 * units.Degree
)

// Elsewhere is what a wind of 10 mph ("head", "tail", "right" and
// "left": from there),
// 10 degrees ("warm", "cold") and 1000 m more altitude ("high") do to launch l,
// each alone, against still air of the same state. The error is that of Fly.
func Elsewhere(l Launch, e Env) ([]AirChange, error) {
	e = e.filled()
	e.Air.Wind = 0
	base, err := Fly(l, e)
	if err != nil {
		return nil, err
	}
	var out []AirChange
	for _, c := range []struct {
		key  string
		edit func(*air.Air)
	}{
		{"head", func(a *air.Air) { a.Wind, a.WindFrom = breeze, 0 }},
		{"tail", func(a *air.Air) { a.Wind, a.WindFrom = breeze, 2*quarter }},
		{"right", func(a *air.Air) { a.Wind, a.WindFrom = breeze, quarter }},
		{"left", func(a *air.Air) { a.Wind, a.WindFrom = breeze, -quarter }},
		{"warm", func(a *air.Air) { a.Temperature += warmer }},
		{"cold", func(a *air.Air) { a.Temperature -= warmer }},
		{"high", func(a *air.Air) { a.Pressure = air.AtAltitude(air.AltitudeOf(a.Pressure) + uphill) }},
	} {
		f := e
		c.edit(&f.Air)
		g, err := Fly(l, f)
		if err != nil {
			continue // beyond where people play: that step has no answer
		}
		out = append(out, AirChange{c.key, g.Carry - base.Carry, g.Offline - base.Offline, g.Apex - base.Apex, g.Total - base.Total})
	}
	return out, nil
}
