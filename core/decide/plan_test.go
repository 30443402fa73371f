package decide

import (
	"math"
	"strings"
	"testing"

	"ferrule/core/report"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

func planOf(t *testing.T, aim shot.Aim, shots []Shot) ([]report.Visit, Result) {
	t.Helper()
	settings, changes := head80(8, 3)
	var specs []spec
	for j := range settings {
		specs = append(specs, spec{carry: 190 + 3*math.Sin(float64(j)), doubt: 6})
	}
	r := decide(t, config(t, settings, changes, aim, shots), outcomes(settings, specs, 60, 8, 3))
	return r.Plan, r
}

func total(vs []report.Visit) (balls, done int) {
	for _, v := range vs {
		balls, done = balls+v.Balls, done+v.Done
	}
	return
}

// TestThePlanTakesTurns: today's setting first, visits of three balls, another
// setting between two visits of one, a rest after a dozen balls.
func TestThePlanTakesTurns(t *testing.T) {
	p, r := planOf(t, shot.Aim{BallsLeft: 36}, nil)
	if len(p) < 6 || p[0].Setting != 0 {
		t.Fatalf("today's setting is not first: %+v", p)
	}
	rests := 0
	for i, v := range p {
		if v.Balls < 1 || v.Balls > 3 || v.Done != 0 || i > 0 && p[i-1].Setting == v.Setting {
			t.Errorf("visit %d: %+v", i, v)
		}
		if v.Why.Key == "plan.rest" {
			rests++
		}
	}
	n, _ := total(p)
	if n > 36 || rests != (n-1)/12 {
		t.Errorf("%d rests in %d balls of 36", rests, n)
	}
	if r.Todo.State != report.GoOn || len(r.Todo.Visits) != len(p) || r.Next[0].Setting != p[0].Setting {
		t.Errorf("the list differs from the plan: %+v", r.Todo)
	}
}

func TestThePlanFitsWhatIsLeft(t *testing.T) {
	for _, n := range []int{1, 2, 3, 4, 7, 12, 20, 60, 200} {
		p, _ := planOf(t, shot.Aim{BallsLeft: n}, nil)
		if balls, _ := total(p); balls > n || balls == 0 {
			t.Errorf("%d balls left, %d planned", n, balls)
		}
	}
	p, _ := planOf(t, shot.Aim{MinutesLeft: 12}, nil)
	from, time := 0, 0.0
	settings, _ := head80(8, 3)
	for _, v := range p {
		time += minutes(settings[from], settings[v.Setting], v.Balls)
		from = v.Setting
	}
	if time > 12 || len(p) < 3 {
		t.Errorf("%.1f minutes of 12: %+v", time, p)
	}
}

// TestThePlanAdapts: what was hit stays and an open visit is finished first.
func TestThePlanAdapts(t *testing.T) {
	rng := seed.Seed(1).Stream("x")
	shots := append(append(hits(rng, 3, 0), hits(rng, 3, 5)...), hits(rng, 2, 9)...)
	shots = append([]Shot{{Setting: 0, Values: shot.Values{}}}, shots...) // a warm-up ball is not counted
	p, _ := planOf(t, shot.Aim{BallsLeft: 16}, shots)
	if p[0].Setting != 0 || p[0].Done != 3 || p[1].Setting != 5 || p[1].Done != 3 || p[2].Setting != 9 || p[2].Done != 2 || p[2].Balls != 3 || p[2].Why.Key != "plan.finish" {
		t.Fatalf("%+v", p)
	}
	if balls, done := total(p); done != 8 || balls-done > 16 {
		t.Errorf("%d balls, %d hit, 16 left", balls, done)
	}
}

// TestThePlanIsFollowed: who hits what the plan says next sees each ball counted
// off, begins with today's setting and is never sent to the one just finished.
func TestThePlanIsFollowed(t *testing.T) {
	for name, head := range map[string][2]int{"80 settings": {8, 3}, "4 settings": {4, 1}} {
		t.Run(name, func(t *testing.T) {
			settings, changes := head80(head[0], head[1])
			specs := make([]spec, len(settings))
			for j := range specs {
				specs[j] = spec{carry: 190 + 9*math.Sin(float64(j)), doubt: 25}
			}
			rng := seed.Seed(1).Stream("follow")
			var shots []Shot
			var order []int
			for len(shots) < usualBalls {
				r := decide(t, config(t, settings, changes, shot.Aim{}, shots), outcomes(settings, specs, 60, 8, 3))
				if r.Stop.Stop {
					break
				}
				next := -1
				for i, v := range r.Plan {
					if v.Done < v.Balls {
						next = i
						break
					}
				}
				if next < 0 {
					t.Fatalf("nothing to hit after %d balls, and no word of stopping", len(shots))
				}
				v := r.Plan[next]
				if n := len(shots); n%visit != 0 && (v.Setting != shots[n-1].Setting || v.Balls-v.Done != visit-n%visit) {
					t.Fatalf("after %d balls the next are %d with %d", n, v.Balls-v.Done, v.Setting)
				} else if n%visit == 0 {
					if n > 0 && v.Setting == shots[n-1].Setting {
						t.Fatalf("setting %d was hit in a visit, and is to be hit again at once: %v", v.Setting, order)
					}
					order = append(order, v.Setting)
				}
				shots = append(shots, hits(rng, 1, v.Setting)...)
			}
			t.Logf("%v", order)
			if len(order) < 3 || order[0] != 0 {
				t.Errorf("%v", order)
			}
		})
	}
}

func TestTiredIsTold(t *testing.T) {
	rng := seed.Seed(1).Stream("x")
	p, r := planOf(t, shot.Aim{}, hits(rng, 24, 0, 5, 9))
	if balls, done := total(p); balls != done || !r.Stop.Stop || r.Stop.Why.Key != "stop.tired" {
		t.Errorf("%d balls planned after %d: %+v", balls-done, done, r.Stop)
	}
}

// TestConfirm: a setting that does nothing is accepted in at most one check of
// ten, one that does much more often than not.
func TestConfirm(t *testing.T) {
	rng := seed.Seed(5).Stream("check")
	accept := func(gain float64) float64 {
		n := 0
		const runs = 4000
		for range runs {
			a, b := make([]float64, 6), make([]float64, 3)
			for i := range a {
				a[i] = rng.NormFloat64()
			}
			for i := range b {
				b[i] = rng.NormFloat64() - gain
			}
			if Confirm(a, b).Accept {
				n++
			}
		}
		return float64(n) / runs
	}
	if p := accept(0); p > 0.11 {
		t.Errorf("a setting that does nothing is accepted in %.3f of checks", p)
	}
	if p := accept(2); p < 0.8 {
		t.Errorf("a setting that gains two spreads is accepted in %.3f of checks only", p)
	}
	if c := Confirm([]float64{1, 2}, []float64{0, 0, 0}); c.Possible || c.Accept {
		t.Error("two balls prove something")
	}
	// read off a session: three visits to and fro, after others
	shots := append(hits(rng, 3, 0, 7, 2, 7), hits(rng, 2, 0, 5, 0)...)
	p, r := planOf(t, shot.Aim{}, shots)
	if len(r.Notes) != 1 || r.Notes[0].Key != "note.check.few" || len(p) == 0 {
		t.Errorf("%+v", r.Notes)
	}
	_, r = planOf(t, shot.Aim{}, hits(rng, 3, 0, 7, 2, 7))
	if len(r.Notes) != 0 {
		t.Errorf("no check was hit: %+v", r.Notes)
	}
}

func TestFollowUp(t *testing.T) {
	rng := seed.Seed(1).Stream("x")
	_, res := planOf(t, shot.Aim{}, hits(rng, 6, 0, 5, 9, 5, 0))
	then := report.Report{Settings: res.Settings, Choice: res.Choice}
	speak := func(ms []report.Message) (all string) {
		for _, m := range ms {
			s := (text.Reader{}).Say(m)
			if strings.ContainsAny(s, "[]{}") {
				t.Errorf("%s: %s", m.Key, s)
			}
			all += strings.ReplaceAll(s, "\u00a0", " ") + "\n"
		}
		return
	}
	twice := FollowUp(then, then, nil)
	if len(twice.Rows) == 0 || len(twice.Common) == 0 || twice.Retest != nil {
		t.Errorf("the same visit twice: %d rows, %d in common, %+v", len(twice.Rows), len(twice.Common), twice.Retest)
	}
	for _, r := range append(twice.Rows, twice.Common...) {
		if r.Change.Mean != 0 || r.Change.Lo80 >= 0 || r.Change.Hi80 <= 0 {
			t.Errorf("the same visit twice differs: %+v", r)
		}
	}
	for _, m := range twice.Said {
		switch m.Key {
		case "follow.common", "follow.same", "follow.day", "follow.held", "follow.when":
		default:
			t.Errorf("unasked: %+v", m)
		}
	}
	set := func(r report.Report, speed, path, offline float64) report.Report {
		r.Settings = append([]report.Setting(nil), r.Settings...)
		for i := range r.Settings {
			r.Settings[i].Raw = []report.Amount{{Quantity: shot.ClubSpeed, Value: flat(speed)}, {Quantity: shot.Path, Value: flat(path)}, {Quantity: shot.Offline, Value: flat(offline)}}
		}
		return r
	}
	a := set(then, 42, -0.06, 8)
	b := set(then, 42+4.1*units.MPH, -0.02, -6)
	b.Choice.Setting = (a.Choice.Setting + 1) % len(a.Settings)
	said := speak(FollowUp(a, b, nil).Said)
	for _, want := range []string{"club speed has changed by +4 mph", "path has changed by 2.3° right", "changed sides, from 9 yd right to 7 yd left", "advice has changed"} {
		if !strings.Contains(said, want) {
			t.Errorf("%q is not said:\n%s", want, said)
		}
	}
	if said := speak(FollowUp(a, set(then, 42+3*units.MPH, -0.05, 2), nil).Said); strings.Contains(said, "time to test") {
		t.Errorf("nothing to worry about, yet:\n%s", said)
	}
}

// TestFollowUpHoldsWhatItSays: two visits of a player who has become 6 yd
// longer, three settings of four balls each; the 80 % interval of what all
// have in common holds the truth about four times in five.
func TestFollowUpHoldsWhatItSays(t *testing.T) {
	rng := seed.Seed(4).Stream("visits")
	settings, _ := head80(4, 1)
	const runs = 120
	held := 0
	by := factors{} // of Dunnett: the same for every visit
	for range runs {
		var visits [2]report.Report
		for v := range visits {
			shots := hits(rng, 4, 0, 1, 2)
			for i := range shots {
				shots[i].Values[shot.Carry] += 6 * units.Yard * float64(v)
			}
			hit := session{shots: shots, counts: counted(shots, len(settings))}
			for i, a := range hit.averages(by) {
				visits[v].Settings = append(visits[v].Settings, report.Setting{Setting: settings[i], Balls: hit.counts[i].Balls, Raw: a.raw})
			}
		}
		f := FollowUp(visits[0], visits[1], nil)
		for _, c := range f.Common {
			if c.Quantity == shot.Carry && c.Change.Lo80 < 6*units.Yard && c.Change.Hi80 > 6*units.Yard {
				held++
			}
		}
	}
	t.Logf("the 80 %% interval held the truth in %d of %d pairs of visits", held, runs)
	if share := float64(held) / runs; math.Abs(share-.8) > 3*math.Sqrt(.16/runs) {
		t.Errorf("the 80 %% interval held the truth in %.2f", share)
	}
}
