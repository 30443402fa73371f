package response_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/response"
	"ferrule/core/units"
)

// Twelve balls with two settings. What the second does to the start is learned from
// them and from what physics expects.
func ExampleFit() {
	head := club.Example()
	settings := []club.Setting{head.Current, {Sleeve: "upright", Weights: []string{"middle"}}}
	changes, err := head.Changes(settings)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := response.Input{Changes: changes, Seed: 1}
	base := impact.Baseline{Launch: flight.Launch{Speed: 67, Angle: 13 * units.Degree, Spin: 290}}
	if in.Prior, err = impact.Effects(base, head, in.Seed); err != nil {
		fmt.Println(err)
		return
	}
	for i := range 12 {
		at := i / 3 % 2
		right := 3 - 4*float64(at) + float64(i%3-1) // [degrees] of the start
		in.Shots = append(in.Shots, response.Obs{Setting: at, Order: i, Has: [response.K]bool{true, true, true, true, true},
			Y: [response.K]float64{67, 13 * units.Degree, right * units.Degree, 290, 0}})
	}
	r, err := response.Fit(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	sum := 0.0
	for d := range r.Draws {
		sum += r.Mean(d, 1, nil)[2] - r.Mean(d, 0, nil)[2]
	}
	fmt.Printf("upright starts the ball %.0f degrees further left; %.0f %% of that was measured\n", -sum/float64(len(r.Draws))/units.Degree, 100*r.Measured(1))
	// Output:
	// upright starts the ball 3 degrees further left; 76 % of that was measured
}
