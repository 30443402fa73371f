package impact

import (
	"math"

	"ferrule/core/flight"
	"ferrule/core/message"
	"ferrule/core/units"
)

// Reach is how far launch and spin could carry a player's ball. Launch and spin
// hang together by spin loft (loft delivered less attack), so only one line of
// them can be reached with one swing, and the best of that line is sought:
// never the free optimum of carry, which no delivery gives and where no ball was
// measured. Ball speed and attack are held; a real strike with less spin loft
// gains some ball speed, one with more loses some.
type Reach struct {
	Best     flight.Launch // straight
	SpinLoft float64       // [rad] loft delivered less attack, of Best
	Carry    float64       // [m] of Best

	Short float64 // [m] Carry less that of the player's own ball, flown straight; below 0 where strikes off the middle beat the line

	// The top is flat: between these the carry stays within Flat of the best.
	Low, High flight.Launch
}

// Flat is the loss of carry [m] that nobody will notice: 2 yd.
const Flat = 2 * units.Yard

// The spin lofts that are looked through: what drivers are delivered with.
const (
	leastSpinLoft = 3 * units.Degree
	mostSpinLoft  = 30 * units.Degree
	loftStep      = .25 * units.Degree
)

// errNoReach says that no carry comes of a ball speed and an attack.
var errNoReach = message.New("problem.no-reach")

// Advise is the reach of a ball speed [m/s] and an attack [rad] with a strike at
// the middle of the face; Short stays 0.
func Advise(speed, attack float64, p Params, e flight.Env) (Reach, error) {
	return reach(speed, Delivery{Attack: attack}, p, e)
}

// AdviseFor is the reach of a player whose typical ball is l: the delivery that
// explains it (Explain) gives the grip efficiency and the strike place, and
// its loft is then varied. The error is that of Explain or errNoReach.
func AdviseFor(l flight.Launch, known Known, p Params, e flight.Env) (Reach, error) {
	l.Direction, l.Axis = 0, 0
	d, q, err := explain(l, known, p)
	if err != nil {
		return Reach{}, err
	}
	r, err := reach(l.Speed, d, q, e)
	if err != nil {
		return r, err
	}
	g, err := flight.Fly(l, e)
	r.Short = r.Carry - g.Carry
	return r, err
}

// reach sweeps the loft of delivery d, at the ball speed [m/s].
func reach(speed float64, d Delivery, p Params, e flight.Env) (r Reach, err error) {
	d.Face, d.Path = 0, 0
	at := func(spinLoft float64) (l flight.Launch, carry float64) {
		d.ClubSpeed, d.DynamicLoft = 1, d.Attack+spinLoft
		l, err := Strike(d, p)
		if err != nil || !(l.Speed > 0) {
			return l, math.Inf(-1)
		}
		l.Spin *= speed / l.Speed // a strike is linear in club speed
		l.Speed, l.Direction, l.Axis = speed, 0, 0
		g, err := flight.Fly(l, e)
		if err != nil {
			return l, math.Inf(-1)
		}
		return l, g.Carry
	}
	r.Carry = math.Inf(-1)
	for loft := leastSpinLoft; loft <= mostSpinLoft; loft += loftStep {
		if _, carry := at(loft); carry > r.Carry {
			r.SpinLoft, r.Carry = loft, carry
		}
	}
	if !(r.Carry > 0) {
		return Reach{}, errNoReach
	}
	// The vertex of the parabola through the best and its neighbours.
	_, low := at(r.SpinLoft - loftStep)
	_, high := at(r.SpinLoft + loftStep)
	if bend := low + high - 2*r.Carry; bend < 0 && !math.IsInf(bend, 0) {
		r.SpinLoft += loftStep * math.Max(-1, math.Min(1, .5*(low-high)/bend))
	}
	r.Best, r.Carry = at(r.SpinLoft)
	edge := func(step float64) (l flight.Launch) {
		l = r.Best
		for loft := r.SpinLoft; loft >= leastSpinLoft && loft <= mostSpinLoft; loft += step {
			next, carry := at(loft)
			if carry < r.Carry-Flat {
				break
			}
			l = next
		}
		return l
	}
	r.Low, r.High = edge(-loftStep), edge(loftStep)
	return r, nil
}
