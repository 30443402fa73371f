package decide

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/predict"
	"ferrule/core/score"
	"ferrule/core/seed"
	"ferrule/core/shot"
	"ferrule/core/units"
)

const yd = units.Yard

// head80 is an invented head: sixteen sleeve positions and five weights.
func head80(sleeves, weights int) (settings []club.Setting, changes []club.Change) {
	for s := range sleeves {
		for w := range weights {
			a := 2 * math.Pi * float64(s) / float64(sleeves)
			settings = append(settings, club.Setting{Sleeve: fmt.Sprintf("turn %d", s), Weights: []string{fmt.Sprintf("stop %d", w)}})
			ch := club.Change{Lean: 1.5 * math.Sin(a) * units.Degree, Upright: 1.5 * (math.Cos(a) - 1) * units.Degree}
			if weights > 1 {
				ch.CGToe = (float64(w) - float64(weights-1)/2) * 0.6 * units.Millimetre
			}
			ch.LoftSquare = ch.Lean
			changes = append(changes, ch)
		}
	}
	return settings, changes
}

// spec is one setting's predicted pattern: its mean under each draw.
type spec struct {
	carry, offline float64 // [m] mean over draws
	doubt          float64 // [m] posterior sd of both
	turn           float64 // [rad] extra turn of every ball about the tee
}

// outcomes draws invented predictions with common random numbers: 14 yd of
// spread in carry, 18 yd sideways.
func outcomes(settings []club.Setting, specs []spec, draws, per int, s seed.Seed) []predict.Outcome {
	n := draws * per
	ball := make([][2]float64, n)
	rng := s.Stream("balls")
	for i := range ball {
		ball[i] = [2]float64{14 * yd * rng.NormFloat64(), 18 * yd * rng.NormFloat64()}
	}
	out := make([]predict.Outcome, len(settings))
	for j := range settings {
		own := s.Stream(fmt.Sprint("setting ", j))
		o := predict.Outcome{Draws: draws, PerDraw: per,
			Balls: make([]predict.Ball, n), Launch: make([]float64, draws*launch)}
		for d := range draws {
			dc, do := specs[j].doubt*own.NormFloat64(), specs[j].doubt*own.NormFloat64()
			o.Launch[d*launch] = 60 + (specs[j].carry+dc)/4
			o.Launch[d*launch+1] = 0.2
			o.Launch[d*launch+2] = (specs[j].offline + do) / 200
			o.Launch[d*launch+3] = 300
			o.Launch[d*launch+4] = 0.001 * own.NormFloat64()
			for i := range per {
				b := &o.Balls[d*per+i]
				c := specs[j].carry + dc + ball[d*per+i][0]
				z := specs[j].offline + do + ball[d*per+i][1]
				sin, cos := math.Sincos(specs[j].turn)
				b.Carry, b.Offline = c*cos-z*sin, z*cos+c*sin
				b.Apex, b.Descent = 25+0.01*c, 0.7
				run := 1 + 18*yd/c
				b.RestX, b.RestZ = b.Carry*run, b.Offline*run
			}
		}
		out[j] = o
	}
	return out
}

func course(t testing.TB, aim shot.Aim) *score.Course {
	t.Helper()
	c, err := score.New(aim, nil, frame.Right)
	if err != nil {
		t.Fatal(err)
	}
	return c
}

// hits gives every listed setting n counted balls, one visit each, with carry
// and offline.
func hits(rng *rand.Rand, n int, settings ...int) []Shot {
	var out []Shot
	for _, s := range settings {
		for range n {
			out = append(out, Shot{Setting: s, Counted: true, Values: shot.Values{shot.Carry: 200 + 12*rng.NormFloat64(), shot.Offline: 15 * rng.NormFloat64()}})
		}
	}
	return out
}

func config(t testing.TB, settings []club.Setting, changes []club.Change, aim shot.Aim, shots []Shot) Config {
	return Config{Course: course(t, aim), Aim: aim, Settings: settings, Changes: changes, Shots: shots,
		Spread: [launch]float64{1.4, 0.03, 0.04, 40, 0.1}}
}

// decide is New, Add for each outcome, the reference first, and Result.
func decide(t testing.TB, cfg Config, o []predict.Outcome) Result {
	t.Helper()
	d, err := New(cfg)
	if err != nil {
		t.Fatal(err)
	}
	if len(o) != len(cfg.Settings) {
		t.Fatalf("%d settings but %d outcomes", len(cfg.Settings), len(o))
	}
	for _, i := range append([]int{cfg.Reference}, others(len(o), cfg.Reference)...) {
		if err := d.Add(i, &o[i]); err != nil {
			t.Fatal(err)
		}
	}
	r, err := d.Result()
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// others are 0 to n-1 without one.
func others(n, without int) (out []int) {
	for i := range n {
		if i != without {
			out = append(out, i)
		}
	}
	return out
}
