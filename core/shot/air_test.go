package shot

import (
	"strings"
	"testing"
)

func balls(n int) Session { return Session{Shots: make([]Shot, n)} }

func numbers(s Session) string {
	var b strings.Builder
	for _, x := range s.Shots {
		b.WriteByte(byte('0' + x.Air))
	}
	return b.String()
}

// A change holds from the next ball on, is moved back to where it began, and
// leaves the balls before it as they were.
func TestAirHoldsFromTheNextBall(t *testing.T) {
	s := balls(0)
	s.EditAir(func(a *Air) { a.Wind = 2 })
	if s.Conditions.Wind != 2 || len(s.Airs) != 0 {
		t.Fatalf("before the first ball: %+v, %+v", s.Conditions, s.Airs)
	}
	s.Shots = make([]Shot, 12)
	s.EditAir(func(a *Air) { a.Wind = 6 })
	s.EditAir(func(a *Air) { a.WindFrom = 1 })
	if len(s.Airs) != 1 || s.Airs[0].Wind != 6 || s.Airs[0].WindFrom != 1 || s.Conditions.Wind != 2 || s.AirBegins() != 12 {
		t.Fatalf("two fields of one change: %+v, begins %d", s.Airs, s.AirBegins())
	}
	s.Shots = append(s.Shots, Shot{Air: s.AirNow()})
	if numbers(s) != "0000000000001" || s.AirNumber(s.Shots[3].Air).Wind != 2 {
		t.Errorf("airs %s", numbers(s))
	}
	s.BeginAir(9)
	if numbers(s) != "0000000001111" || s.AirBegins() != 9 {
		t.Errorf("moved back: %s", numbers(s))
	}
	s.BeginAir(11)
	if numbers(s) != "0000000000011" {
		t.Errorf("moved on: %s", numbers(s))
	}
}

// A change that is taken back before a ball was hit in it is none.
func TestAirTypedAndTakenBack(t *testing.T) {
	s := balls(3)
	s.EditAir(func(a *Air) { a.Wind = 5 })
	s.EditAir(func(a *Air) { a.Wind = 0 })
	if len(s.Airs) != 0 {
		t.Errorf("airs %+v", s.Airs)
	}
	v := 280.0
	s.EditAir(func(a *Air) { a.Temperature = &v })
	s.EditAir(func(a *Air) { *a.Temperature = 290 })
	if v != 280 {
		t.Error("a later edit reached an earlier air")
	}
}

// What a file leaves open is as it was typed.
func TestTakeAirs(t *testing.T) {
	s := balls(2)
	height, warm := 300.0, 301.0
	s.Conditions = Conditions{Altitude: &height, Wind: 4, WindFrom: 1}
	if add := s.TakeAirs([]Air{{Temperature: &warm}}); add != 0 || *s.Airs[0].Altitude != 300 || s.Airs[0].Wind != 4 || *s.Airs[0].Temperature != 301 {
		t.Errorf("add %d, airs %+v", add, s.Airs)
	}
	if add := s.TakeAirs([]Air{{Wind: 2}, {}}); add != 1 || s.Airs[1].Wind != 2 || s.Airs[2].Wind != 0 || *s.Airs[2].Temperature != 301 {
		t.Errorf("add %d, airs %+v", add, s.Airs)
	}
}

func TestLaterAirsFromJSON(t *testing.T) {
	s := balls(20)
	aim := []byte(`{"wind_mps": 2, "airs": [{"from_ball": 13, "wind_mps": 6, "wind_from_deg": -90, "altitude_m": 100}], "home_wind_mps": 4, "home_altitude_m": 900}`)
	if err := s.AimFromJSON(aim); err != nil {
		t.Fatal(err)
	}
	if err := s.AirsFromJSON(aim); err != nil {
		t.Fatal(err)
	}
	if numbers(s) != "00000000000011111111" || s.Airs[0].Wind != 6 || s.Aim.Home.Wind != 4 || *s.Aim.Home.Altitude != 900 {
		t.Errorf("%s %+v %+v", numbers(s), s.Airs, s.Aim.Home)
	}
}

func TestAirThatNobodyStandsIn(t *testing.T) {
	for key, text := range map[string]string{
		"wind_mps": `{"wind_mps": 40}`, "altitude_m": `{"altitude_m": 9000}`, "home_wind_mps": `{"home_wind_mps": 40}`, "home_altitude_m": `{"home_altitude_m": 9000}`,
		"airs[0].wind_mps": `{"airs": [{"from_ball": 2, "wind_mps": 40}]}`, "airs[0].from_ball": `{"airs": [{"from_ball": 9}]}`,
	} {
		s := balls(3)
		err := s.AimFromJSON([]byte(text))
		if err == nil {
			err = s.AirsFromJSON([]byte(text))
		}
		if err == nil || !strings.HasPrefix(err.Error(), key+": read ") || !strings.Contains(err.Error(), "expected") {
			t.Errorf("%s: %v", text, err)
		}
	}
}
