package rough

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// form is how the day wanders: each of the seven numbers of a swing has a slow
// part, its level, that follows the last one by keep; speed is missing at first
// and at last.
type form struct {
	share, keep           float64 // [1]
	warm, warmBalls, tire float64 // [m/s] [balls] [m/s per ball]
	tireFrom              int
	opens                 float64 // [rad per ball] of the face once tired
	level                 [7]float64
}

func newForm(r *invent.Rand, share float64) form {
	return form{share: share, keep: .8 + .17*r.Uniform(), warm: 1.5 * mph * r.Uniform(), warmBalls: 2 + 5*r.Uniform(),
		tire: .05 * mph * r.Uniform(), tireFrom: 18 + r.Int(25), opens: .012 * deg * r.Normal()}
}

// day is what the form adds to the means at ball number n.
func (f form) day(n int) (e effect) {
	e[0] = -f.warm * math.Exp(-float64(n)/f.warmBalls)
	if late := float64(n - f.tireFrom); late > 0 {
		e[0] -= f.tire * late
		e[2] += f.opens * late
	}
	return e
}

// swing draws the next swing's numbers; a third of the level of the first ball
// is there from the start.
func (f *form) swing(r *invent.Rand, n int) (u [Dims]float64) {
	for i := range f.level {
		push := math.Sqrt(1 - f.keep*f.keep)
		if n == 0 {
			push = 1
		}
		f.level[i] = f.keep*f.level[i] + push*r.Normal()
		u[i] = math.Sqrt(f.share)*f.level[i] + math.Sqrt(1-f.share)*r.Normal()
	}
	for i := 7; i < Dims; i++ {
		u[i] = r.Uniform()
	}
	return u
}

// Seen is one ball as it was written down, SI, of a right-hander; NaN is what
// the device does not tell.
type Seen struct {
	Setting                                                                              int // index into invent.Settings80
	WarmUp                                                                               bool
	Club, Speed, Angle, Direction, Spin, Axis, Carry, Offline, Apex, Descent, FlightTime float64
}

// device is what is measured and how well.
type device struct {
	name                             string
	noise                            float64 // [1] of the usual noise
	carry                            float64 // [1] bias of carry
	side, line                       float64 // [rad] of the lane against the target: landing places, start lines
	spin                             float64 // [1] bias of spin
	digits                           float64 // [1] decimals of yards and degrees
	typicalSpin, spinSlope, axisGain float64
}

func newDevice(r *invent.Rand, name string) device {
	d := device{name: name, noise: .6 + r.Uniform(), carry: 1 + .01*r.Normal(), side: .2 * deg * r.Normal(), spin: 1 + .02*r.Normal(),
		digits: float64(r.Int(2)), typicalSpin: 2600 * rpm * (1 + .06*r.Normal()), spinSlope: .3 + .4*r.Uniform(), axisGain: .5 + .4*r.Uniform()}
	d.line = d.side + .15*deg*r.Normal()
	return d
}

// scale of carries and turn of places that the device adds: what a person who
// believes it takes for the truth.
func (d device) tells(l Landing) (carry, offline, apex float64) {
	return l.Carry() * d.carry, l.Z + l.X*math.Sin(d.side), l.Apex
}

// see writes a ball down.
func (d device) see(r *invent.Rand, l Launch, f Landing) Seen {
	nan := math.NaN()
	n := func(sd float64) float64 { return d.noise * sd * r.Normal() }
	to := func(v, unit, digits float64) float64 {
		k := math.Pow(10, digits) / unit
		return math.Round(v*k) / k
	}
	carry, offline, apex := d.tells(f)
	spin, axis := math.Hypot(l.Back, l.Side), math.Atan2(l.Side, l.Back)
	s := Seen{Club: to(l.Club+n(.6*mph), mph, 1), Speed: to(l.Speed+n(.5*mph), mph, 1), Angle: to(l.Angle+n(.25*deg), deg, 1),
		Direction: to(l.Direction+d.line+n(.3*deg), deg, 1), Spin: to(spin*d.spin+n(90*rpm), rpm, 0), Axis: to(axis+n(1.5*deg), deg, 1),
		Carry: to(carry+n(1.5*yd), yd, d.digits), Offline: to(offline+n(1.5*yd), yd, d.digits), Apex: to(apex+n(1.5*ft), ft, d.digits),
		Descent: to(f.Descent+n(.6*deg), deg, 1), FlightTime: to(f.Time+n(.04), 1, 2)}
	guess := d.typicalSpin + d.spinSlope*(spin-d.typicalSpin) + 250*rpm*r.Normal()
	lean := d.axisGain*axis + 3*deg*r.Normal()
	switch d.name {
	case "no axis":
		s.Axis = nan
	case "no spin":
		s.Spin, s.Axis, s.Descent, s.FlightTime = nan, nan, nan, nan
	case "carry and side":
		s = Seen{Club: nan, Speed: nan, Angle: nan, Direction: nan, Spin: nan, Axis: nan, Carry: s.Carry, Offline: s.Offline, Apex: nan, Descent: nan, FlightTime: nan}
	case "estimated spin":
		s.Spin, s.Axis, s.Club, s.Descent, s.FlightTime = to(guess, 250*rpm, 0), to(lean, deg, 0), nan, nan, nan
	}
	return s
}

// Tested draws the settings that are hit: today's, number 0, and n-1 others.
func (g *Golfer) Tested(n int) []int {
	r := invent.NewRand(g.Seed, 21)
	others := make([]int, 79)
	for i := range others {
		others[i] = i + 1
	}
	invent.Shuffle(r, others)
	return append([]int{0}, others[:n-1]...)
}

// Visits is the order in which n balls with each of the tested are hit.
func (g *Golfer) Visits(tested []int, n int) (visits []int) {
	r := invent.NewRand(g.Seed, 22)
	order := append([]int(nil), tested...)
	invent.Shuffle(r, order)
	times := func(s, n int) {
		for range n {
			visits = append(visits, s)
		}
	}
	switch g.Order {
	case "round":
		for range n {
			visits = append(visits, order...)
		}
	case "mirrored":
		for _, s := range order {
			times(s, (n+1)/2)
		}
		for i := len(order) - 1; i >= 0; i-- {
			times(order[i], n/2)
		}
	case "today first":
		times(0, n)
		for _, s := range order {
			if s != 0 {
				times(s, n)
			}
		}
	default:
		for _, s := range order {
			times(s, n)
		}
	}
	return visits
}

// Outing is a session that can be continued: each Hit adds balls to it.
type Outing struct {
	Seen   []Seen
	g      *Golfer
	form   form
	swings *invent.Rand
	errs   *invent.Rand
	n      int
}

// Start begins a session with three balls of warm-up, which half of the
// golfers say and the others don't hit.
func (g *Golfer) Start(part uint64) *Outing {
	o := &Outing{g: g, form: g.form, swings: invent.NewRand(g.Seed, 1000+part), errs: invent.NewRand(g.Seed, 2000+part)}
	if g.Seed%2 == 0 {
		o.Hit(0, 0, 0)
		for i := range o.Seen {
			o.Seen[i].WarmUp = true
		}
	}
	return o
}

// Hit adds a ball with each of the settings named.
func (o *Outing) Hit(settings ...int) {
	g := o.g
	for _, s := range settings {
		u := o.form.swing(o.swings, o.n)
		l := g.launch(s, u, o.form.day(o.n))
		gust := 0.
		if g.Wind != "none" {
			gust = .6
		}
		f := g.ball.fly(l, g.head+gust*o.swings.Normal(), g.right+gust*o.swings.Normal())
		seen := g.device.see(o.errs, l, f)
		seen.Setting = s
		o.Seen = append(o.Seen, seen)
		o.n++
	}
}

// Session is the whole of n balls with each of the tested.
func (g *Golfer) Session(tested []int, n int) []Seen {
	o := g.Start(uint64(n))
	o.Hit(g.Visits(tested, n)...)
	return o.Seen
}
