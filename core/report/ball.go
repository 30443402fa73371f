package report

// Ball is what the flight model knows of this player's own ball.
type Ball struct {
	// The model that flew it; all 1 is the published one.
	Drag     float64 // [1] scale
	Lift     float64 // [1] scale
	SpinDrag float64 // [1] scale of the share of drag that spin causes
	Curve    float64 // [1] tilt that the ball flies by for each that the device prints

	Carry float64     // [m] of the typical ball at the chosen setting, still air
	Airs  []AirChange // what other air does to it
	Reach *Reach      // nil = its launch fits no delivery
}

// AirChange is what one change of the air does to the player's ball. Key is
// "head", "tail", "right", "left" (10 mph from there), "warm", "cold" (10 degrees), "high" (1000 m).
type AirChange struct {
	Key     string
	Carry   float64 // [m]
	Offline float64 // [m] right +
	Apex    float64 // [m]
}

// Reach is the best launch and spin along what spin loft can reach with the
// player's ball speed and attack.
type Reach struct {
	Launch   float64 // [rad]
	Spin     float64 // [rad/s]
	Carry    float64 // [m] with them
	Short    float64 // [m] what the player's ball falls short of it
	Attack   float64 // [rad]
	Measured bool    // the attack was measured, not taken for an average

	// Between these launches (and their spins) no more than 2 yd are lost.
	LaunchLow, LaunchHigh float64 // [rad]
	SpinLow, SpinHigh     float64 // [rad/s]
}

// Level is a measured ball brought to still air at 20 °C and sea level.
type Level struct {
	Carry   float64 // [m]
	Offline float64 // [m] right +
	Apex    float64 // [m]
}
