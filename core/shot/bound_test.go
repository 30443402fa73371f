package shot_test

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// huge is a club of a few thousand bytes that makes 12^8 settings.
func huge() club.Head {
	h := club.Example()
	h.Weights = nil
	for i := range 8 {
		w := club.Weight{Name: fmt.Sprint("w", i), Mass: .002}
		for j := range 12 {
			w.Stops = append(w.Stops, club.Stop{Label: fmt.Sprint("s", j), Toe: float64(j) / 1000})
		}
		h.Weights = append(h.Weights, w)
	}
	return h
}

// TestWhatIsTooMuchIsRefusedByItsField hands over what froze a page or took
// a worker's memory, each wrong in one field.
func TestWhatIsTooMuchIsRefusedByItsField(t *testing.T) {
	for field, spoil := range map[string]func(*shot.Session){
		"Head.Weights":              func(s *shot.Session) { s.Head = huge() },
		"Head.Sleeve.Table":         func(s *shot.Session) { s.Head.Sleeve.Table = make([]club.Position, 401) },
		"Head.Sleeve.Labels":        func(s *shot.Session) { s.Head.Sleeve.Labels = make([]string, 72*72+2) },
		"Head.Weights[0].Stops":     func(s *shot.Session) { s.Head.Weights[0].Stops = make([]club.Stop, 401) },
		"Head.Loft":                 func(s *shot.Session) { s.Head.Loft = math.NaN() },
		"Head.Shaft.Mass":           func(s *shot.Session) { s.Head.Shaft.Mass = math.Inf(1) },
		"Shots":                     func(s *shot.Session) { s.Shots = make([]shot.Shot, shot.MaxShots+1) },
		"Shots[1].Note":             func(s *shot.Session) { s.Shots[1].Note = strings.Repeat("x", 20_001) },
		"Shots[0].Setting.Weights":  func(s *shot.Session) { s.Shots[0].Setting.Weights = make([]string, 9) },
		`Shots[0].Values["carry"]`:  func(s *shot.Session) { s.Shots[0].Values[shot.Carry] = math.Inf(-1) },
		"Shots[0].Values":           func(s *shot.Session) { s.Shots[0].Values = manyValues(101) },
		"Aim.BallsPerRound":         func(s *shot.Session) { s.Aim.BallsPerRound = -3 },
		"Aim.Holes":                 func(s *shot.Session) { s.Aim.Holes = make([]shot.Hole, 61) },
		"Bench":                     func(s *shot.Session) { s.Bench = manyTexts(401) },
		"Created, Changed":          func(s *shot.Session) { s.Changed = 1 << 60 },
		`Bench["place"]`:            func(s *shot.Session) { s.Bench = map[string]string{"place": strings.Repeat("x", 1<<20)} },
		"Conditions.Temperature":    func(s *shot.Session) { s.Conditions.Temperature = new(math.NaN()) },
		"Player.Handicap":           func(s *shot.Session) { s.Player.Handicap = new(math.Inf(1)) },
		"Head.Exclude":              func(s *shot.Session) { s.Head.Exclude = make([]club.Setting, 401) },
		"Head.Sleeve.Rings":         func(s *shot.Session) { s.Head.Sleeve.Rings = make([]club.Ring, 3) },
		"Head.Exclude[0].Weights":   func(s *shot.Session) { s.Head.Exclude = []club.Setting{{Weights: make([]string, 401)}} },
		"Aim.BallsPerRound (large)": func(s *shot.Session) { s.Aim.BallsPerRound = 1e12 },
	} {
		s := shot.Session{ID: "a", Head: club.Example(), Shots: []shot.Shot{{ID: "1", Values: shot.Values{shot.Carry: 200}}, {ID: "2"}}}
		if err := s.Bounded(); err != nil {
			t.Fatalf("a plain session is refused: %v", err)
		}
		spoil(&s)
		began := time.Now()
		err := s.Bounded()
		if field = strings.TrimSuffix(field, " (large)"); err == nil || !strings.HasPrefix(err.Error(), field+":") {
			t.Errorf("%s: %v", field, err)
		}
		if took := time.Since(began); took > 10*time.Second {
			t.Errorf("%s: refused after %v", field, took)
		}
	}
}

func manyValues(n int) shot.Values {
	v := shot.Values{}
	for i := range n {
		v[shot.Quantity(fmt.Sprint(i))] = 1
	}
	return v
}

func manyTexts(n int) map[string]string {
	v := map[string]string{}
	for i := range n {
		v[fmt.Sprint(i)] = "x"
	}
	return v
}

// A head that makes too many settings is listed as one, whoever asks.
func TestTooManySettingsAreNotListed(t *testing.T) {
	h := huge()
	if n := len(h.Settings()); n != 1 {
		t.Errorf("%d settings", n)
	}
	if n := len(h.Duplicates()); n != 0 {
		t.Errorf("%d duplicates", n)
	}
	if s := (club.Setting{Sleeve: "x"}); !h.Canonical(s).Equal(s) {
		t.Error("a setting is made another")
	}
	if _, err := h.Find("s1"); err == nil {
		t.Error("a setting is found")
	}
	if err := h.Validate(); err == nil || !strings.Contains(err.Error(), "weights") {
		t.Errorf("Validate: %v", err)
	}
}

// What is half typed passes: it is a person's own work.
func TestWhatIsHalfTypedPasses(t *testing.T) {
	var s shot.Session
	s.Head.Sleeve.Rings = []club.Ring{{Positions: 1000}}
	s.Head.Weights = []club.Weight{{}}
	if err := s.Bounded(); err != nil {
		t.Error(err)
	}
}

func TestDrivesOfARoundAreBounded(t *testing.T) {
	for _, text := range []string{"-3", "1e12", "201"} {
		var s shot.Session
		if err := s.AimFromJSON([]byte(`{"drives_per_round":` + text + `}`)); err == nil || !strings.Contains(err.Error(), "drives_per_round") {
			t.Errorf("%s: %v", text, err)
		}
	}
}
