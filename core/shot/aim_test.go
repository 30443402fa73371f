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

func TestAimErrorsSayTheKey(t *testing.T) {
	for text, want := range map[string]string{
		`{"hand":"both"}`: "hand", `{"apex_ft":[95,80]}`: "apex_ft", `{"hole_yd":-4}`: "hole_yd",
		`{"farway_yd":30}`: "farway_yd", `[`: "aim file", `{"handicap":99}`: "handicap",
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
