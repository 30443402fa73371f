package flight

import "math"

// The run of a ball on average fairway ground, a straight line through the
// medians of an open file of drives by ball speed (descent 29, 33, 36, 37, 40,
// 42, 45 degrees: total less carry 27, 24, 22, 22, 20, 19, 17 yd; most of them
// computed by devices, so this is common practice rather than measurement):
//
//	run = 45 yd - .62 yd per degree of descent
//
// The physics of bounce and roll stands beside it (Turf) and agrees within 5 yd
// on average ground (TestTurf); the line is used because it is smooth in the
// launch. Rank on carry: RunDoubt says how good a run is.
const (
	runLevel = 45 * yard                  // [m] at no descent
	runSteep = .62 * yard * 180 / math.Pi // [m/rad] less for each radian of descent
	runSpeed = 12.0                       // [m/s] level speed below which the run shrinks with its square
	runFirm  = .5                         // [1] share that firmness 1 adds and -1 takes; our own choice
	yard     = .9144                      // [m]
)

// RunDoubt is how far a computed run may be off [m], the half width of an 80 %
// interval: no simple model fits a thousand measured bounces [BJC23], the line
// and the physics differ by half of it, and ground decides the rest.
const RunDoubt = 10 * yard

// restPlace returns where the ball stops [m]: straight on from its landing place.
func (f *flyer) restPlace(firmness float64) (restX, restZ float64) {
	level := math.Hypot(f.vx, f.vz)
	if f.vy > 0 || level < 1e-9 { // cut in mid-air, or straight down
		return f.x, f.z
	}
	descent := math.Atan2(-f.vy, level)
	run := math.Max(runLevel-runSteep*descent, 0) * (1 + runFirm*firmness)
	if level < runSpeed {
		run *= (level / runSpeed) * (level / runSpeed)
	}
	return f.x + run*f.vx/level, f.z + run*f.vz/level
}
