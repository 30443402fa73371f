package pipeline

import (
	"maps"
	"math"
	"testing"

	"ferrule/core/flight"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
	"ferrule/core/wire"
)

func analysed(t *testing.T, s shot.Session) report.Report {
	t.Helper()
	r, err := Analyse(s, 1, nil)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func says(r report.Report, key string) bool {
	for _, n := range r.Notes {
		if n.Key == key {
			return true
		}
	}
	return false
}

// The demonstration's balls were tracked: the ball is adjusted to them and that
// is said; carries that the device computed are noticed, asked about and not
// learnt from; indoors nothing is learnt.
func TestCarriesTrackedOrComputed(t *testing.T) {
	s, r := example(t, "demo")
	if !r.Calibrated || r.Ball == nil || r.Ball.Drag == 1 || !says(r, "answer.note.calibrated") || says(r, "answer.note.looks-computed") {
		t.Errorf("tracked: calibrated %v, ball %+v", r.Calibrated, r.Ball)
	}
	made := s
	made.Shots = append([]shot.Shot(nil), s.Shots...)
	for i := range made.Shots {
		v := maps.Clone(made.Shots[i].Values)
		l, has := launchOf(v)
		if _, ok := v.Get(shot.Carry); !ok || !has[0] || !has[1] || !has[3] {
			continue
		}
		nms, _ := flight.ByKey("NMS04")
		g, err := flight.Fly(l, flight.Env{Model: flight.Of(nms)})
		if err != nil {
			t.Fatal(err)
		}
		v[shot.Carry] = math.Round(g.Distance()/units.Yard) * units.Yard
		made.Shots[i].Values = v
	}
	if r = analysed(t, made); r.Calibrated || !says(r, "answer.note.looks-computed") {
		t.Errorf("computed: calibrated %v, asked %v", r.Calibrated, says(r, "answer.note.looks-computed"))
	}
	s.Conditions.Indoors = true
	if r = analysed(t, s); r.Calibrated || says(r, "answer.note.looks-computed") {
		t.Errorf("indoors: calibrated %v", r.Calibrated)
	}
}

// What air does to a left-hander's ball is the mirror of the right-hander's:
// wind from the right pushes both to the left.
func TestBallOfBothHands(t *testing.T) {
	_, a := example(t, "demo")
	_, b := example(t, "left")
	right, left := a.Ball, b.Ball
	of := func(b *report.Ball) map[string]report.AirChange {
		m := map[string]report.AirChange{}
		for _, a := range b.Airs {
			m[a.Key] = a
		}
		return m
	}
	r, l := of(right), of(left)
	if len(r) != 7 || len(l) != 7 {
		t.Fatalf("%v, %v", r, l)
	}
	if r["right"].Offline >= 0 || l["right"].Offline >= 0 || r["left"].Offline <= 0 || l["left"].Offline <= 0 {
		t.Errorf("cross winds: right-hander %+v, left-hander %+v", r, l)
	}
	if math.Abs(r["right"].Offline+l["left"].Offline) > 1e-6 || math.Abs(r["head"].Carry-l["head"].Carry) > 1e-6 {
		t.Errorf("no mirror images: %+v, %+v", r, l)
	}
	if right.Reach == nil || right.Reach.Carry <= 0 || math.Abs(right.Reach.Short-left.Reach.Short) > 1e-6 {
		t.Errorf("reach %+v and %+v", right.Reach, left.Reach)
	}
}

// The sliders fly the ball that the session's report flies.
func TestFlyTakesTheSessionsBall(t *testing.T) {
	l := wire.Launch{Speed: 67, Angle: .2, Spin: 280}
	carry := func(b *report.Ball) float64 {
		fs, err := flyAll(wire.Fly{Launches: []wire.Launch{l}, Ball: b})
		if err != nil {
			t.Fatal(err)
		}
		return fs[0].Carry
	}
	if a, b := carry(nil), carry(&report.Ball{Drag: 1, Lift: 1, SpinDrag: 1, Curve: 1}); a != b {
		t.Errorf("the published ball carries %g m and %g m", a, b)
	}
	if a, b := carry(nil), carry(&report.Ball{Drag: 1.1, Lift: 1, SpinDrag: 1, Curve: 1}); !(b < a-3) {
		t.Errorf("a tenth more drag: %g m, without %g m", b, a)
	}
}

// Balls of a windy session are brought into still air; what was measured stays
// beside, and indoors nothing is brought anywhere.
func TestLevelStaysBesideTheRaw(t *testing.T) {
	s, _ := example(t, "demo")
	s.Conditions = shot.Conditions{Wind: 5} // head wind
	levelled := 0
	for i, row := range analysed(t, s).Shots {
		if row.Seen == nil || row.Level == nil {
			continue
		}
		levelled++
		if raw := s.Shots[i].Values[shot.Carry]; row.Seen.Carry != raw {
			t.Errorf("ball %d: measured carry %g became %g", i, raw, row.Seen.Carry)
		}
		if along := *alongOf(shot.Values{shot.Carry: row.Seen.Carry, shot.Offline: row.Seen.Offline}); along > 100 && !(row.Carry > along) {
			t.Errorf("ball %d: %g m into the wind is %g m in still air", i, along, row.Carry)
		}
	}
	if levelled == 0 {
		t.Error("no ball was levelled")
	}
	s.Conditions.Indoors = true
	for i, row := range analysed(t, s).Shots {
		if row.Seen != nil || row.Level != nil || row.Drift != 0 {
			t.Errorf("ball %d, indoors: %+v", i, row)
		}
	}
}

// Of a block with more flights than it takes to tell its wind, as many are taken from
// each part of it; a small block gives all.
func TestEnoughFlights(t *testing.T) {
	var seen []flight.Observation
	for i := range 1000 {
		seen = append(seen, flight.Observation{Launch: flight.Launch{Speed: float64(i)}})
		if i%20 == 0 {
			seen = append(seen, flight.Observation{Launch: flight.Launch{Speed: float64(i)}, Block: 1})
		}
	}
	var thirds [3]int
	small, last := 0, -1.0
	for _, o := range enough(seen, 2) {
		if o.Launch.Speed < last {
			t.Fatal("the flights are not in their order")
		}
		last = o.Launch.Speed
		if o.Block == 1 {
			small++
			continue
		}
		thirds[int(o.Launch.Speed*3/1000)]++
	}
	if small != 50 || thirds != [3]int{100, 100, 100} {
		t.Errorf("%d of the small block and %v of the thirds of the large one, want 50 and 100 each", small, thirds)
	}
}
