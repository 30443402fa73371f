package chart_test

import (
	"fmt"
	"strings"

	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/frame"
)

// How to turn the club, as a drawing and as words for who cannot see it.
func ExampleTurn() {
	head := club.Example()
	to := club.Setting{Sleeve: "up", Weights: []string{"toe 10"}}
	d := chart.Turn(chart.Move{Head: head, From: head.Current, To: to, Hand: frame.Right}, chart.Style{ID: "turn"})
	fmt.Println(d.Title)
	fmt.Println(d.Summary)
	fmt.Println(strings.HasPrefix(d.SVG, "<svg"))
	// Output:
	// How to set it, from above
	// Looking down the shaft, turn the sleeve 90° clockwise, from flat to up. track: from middle to toe 10.
	// true
}
