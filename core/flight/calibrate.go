package flight

import (
	"errors"
	"math"

	"ferrule/core/air"
)

// Observation is one ball whose launch and whose flight were both measured; nil
// = not measured.
type Observation struct {
	Launch  Launch
	Carry   *float64 // [m] straight distance to the landing place
	Apex    *float64 // [m]
	Offline *float64 // [m] landing place right of the target line
	Descent *float64 // [rad] below horizontal at landing, down +
	Time    *float64 // [s] launch to landing

	Block int // of Prior.Blocks: the wind that it was hit in; beyond them = the air of Env, known
}

// Wind is the air's motion at 10 m; it takes the place of that of Env.
type Wind struct {
	Head  float64 // [m/s] against the ball +
	Cross float64 // [m/s] blowing to the right +
}

// In is air a with this wind in place of its own.
func (w Wind) In(a air.Air) air.Air {
	a.Wind, a.WindFrom = math.Hypot(w.Head, w.Cross), math.Atan2(-w.Cross, w.Head)
	return a
}

// WindPrior is what is believed of a block's wind before its flights are seen.
type WindPrior struct {
	Wind
	HeadSD  float64 // [m/s] 0 = known
	CrossSD float64 // [m/s] 0 = known
	Gust    float64 // [m/s] standard deviation of a ball's own wind about its block's
}

// Prior is what is believed before the flights of a session are seen.
type Prior struct {
	Balls  Population  // about Env.Model; the zero value stands for Balls()
	Blocks []WindPrior // the winds, by Observation.Block
	// Drift is how far a block's wind, less what is believed of it, goes on from the
	// block before it, as a correlation [1]; 0 = each block has its own.
	Drift float64
	// A device may print all directions, all axes and all launch angles off by a constant.
	DirectionSD float64 // [rad] of a device's zero of direction, 0 = none is fitted
	AxisSD      float64 // [rad] of a device's zero of axis, 0 = none is fitted
	LaunchSD    float64 // [rad] of a device's zero of launch, 0 = none is fitted
	// What no law of flight says of this ball looks like a head wind of every block,
	// and is none.
	LawSD float64 // [m/s] 0 = none is fitted
}

// BlockWind is what a block's wind was, by its flights and its prior.
type BlockWind struct {
	Wind
	HeadSD  float64 // [m/s]
	CrossSD float64 // [m/s]
	Balls   int     // flights that it rests on
	// Ball is how much of the doubt of head and of cross is shared with the ball's
	// traits [1]: near 1 says that these flights cannot tell wind from ball.
	Ball [2]float64
}

// The quantities of a flight that a calibration compares.
const (
	SeenCarry = iota
	SeenOffline
	SeenApex
	SeenDescent
	SeenTime
	numSeen
)

// Calibration is what a session's flights say of its ball, its winds and its device.
type Calibration struct {
	Model  Model // the ball that is taken
	Traits Traits
	Cov    [NumTraits][NumTraits]float64 // [1] posterior covariance of Traits

	Blocks        []BlockWind
	DirectionZero float64 // [rad] what the device prints is this much too far right
	DirectionSD   float64 // [rad]
	AxisZero      float64 // [rad] what the device prints is this much too far right
	AxisSD        float64 // [rad]
	LaunchZero    float64 // [rad] what the device prints is this much too high
	LaunchSD      float64 // [rad]

	Errors [numSeen]float64 // standard deviations learned of carry [m], offline [m], apex [m], descent [rad], time [s], launch errors apart
	Weight []float64        // [1] of each observation: well below 1 for a bad flight, 0 where nothing could be compared
	Used   int              // flights compared

	// Taken is the share of what was fitted that is taken [1]: as much as predicts
	// flights left out best, none when the mean ball in the air of the prior does.
	Taken  float64
	Before [numSeen]float64 // root mean square miss of balls left out, mean ball in the air of the prior, in the units of Errors; 0 = not measured
	After  [numSeen]float64 // of what is taken
}

// errNoFlight says that no ball had its launch and its flight measured.
var errNoFlight = errors.New("flight: no ball has both its launch and its flight measured, the mean ball is kept")

// Errors of a device before its flights are seen. The launch numbers' are
// [shared research: assumed errors of a trial], the flights' a per cent or two
// of a drive; TestErrorsAreLearned shows that they move.
var (
	launchSD = [5]float64{.3, .28 * degree, .3 * degree, 12, 1.5 * degree}      // [m/s], [rad], [rad], [rad/s], [rad]
	seenSD   = [numSeen]float64{3 * yard, 3 * yard, 3 * .3048, 2 * degree, .15} // [m], [m], [m], [rad], [s]
	slight   = [5]float64{.1, .002, .002, 2, .01}                               // steps of the slopes by launch
	nudge    = Traits{.01, .01, .02, .05, .05, .1, .05}                         // and by trait
)

const (
	degree    = math.Pi / 180
	heavyTail = 8.0 // [1] degrees of freedom of a flight's errors: bad ones count little
	errorsNu  = 2.0 // [1] flights that the prior of a device's errors counts for
	rounds    = 8   // of Gauss and Newton
	gustStep  = 1.0 // [m/s]
)

// Calibrate infers ball, winds and device together: the maximum a posteriori of
// normal priors and t errors by Gauss and Newton with finite differences, the
// errors' sizes by expectation and maximization. A flight's errors are its
// launch's, carried through the flight, and its own. The covariance is the
// curvature's inverse. What was fitted is then taken only as far as it predicts
// flights left out better than the mean ball in the air of the prior does, carry
// apart from the rest (take).
func Calibrate(obs []Observation, e Env, p Prior) (Calibration, error) {
	c := newFitting(obs, e.filled(), p)
	if len(c.flights) == 0 {
		return Calibration{Model: e.filled().Model, Weight: make([]float64, len(obs))}, errNoFlight
	}
	if !c.solve() {
		return Calibration{Model: e.filled().Model, Weight: make([]float64, len(obs))}, errors.New("flight: the measured flights determine no ball")
	}
	return c.result(len(obs)), nil
}

func flyWith(l Launch, e Env, m Model) Landing {
	e.Model = m
	g, err := Fly(l, e)
	if err != nil {
		return Landing{}
	}
	return g
}

// followed is what traits cannot follow of a ball beside its posterior: .01 in
// drag and lift, .1 in spin (our own choice).
var followed = Traits{TraitDrag: .01, TraitLift: .01, TraitSpinDrag: .1}

// Doubt is what stays in doubt of the ball that is taken, for drawing it: cause by
// cause the changes of its traits that go with one standard deviation of it.
func (c Calibration) Doubt() [NumTraits]Traits {
	for i, least := range followed {
		c.Cov[i][i] += least * least
	}
	return causes(c.Cov)
}

// Doubt is the same of a ball that was never seen to fly.
func (p Population) Doubt() [NumTraits]Traits { return causes(p.Cov) }

// causes are the columns of Cholesky's factor.
func causes(cov [NumTraits][NumTraits]float64) (out [NumTraits]Traits) {
	var l [NumTraits][NumTraits]float64
	for i := range NumTraits {
		for j := range i + 1 {
			s := cov[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(math.Max(s, 0))
			} else if l[j][j] > 0 {
				l[i][j] = s / l[j][j]
			}
			out[j][i] = l[i][j]
		}
	}
	return out
}
