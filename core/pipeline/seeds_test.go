package pipeline

import (
	"math"
	"runtime"
	"testing"

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
		settings, words := map[string]int{}, map[string]int{}
		sum, squares := 0.0, 0.0
		for sd := 1; sd <= seeds; sd++ {
			r, err := Analyse(c.session, uint64(sd), nil)
			if err != nil {
				t.Fatal(err)
			}
			settings[r.Settings[r.Choice.Setting].Setting.Key()]++
			words[string(r.Choice.Verdict)]++
			sum, squares = sum+r.Choice.Sure, squares+r.Choice.Sure*r.Choice.Sure
		}
		n := float64(seeds)
		sure := sum / n
		t.Logf("%s: %v %v, chance %.3f +- %.3f from seed to seed", c.name, settings, words, sure, math.Sqrt(math.Max(0, squares/n-sure*sure)))
		near := false
		for _, limit := range []float64{.65, .85, .95} { // of the verdicts, as the page explains them
			near = near || math.Abs(sure-limit) < .02
		}
		if most(words) < seeds-1 && !near {
			t.Errorf("%s: %d seeds say %v at a chance of %.3f", c.name, seeds, words, sure)
		}
		leant := most(settings)
		if near && words["cannot tell"] > 0 {
			leant += words["cannot tell"]
		}
		if leant < seeds-1 {
			t.Errorf("%s: %d seeds choose %v", c.name, seeds, settings)
		}
	}
}

func most(of map[string]int) int {
	n := 0
	for _, k := range of {
		n = max(n, k)
	}
	return n
}
