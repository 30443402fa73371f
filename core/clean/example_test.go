package clean_test

import (
	"fmt"

	"ferrule/core/clean"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// A ball that no driver hits is a wrong record, and the reason is said. Nothing is
// deleted.
func ExampleReview() {
	var s shot.Session
	for i, speed := range []float64{66, 67, 65.5, 66.2, 66.8, 130} { // [m/s]
		s.Shots = append(s.Shots, shot.Shot{ID: fmt.Sprint(i + 1), Setting: club.Setting{Sleeve: "up"}, Values: shot.Values{shot.BallSpeed: speed}})
	}
	for _, row := range clean.Review(s, nil).Rows {
		for _, why := range row.Reasons {
			fmt.Println("ball", row.ID, "is", row.Status, "by", why.Key)
		}
	}
	// Output:
	// ball 6 is impossible by clean.impossible
}
