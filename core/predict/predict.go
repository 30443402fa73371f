// Package predict flies the balls of a fitted response's draws to their resting
// places, for every setting of a head, tested or not. Each is the door.
//
// Begin with Each and its example.
package predict

// Ball is one predicted ball, right-handed equivalent.
type Ball struct {
	Carry   float64 // [m] along the target line at landing
	Offline float64 // [m] right of the target line at landing
	Apex    float64 // [m]
	Descent float64 // [rad] down +
	RestX   float64 // [m] along the target line at rest
	RestZ   float64 // [m] right of the target line at rest
}

// Outcome is what one setting is predicted to do: Balls[d*PerDraw+i] is ball i
// of posterior draw d. Draw d and ball i use the same random numbers in every
// setting (common random numbers), so settings may be compared ball by ball.
type Outcome struct {
	Draws   int
	PerDraw int
	Balls   []Ball    // [Draws*PerDraw]
	Ground  []float64 // [Draws] m that all balls of a draw run on beyond RestX: ground firmer or softer than average, the same for every setting
	Check   *Check    // of a setting that was hit against its balls, nil = never hit
	Launch  []float64 // [Draws*5] mean launch of each draw: speed, angle, direction, spin, axis, SI
}
