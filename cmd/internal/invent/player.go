package invent

import "math"

// Setting is a club setting against the untilted sleeve and the weight in the
// middle.
type Setting struct {
	Lean    float64 // [rad] shaft top towards the target
	Upright float64 // [rad]
	CGToe   float64 // [m] centre of mass, toe +
}

// position is position k of n of a sleeve bored with the given tilt.
func position(tilt float64, k, n int) Setting {
	s, c := math.Sincos(2 * math.Pi * float64(k) / float64(n))
	return Setting{Lean: tilt * c, Upright: tilt * s}
}

// Player is the truth about one golfer with one club.
type Player struct {
	Mean, SD    Delivery // of a good swing at the untilted setting, and between swings
	Mishit      float64  // [1] chance of a poor strike
	LowHeel     float64  // [1] share of the poor ones that are low on the heel, the rest are high on the toe
	Restitution float64  // [1]
	Eta         float64  // [1]
	HeadMass    float64  // [kg]
	Lie         float64  // [rad]
	Air         Air

	Together  float64 // [1] correlation of face and path between swings
	Resquare  float64 // [1] how much of a turned face is turned back at address
	LoftGain  float64 // [1] delivered share of what the sleeve turns
	LieGain   float64 // [1]
	Gear      float64 // [1] of the rigid-body gear effect
	CGGain    float64 // [1] share of the centre of mass's shift that acts
	Align     float64 // [rad] standard deviation of where the player lines up
	FaceByCG  float64 // [rad/m] face per metre of centre of mass towards the toe
	Quirk     func(Setting) (loft, face, speed, toe float64)
	WarmUp    float64 // [m/s] speed missing at the first ball
	WarmBalls float64 // balls after which a third of that is left
	Tire      float64 // [m/s] speed lost per ball after TireFrom
	TireFace  float64 // [rad] face opening per ball after TireFrom
	TireFrom  int
	Drift     Delivery // [per ball] steady change through the session
}

// at is what a setting makes of the player's mean delivery and head.
//
// A degree of lean turns the head by R: loft sin(lie), face -cos(lie); the
// player then rolls the shaft by psi = -share cot(lie) to square it,
//
//	loft = sin(lie) - psi cos(lie),  face = -cos(lie) - psi sin(lie)
//
// per degree, and a degree upright turns the face left by tan(loft).
func (p *Player) at(s Setting) (Delivery, Head) {
	d := p.Mean
	sin, cos := math.Sincos(p.Lie)
	psi := -p.Resquare * cos / sin
	lean, up := p.LoftGain*s.Lean, p.LieGain*s.Upright
	d.Loft += lean * (sin - psi*cos)
	d.Face += lean*(-cos-psi*sin) - up*math.Tan(p.Mean.Loft) + p.FaceByCG*s.CGToe
	if p.Quirk != nil {
		loft, face, speed, toe := p.Quirk(s)
		d.Loft += loft
		d.Face += face
		d.Speed += speed
		d.Toe += toe
	}
	return d, Head{Mass: p.HeadMass, Restitution: p.Restitution, Eta: p.Eta, CGToe: p.CGGain * s.CGToe, Gear: p.Gear}
}

// Dims is how many numbers a swing takes: see Shape.
const Dims = 10

// swing is one drawn delivery of ball number ball (from 0; negative: the
// rested player, no drift) with setting s, and whether it was a poor strike.
func (p *Player) swing(r *Rand, s Setting, ball int) (d Delivery, h Head, poor bool) {
	var u [Dims]float64
	for i := range 7 {
		u[i] = r.Normal()
	}
	for i := 7; i < Dims; i++ {
		u[i] = r.Uniform()
	}
	return p.shape(u, s, ball)
}

// shape makes a swing of seven standard normal and three uniform numbers:
// speed, attack, path, face, loft, toe, high; poor or not, where, how far.
func (p *Player) shape(u [Dims]float64, s Setting, ball int) (d Delivery, h Head, poor bool) {
	d, h = p.at(s)
	d.Speed += p.SD.Speed * u[0]
	d.Attack += p.SD.Attack * u[1]
	d.Path += p.SD.Path * u[2]
	d.Face += p.SD.Face * (p.Together*u[2] + math.Sqrt(1-p.Together*p.Together)*u[3])
	d.Loft += p.SD.Loft * u[4]
	d.Toe += p.SD.Toe * u[5]
	d.High += p.SD.High * u[6]
	if poor = u[7] < p.Mishit; poor {
		off := (9 + 9*u[9]) * 1e-3
		if u[8] < p.LowHeel {
			d.Toe -= off
			d.High -= .8 * off
		} else {
			d.Toe += off
			d.High += .5 * off
		}
		d.Speed *= .985
	}
	if ball >= 0 {
		t := float64(ball)
		d.Speed += p.Drift.Speed*t - p.WarmUp*math.Exp(-t/math.Max(p.WarmBalls, .1))
		d.Face += p.Drift.Face * t
		d.Loft += p.Drift.Loft * t
		d.Path += p.Drift.Path * t
		if late := float64(ball - p.TireFrom); p.TireFrom > 0 && late > 0 {
			d.Speed -= p.Tire * late
			d.Face += p.TireFace * late
		}
	}
	return d, h, poor
}

// Truth is what a setting does to a rested player's balls in still air.
type Truth struct {
	Carry, Offline, Apex float64 // [m] means
	Right, Left          float64 // [1] beyond the line
	Spin, Launch         float64 // [rad/s] [rad] means
	CarrySD, OfflineSD   float64 // [m]
}

// truth reads the generator off by n balls; line [m] is where a miss begins.
func (p *Player) truth(r *Rand, s Setting, line float64, n int) (t Truth) {
	still := p.Air
	still.Head, still.Right = 0, 0
	for range n {
		d, h, _ := p.swing(r, s, -1)
		l := strike(d, h)
		f := fly(l, still)
		c := f.carry()
		t.Carry += c
		t.Offline += f.Z
		t.Apex += f.Apex
		t.Spin += l.Spin
		t.Launch += l.Angle
		t.CarrySD += c * c
		t.OfflineSD += f.Z * f.Z
		if f.Z > line {
			t.Right++
		}
		if f.Z < -line {
			t.Left++
		}
	}
	k := 1 / float64(n)
	for _, v := range []*float64{&t.Carry, &t.Offline, &t.Apex, &t.Right, &t.Left, &t.Spin, &t.Launch, &t.CarrySD, &t.OfflineSD} {
		*v *= k
	}
	t.CarrySD = math.Sqrt(math.Max(0, t.CarrySD-t.Carry*t.Carry))
	t.OfflineSD = math.Sqrt(math.Max(0, t.OfflineSD-t.Offline*t.Offline))
	return t
}
