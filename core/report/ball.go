package report

// Ball is what the flight model knows of this player's own ball.
type Ball struct {
	// The model that flew it; all 1 is the published one.
	Drag     float64 // [1] scale
	Lift     float64 // [1] scale
	SpinDrag float64 // [1] scale of the share of drag that spin causes
	SpinLift float64 // [1] steeper lift with spin, as a share of the published slope
	Low      float64 // [1] lift lost at low speed, as a share of what published balls lose
	Decay    float64 // [1] of the spin, see flight.Model; 0 in older reports: the published one
	Curve    float64 // [1] scale of the lift to a side

	Carry float64     // [m] of the typical ball at the chosen setting, still air
	Airs  []AirChange // what other air does to it
	Reach *Reach      // nil = its launch fits no delivery
}

// AirChange is what one change of the air does to the player's ball. Key is
// "head", "tail", "right", "left" (10 mph from there), "warm", "cold" (10 degrees), "high" (1000 m).
type AirChange struct {
	Key     string
	Carry   float64 // [m]
	Offline float64 // [m] right +
	Apex    float64 // [m]
}

// Reach is the best launch and spin along what spin loft can reach with the
// player's ball speed and attack.
type Reach struct {
	Launch   float64 // [rad]
	Spin     float64 // [rad/s]
	Carry    float64 // [m] with them
	Short    float64 // [m] what the player's ball falls short of it
	Attack   float64 // [rad]
	Measured bool    // the attack was measured, not taken for an average

	// Between these launches (and their spins) no more than 2 yd are lost.
	LaunchLow, LaunchHigh float64 // [rad]
	SpinLow, SpinHigh     float64 // [rad/s]
}

// Level is a ball in one air.
type Level struct {
	Carry   float64 // [m]
	Offline float64 // [m] right +
	Apex    float64 // [m]
	Descent float64 // [rad] down +, 0 = not measured
}

// AsMeasured is the report with its balls where they were measured to come down,
// to be drawn: of settings, whose estimates are for the answer's air, it holds none.
func (r Report) AsMeasured() Report {
	r.Shots, r.Settings = append([]ShotRow(nil), r.Shots...), append([]Setting(nil), r.Settings...)
	for i := range r.Shots {
		if s := &r.Shots[i]; s.Seen != nil {
			s.Carry, s.Offline, s.Apex = s.Seen.Carry, s.Seen.Offline, s.Seen.Apex
		}
	}
	for i := range r.Settings {
		s := &r.Settings[i]
		s.Ellipse, s.Raw, s.Quantities, s.Path = Ellipse{}, nil, nil, nil
	}
	return r
}

// Air is what the answer says of the air: which it is for, and what the balls
// were hit in.
type Air struct {
	For         Message // names it
	Home        bool    // the home course's; false = still air at the place of the session
	Temperature float64 // [K]
	Altitude    float64 // [m]
	Wind        float64 // [m/s] usual, from all sides
	Blocks      []AirBlock
	Means       []Means // of each setting that was hit
}

// Means are the averages of a setting's counted balls, as measured and in the
// air that the answer is for.
type Means struct {
	Setting int // index in Report.Settings
	Balls   int
	Seen    Level
	Brought Level
}

// AirMean averages the counted balls of setting j.
func AirMean(rows []ShotRow, j int) Means {
	m := Means{Setting: j}
	for _, r := range rows {
		if r.Setting != j || r.Status != Counted || !r.Known {
			continue
		}
		m.Balls++
		brought := Level{Carry: r.Carry, Offline: r.Offline, Apex: r.Apex}
		seen := brought
		if r.Seen != nil {
			seen = *r.Seen
		}
		for to, x := range map[*Level]Level{&m.Seen: seen, &m.Brought: brought} {
			n := float64(m.Balls)
			to.Carry, to.Offline, to.Apex = to.Carry+(x.Carry-to.Carry)/n, to.Offline+(x.Offline-to.Offline)/n, to.Apex+(x.Apex-to.Apex)/n
		}
	}
	return m
}

// AirBlock is a stretch of balls that have one air.
type AirBlock struct {
	Number      int // of the air: shot.Shot.Air
	First, Last int // balls, from 1
	Typed       Wind
	Said        Wind     // what the balls say, with Typed as the belief before
	Head, Cross Interval // [m/s] of Said
	Balls       int      // flights that it rests on, 0 = nothing could be told
	Differs     bool     // the balls say another wind than was typed, or than none
	Against     bool     // a wind was typed that cannot explain where they landed
	Text        Message  // what the balls say, in words; empty key = nothing
}

// Wind is a wind at 10 m.
type Wind struct {
	Speed float64 // [m/s]
	From  float64 // [rad] 0 = head wind, +90 deg = from the right
}
