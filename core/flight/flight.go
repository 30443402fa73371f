// Package flight carries a ball from launch to rest: aerodynamics, equations
// of motion, landing, bounce and roll, and the adjustment of the ball model to
// flights that a device measured.
//
// In reading order: Launch, Env and Model; Fly and Landing; Path; Calibrate;
// Surface, the fast approximation for thousands of balls of one player.
//
//	l, err := flight.Fly(flight.Launch{Speed: 67, Angle: .2, Spin: 280}, flight.Env{})
//
// What to expect of it, against 183 measured drives of unknown weather
// (TestMeasuredDrives prints the table): class-a carry within a yard on
// average, 4 yd rms. The make of ball alone spreads carry by 18 m [LKS18].
// Positive is right of the target for everybody (package frame).
//
// Begin with Fly and its example.
package flight

import (
	"math"

	"ferrule/core/air"
	"ferrule/core/message"
	"ferrule/core/units"
)

// The ball and the place.
const (
	BallMass     = 0.04593 // [kg] the most allowed [Rules4]
	BallDiameter = 0.04267 // [m] the least allowed [Rules4]
	BallRadius   = BallDiameter / 2
	BallArea     = math.Pi * BallRadius * BallRadius // [m^2]
	Gravity      = 9.80665                           // [m/s^2]
)

// Launch is a ball just after it left the face.
type Launch struct {
	Speed     float64 // [m/s] 0 to 150
	Angle     float64 // [rad] elevation, up +, -90 to 90 deg
	Direction float64 // [rad] azimuth, right of the target +
	Spin      float64 // [rad/s] size of the spin vector, 0 to 2500
	Axis      float64 // [rad] tilt of the spin axis about the launch direction, curves right +
}

// Landing is what became of a launch. Carry, Offline, RestX and RestZ are
// coordinates: along the target line and right of it.
type Landing struct {
	Carry   float64 // [m] along the target line when back at launch height
	Offline float64 // [m] right of the target line there
	Apex    float64 // [m] highest point above launch
	Descent float64 // [rad] below horizontal at landing, down +
	Time    float64 // [s] launch to landing
	RestX   float64 // [m] along the target line at rest
	RestZ   float64 // [m] right of the target line at rest
	Curve   float64 // [m] Offline minus where the start line pointed at Carry
	Total   float64 // [m] RestX: how far down the target line the ball ends
	Within  bool    // the whole flight stayed where aerodynamic measurements exist
}

// Distance is the straight distance from tee to landing place [m]. This is
// what devices print as carry: on the 183 measured drives the error of Carry,
// which runs along the target line, grows one to one with the difference.
func (g Landing) Distance() float64 { return math.Hypot(g.Carry, g.Offline) }

// TotalDistance is the straight distance from tee to resting place [m].
func (g Landing) TotalDistance() float64 { return math.Hypot(g.RestX, g.RestZ) }

// Env is where the ball flies. Zero Air is air.Standard, zero Model is Default.
type Env struct {
	Air      air.Air
	Model    Model
	Firmness float64 // [1] ground: 0 = average, -1 soft .. +1 firm
}

// Validate reports the first number of l that no ball can have.
func (l Launch) Validate() error {
	bad := func(q string, v float64, u units.Unit, lo, hi float64) error {
		return message.Outside("quantity."+q, u.From(v), lo, hi, u.Symbol)
	}
	switch {
	case !(l.Speed > 0 && l.Speed <= 150):
		return bad("ball_speed", l.Speed, units.UnitMPS, 0, 150)
	case !(math.Abs(l.Angle) <= math.Pi/2):
		return bad("launch", l.Angle, units.UnitDeg, -90, 90)
	case !(math.Abs(l.Direction) <= math.Pi/2):
		return bad("launch_direction", l.Direction, units.UnitDeg, -90, 90)
	case !(l.Spin >= 0 && l.Spin <= 2500):
		return bad("spin", l.Spin, units.UnitRPM, 0, 23870)
	case !(math.Abs(l.Axis) <= math.Pi):
		return bad("spin_axis", l.Axis, units.UnitDeg, -180, 180)
	}
	return nil
}

// validate reports air, model or ground that cannot be used.
func (e Env) validate() error {
	e = e.filled()
	if err := e.Air.Validate(); err != nil {
		return err
	}
	if err := e.Model.validate(); err != nil {
		return err
	}
	if !(e.Firmness >= -1 && e.Firmness <= 1) {
		return message.Outside("club.firmness", e.Firmness, -1, 1, "")
	}
	return nil
}

// filled puts the documented defaults in place of zero parts.
func (e Env) filled() Env {
	if e.Model == (Model{}) {
		e.Model = Default()
	}
	if e.Air == (air.Air{}) {
		e.Air = air.Standard()
	}
	return e
}

// Fly carries one launch to rest. The error is an *InputError for a launch, or
// says what of the environment cannot be used; nothing is guessed for NaN.
//
// A ball that starts downward lands where it was struck (Carry 0) and runs.
func Fly(l Launch, e Env) (Landing, error) {
	var f flyer
	if err := f.prepare(l, e); err != nil {
		return Landing{}, err
	}
	f.run(nil)
	return f.landing(l, e.Firmness), nil
}

// Point is a place in flight and when the ball is there.
type Point struct {
	T float64 // [s] since launch
	X float64 // [m] along the target line
	Y float64 // [m] above launch
	Z float64 // [m] right of the target line
}

// Path is Fly with n points equally spaced in time from launch to landing,
// both included. n below 2 counts as 2.
func Path(l Launch, e Env, n int) ([]Point, Landing, error) {
	var f flyer
	if err := f.prepare(l, e); err != nil {
		return nil, Landing{}, err
	}
	var steps []span
	f.run(&steps)
	n = max(n, 2)
	points := make([]Point, n)
	k := 0
	for i := range points {
		t := f.time * float64(i) / float64(n-1)
		for k+1 < len(steps) && t >= steps[k+1].t {
			k++
		}
		points[i].T = t
		if len(steps) > 0 {
			s := (t - steps[k].t) / steps[k].h
			points[i].X, points[i].Y, points[i].Z = steps[k].x.at(s), steps[k].y.at(s), steps[k].z.at(s)
		}
	}
	points[n-1].Y = 0
	return points, f.landing(l, e.Firmness), nil
}

// prepare puts l at its start in e.
func (f *flyer) prepare(l Launch, e Env) error {
	if err := l.Validate(); err != nil {
		return err
	}
	e = e.filled()
	if err := e.validate(); err != nil {
		return err
	}
	*f = newFlyer(l, newAero(e))
	return nil
}

func (f *flyer) landing(l Launch, firmness float64) Landing {
	g := Landing{
		Carry: f.x, Offline: f.z, Apex: f.apex, Time: f.time,
		Descent: math.Atan2(-f.vy, math.Hypot(f.vx, f.vz)),
		Curve:   f.z - f.x*math.Tan(l.Direction),
		Within:  f.margin() >= 0,
	}
	g.RestX, g.RestZ = f.restPlace(firmness)
	g.Total = g.RestX
	return g
}
