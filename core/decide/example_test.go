package decide_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/decide"
	"ferrule/core/frame"
	"ferrule/core/predict"
	"ferrule/core/score"
	"ferrule/core/shot"
)

// Two settings whose balls are given: today's goes 30 m to the right, the other down
// the middle. Too few were hit for a verdict, so the answer is a plan.
func ExampleNew() {
	course, err := score.New(shot.Aim{}, nil, frame.Right)
	if err != nil {
		fmt.Println(err)
		return
	}
	settings := []club.Setting{{Sleeve: "flat"}, {Sleeve: "upright"}}
	d, err := decide.New(decide.Config{Course: course, Settings: settings, Changes: make([]club.Change, 2)})
	if err != nil {
		fmt.Println(err)
		return
	}
	for i, right := range []float64{30, 0} {
		o := predict.Outcome{Draws: 20, PerDraw: 4}
		for b := range o.Draws * o.PerDraw {
			z := right + 6*float64(b%5-2)
			o.Balls = append(o.Balls, predict.Ball{Carry: 220, Offline: z, Apex: 28, Descent: .6, RestX: 238, RestZ: z})
		}
		if err := d.Add(i, &o); err != nil {
			fmt.Println(err)
			return
		}
	}
	r, err := d.Result()
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Choice.Verdict, r.Choice.Headline.Key)
	for _, v := range r.Todo.Visits[:2] {
		fmt.Println(v.Balls, "balls with", settings[v.Setting].Sleeve)
	}
	// Output:
	// cannot tell choice.thin
	// 3 balls with flat
	// 3 balls with upright
}
