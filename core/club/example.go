package club

import "ferrule/core/units"

// Example is the invented club of the demonstration: a driver with a one-ring
// sleeve of eight positions, named in words, and one weight on a track.
func Example() Head {
	measured := 10.1 * units.Degree
	return Head{
		Name:         "Example driver",
		Kind:         Driver,
		Loft:         10.5 * units.Degree,
		MeasuredLoft: &measured,
		Lie:          58 * units.Degree,
		Mass:         198 * units.Gram,
		Sleeve: Sleeve{
			Rings:  []Ring{{Tilt: 1.5 * units.Degree, Positions: 8}},
			Labels: []string{"up", "up-upright", "upright", "down-upright", "down", "down-flat", "flat", "up-flat"},
		},
		Weights: []Weight{{
			Name: "track",
			Mass: 12 * units.Gram,
			Stops: []Stop{
				{Label: "heel 20", Toe: -20 * units.Millimetre},
				{Label: "heel 10", Toe: -10 * units.Millimetre},
				{Label: "middle"},
				{Label: "toe 10", Toe: 10 * units.Millimetre},
				{Label: "toe 20", Toe: 20 * units.Millimetre},
			},
		}},
		Current: Setting{Sleeve: "flat", Weights: []string{"middle"}},
		Shaft: Shaft{
			Length:    45.25 * units.Inch,
			Mass:      58 * units.Gram,
			GripMass:  50 * units.Gram,
			TotalMass: 312 * units.Gram,
		},
	}
}
