package shot

import (
	"maps"
	"math"
	"slices"
)

// Air is the air that some balls flew in. nil is not stated: 20 degC, half
// humid, the pressure of the altitude, sea level.
type Air struct {
	Temperature *float64 `si:"0 1000"`   // [K]
	Pressure    *float64 `si:"0 1e6"`    // [Pa] at the place; wins over Altitude
	Humidity    *float64 `si:"0 100"`    // [1] 0..1
	Altitude    *float64 `si:"-1e4 1e4"` // [m]
	Wind        float64  `si:"0 200"`    // [m/s] at 10 m, 0 = still, or nobody said
	WindFrom    float64  `si:"-100 100"` // [rad] 0 = head wind, +90 deg = from the right
}

// Home is the air of the course that the answer is for.
type Home struct {
	Altitude *float64 `si:"-1e4 1e4"` // [m] nil = that of the session
	Wind     float64  `si:"0 200"`    // [m/s] the usual wind, from all sides alike
}

// Air is the air of the first balls.
func (c Conditions) Air() Air {
	return Air{c.Temperature, c.Pressure, c.Humidity, c.Altitude, c.Wind, c.WindFrom}
}

// SetAir puts the air of the first balls.
func (c *Conditions) SetAir(a Air) {
	c.Temperature, c.Pressure, c.Humidity, c.Altitude, c.Wind, c.WindFrom = a.Temperature, a.Pressure, a.Humidity, a.Altitude, a.Wind, a.WindFrom
}

// AirNumber returns the k-th air of a session, 0 the first; a number that is
// none is the first's.
func (s Session) AirNumber(k int) Air {
	if k < 1 || k > len(s.Airs) {
		return s.Conditions.Air()
	}
	return s.Airs[k-1]
}

// AirNow is the number of the air in which the next ball is hit: the last.
func (s Session) AirNow() int { return len(s.Airs) }

func (s Session) flown(k int) bool {
	return slices.ContainsFunc(s.Shots, func(x Shot) bool { return x.Air == k })
}

// EditAir changes the air from the next ball on: balls that were hit keep
// theirs. Until a ball was hit in it, a change alters the same air again; one
// that comes to what it was before is no change.
func (s *Session) EditAir(edit func(*Air)) {
	now := s.AirNow()
	a := s.AirNumber(now).clone()
	edit(&a)
	switch {
	case !s.flown(now) && now > 0 && a.Equal(s.AirNumber(now-1)):
		s.Airs = s.Airs[:now-1]
	case !s.flown(now):
		s.SetAir(now, a)
	case !a.Equal(s.AirNumber(now)):
		s.Airs = append(s.Airs, a)
	}
}

// SetAir puts the k-th air of a session, 0 the first, in place of what was typed.
func (s *Session) SetAir(k int, a Air) {
	switch {
	case k == 0:
		s.Conditions.SetAir(a)
	case k > 0 && k <= len(s.Airs):
		s.Airs[k-1] = a
	}
}

// AirBegins says with which ball (its place in Shots) the last air begins, the
// number of balls when none was hit in it yet.
func (s Session) AirBegins() int {
	for i, x := range s.Shots {
		if x.Air == s.AirNow() && s.AirNow() > 0 {
			return i
		}
	}
	if s.AirNow() == 0 {
		return 0
	}
	return len(s.Shots)
}

// BeginAir moves the beginning of the last air to the ball at place i: that
// ball and all after it have it, those before it keep or get the one before.
func (s *Session) BeginAir(i int) {
	now := s.AirNow()
	for j := range s.Shots {
		switch x := &s.Shots[j]; {
		case j >= i:
			x.Air = now
		case x.Air == now:
			x.Air = max(0, now-1)
		}
	}
}

// Equal reports whether two airs say the same.
func (a Air) Equal(b Air) bool {
	same := func(p, q *float64) bool { return (p == nil) == (q == nil) && (p == nil || *p == *q) }
	return same(a.Temperature, b.Temperature) && same(a.Pressure, b.Pressure) && same(a.Humidity, b.Humidity) && same(a.Altitude, b.Altitude) &&
		a.Wind == b.Wind && a.WindFrom == b.WindFrom
}

// TakeAirs adds the airs of a file and returns what to add to the numbers that
// its balls have: number 0, of which the file says nothing, is the air typed
// last. What the file leaves open is as it was typed last; a wind it leaves open if it
// names none at all.
func (s *Session) TakeAirs(airs []Air) (add int) {
	add = s.AirNow()
	typed, windy := s.AirNumber(add), false
	for _, a := range airs {
		windy = windy || a.Wind != 0
	}
	for _, a := range airs {
		if !windy {
			a.Wind, a.WindFrom = typed.Wind, typed.WindFrom
		}
		if a.Altitude == nil && a.Pressure == nil {
			a.Altitude, a.Pressure = typed.Altitude, typed.Pressure
		}
		if a.Temperature == nil {
			a.Temperature = typed.Temperature
		}
		if a.Humidity == nil {
			a.Humidity = typed.Humidity
		}
		s.Airs = append(s.Airs, a.clone())
	}
	return add
}

func (a Air) clone() Air {
	for _, p := range []**float64{&a.Temperature, &a.Pressure, &a.Humidity, &a.Altitude} {
		if *p != nil {
			v := **p
			*p = &v
		}
	}
	return a
}

// Parts is the wind of a as a head wind (+ against the ball) and a cross wind
// (+ blowing to the right) [m/s].
func (a Air) Parts() (head, cross float64) {
	s, c := math.Sincos(a.WindFrom)
	return a.Wind * c, -a.Wind * s
}

// Stated are the conditions that the answer is for: the still air of the first
// balls, at the altitude of the home course where one is named. Its usual wind,
// from all sides, is Aim.Home's.
func (s Session) Stated() Conditions {
	c := s.Conditions
	c.Wind, c.WindFrom = 0, 0
	if h := s.Aim.Home; h != nil && h.Altitude != nil {
		c.Altitude, c.Pressure = h.Altitude, nil
	}
	return c
}

// WithoutDrift are the values of a ball with what the wind did to its side
// taken away [m]: the curve that is left is its own.
func (v Values) WithoutDrift(drift float64) Values {
	if drift == 0 {
		return v
	}
	out := make(Values, len(v))
	maps.Copy(out, v)
	for _, q := range []Quantity{Offline, OfflineTotal, Curve} {
		if x, ok := out[q]; ok {
			out[q] = x - drift
		}
	}
	return out
}

// Eighth is a direction [rad] as the nearest of the eight that have a name
// [deg], -135 to 180.
func Eighth(from float64) int {
	d := int(math.Round(from*180/math.Pi/45)) * 45 % 360
	switch {
	case d > 180:
		d -= 360
	case d <= -180:
		d += 360
	}
	return d
}
