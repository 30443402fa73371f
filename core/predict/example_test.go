package predict_test

import (
	"fmt"

	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/predict"
	"ferrule/core/response"
	"ferrule/core/units"
)

// Six balls with today's setting, and what is predicted of one with more loft that
// nobody hit.
func ExampleEach() {
	head := club.Example()
	settings := []club.Setting{head.Current, {Sleeve: "up", Weights: []string{"middle"}}}
	changes, err := head.Changes(settings)
	if err != nil {
		fmt.Println(err)
		return
	}
	in := response.Input{Changes: changes, Seed: 1}
	ball := flight.Launch{Speed: 67, Angle: 13 * units.Degree, Spin: 290}
	if in.Prior, err = impact.Effects(impact.Baseline{Launch: ball}, head, in.Seed); err != nil {
		fmt.Println(err)
		return
	}
	for i := range 6 {
		in.Shots = append(in.Shots, response.Obs{Order: i, Has: [response.K]bool{true, true, true, true, true},
			Y: [response.K]float64{ball.Speed + float64(i%3-1)/2, ball.Angle, 0, ball.Spin, 0}})
	}
	r, err := response.Fit(in)
	if err != nil {
		fmt.Println(err)
		return
	}
	surface, err := flight.NewSurface(flight.Around(ball), flight.Env{})
	if err != nil {
		fmt.Println(err)
		return
	}
	predict.Each(r, surface, settings, predict.Config{Seed: in.Seed}, func(i int, o *predict.Outcome) {
		up := 0.0
		for d := range o.Draws {
			up += o.Launch[d*response.K+1] / float64(o.Draws)
		}
		fmt.Printf("%s: %d draws of %d balls, which start about %.0f degrees up\n", settings[i].Sleeve, o.Draws, o.PerDraw, up/units.Degree)
	})
	// Output:
	// flat: 600 draws of 7 balls, which start about 13 degrees up
	// up: 600 draws of 7 balls, which start about 14 degrees up
}
