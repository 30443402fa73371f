package response

import (
	"math"

	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/units"
)

// outputs of a flight that stand for launch numbers that were not measured:
// carry, offline, apex [m], descent [rad], time [s].
const outputs = 5

const outTime = outputs - 1

type flown [outputs]float64

// What the ball's flight model misses of a ball, and what it misses of all
// balls of a session together: the ball, the device and the air are not quite
// those of the model. Judged: published models differ by about 4 % of carry and
// a tenth of height on one launch (flight.TestPriorIsTheSpread).
var (
	flightNoise = flown{3, 3, 1.5, 1.5 * units.Degree, .15}
	flightDoubt = flown{7, 2.5, 2.5, 2 * units.Degree, .2}
)

// What drivers do who are not measured: how far a player's mean launch number is
// from the usual one, standard deviation in reference units. Spin of a driver
// follows its launch angle (more loft, more of both) and the speed; medians and
// slopes are common practice, no source. Speed is nearly free, since carry tells it.
var usualSD = [K]float64{5, 1.2, .8, 1.4, .8}

func flights(o *Obs) [outputs]*float64 {
	return [outputs]*float64{o.Carry, o.Offline, o.Apex, o.Descent, o.Time}
}

// flyer flies launches in the air of a session.
type flyer struct {
	env     flight.Env
	surface *flight.Surface // nil = each is flown
}

// fly is the flight of launch y, from the surface where there is one and time
// is not asked for.
func (f *flyer) fly(y [K]float64) (out flown, err error) {
	var g flight.Landing
	if f.surface != nil {
		g = f.surface.At(Launch(y))
	} else if g, err = flight.Fly(Launch(y), f.env); err != nil {
		return out, message.New("problem.no-flight", err)
	}
	return flown{g.Carry, g.Offline, g.Apex, g.Descent, g.Time}, nil
}

// slope is the change of the flight per reference unit of response k about y.
func (f *flyer) slope(y [K]float64, k int) (out flown, err error) {
	const h = .25
	a, b := y, y
	a[k], b[k] = a[k]+h*Scale[k], b[k]-h*Scale[k]
	up, err := f.fly(a)
	if err != nil {
		return out, err
	}
	down, err := f.fly(b)
	for i := range out {
		out[i] = (up[i] - down[i]) / (2 * h)
	}
	return out, err
}

// held keeps a launch where a driver's can be.
func held(y [K]float64) [K]float64 {
	low := [K]float64{15, 2 * units.Degree, -20 * units.Degree, 900 * units.RPM, -35 * units.Degree}
	high := [K]float64{110, 26 * units.Degree, 20 * units.Degree, 6500 * units.RPM, 35 * units.Degree}
	for k := range y {
		y[k] = math.Max(low[k], math.Min(high[k], y[k]))
	}
	return y
}

// lands says whether flights stand for launch numbers of ball s.
func lands(s *Obs) bool {
	if s.Has == ([K]bool{true, true, true, true, true}) {
		return false
	}
	return flights(s) != [5]*float64{}
}

// jacobian is the flight map at the centre: carry, offline, apex.
type jacobian struct {
	at    [3]float64    // [m]
	slope [3][K]float64 // [m per reference unit]
}

func (f *flyer) jacobian(centre [K]float64) (j jacobian, err error) {
	at, err := f.fly(centre)
	if err != nil {
		return j, err
	}
	copy(j.at[:], at[:])
	for k := range K {
		s, err := f.slope(centre, k)
		if err != nil {
			return j, err
		}
		for i := range j.slope {
			j.slope[i][k] = s[i]
		}
	}
	return j, nil
}
