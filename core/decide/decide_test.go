package decide

import (
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/predict"
	"ferrule/core/report"
	"ferrule/core/score"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

func TestAClearlyBetterSettingIsChosen(t *testing.T) {
	settings, changes := head80(4, 1)
	specs := []spec{{carry: 190, doubt: 2}, {carry: 205, doubt: 2}, {carry: 191, doubt: 2}, {carry: 185, doubt: 2}}
	r := decide(t, config(t, settings, changes, shot.Aim{}, hits(seed.Seed(1).Stream("x"), 6, 0, 1, 2)), outcomes(settings, specs, 150, 16, 1))
	c := r.Choice
	if c.Setting != 1 || c.Verdict != report.Clear || c.Keep || !(c.Gain.Mean > 0.03) || !(c.Gain.Lo80 < c.Gain.Mean && c.Gain.Mean < c.Gain.Hi80) {
		t.Errorf("%+v", c)
	}
	if y := c.Yards.Mean; math.Abs(y-15) > 2 {
		t.Errorf("carries %.1f m farther, built to 15", y)
	}
	sum := 0.0
	for i, s := range r.Settings {
		sum += s.PBest
		if s.Loss < 0 || i == 1 && s.Loss > 0.02 || !s.Feasible || s.PApex != 1 || s.PCarry != 1 {
			t.Errorf("%d: %+v", i, s)
		}
	}
	if math.Abs(sum-1) > 1e-9 {
		t.Errorf("chances of being best add to %g", sum)
	}
	if d := r.Settings[0].Difference; d.Mean != 0 || d.Lo95 != 0 || d.Hi95 != 0 {
		t.Errorf("the reference differs from itself: %+v", d)
	}
	// twice the player's own spread is no part of the doubt about the mean
	if d := r.Settings[1].Difference; d.Hi95-d.Lo95 > 0.16 {
		t.Errorf("noise of few balls is in the interval: %+v", d)
	}
}

func TestNothingToChooseFromClaimsNothing(t *testing.T) {
	settings, changes := head80(4, 1)
	same := []spec{{carry: 190, doubt: 4}, {carry: 190, doubt: 4}, {carry: 190, doubt: 4}, {carry: 190, doubt: 4}}
	shots := hits(seed.Seed(1).Stream("x"), 6, 0, 1, 2)
	r := decide(t, config(t, settings, changes, shot.Aim{}, shots), outcomes(settings, same, 150, 16, 3))
	if r.Choice.Verdict != report.CannotTell {
		t.Errorf("%+v", r.Choice)
	}
	one := outcomes(settings[:1], same[:1], 150, 16, 3)
	r = decide(t, config(t, settings[:1], changes[:1], shot.Aim{}, hits(seed.Seed(1).Stream("x"), 6, 0, 0, 0)), one)
	if r.Choice.Verdict != report.CannotTell {
		t.Errorf("one setting, and the verdict is %q: nothing was compared", r.Choice.Verdict)
	}
	for _, m := range []report.Message{r.Choice.Headline, r.Stop.Why} {
		if a := m.Args[0]; a.Form == message.FormText && a.Text == "" {
			t.Errorf("%s names no setting", m.Key)
		}
	}
	if !r.Choice.Keep || r.Choice.RunnerUp != -1 || r.Choice.Headline.Key != "choice.keep.only" {
		t.Errorf("%+v", r.Choice)
	}
}

func TestThinDataGiveAPlanAndNoVerdict(t *testing.T) {
	settings, changes := head80(4, 1)
	specs := []spec{{carry: 190, doubt: 2}, {carry: 205, doubt: 2}, {carry: 191, doubt: 2}, {carry: 185, doubt: 2}}
	for name, shots := range map[string][]Shot{
		"no ball":                   nil,
		"three balls in each":       hits(seed.Seed(1).Stream("x"), 3, 0, 1, 2),
		"none in today's setting":   hits(seed.Seed(1).Stream("x"), 6, 1, 2, 3),
		"five balls in each of two": hits(seed.Seed(1).Stream("x"), 5, 0, 1),
	} {
		t.Run(name, func(t *testing.T) {
			r := decide(t, config(t, settings, changes, shot.Aim{}, shots), outcomes(settings, specs, 150, 16, 1))
			if !r.Choice.Keep || r.Choice.Verdict != report.CannotTell || r.Choice.Setting != 0 || r.Stop.Stop || len(r.Plan) == 0 {
				t.Errorf("%d shots: %+v stop %+v", len(shots), r.Choice, r.Stop)
			}
			if s := (text.Reader{}).Say(r.Choice.Headline); !strings.Contains(s, "Not enough") {
				t.Error(s)
			}
		})
	}
}

// TestAimingIsFree: a setting that only turns the ball's line gains nothing.
func TestAimingIsFree(t *testing.T) {
	settings, changes := head80(4, 1)
	for name, aim := range map[string]shot.Aim{"no trouble": {}, "out of bounds on the right": {Trouble: frame.SideRight, TroubleKind: "out", TroubleAt: 40 * yd}} {
		t.Run(name, func(t *testing.T) {
			specs := []spec{{carry: 200, offline: 8, doubt: 2}, {carry: 200, offline: 8, doubt: 2, turn: -2.4 * units.Degree}, {carry: 200, offline: 8, doubt: 2, turn: 1.1 * units.Degree}, {carry: 200, offline: 8, doubt: 2, turn: -0.3 * units.Degree}}
			o := outcomes(settings, specs, 150, 16, 5)
			for j := 1; j < 4; j++ { // the same doubts, so that only the turn differs
				sin, cos := math.Sincos(specs[j].turn)
				for b := range o[j].Balls {
					p, q := &o[0].Balls[b], &o[j].Balls[b]
					*q = *p
					q.RestX, q.RestZ = p.RestX*cos-p.RestZ*sin, p.RestZ*cos+p.RestX*sin
				}
			}
			r := decide(t, config(t, settings, changes, aim, hits(seed.Seed(1).Stream("x"), 6, 0, 1, 2)), o)
			for j, s := range r.Settings {
				if math.Abs(s.Difference.Mean) > 0.002 {
					t.Errorf("%s: turn %.1f deg gains %.4f strokes, aim %.2f deg", aim.Trouble, specs[j].turn/units.Degree, s.Difference.Mean, s.Aim/units.Degree)
				}
				if want := r.Settings[0].Aim - specs[j].turn; math.Abs(s.Aim-want) > 0.6*units.Degree {
					t.Errorf("aim %.2f deg, expected about %.2f", s.Aim/units.Degree, want/units.Degree)
				}
			}
			if !r.Choice.Keep {
				t.Errorf("credit for what aiming does: %+v", r.Choice)
			}
		})
	}
}

// TestMirror: the mirrored session gives the mirrored answer.
func TestMirror(t *testing.T) {
	settings, changes := head80(4, 2)
	var specs []spec
	for j := range settings {
		specs = append(specs, spec{carry: 190 + float64(j), offline: 6 - 2*float64(j), doubt: 3})
	}
	o := outcomes(settings, specs, 120, 16, 7)
	shots := hits(seed.Seed(1).Stream("x"), 5, 0, 3, 5, 0)
	cfg := config(t, settings, changes, shot.Aim{Trouble: frame.SideRight}, shots)
	a := decide(t, cfg, o)
	for j := range o {
		for b := range o[j].Balls {
			o[j].Balls[b].Offline *= -1
			o[j].Balls[b].RestZ *= -1
		}
		for d := range o[j].Draws {
			o[j].Launch[d*launch+2] *= -1
			o[j].Launch[d*launch+4] *= -1
		}
	}
	mirrored := make([]Shot, len(shots))
	for i, s := range shots {
		mirrored[i] = s
		mirrored[i].Values = shot.Values{shot.Carry: s.Values[shot.Carry], shot.Offline: -s.Values[shot.Offline]}
	}
	cfg.Course, cfg.Shots = course(t, shot.Aim{Trouble: frame.SideLeft}), mirrored
	b := decide(t, cfg, o)
	if a.Choice.Setting != b.Choice.Setting || a.Choice.Verdict != b.Choice.Verdict || math.Abs(a.Choice.Sure-b.Choice.Sure) > 0.02 {
		t.Errorf("%+v\n%+v", a.Choice, b.Choice)
	}
	for j := range a.Settings {
		x, y := a.Settings[j], b.Settings[j]
		if math.Abs(x.Aim+y.Aim) > 0.3*units.Degree || math.Abs(x.Difference.Mean-y.Difference.Mean) > 1e-3 || math.Abs(x.PRight-y.PLeft) > 0.02 {
			t.Errorf("%d: aim %.3f %.3f difference %.4f %.4f right %.3f left %.3f", j, x.Aim, y.Aim, x.Difference.Mean, y.Difference.Mean, x.PRight, y.PLeft)
		}
		if math.Abs(x.Ellipse.Z+y.Ellipse.Z) > 1e-9 || math.Abs(x.Ellipse.A-y.Ellipse.A) > 1e-9 {
			t.Errorf("ellipse %+v %+v", x.Ellipse, y.Ellipse)
		}
	}
}

// TestEveryWordIsThere says each message of many different answers in English
// and looks for holes, and for the word that never appears.
func TestEveryWordIsThere(t *testing.T) {
	settings, changes := head80(4, 3)
	lo, hi, carry := 20.0, 30.0, 195.0
	for k, c := range []struct {
		name string
		aim  shot.Aim
	}{
		{"strokes", shot.Aim{}},
		{"trouble on the left", shot.Aim{Trouble: frame.SideLeft, TroublePMax: 0.1}},
		{"carry with 12 balls left", shot.Aim{Goal: shot.GoalCarry, BallsLeft: 12}},
		{"fairways with 20 minutes left", shot.Aim{Goal: shot.GoalFairways, MinutesLeft: 20}},
		{"a window of height", shot.Aim{Goal: shot.GoalHeight, ApexLow: &lo, ApexHigh: &hi}},
		{"a least carry", shot.Aim{CarryMin: &carry, CarryPMin: 0.8}},
		{"trees on the right and a least height", shot.Aim{Trouble: frame.SideRight, TroubleKind: "trees", ApexLow: &lo, ApexPMin: 0.9}},
	} {
		t.Run(c.name, func(t *testing.T) {
			one := config(t, settings, changes, c.aim, nil)
			for _, gap := range []float64{0, 1, 3} {
				var specs []spec
				for j := range settings {
					specs = append(specs, spec{carry: 190 + gap*float64(j), offline: gap * float64(j), doubt: 3})
				}
				for _, n := range []int{0, 5, 12, 30} {
					cfg := one
					cfg.Shots = hits(seed.Seed(2).Stream("x"), n, 0, 2, 5)
					cfg.Measured = make([]float64, len(settings))
					r := decide(t, cfg, outcomes(settings, specs, 40, 8, seed.Seed(k)))
					ms := append([]report.Message{r.Choice.Headline, r.Stop.Why}, append(append(r.Choice.Why, r.Choice.Flips...), r.Notes...)...)
					for _, v := range r.Plan {
						ms = append(ms, v.Why)
					}
					for _, v := range r.Next {
						ms = append(ms, v.Why)
					}
					for _, m := range ms {
						s := (text.Reader{}).Say(m)
						if s == "" || strings.ContainsAny(s, "[]{}") || strings.Contains(s, "ignificant") || strings.Contains(s, "NaN") || strings.Contains(s, "Inf") {
							t.Errorf("%s: %q", m.Key, s)
						}
						if testing.Verbose() && gap == 1 && n == 12 {
							t.Log(s)
						}
					}
				}
			}
		})
	}
}

func TestLimitsAreNotMixedIn(t *testing.T) {
	settings, changes := head80(4, 1)
	// the longest one misses right far more often, and only aiming can help
	specs := []spec{{carry: 190, doubt: 2}, {carry: 220, doubt: 2}, {carry: 200, doubt: 2}, {carry: 185, doubt: 2}}
	o := outcomes(settings, specs, 150, 16, 2)
	for b := range o[1].Balls { // a wild one
		o[1].Balls[b].RestZ *= 2.5
	}
	shots := hits(seed.Seed(1).Stream("x"), 6, 0, 1, 2)
	free := decide(t, config(t, settings, changes, shot.Aim{Goal: shot.GoalCarry}, shots), o)
	if free.Choice.Setting != 1 {
		t.Errorf("without a limit: %+v", free.Choice)
	}
	bound := decide(t, config(t, settings, changes, shot.Aim{Goal: shot.GoalCarry, TroublePMax: 0.2, TroubleAt: 30 * yd}, shots), o)
	if bound.Settings[1].Feasible || !bound.Settings[2].Feasible || bound.Choice.Setting != 2 {
		t.Errorf("with a limit: %+v; %+v", bound.Choice, bound.Settings[1])
	}
	if r := bound.Settings[2]; math.Abs(r.Aim) < 1e-9 && r.PRight+r.PLeft > 0.2 {
		t.Errorf("limit broken: %+v", r)
	}
	far := 300.0
	none := decide(t, config(t, settings, changes, shot.Aim{CarryMin: &far}, shots), o)
	for _, s := range none.Settings {
		if s.Feasible {
			t.Error("300 m of carry is out of reach")
		}
	}
}

// TestATieGoesToTheNearest: within a thousandth of a stroke the smaller
// change of the club is chosen, beyond it the better one.
func TestATieGoesToTheNearest(t *testing.T) {
	settings, changes := head80(4, 1)
	for i, lean := range []float64{0, 1.5, 0.5, 1} {
		changes[i].Lean, changes[i].Upright, changes[i].LoftSquare = lean*units.Degree, 0, lean*units.Degree
	}
	d, err := New(config(t, settings, changes, shot.Aim{}, nil))
	if err != nil {
		t.Fatal(err)
	}
	d.draws = 50
	for i, cost := range []float64{0, -0.100, -0.0994, -0.0985} {
		d.rows[i] = row{cost: make([]float64, 50), out: report.Setting{Setting: settings[i]}}
		for k := range d.rows[i].cost {
			d.rows[i].cost[k] = cost
		}
	}
	if got := d.compare().leader(-1); got != 2 {
		t.Errorf("setting %d leads, expected 2: as good as 1 and nearer", got)
	}
	for k := range d.rows[2].cost {
		d.rows[2].cost[k] += 0.004
	}
	if got := d.compare().leader(-1); got != 1 {
		t.Errorf("setting %d leads, expected 1: the nearer one is no tie any more", got)
	}
}

// TestTheAimKeepsTheLimit: where aiming can keep a limit it does, though it
// costs strokes.
func TestTheAimKeepsTheLimit(t *testing.T) {
	settings, changes := head80(2, 1)
	o := outcomes(settings, []spec{{carry: 200, offline: 6, doubt: 2}, {carry: 200, offline: 5, doubt: 2}}, 150, 16, 2)
	aim := shot.Aim{Trouble: frame.SideRight, TroubleKind: "trees"}
	free := decide(t, config(t, settings, changes, aim, nil), o)
	aim.TroublePMax = 0.03
	bound := decide(t, config(t, settings, changes, aim, nil), o)
	for i := range settings {
		f, b := free.Settings[i], bound.Settings[i]
		if f.PRight < 0.05 || b.PRight > 0.032 || !b.Feasible || b.Aim >= f.Aim || b.Strokes.Mean < f.Strokes.Mean {
			t.Errorf("free: aim %.1f deg, %.3f beyond, %.3f strokes; with the limit: %.1f deg, %.3f, %.3f", f.Aim/units.Degree, f.PRight, f.Strokes.Mean, b.Aim/units.Degree, b.PRight, b.Strokes.Mean)
		}
	}
}

func TestBadOutcomes(t *testing.T) {
	settings, changes := head80(2, 1)
	o := outcomes(settings, []spec{{carry: 190}, {carry: 190}}, 20, 8, 1)
	cfg := config(t, settings, changes, shot.Aim{}, nil)
	d, err := New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	if err := d.Add(1, &o[1]); !errors.Is(err, errReferenceFirst) {
		t.Errorf("%v", err)
	}
	if err := d.Add(0, &o[0]); err != nil {
		t.Fatal(err)
	}
	if _, err := d.Result(); err == nil || !strings.Contains(err.Error(), "setting 1") {
		t.Errorf("%v", err)
	}
	bad := o[1]
	bad.Balls = append([]predict.Ball(nil), o[1].Balls...)
	bad.Balls[3].Apex = math.NaN()
	if err := d.Add(1, &bad); err == nil || !strings.Contains(err.Error(), "not a number") {
		t.Errorf("%v", err)
	}
	bad = o[1]
	bad.Balls = bad.Balls[1:]
	if err := d.Add(1, &bad); err == nil {
		t.Error("a ball is missing")
	}
	for name, spoil := range map[string]func(*Config){
		"no course":                     func(c *Config) { c.Course = nil },
		"today's setting is not there":  func(c *Config) { c.Reference = 2 },
		"no settings":                   func(c *Config) { c.Settings = nil },
		"a change is missing":           func(c *Config) { c.Changes = c.Changes[:1] },
		"a ball of a setting not there": func(c *Config) { c.Shots = []Shot{{Setting: 7}} },
		"one share measured of two":     func(c *Config) { c.Measured = make([]float64, 1) },
		"one share learned of two":      func(c *Config) { c.Learned = make([]float64, 1) },
	} {
		broken := cfg
		spoil(&broken)
		if _, err := New(broken); err == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// TestTheSameTwice: no hidden chance.
func TestTheSameTwice(t *testing.T) {
	settings, changes := head80(4, 2)
	var specs []spec
	for j := range settings {
		specs = append(specs, spec{carry: 190 + float64(j), doubt: 3})
	}
	cfg := config(t, settings, changes, shot.Aim{}, hits(seed.Seed(1).Stream("x"), 5, 0, 3, 5, 0))
	o := outcomes(settings, specs, 60, 8, 7)
	if a, b := decide(t, cfg, o), decide(t, cfg, o); !reflect.DeepEqual(a, b) {
		t.Error("the same input gave two answers")
	}
}

func BenchmarkEightySettings(b *testing.B) {
	settings, changes := head80(16, 5)
	var specs []spec
	for j := range settings {
		specs = append(specs, spec{carry: 190 + 0.1*float64(j), offline: 0.1 * float64(j), doubt: 3})
	}
	o := outcomes(settings, specs, 150, 16, 7)
	cfg := config(b, settings, changes, shot.Aim{Trouble: frame.SideRight}, hits(seed.Seed(1).Stream("x"), 5, 0, 3, 5, 40, 70, 0))
	for b.Loop() {
		decide(b, cfg, o)
	}
}

// The doubt of the ground widens the total distance and nothing else: not its
// differences, no other quantity, no stroke.
func TestTheGroundIsTheTotalsDoubt(t *testing.T) {
	course, err := score.New(shot.Aim{}, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	add := func(ground bool) report.Setting {
		o := normalBalls(220, 0, 8, 12, 100, 4)
		if ground {
			o.Ground = make([]float64, o.Draws)
			for i := range o.Ground {
				o.Ground[i] = 20 * float64(i%2*2-1)
			}
		}
		d, err := New(Config{Course: course, Settings: make([]club.Setting, 1), Changes: make([]club.Change, 1)})
		if err != nil {
			t.Fatal(err)
		}
		if err := d.Add(0, &o); err != nil {
			t.Fatal(err)
		}
		return d.rows[0].out
	}
	sure, doubted := add(false), add(true)
	for i, a := range doubted.Quantities {
		b := sure.Quantities[i]
		if a.Quantity == shot.Total {
			if w := (a.Value.Hi80 - a.Value.Lo80) / 2; w < 19 || math.Abs(a.Value.Mean-b.Value.Mean) > 1e-9 {
				t.Errorf("total %+v, want ±20 m about %.1f", a.Value, b.Value.Mean)
			}
			a.Value = b.Value
		}
		if a != b {
			t.Errorf("%s: %+v, without the doubt %+v", a.Quantity, a, b)
		}
	}
	sure.Quantities, doubted.Quantities = nil, nil
	if !reflect.DeepEqual(sure, doubted) {
		t.Errorf("with the doubt %+v, without %+v", doubted, sure)
	}
}
