package score

import (
	"encoding/json"
	"math"
	"os"
	"strconv"
	"strings"
	"testing"

	"ferrule/core/frame"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/testdata/near"
	"ferrule/testdata/rows"
)

const yd = units.Yard

// TestBaselineIsTheTable reads every published cell and the interpolated
// golden values (testdata/score/SOURCE.md).
func TestBaselineIsTheTable(t *testing.T) {
	rows := rows.Read(t, "../../testdata/score/strokes_baseline.csv")
	if len(rows) != 36 {
		t.Fatalf("read %d rows", len(rows))
	}
	b := Baseline{Scale: 1}
	for _, row := range rows[1:] {
		d, _ := strconv.ParseFloat(row[0], 64)
		for lie := range lies {
			if row[lie+1] == "" {
				continue
			}
			want, _ := strconv.ParseFloat(row[lie+1], 64)
			near.Abs(t, row[0]+" yd, lie "+strconv.Itoa(int(lie)), b.At(lie, d*yd), want, 1e-9)
		}
	}
	raw, err := os.ReadFile("../../testdata/score/golden_py.json")
	if err != nil {
		t.Fatal(err)
	}
	var golden struct {
		Cases []struct {
			Lie         string
			Yd, Strokes float64
		} `json:"strokes_interp"`
	}
	if err := json.Unmarshal(raw, &golden); err != nil || len(golden.Cases) == 0 {
		t.Fatalf("golden: %v", err)
	}
	names := map[string]Lie{"tee": Tee, "fairway": Fairway, "rough": Rough, "sand": Sand, "recovery": Recovery}
	for _, c := range golden.Cases {
		near.Abs(t, c.Lie, b.At(names[c.Lie], c.Yd*yd), c.Strokes, 1e-9)
	}
	near.Abs(t, "no extrapolation below", b.At(Fairway, 0), 2.18, 0)
	near.Abs(t, "no extrapolation above", b.At(Tee, 900*yd), 4.82, 0)
	if !math.IsNaN(b.At(Rough, math.NaN())) {
		t.Error("NaN became a number")
	}
}

func TestScaleForHandicap(t *testing.T) {
	h := 20.0
	// yardage ratings, from memory: scratch yd/220 + 40.9, bogey yd/160 + 50.7 for 18 holes
	ratio := (400.0/160 + 50.7/18) / (400.0/220 + 40.9/18)
	near.Abs(t, "20-handicapper at 400 yd", scaleFor(&h), ratio, 0.03)
	if plus := -3.0; scaleFor(&plus) != 1 || scaleFor(nil) != 1 {
		t.Error("better than scratch and unknown leave the table as it is")
	}
}

func hole() Hole {
	return Hole{Length: 400 * yd, FairwayHalf: 16 * yd,
		Right: []Trouble{{Kind: Penalty, At: 36 * yd}, {Kind: Out, At: 60 * yd}},
		Left:  []Trouble{{Kind: Trees, At: 40 * yd}}}
}

func TestPlaces(t *testing.T) {
	h, b := hole(), Baseline{Scale: 1}
	at := func(x, z float64) float64 { return h.strokes(b, x*yd, z*yd) }
	left := func(x, z float64) float64 { return math.Hypot(400-x, z) }
	near.Abs(t, "fairway", at(250, 0), 1+b.At(Fairway, 150*yd), 1e-12)
	near.Abs(t, "rough", at(250, 20), 1+b.At(Rough, left(250, 20)*yd), 1e-12)
	near.Abs(t, "rough on the left", at(250, -30), 1+b.At(Rough, left(250, 30)*yd), 1e-12)
	near.Abs(t, "trees", at(250, -50), 1+(b.At(Rough, left(250, 50)*yd)+b.At(Recovery, left(250, 50)*yd))/2, 1e-12)
	near.Abs(t, "out", at(250, 61), 2+b.At(Tee, 400*yd), 1e-12)
	cross := 250 * math.Sqrt(36.0/50)
	near.Abs(t, "penalty, dropped on the edge", at(250, 50), 2+b.At(Rough, left(cross, 36)*yd), 1e-12)
	if p := h.Find(-5*yd, 0); p.Lie != Rough || p.Penalty != 0 {
		t.Errorf("5 yd behind the tee: %+v, want rough", p)
	}
	bent := Hole{Length: 400 * yd, FairwayHalf: 16 * yd, BendAt: 230 * yd, Bend: 30 * units.Degree}
	x, z := bent.ground(260*yd, 5*yd)
	if p := bent.Find(x, z); p.Lie != Fairway {
		t.Errorf("on the second leg: %+v", p)
	}
	if s, off := bent.along(x, z); math.Abs(s-260*yd) > 1e-9 || math.Abs(off-5*yd) > 1e-9 {
		t.Errorf("along is not the inverse of ground: %g %g", s/yd, off/yd)
	}
	if p := bent.Find(300*yd, 0); p.Lie != Rough {
		t.Error("straight through the dogleg is rough")
	}
}

// TestTheTableIsTheGround compares the table with the exact hole, averaged as
// balls are, and the exact hole with a closed form.
func TestTheTableIsTheGround(t *testing.T) {
	c := &Course{Baseline: Baseline{Scale: 1.2}}
	if err := c.SetHoles([]Hole{hole()}); err != nil {
		t.Fatal(err)
	}
	rng := seed.Seed(1).Stream("balls")
	for _, mid := range []float64{-30, -10, 0, 12, 30} {
		var table, exact, fair float64
		const n = 20000
		for range n {
			x, z := (230+15*rng.NormFloat64())*yd, (mid+20*rng.NormFloat64())*yd
			table += c.Strokes(x, z) / n
			exact += c.Exact(x, z) / n
			fair += c.Fairway(x, z) / n
		}
		near.Abs(t, "mean strokes by table", table, exact, 0.001)
		phi := func(v float64) float64 { return 0.5 * math.Erfc(-v/math.Sqrt2) }
		near.Abs(t, "fairways in closed form", fair, phi((16-mid)/20)-phi((-16-mid)/20), 0.012)
	}
	// closed form: no trouble, balls spread along the line only, the baseline
	// a straight line between 140 and 160 yd
	plain := &Course{}
	if err := plain.SetHoles([]Hole{{Length: 400 * yd, FairwayHalf: 16 * yd}}); err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	const n = 4000
	for i := range n {
		sum += plain.Strokes((241+18*(float64(i)+0.5)/n)*yd, 0) / n
	}
	near.Abs(t, "mean over a straight stretch", sum, 1+2.91+(2.98-2.91)/2, 0.001)
	if v := c.Strokes(5000, 4000); math.IsNaN(v) || v < 2 {
		t.Errorf("far outside the table: %g", v)
	}
}

func TestLeftHandersHoleIsTheMirror(t *testing.T) {
	right, err := New(shot.Aim{Trouble: frame.SideRight, TroubleKind: "out"}, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	left, err := New(shot.Aim{Trouble: frame.SideLeft, TroubleKind: "out"}, nil, frame.Left)
	if err != nil {
		t.Fatal(err)
	}
	for _, z := range []float64{-60, -30, -10, 0, 10, 30, 60} {
		near.Abs(t, "the left-hander's left is the right-hander's right", left.Strokes(210, z), right.Strokes(210, z), 0)
	}
	if left.Limits.Side != frame.SideRight {
		t.Errorf("side %q", left.Limits.Side)
	}
	if right.Strokes(210, 30) <= right.Strokes(210, -30) {
		t.Error("trouble on the right costs nothing")
	}
}

func TestSeveralHolesAreAveraged(t *testing.T) {
	aim := shot.Aim{Holes: []shot.Hole{{Name: "first", Weight: 3}, {Name: "last", FairwayWidth: 20 * yd, Trouble: frame.SideLeft}}}
	c, err := New(aim, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	b := Baseline{Scale: 1}
	want := 0.75*c.Holes[0].strokes(b, 210, -30) + 0.25*c.Holes[1].strokes(b, 210, -30)
	near.Abs(t, "weights of three and one", c.Strokes(210, -30), want, 0.02)
	near.Abs(t, "exactly", c.Exact(210, -30), want, 1e-12)
}

func TestBadAims(t *testing.T) {
	nan, far := math.NaN(), 300.0
	for name, c := range map[string]struct {
		aim      shot.Aim
		handicap *float64
		says     string
	}{
		"goal":      {aim: shot.Aim{Goal: "win"}, says: "goal"},
		"width":     {aim: shot.Aim{FairwayWidth: -1}, says: "fairway: read -1"},
		"NaN":       {aim: shot.Aim{HoleLength: nan}, says: "hole: read NaN"},
		"short":     {aim: shot.Aim{HoleLength: 20}, says: "100 to 700 yd"},
		"kind":      {aim: shot.Aim{Trouble: frame.SideRight, TroubleKind: "lava"}, says: "lava"},
		"side":      {aim: shot.Aim{Trouble: "up"}, says: "up"},
		"share":     {aim: shot.Aim{TroublePMax: 10}, says: "read 10, expected 0 to 1"},
		"shares":    {aim: shot.Aim{TroublePMax: 10, CarryPMin: 10, ApexPMin: 10}, says: "trouble p"}, // the first, each time
		"window":    {aim: shot.Aim{Goal: shot.GoalHeight}, says: "height"},
		"handicap":  {handicap: &far, says: "handicap"},
		"dead hole": {aim: shot.Aim{Holes: []shot.Hole{{Weight: -1}}}, says: "weight"},
	} {
		if _, err := New(c.aim, c.handicap, frame.Right); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for h, ok := range map[float64]bool{-11: false, -10: true, 54: true, 55: false} {
		if _, err := New(shot.Aim{}, &h, frame.Right); (err == nil) != ok {
			t.Errorf("handicap %g: %v", h, err)
		}
	}
	low, high := 20.0, 30.0
	if _, err := New(shot.Aim{ApexLow: &high, ApexHigh: &low}, nil, frame.Right); err == nil {
		t.Error("a height window upside down")
	}
	low = -1
	for name, aim := range map[string]shot.Aim{"carry": {CarryMin: &low}, "foot": {ApexLow: &low}, "top": {ApexHigh: &low}} {
		if _, err := New(aim, nil, frame.Right); err == nil {
			t.Errorf("%s of -1 m", name)
		}
	}
}
