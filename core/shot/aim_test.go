package shot

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/frame"
)

func TestAimFromJSON(t *testing.T) {
	var s Session
	err := s.AimFromJSON([]byte(`{"hand":"left","trouble":"right","fairway_yd":32,"hole_yd":400,"apex_ft":[80,95],"carry_min_yd":210,"temperature_c":25}`))
	if err != nil {
		t.Fatal(err)
	}
	near := func(name string, got, want float64) {
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("%s = %v, want %v", name, got, want)
		}
	}
	if s.Player.Hand != frame.Left || s.Aim.Trouble != frame.SideRight {
		t.Errorf("hand %q, trouble %q", s.Player.Hand, s.Aim.Trouble)
	}
	near("fairway", s.Aim.FairwayWidth, 29.2608)
	near("hole", s.Aim.HoleLength, 365.76)
	near("apex low", *s.Aim.ApexLow, 24.384)
	near("carry", *s.Aim.CarryMin, 192.024)
	near("temperature", *s.Conditions.Temperature, 298.15)
}

// TestAimReadsHolesAndShares: what a person may demand of a share of drives,
// and the holes of their own course.
func TestAimReadsHolesAndShares(t *testing.T) {
	var s Session
	err := s.AimFromJSON([]byte(`{"apex_ft":[80,95],"apex_p_min":0.6,"carry_min_yd":210,"carry_p_min":0.8,"holes":[
		{"name":"3","hole_yd":410,"fairway_yd":28,"trouble":"left","trouble_at_yd":30,"trouble_kind":"out","weight":2},
		{"name":"7","hole_yd":380,"bend_at_yd":230,"bend_deg":-20}]}`))
	if err != nil {
		t.Fatal(err)
	}
	if s.Aim.ApexPMin != .6 || s.Aim.CarryPMin != .8 || len(s.Aim.Holes) != 2 {
		t.Fatalf("apex %g, carry %g, %d holes", s.Aim.ApexPMin, s.Aim.CarryPMin, len(s.Aim.Holes))
	}
	a, b := s.Aim.Holes[0], s.Aim.Holes[1]
	near := func(got, want float64) bool { return math.Abs(got-want) < 1e-9 }
	if a.Name != "3" || a.Trouble != frame.SideLeft || a.TroubleKind != "out" || a.Weight != 2 ||
		!near(a.Length, 410*.9144) || !near(a.FairwayWidth, 28*.9144) || !near(a.TroubleAt, 30*.9144) {
		t.Errorf("first hole %+v", a)
	}
	if b.Trouble != "" || !near(b.BendAt, 230*.9144) || !near(b.Bend, -20*math.Pi/180) {
		t.Errorf("second hole %+v", b)
	}
}

func TestAimErrorsSayTheKey(t *testing.T) {
	for text, want := range map[string]string{
		`{"hand":"both"}`: "hand", `{"apex_ft":[95,80]}`: "apex_ft", `{"hole_yd":-4}`: "hole_yd",
		`{"farway_yd":30}`: "farway_yd", `[`: "aim file", `{"handicap":99}`: "handicap",
		`{"apex_p_min":0.5}`: "apex_ft", `{"carry_p_min":0.5}`: "carry_min_yd", `{"carry_min_yd":200,"carry_p_min":80}`: "carry_p_min",
		`{"holes":[{},{"trouble":"water"}]}`: "holes[1].trouble", `{"holes":[{"bend_deg":200}]}`: "holes[0].bend_deg",
	} {
		var s Session
		if err := s.AimFromJSON([]byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: error %v, want one naming %s", text, err, want)
		}
	}
}

func TestKeysNameQuantityAndUnit(t *testing.T) {
	for q, want := range map[Quantity]string{BallSpeed: "ball_speed_mps", Launch: "launch_rad", Spin: "spin_radps", Carry: "carry_m", FlightTime: "time_s", Smash: "smash"} {
		if got := q.Key(); got != want {
			t.Errorf("%s.Key() = %s, want %s", q, got, want)
		}
	}
	for _, k := range Kinds {
		if _, ok := KindOf(k.Quantity); !ok {
			t.Errorf("%s has no kind", k.Quantity)
		}
	}
}

// A number beyond anything is refused by its key before it is taken.
func TestAnAimOfABillionIsRefusedByItsKey(t *testing.T) {
	for key, value := range map[string]string{"apex_ft": "[80, 1e12]", "hole_yd": "1e12", "trouble_at_yd": "1e12", "least_gain": "1e12", "balls_left": "1000000000", "wind_mps": "1e12", "home_wind_mps": "1e12"} {
		var s Session
		if err := s.AimFromJSON([]byte(`{"` + key + `": ` + value + `}`)); err == nil || !strings.HasPrefix(err.Error(), key+": read") {
			t.Errorf("%s of %s: %v", key, value, err)
		}
	}
}
