package pipeline

import (
	"math"
	"slices"
	"strings"
	"testing"

	"github.com/vmihailenco/msgpack/v5"

	"ferrule/core/frame"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// later is a session hit again with every carry longer and every club faster.
func later(s shot.Session, carry, speed float64) shot.Session {
	s.Shots = slices.Clone(s.Shots)
	for i := range s.Shots {
		v := shot.Values{}
		for q, x := range s.Shots[i].Values {
			switch q {
			case shot.Carry, shot.Total:
				x += carry
			case shot.ClubSpeed:
				x += speed
			}
			v[q] = x
		}
		s.Shots[i].Values = v
	}
	s.Title = "later"
	return s
}

func common(t *testing.T, f report.FollowUp, q shot.Quantity) report.FollowRow {
	t.Helper()
	for _, r := range f.Common {
		if r.Quantity == q {
			return r
		}
	}
	t.Fatalf("%s is not followed", q)
	return report.FollowRow{}
}

// TestFollow through the worker's door: the same session twice shows nothing,
// one that is 8 yd longer shows 8 yd (along the line a hair more) and asks for a new test, and warmer air
// takes its part of it.
func TestFollow(t *testing.T) {
	s, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	ask := func(a, b shot.Session) report.FollowUp {
		raw, err := msgpack.Marshal(&wire.Request{Version: wire.Version, ID: 7, Follow: &wire.Follow{Before: a, Now: b, Seed: 1}})
		if err != nil {
			t.Fatal(err)
		}
		out, err := wire.Unpack(Serve(raw, nil), func() {})
		if err != nil || out.Error != nil || out.Follow == nil {
			t.Fatalf("%v %v", err, out.Error)
		}
		return *out.Follow
	}
	f := ask(s, s)
	for _, r := range append(f.Rows, f.Common...) {
		if r.Change.Mean != 0 || r.Air != 0 {
			t.Errorf("the same visit twice: %s %s changed by %g", r.Setting.Key(), r.Quantity, r.Change.Mean)
		}
	}
	if f.Retest != nil || !slices.ContainsFunc(f.Said, func(m report.Message) bool { return m.Key == "follow.held" }) {
		t.Errorf("the same visit twice asks for a test or changes the advice: %+v", f)
	}
	inside := s // outdoors the same launch that carries 8 yd farther is half a tail wind
	inside.Conditions.Indoors = true
	f = ask(inside, later(inside, 8*units.Yard, 0))
	if c := common(t, f, shot.Carry); math.Abs(c.Change.Mean-8*units.Yard) > .05 || len(f.Retest) != 1 || f.Retest[0].Key != "follow.carry" {
		t.Errorf("8 yd longer: %+v, asks %+v", c.Change, f.Retest)
	}
	if f = ask(s, later(s, 0, 4.5*units.MPH)); len(f.Retest) != 1 || f.Retest[0].Key != "follow.speed" {
		t.Errorf("4.5 mph faster asks %+v", f.Retest)
	}
	warm := later(s, 0, 0)
	k := 308.15
	warm.Conditions.Temperature = &k
	if f = ask(s, warm); f.Rows[0].Air != 0 || common(t, f, shot.Carry).Air < units.Yard || common(t, f, shot.Carry).Change.Mean > -units.Yard {
		t.Errorf("35 degrees: %+v", common(t, f, shot.Carry))
	}
	for _, m := range f.Said {
		t.Log(text.Reader{System: units.Imperial}.Say(m))
	}
	left := s
	left.Player.Hand = frame.Left
	if _, err := Follow(s, left, 1, nil); err == nil || !strings.Contains(err.Error(), "left-handed") {
		t.Errorf("two hands: %v", err)
	}
	if _, err := Follow(s, shot.Session{}, 1, nil); err == nil || !strings.Contains(err.Error(), "later visit") {
		t.Errorf("an empty visit: %v", err)
	}
}
