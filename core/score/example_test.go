package score_test

import (
	"fmt"

	"ferrule/core/frame"
	"ferrule/core/score"
	"ferrule/core/shot"
)

// The same drive, straight and 40 m to the right where the trees are: what it costs
// to finish the hole.
func ExampleNew() {
	handicap := 12.
	c, err := score.New(shot.Aim{Trouble: frame.SideRight}, &handicap, frame.Right)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("straight %.1f strokes, wide %.1f\n", c.Strokes(230, 0), c.Strokes(226, 40))
	// Output:
	// straight 4.4 strokes, wide 6.1
}
