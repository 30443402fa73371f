package pipeline

import (
	"math"
	"runtime"
	"testing"

	"ferrule/core/report"
	"ferrule/core/shot"
)

// TestTheSeedDoesNotAnswer: what is answered comes from the shots and not from
// the seed. Twenty seeds give the same choice and the same verdict, all but one
// at most; where the chance itself lies within two points of the verdict's limit
// the word may change, the setting may not.
func TestTheSeedDoesNotAnswer(t *testing.T) {
	seeds := 20
	if runtime.GOOS == "js" {
		seeds = 5
	}
	demo, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	thin, err := Example("thin")
	if err != nil {
		t.Fatal(err)
	}
	carry, free := demo, demo
	carry.Aim.Goal = shot.GoalCarry
	free.Aim.TroublePMax = 0
	few := demo
	few.Shots = nil
	for i, s := range demo.Shots {
		if i%3 != 2 {
			few.Shots = append(few.Shots, s)
		}
	}
	for _, c := range []struct {
		name    string
		session shot.Session
	}{{"the example", demo}, {"three balls a setting", thin}, {"carry as the aim", carry}, {"no limit on the right", free}, {"two balls of three", few}} {
		t.Run(c.name, func(t *testing.T) {
			settings, words := map[string]int{}, map[string]int{}
			sum, squares := 0.0, 0.0
			var first report.Report
			same := 0 // choices that are as good as the first seed's by its own reckoning
			for sd := 1; sd <= seeds; sd++ {
				r, err := Analyse(c.session, uint64(sd), nil)
				if err != nil {
					t.Fatal(err)
				}
				if sd == 1 {
					first = r
				}
				was, is := first.Settings[first.Choice.Setting].Gain.Value, first.Settings[r.Choice.Setting].Gain.Value
				if was.Mean-is.Mean <= .1*(was.Hi80-was.Lo80) {
					same++
				}
				settings[r.Settings[r.Choice.Setting].Setting.Key()]++
				words[string(r.Choice.Verdict)]++
				sum, squares = sum+r.Choice.Sure, squares+r.Choice.Sure*r.Choice.Sure
			}
			n := float64(seeds)
			sure := sum / n
			wander := math.Sqrt(math.Max(0, squares/n-sure*sure))
			t.Logf("%v %v, chance %.3f +- %.3f from seed to seed", settings, words, sure, wander)
			near := false
			for _, limit := range []float64{.65, .85, .95} { // of the verdicts, as the page explains them
				near = near || math.Abs(sure-limit) < max(.02, 2*wander)
			}
			if most(words) < seeds-1 && !near {
				t.Errorf("%d seeds say %v at a chance of %.3f", seeds, words, sure)
			}
			if most(settings) < seeds-1 && same < seeds-1 {
				t.Errorf("%d seeds choose %v", seeds, settings)
			}
		})
	}
}

func most(of map[string]int) int {
	n := 0
	for _, k := range of {
		n = max(n, k)
	}
	return n
}

// TestAimingIsSaidToBeFree: a player who may aim anywhere is told that turning
// the ball earns nothing, and what would be best for one who aims at the middle;
// who does aim there is told what aiming would do.
func TestAimingIsSaidToBeFree(t *testing.T) {
	chosen := map[string]bool{}
	said := func(s shot.Session) map[string]string {
		r, err := Analyse(s, 1, nil)
		if err != nil {
			t.Fatal(err)
		}
		chosen[r.Settings[r.Choice.Setting].Setting.Key()] = true
		out := map[string]string{}
		for _, m := range append(r.Choice.Why, r.Choice.Flips...) {
			out[m.Key] = ""
			if len(m.Args) > 0 {
				out[m.Key] = m.Args[0].Text
			}
		}
		return out
	}
	middle, err := Example("demo")
	if err != nil {
		t.Fatal(err)
	}
	if !middle.Aim.Fixed {
		t.Fatal("the example aims at the middle")
	}
	free := middle
	free.Aim.Fixed = false
	a, b := said(middle), said(free)
	if _, ok := a["why.line.middle"]; !ok {
		t.Errorf("who aims at the middle is not told what aiming would do: %v", a)
	}
	if _, ok := a["why.turn"]; ok {
		t.Error("who aims at the middle is told that turning the ball earns nothing")
	}
	if _, ok := b["why.turn"]; !ok {
		t.Errorf("who aims anywhere is not told that turning the ball earns nothing: %v", b)
	}
	if to := b["flip.middle"]; to == "" && len(chosen) > 1 {
		t.Errorf("who aims anywhere is not told what aiming at the middle would change: %v", b)
	}
}
