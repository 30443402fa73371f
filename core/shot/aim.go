package shot

import (
	"bytes"
	"encoding/json"
	"fmt"
	"sort"
	"strings"

	"ferrule/core/air"
	"ferrule/core/frame"
	"ferrule/core/units"
)

// aimFile is AIM.json: what is wanted, who hits and the air, each optional.
// Keys name quantity and unit; a key ending in _p_max or _p_min is a share of
// drives, 0 to 1.
type aimFile struct {
	Hand          string     `json:"hand"`
	Name          string     `json:"name"`
	Handicap      *float64   `json:"handicap"`
	Goal          string     `json:"goal"`
	Trouble       string     `json:"trouble"`
	TroubleAtYd   float64    `json:"trouble_at_yd"`
	TroublePMax   float64    `json:"trouble_p_max"`
	TroubleKind   string     `json:"trouble_kind"`
	AimLine       string     `json:"aim_line"`   // free: where the balls cost least; middle: always there
	AimShare      *float64   `json:"aim_share"`  // how far towards where the balls cost least, 0 to 1; instead of aim_line
	Least         float64    `json:"least_gain"` // what a change must be worth, in the goal's unit: strokes a round, yards, fairways or balls of 20
	FairwayYd     float64    `json:"fairway_yd"`
	HoleYd        float64    `json:"hole_yd"`
	ApexFt        []float64  `json:"apex_ft"`
	ApexPMin      float64    `json:"apex_p_min"` // 0 = the window is shown, not demanded
	CarryMinYd    *float64   `json:"carry_min_yd"`
	CarryPMin     float64    `json:"carry_p_min"` // 0 = one half
	Holes         []holeFile `json:"holes"`       // the player's own; empty = the one above
	BallsPerRound float64    `json:"drives_per_round"`
	BallsLeft     int        `json:"balls_left"`
	MinutesLeft   float64    `json:"minutes_left"`
	Ball          string     `json:"ball"`
	TemperatureC  *float64   `json:"temperature_c"`
	PressureHPa   *float64   `json:"pressure_hpa"`
	HumidityPct   *float64   `json:"humidity_pct"`
	AltitudeM     *float64   `json:"altitude_m"`
	WindMPS       float64    `json:"wind_mps"`
	WindFromDeg   float64    `json:"wind_from_deg"`
	Indoors       bool       `json:"indoors"`
	Firmness      float64    `json:"firmness"`
	Airs          []airFile  `json:"airs"`            // later airs, each from one of the balls on
	HomeAltitudeM *float64   `json:"home_altitude_m"` // the answer is for this air; neither = still air
	HomeWindMPS   float64    `json:"home_wind_mps"`   // usual, from all sides
}

// airFile is a later air in AIM.json; what is left out is as not stated.
type airFile struct {
	FromBall     int      `json:"from_ball"` // 1 is the first
	TemperatureC *float64 `json:"temperature_c"`
	PressureHPa  *float64 `json:"pressure_hpa"`
	HumidityPct  *float64 `json:"humidity_pct"`
	AltitudeM    *float64 `json:"altitude_m"`
	WindMPS      float64  `json:"wind_mps"`
	WindFromDeg  float64  `json:"wind_from_deg"`
}

// air checks and converts; at stands before the keys in an error.
func (f airFile) air(at string) (Air, error) {
	for _, check := range []error{
		within(at+"wind_mps", f.WindMPS, 0, air.MaxWind), within(at+"wind_from_deg", f.WindFromDeg, -360, 360),
		withinPtr(at+"temperature_c", f.TemperatureC, -30, 60), withinPtr(at+"pressure_hpa", f.PressureHPa, 500, 1100),
		withinPtr(at+"humidity_pct", f.HumidityPct, 0, 100), withinPtr(at+"altitude_m", f.AltitudeM, air.MinAltitude, air.MaxAltitude),
	} {
		if check != nil {
			return Air{}, check
		}
	}
	a := Air{Temperature: scaled(f.TemperatureC, units.UnitC), Pressure: scaled(f.PressureHPa, units.UnitHPa), Altitude: f.AltitudeM,
		Wind: f.WindMPS, WindFrom: f.WindFromDeg * units.Degree}
	if f.HumidityPct != nil {
		h := *f.HumidityPct / 100
		a.Humidity = &h
	}
	return a, nil
}

// AirsFromJSON gives the session the later airs of AIM.json, each from its ball
// on: the shots are there by now.
func (s *Session) AirsFromJSON(data []byte) error {
	var a aimFile
	if err := json.Unmarshal(data, &a); err != nil {
		return err
	}
	for i, f := range a.Airs {
		at := fmt.Sprintf("airs[%d].", i)
		later, err := f.air(at)
		if err != nil {
			return err
		}
		if f.FromBall < 1 || f.FromBall > len(s.Shots)+1 {
			return fmt.Errorf("%sfrom_ball: read %d, expected 1 to %d", at, f.FromBall, len(s.Shots)+1)
		}
		s.Airs = append(s.Airs, later)
		s.BeginAir(f.FromBall - 1)
	}
	return nil
}

// home is the air that the answer is for.
func (a aimFile) home() *Home {
	if a.HomeAltitudeM == nil && a.HomeWindMPS == 0 {
		return nil
	}
	return &Home{Altitude: a.HomeAltitudeM, Wind: a.HomeWindMPS}
}

// holeFile is one of the player's own driving holes in AIM.json; what is left
// out is as usual.
type holeFile struct {
	Name        string  `json:"name"`
	HoleYd      float64 `json:"hole_yd"`
	FairwayYd   float64 `json:"fairway_yd"`
	Trouble     string  `json:"trouble"`
	TroubleAtYd float64 `json:"trouble_at_yd"` // from the middle of the fairway
	TroubleKind string  `json:"trouble_kind"`
	BendAtYd    float64 `json:"bend_at_yd"` // where a dogleg turns, 0 = straight
	BendDeg     float64 `json:"bend_deg"`   // how far, right positive
	Weight      float64 `json:"weight"`     // how often it is played, 0 = once
}

// maxHoles is how many own holes are read.
const maxHoles = 60

// hole checks and converts the i-th of the player's holes.
func (f holeFile) hole(i int) (Hole, error) {
	at := fmt.Sprintf("holes[%d].", i)
	for _, check := range []error{
		oneOf(at+"trouble", f.Trouble, "", "none", "neither", "right", "left"),
		oneOf(at+"trouble_kind", f.TroubleKind, "", "penalty", "out", "trees"),
		within(at+"hole_yd", f.HoleYd, 0, 700), within(at+"fairway_yd", f.FairwayYd, 0, 150),
		within(at+"trouble_at_yd", f.TroubleAtYd, 0, 150), within(at+"bend_at_yd", f.BendAtYd, 0, 500),
		within(at+"bend_deg", f.BendDeg, -120, 120), within(at+"weight", f.Weight, 0, 1000),
	} {
		if check != nil {
			return Hole{}, check
		}
	}
	h := Hole{Name: f.Name, Length: f.HoleYd * units.Yard, FairwayWidth: f.FairwayYd * units.Yard, TroubleAt: f.TroubleAtYd * units.Yard,
		TroubleKind: strings.ToLower(f.TroubleKind), BendAt: f.BendAtYd * units.Yard, Bend: f.BendDeg * units.Degree, Weight: f.Weight}
	h.Trouble = sideOf(f.Trouble)
	return h, nil
}

// sideOf is the side that a word of AIM.json names; none and neither are no side.
func sideOf(word string) frame.Side {
	switch w := frame.Side(strings.ToLower(word)); w {
	case frame.SideRight, frame.SideLeft:
		return w
	}
	return ""
}

// AimFromJSON reads AIM.json into the session's player, aim, conditions and
// ball; AirsFromJSON reads its later airs. Unknown keys are an error, so that a misspelt wish is not lost; each
// error names the key, what was read and what is expected.
func (s *Session) AimFromJSON(data []byte) error {
	var a aimFile
	dec := json.NewDecoder(bytes.NewReader(data))
	dec.DisallowUnknownFields()
	if err := dec.Decode(&a); err != nil {
		return fmt.Errorf("the aim file can't be read: %w; expected keys such as \"hand\", \"trouble\", \"fairway_yd\", \"hole_yd\", \"apex_ft\", \"carry_min_yd\"", err)
	}
	for _, check := range []error{
		oneOf("hand", a.Hand, "", "right", "left"),
		oneOf("trouble", a.Trouble, "", "none", "neither", "right", "left"),
		oneOf("goal", a.Goal, "", string(GoalStrokes), string(GoalCarry), string(GoalFairways), string(GoalHeight)),
		oneOf("aim_line", a.AimLine, "", "free", "middle"),
		oneOf("trouble_kind", a.TroubleKind, "", "penalty", "out", "trees"),
		within("fairway_yd", a.FairwayYd, 0, 150), within("hole_yd", a.HoleYd, 0, 700),
		within("trouble_at_yd", a.TroubleAtYd, 0, 150), within("trouble_p_max", a.TroublePMax, 0, 1),
		within("apex_p_min", a.ApexPMin, 0, .99), within("carry_p_min", a.CarryPMin, 0, .99),
		within("firmness", a.Firmness, -1, 1), within("home_wind_mps", a.HomeWindMPS, 0, air.MaxWind),
		withinPtr("aim_share", a.AimShare, 0, 1), within("least_gain", a.Least, 0, 50),
		withinPtr("carry_min_yd", a.CarryMinYd, 0, 400), withinPtr("handicap", a.Handicap, -10, 54),
		within("drives_per_round", a.BallsPerRound, 0, mostDrives), within("minutes_left", a.MinutesLeft, 0, 1e4), within("balls_left", float64(a.BallsLeft), 0, 1e4),
		withinPtr("home_altitude_m", a.HomeAltitudeM, air.MinAltitude, air.MaxAltitude),
	} {
		if check != nil {
			return check
		}
	}
	first, err := airFile{0, a.TemperatureC, a.PressureHPa, a.HumidityPct, a.AltitudeM, a.WindMPS, a.WindFromDeg}.air("")
	if err != nil {
		return err
	}
	if n := len(a.ApexFt); n != 0 && (n != 2 || a.ApexFt[0] >= a.ApexFt[1] || a.ApexFt[0] < 0 || a.ApexFt[1] > 500) {
		return fmt.Errorf("apex_ft: read %v, expected two heights in feet up to 500, low then high, such as [80, 95]", a.ApexFt)
	}
	switch {
	case a.ApexPMin > 0 && len(a.ApexFt) == 0:
		return fmt.Errorf("apex_p_min: read %g without a window, expected \"apex_ft\" beside it, such as [80, 95]", a.ApexPMin)
	case a.CarryPMin > 0 && a.CarryMinYd == nil:
		return fmt.Errorf("carry_p_min: read %g without a carry, expected \"carry_min_yd\" beside it", a.CarryPMin)
	case len(a.Holes) > maxHoles:
		return fmt.Errorf("holes: read %d, expected at most %d", len(a.Holes), maxHoles)
	}
	var holes []Hole
	for i, f := range a.Holes {
		h, err := f.hole(i)
		if err != nil {
			return err
		}
		holes = append(holes, h)
	}
	if a.Hand != "" {
		s.Player.Hand = frame.Hand(a.Hand)
	}
	s.Player.Name, s.Player.Handicap = a.Name, a.Handicap
	s.Ball = a.Ball
	s.Aim = Aim{
		Goal: Goal(a.Goal), TroubleAt: a.TroubleAtYd * units.Yard, TroublePMax: a.TroublePMax, TroubleKind: a.TroubleKind,
		FairwayWidth: a.FairwayYd * units.Yard, HoleLength: a.HoleYd * units.Yard,
		CarryMin: scaled(a.CarryMinYd, units.UnitYd), BallsPerRound: a.BallsPerRound, BallsLeft: a.BallsLeft, MinutesLeft: a.MinutesLeft,
		Fixed: strings.EqualFold(a.AimLine, "middle"),
		Reaim: a.AimShare, Least: a.Least,
		CarryPMin: a.CarryPMin, ApexPMin: a.ApexPMin, Holes: holes, Trouble: sideOf(a.Trouble),
	}
	if s.Aim.Goal == GoalCarry {
		s.Aim.Least *= units.Yard
	}
	if len(a.ApexFt) == 2 {
		lo, hi := a.ApexFt[0]*units.Foot, a.ApexFt[1]*units.Foot
		s.Aim.ApexLow, s.Aim.ApexHigh = &lo, &hi
	}
	s.Aim.Home = a.home()
	s.Conditions = Conditions{Indoors: a.Indoors, Firmness: a.Firmness}
	s.Conditions.SetAir(first)
	return nil
}

func scaled(v *float64, u units.Unit) *float64 {
	if v == nil {
		return nil
	}
	si := u.SI(*v)
	return &si
}

func oneOf(key, got string, allowed ...string) error {
	for _, a := range allowed {
		if strings.EqualFold(got, a) {
			return nil
		}
	}
	words := append([]string(nil), allowed...)
	sort.Strings(words)
	return fmt.Errorf("%s: read %q, expected one of %s", key, got, strings.TrimPrefix(strings.Join(words, ", "), ", "))
}

func within(key string, got, lo, hi float64) error {
	if got >= lo && got <= hi {
		return nil
	}
	return fmt.Errorf("%s: read %g, expected %g to %g", key, got, lo, hi)
}

func withinPtr(key string, got *float64, lo, hi float64) error {
	if got == nil {
		return nil
	}
	return within(key, *got, lo, hi)
}
