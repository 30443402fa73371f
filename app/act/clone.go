package act

import (
	"maps"
	"slices"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// Clone copies a session so deeply that a change of the copy leaves the
// original alone; undo rests on it. TestClonedSessionSharesNothing fills every
// field there is, so that a new one can't be forgotten here.
func Clone(s shot.Session) shot.Session {
	s.Player.Handicap = copied(s.Player.Handicap)
	s.Aim.ApexLow = copied(s.Aim.ApexLow)
	s.Aim.Reaim = copied(s.Aim.Reaim)
	s.Aim.ApexHigh = copied(s.Aim.ApexHigh)
	s.Aim.CarryMin = copied(s.Aim.CarryMin)
	s.Aim.Holes = slices.Clone(s.Aim.Holes)
	if h := s.Aim.Home; h != nil {
		s.Aim.Home = &shot.Home{Altitude: copied(h.Altitude), Wind: h.Wind}
	}
	s.Airs = slices.Clone(s.Airs)
	for i := range s.Airs {
		a := &s.Airs[i]
		a.Temperature, a.Pressure = copied(a.Temperature), copied(a.Pressure)
		a.Humidity, a.Altitude = copied(a.Humidity), copied(a.Altitude)
	}
	s.Bench = maps.Clone(s.Bench)
	if s.Adopted != nil {
		d := *s.Adopted
		d.Setting = cloneSetting(d.Setting)
		s.Adopted = &d
	}
	c := &s.Conditions
	c.Temperature, c.Pressure = copied(c.Temperature), copied(c.Pressure)
	c.Humidity, c.Altitude = copied(c.Humidity), copied(c.Altitude)
	s.Head = cloneHead(s.Head)
	s.Clubs = slices.Clone(s.Clubs)
	for i := range s.Clubs {
		s.Clubs[i] = cloneHead(s.Clubs[i])
	}
	s.Shots = slices.Clone(s.Shots)
	for i := range s.Shots {
		h := &s.Shots[i]
		h.Setting = cloneSetting(h.Setting)
		h.Values = maps.Clone(h.Values)
		h.Assumed = slices.Clone(h.Assumed)
	}
	return s
}

func cloneHead(h club.Head) club.Head {
	h.MeasuredLoft = copied(h.MeasuredLoft)
	h.Sleeve.Rings = slices.Clone(h.Sleeve.Rings)
	h.Sleeve.Labels = slices.Clone(h.Sleeve.Labels)
	h.Sleeve.Table = slices.Clone(h.Sleeve.Table)
	h.Weights = slices.Clone(h.Weights)
	for i := range h.Weights {
		h.Weights[i].Stops = slices.Clone(h.Weights[i].Stops)
	}
	h.Exclude = slices.Clone(h.Exclude)
	for i := range h.Exclude {
		h.Exclude[i] = cloneSetting(h.Exclude[i])
	}
	h.Current = cloneSetting(h.Current)
	return h
}

func cloneSetting(s club.Setting) club.Setting {
	s.Weights = slices.Clone(s.Weights)
	return s
}

func copied(p *float64) *float64 {
	if p == nil {
		return nil
	}
	v := *p
	return &v
}
