package main

import (
	"fmt"
	"io"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/units"
)

// flyOptions are what `ferrule fly` does with each launch.
type flyOptions struct {
	json   bool
	whatIf bool // other air, and launch advice
	level  bool // bring measured carry, offline and apex to standard still air
	model  flight.Model
}

// moreJSON are the keys that -what-if and -level add.
type moreJSON struct {
	Airs  []airJSON  `json:"airs,omitempty"`
	Reach *reachJSON `json:"reach,omitempty"`
	Level *levelJSON `json:"level,omitempty"`
}

type airJSON struct {
	Air     string  `json:"air"`
	Carry   float64 `json:"carry_m"`
	Offline float64 `json:"offline_m"`
	Apex    float64 `json:"apex_m"`
	Total   float64 `json:"total_m"`
}

type reachJSON struct {
	Launch   float64 `json:"launch_rad"`
	Spin     float64 `json:"spin_radps"`
	SpinLoft float64 `json:"spin_loft_rad"`
	Carry    float64 `json:"carry_m"`
	Short    float64 `json:"short_m"`
	Low      float64 `json:"launch_low_rad"`
	High     float64 `json:"launch_high_rad"`
}

// levelJSON holds both, as measured and as levelled.
type levelJSON struct {
	Raw      flightJSON `json:"raw"`
	Standard flightJSON `json:"standard"`
}

type flightJSON struct {
	Carry   *float64 `json:"carry_m,omitempty"`
	Offline *float64 `json:"offline_m,omitempty"`
	Apex    *float64 `json:"apex_m,omitempty"`
}

// airWords name the changes of flight.Elsewhere.
var airWords = map[string]string{"head": "10 mph head wind", "tail": "10 mph tail wind", "right": "10 mph from the right", "left": "10 mph from the left",
	"warm": "10 degC warmer", "cold": "10 degC colder", "high": "1000 m higher"}

// more answers the options beyond the flight itself; attack nil = not known.
func more(l flight.Launch, e flight.Env, seen flight.Measured, attack *float64, o flyOptions) (m moreJSON, err error) {
	if o.whatIf {
		list, err := flight.Elsewhere(l, e)
		if err != nil {
			return m, err
		}
		for _, c := range list {
			m.Airs = append(m.Airs, airJSON{c.Key, c.Carry, c.Offline, c.Apex, c.Total})
		}
		still := e
		still.Air.Wind = 0
		if r, err := impact.AdviseFor(l, impact.Known{Attack: attack}, impact.DefaultParams(club.Head{}), still); err == nil {
			m.Reach = &reachJSON{r.Best.Angle, r.Best.Spin, r.SpinLoft, r.Carry, r.Short, r.Low.Angle, r.High.Angle}
		}
	}
	if o.level {
		v, err := flight.Level(l, seen, e, flight.Env{Model: e.Model})
		if err != nil {
			return m, err
		}
		m.Level = &levelJSON{flightJSON(seen), flightJSON(v)}
	}
	return m, nil
}

// print writes them for people.
func (m moreJSON) print(w io.Writer) {
	for _, c := range m.Airs {
		fmt.Fprintf(w, "  %-22s carry %+.1f yd, offline %+.1f yd, apex %+.1f ft, total %+.1f yd\n", airWords[c.Air], c.Carry/units.Yard, c.Offline/units.Yard, c.Apex/units.Foot, c.Total/units.Yard)
	}
	if r := m.Reach; r != nil {
		fmt.Fprintf(w, "  best within reach      launch %.1f deg, spin %.0f rpm (spin loft %.1f deg): carry %.1f yd, this ball %.1f yd less; within 2 yd from %.1f to %.1f deg\n",
			r.Launch/units.Degree, r.Spin/units.RPM, r.SpinLoft/units.Degree, r.Carry/units.Yard, r.Short/units.Yard, r.Low/units.Degree, r.High/units.Degree)
	}
	if v := m.Level; v != nil {
		show := func(name string, raw, is *float64, unit units.Unit) {
			if raw != nil {
				fmt.Fprintf(w, "  %s as measured %.1f %s, in standard still air %.1f %s\n", name, unit.From(*raw), unit.Symbol, unit.From(*is), unit.Symbol)
			}
		}
		show("carry", v.Raw.Carry, v.Standard.Carry, units.UnitYd)
		show("offline", v.Raw.Offline, v.Standard.Offline, units.UnitYd)
		show("apex", v.Raw.Apex, v.Standard.Apex, units.UnitFt)
	}
}
