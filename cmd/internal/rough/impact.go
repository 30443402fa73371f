package rough

import (
	"math"

	"ferrule/cmd/internal/invent"
)

// Launch is a ball off the face; right, up and curving right are positive.
type Launch struct {
	Speed, Angle, Direction, Back, Side float64 // [m/s] [rad] [rad] [rad/s] [rad/s]
	Club                                float64 // [m/s] club speed
}

// Dims is how many numbers a swing takes: seven standard normal, three uniform.
const Dims = invent.Dims

// impact turns means, spreads and a swing's numbers into a launch.
type impact interface {
	strike(mean, sd effect, u [Dims]float64) Launch
}

// plane is the empirical rule of teachers: launch between face and path,
// nearer the face; spin by the angle between them; speed lost with that angle
// and with the square of the miss. Its settings act on the delivery.
type plane struct {
	path, pathSD, attack, attackSD   float64 // [rad]
	toeSD, highSD                    float64 // [m]
	smash, rate, loss, gear, gearUp  float64
	vertical, horizontal, tilt, poor float64
	heel                             float64 // [1] share of mis-hits low on the heel
}

func newPlane(r *invent.Rand, path, wide, poor float64) plane {
	return plane{path: path, pathSD: 1.4 * wide * deg, attack: (-.5 + 2*r.Normal()) * deg, attackSD: .9 * wide * deg,
		toeSD: .0065 * wide, highSD: .0045 * wide, smash: 1.495 + .015*r.Normal(), rate: 23 * (1 + .07*r.Normal()), loss: 700 + 200*r.Uniform(),
		gear: 4800 * (1 + .25*r.Normal()), gearUp: 5500 * (1 + .25*r.Normal()), vertical: .85 + .02*r.Normal(), horizontal: .84 + .03*r.Normal(),
		tilt: 1 + .1*r.Normal(), poor: poor, heel: .2 + .6*r.Uniform()}
}

func (p plane) strike(mean, sd effect, u [Dims]float64) Launch {
	v := mean[0] + sd[0]*u[0]
	loft := mean[1] + sd[1]*u[1]
	path := p.path + p.pathSD*u[3]
	face := mean[2] + sd[2]*(.4*u[3]+.917*u[2])
	attack := p.attack + p.attackSD*u[4]
	toe, high := p.toeSD*u[5], p.highSD*u[6]
	if u[7] < p.poor {
		off := (8 + 9*u[9]) * 1e-3
		v *= .985
		if u[8] < p.heel {
			toe, high = toe-off, high-.7*off
		} else {
			toe, high = toe+off, high+.5*off
		}
	}
	loft += high / .29 // the face is rounded upwards and sideways
	face += toe / .31
	up, across := loft-attack, face-path
	open := up*up + across*across
	return Launch{Club: v,
		Speed:     v * (p.smash - .55*open - p.loss*.6*(toe*toe+high*high)),
		Angle:     p.vertical*loft + (1-p.vertical)*attack,
		Direction: p.horizontal*face + (1-p.horizontal)*path,
		Back:      math.Max(60, p.rate*v*math.Sin(up)-p.gearUp*high+mean[3]),
		Side:      p.tilt*p.rate*v*math.Sin(across) - p.gear*toe + mean[4]}
}

// statistical is a player of whom nothing is known but the distribution of the
// launches: correlated normals, and a second kind of ball now and then.
type statistical struct {
	poor, slow, off, turn float64
	height, bend, couple  float64
	clubToSpread          float64
}

func newStatistical(r *invent.Rand, poor float64) statistical {
	return statistical{poor: poor, slow: .04 + .04*r.Uniform(), off: 2 * deg * r.Normal(), turn: 35 * r.Normal(),
		height: .1 + .6*r.Uniform(), bend: .2 + .5*r.Uniform(), couple: -.3 * r.Uniform(), clubToSpread: 1.46}
}

func (p statistical) strike(mean, sd effect, u [Dims]float64) Launch {
	rest := func(c float64) float64 { return math.Sqrt(1 - c*c) }
	l := Launch{Speed: mean[0] + sd[0]*u[0], Angle: mean[1] + sd[1]*u[1], Direction: mean[2] + sd[2]*u[2],
		Back: mean[3] + sd[3]*(p.height*u[1]+rest(p.height)*u[3]), Side: mean[4] + sd[4]*(p.bend*u[2]+rest(p.bend)*u[4])}
	l.Angle += sd[1] * p.couple * u[0]
	l.Club = l.Speed / p.clubToSpread
	if u[7] < p.poor {
		l.Speed *= 1 - p.slow*(.5+u[9])
		l.Angle += p.off
		l.Side += 2*(u[8]-.5)*60 + p.turn
		l.Back *= 1 + .25*(2*u[9]-1)
	}
	l.Back = math.Max(l.Back, 60)
	l.Angle = math.Max(l.Angle, 2*deg)
	return l
}

// Launch is the ball of a swing with setting i.
func (g *Golfer) Launch(i int, u [Dims]float64) Launch { return g.launch(i, u, effect{}) }

func (g *Golfer) launch(i int, u [Dims]float64, day effect) Launch {
	m := g.mean
	for j := range m {
		m[j] += g.at[i][j] + day[j]
	}
	return g.impact.strike(m, g.sd, u)
}
