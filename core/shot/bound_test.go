package shot_test

import (
	"fmt"
	"math"
	"reflect"
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
		"Changed":                   func(s *shot.Session) { s.Changed = 1 << 60 },
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

// number is a number of a session, wherever it stands: the range of its field
// and how it is set in an empty session.
type number struct {
	path string
	span string
	set  func(*shot.Session, float64)
}

// numbers finds every number below a value that reach finds in a session.
func numbers(t *testing.T, kind reflect.Type, path, span string, reach func(*shot.Session) reflect.Value) []number {
	switch kind.Kind() {
	case reflect.Float64:
		return []number{{path, span, func(s *shot.Session, x float64) { reach(s).SetFloat(x) }}}
	case reflect.Int, reflect.Int64:
		return []number{{path, span, func(s *shot.Session, x float64) { reach(s).SetInt(int64(x)) }}}
	case reflect.Pointer:
		return numbers(t, kind.Elem(), path, span, func(s *shot.Session) reflect.Value {
			v := reach(s)
			v.Set(reflect.New(kind.Elem()))
			return v.Elem()
		})
	case reflect.Slice:
		return numbers(t, kind.Elem(), path+"[0]", span, func(s *shot.Session) reflect.Value {
			v := reach(s)
			v.Set(reflect.MakeSlice(kind, 1, 1))
			return v.Index(0)
		})
	case reflect.Map:
		if kind.Elem().Kind() != reflect.Float64 {
			return numbers(t, kind.Elem(), path, span, nil)
		}
		return []number{{path + `["x"]`, span, func(s *shot.Session, x float64) {
			m := reflect.MakeMap(kind)
			m.SetMapIndex(reflect.ValueOf("x").Convert(kind.Key()), reflect.ValueOf(x))
			reach(s).Set(m)
		}}}
	case reflect.Struct:
		var all []number
		for i := range kind.NumField() {
			f := kind.Field(i)
			all = append(all, numbers(t, f.Type, strings.TrimPrefix(path+"."+f.Name, "."), f.Tag.Get("si"), func(s *shot.Session) reflect.Value {
				return reach(s).Field(i)
			})...)
		}
		return all
	case reflect.String, reflect.Bool:
		return nil
	}
	t.Errorf("%s: Bounded does not know what a %s may hold", path, kind)
	return nil
}

// TestEveryNumberHasItsRange walks all fields of a session, those that are added
// later too: each number has a range, is taken at both ends of it, and refused by
// its field beyond them.
func TestEveryNumberHasItsRange(t *testing.T) {
	all := numbers(t, reflect.TypeFor[shot.Session](), "", "", func(s *shot.Session) reflect.Value { return reflect.ValueOf(s).Elem() })
	for _, n := range all {
		var lo, hi float64
		if _, err := fmt.Sscanf(n.span, "%g %g", &lo, &hi); err != nil || !(lo < hi) {
			t.Errorf("%s has no range: %q", n.path, n.span)
			continue
		}
		try := func(x float64) error {
			var s shot.Session
			n.set(&s, x)
			return s.Bounded()
		}
		for _, x := range []float64{lo, hi} {
			if err := try(x); err != nil {
				t.Errorf("%s: %g: %v", n.path, x, err)
			}
		}
		for _, x := range []float64{lo - 1e-3*(hi-lo) - 1, hi + 1e-3*(hi-lo) + 1, -1e13, 1e13} {
			if err := try(x); err == nil || !strings.HasPrefix(err.Error(), n.path+": read ") {
				t.Errorf("%s: %g: %v", n.path, x, err)
			}
		}
	}
	t.Logf("%d numbers", len(all))
	if len(all) < 60 {
		t.Error("the walk misses most of a session")
	}
}
