package invent

import "math"

// World is how the truth stands to the physics that the engine believes.
type World struct {
	Name    string
	Effect  float64 // [1] mean effect of a setting as a share of what physics says
	Scatter float64 // [1] of players about that mean, as a share of what physics says
	Quirks  float64 // [1] unmodelled terms and deviations, 1 = as described at quirks
}

// Worlds are those of the benchmark. In the null world no setting does
// anything at all.
var Worlds = []World{
	{"right", 1, 1, 1},
	{"weak", .3, 1.5, 1},
	{"reversed", -.5, 1, 1},
	{"null", 0, 0, 0},
}

// Level is a group of golfers. The numbers are invented for the benchmark.
type Level struct {
	Name     string
	Handicap float64
	Speed    float64 // [m/s] mean club speed
	SD       Delivery
	Mishit   float64
}

// Levels are low, mid and high handicaps.
var Levels = []Level{
	{"low", 4, 104 * mph, Delivery{Speed: 1.2 * mph, Attack: .9 * deg, Path: 1.2 * deg, Face: 1.4 * deg, Loft: 1 * deg, Toe: .007, High: .005}, .04},
	{"mid", 14, 95 * mph, Delivery{Speed: 1.7 * mph, Attack: 1.2 * deg, Path: 1.9 * deg, Face: 2.3 * deg, Loft: 1.4 * deg, Toe: .009, High: .006}, .08},
	{"high", 24, 86 * mph, Delivery{Speed: 2.1 * mph, Attack: 1.5 * deg, Path: 2.6 * deg, Face: 3.2 * deg, Loft: 1.7 * deg, Toe: .011, High: .007}, .14},
}

// Club80 is the benchmark's club: 16 positions of a sleeve (four tilts towards
// the target by four of lie) and five stops of a weight, 80 settings, number 0
// untilted and in the middle.
type Club80 struct {
	Setting
	Loft, Lie float64 // [rad] as printed: loft with the face squared, lie
	Toe       float64 // [m] of the weight
}

// Settings80 lists the settings of the benchmark's club.
func Settings80() []Club80 {
	const lie, loft = 58 * deg, 10.5 * deg
	var out []Club80
	for _, lean := range []float64{0, -.75, .75, 1.5} {
		for _, up := range []float64{0, -.75, .75, 1.5} {
			for _, toe := range []float64{0, -.020, -.010, .010, .020} {
				out = append(out, Club80{
					Setting: Setting{Lean: lean * deg, Upright: up * deg, CGToe: 12. / 200 * toe},
					// Upright closes the face; squaring it adds loft.
					Loft: lean*deg/math.Sin(lie) + up*deg*math.Tan(loft)/math.Tan(lie), Lie: up * deg, Toe: toe,
				})
			}
		}
	}
	return out
}

// NewPlayer invents a golfer of a level in a world: one of those who come to be
// fitted, so launch and curve are spread wider than among all golfers. Gains follow the published
// judgement of how far a player delivers what a club's geometry does (loft
// .85 +- .20, lie .70 +- .30, re-squaring .6 +- .4, weight 1.25 +- .45, face by
// centre of mass .10 +- .12 deg/mm): knowledge that the engine shares; the
// world bends it.
func NewPlayer(r *Rand, l Level, w World) *Player {
	gain := func(mean, sd float64) float64 { return w.Effect*mean + w.Scatter*sd*r.Normal() }
	p := &Player{
		Mean: Delivery{
			Speed: l.Speed + 4*mph*r.Normal(), Attack: (-.5 + 2.2*r.Normal()) * deg, Path: (-1 + 3.5*r.Normal()) * deg,
			Loft: (14.5 + 2.2*r.Normal()) * deg, Toe: .003 * r.Normal(), High: .002 * r.Normal(),
		},
		SD: l.SD, Mishit: l.Mishit, LowHeel: .5 + .2*r.Normal(),
		Restitution: .86 + .015*r.Normal(), Eta: .85 + .06*r.Normal(), HeadMass: .203, Lie: 58 * deg,
		Air:      Air{Density: 1.2, Drag: 1 + .03*r.Normal(), Lift: 1 + .04*r.Normal()},
		Together: .4, Gear: 1 + .2*r.Normal(), Align: 1 * deg,
		Resquare: math.Min(math.Max(.6+.4*r.Normal(), -.4), 1.4),
		LoftGain: gain(.85, .20), LieGain: gain(.7, .3), CGGain: gain(1.25, .45), FaceByCG: gain(.10, .12) * deg / 1e-3,
		WarmUp: 1.5 * mph * r.Uniform(), WarmBalls: 2 + 4*r.Uniform(), Tire: .04 * mph * r.Uniform(), TireFrom: 20 + r.Int(20),
	}
	p.Mean.Face = .45*p.Mean.Path + (.8+1.5*r.Normal())*deg
	if w.Quirks == 0 {
		p.FaceByCG = 0
	}
	drift := r.Normal()
	p.Drift = Delivery{Speed: .015 * mph * drift, Face: .01 * deg * r.Normal(), Loft: .008 * deg * r.Normal(), Path: .01 * deg * r.Normal()}
	p.Quirk = quirks(r, p.SD, w.Quirks)
	return p
}

// quirks is what no linear model of settings knows: a bend in the effect of
// lean, an interaction of lean with lie and of lie with the weight, and a
// deviation of every setting of its own, .2 of the player's own spread.
func quirks(r *Rand, sd Delivery, size float64) func(Setting) (loft, face, speed, toe float64) {
	bendLoft, bendFace := .12*r.Normal(), .12*r.Normal()
	cross, crossCG := .12*r.Normal(), .10*r.Normal()
	own := r.Uint64()
	return func(s Setting) (loft, face, speed, toe float64) {
		lean, up, cg := s.Lean/deg, s.Upright/deg, s.CGToe/1e-3
		if lean == 0 && up == 0 && cg == 0 {
			return 0, 0, 0, 0
		}
		key := math.Float64bits(lean)*31 ^ math.Float64bits(up)*17 ^ math.Float64bits(cg)*7
		q := NewRand(own, key)
		loft = size * (bendLoft*lean*lean*deg + .2*sd.Loft*q.Normal())
		face = size * ((bendFace*lean*lean+cross*lean*up+crossCG*up*cg)*deg + .2*sd.Face*q.Normal())
		speed = size * .2 * sd.Speed * q.Normal()
		toe = size * .2 * sd.Toe * q.Normal()
		return loft, face, speed, toe
	}
}

// lattice is the first n points of the Kronecker sequence of the generalised
// golden ratio in Dims dimensions, its first seven coordinates made normal:
// swings that cover the player's variation evenly, the same for every setting.
func lattice(n int) [][Dims]float64 {
	phi := 1.
	for range 60 { // root of phi^(Dims+1) = phi + 1
		phi = math.Pow(1+phi, 1./(Dims+1))
	}
	out := make([][Dims]float64, n)
	for i := range out {
		a := 1.
		for j := range Dims {
			a /= phi
			_, f := math.Modf(.5 + a*float64(i+1))
			if j < 7 {
				f = math.Sqrt2 * math.Erfinv(2*f-1)
			}
			out[i][j] = f
		}
	}
	return out
}

// Swings are n even swings for Player.Strokes.
func Swings(n int) [][Dims]float64 { return lattice(n) }

// Ball is one ball of the benchmark as the engine is told of it, SI.
type Ball struct {
	Setting                                                               int // index into Settings80
	WarmUp                                                                bool
	ClubSpeed, BallSpeed, Launch, Direction, Spin, Axis, Carry, Off, Apex float64
	RestX, RestZ                                                          float64 // [m] where it really stopped: for the player who only looks
}

// Session invents an outing: four warm-up balls with setting 0, then n balls
// with each of the tested settings in two rounds, the second mirrored, the
// order drawn. The device errs by .5 mph, .2 deg, .3 deg, 80 rpm, 1.5 deg of
// axis, 1.5 yd, 1.5 yd and 1.5 ft (standard deviations, assumed).
func (p *Player) Session(r *Rand, tested []int, n int) []Ball {
	all := Settings80()
	order := append([]int(nil), tested...)
	Shuffle(r, order)
	var visits []int
	for range 4 {
		visits = append(visits, -1)
	}
	first := (n + 1) / 2
	for _, s := range order {
		for range first {
			visits = append(visits, s)
		}
	}
	for i := len(order) - 1; i >= 0; i-- {
		for range n - first {
			visits = append(visits, order[i])
		}
	}
	var out []Ball
	for i, v := range visits {
		s := max(v, 0)
		d, h, _ := p.swing(r, all[s].Setting, i)
		l := strike(d, h)
		l.Direction += p.Align * r.Normal()
		f := fly(l, p.Air)
		x, z := f.rest()
		out = append(out, Ball{
			Setting: s, WarmUp: v < 0,
			ClubSpeed: d.Speed + .7*mph*r.Normal(), BallSpeed: l.Speed + .5*mph*r.Normal(),
			Launch: l.Angle + .2*deg*r.Normal(), Direction: l.Direction + .3*deg*r.Normal(),
			Spin: math.Max(l.Spin+80*rpm*r.Normal(), 100*rpm), Axis: l.Axis + 1.5*deg*r.Normal(),
			Carry: f.carry() + 1.5*yd*r.Normal(), Off: f.Z + 1.5*yd*r.Normal(), Apex: f.Apex + 1.5*ft*r.Normal(),
			RestX: x, RestZ: z,
		})
	}
	return out
}
