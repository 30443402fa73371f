package pipeline_test

import (
	"fmt"

	"ferrule/core/pipeline"
	"ferrule/core/text"
)

// The whole chain: the invented session of the demonstration, and its answer in words.
func ExampleAnalyse() {
	s, err := pipeline.Example("demo")
	if err != nil {
		fmt.Println(err)
		return
	}
	r, err := pipeline.Analyse(s, 1, nil)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.Balls, "balls,", len(r.Settings), "settings")
	fmt.Println(text.Reader{}.Say(r.Choice.Headline))
	// Output:
	// 52 balls, 40 settings
	// Lean to up-upright / heel 20. Today’s setting misses your limit; this one may do better, no more than a lean (84 % sure): 16 % of balls go beyond the line, today 32 %.
}
