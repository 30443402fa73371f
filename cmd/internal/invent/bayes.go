package invent

import "math"

// launches of a swing as numbers: speed, angle, direction, back and side spin.
const launchDims = 5

type vector [launchDims]float64

func (l Launch) vector() vector {
	s, c := math.Sincos(l.Axis)
	return vector{l.Speed, l.Angle, l.Direction, l.Spin * c, l.Spin * s}
}

func (v vector) launch() Launch {
	return Launch{Speed: v[0], Angle: v[1], Direction: v[2], Spin: math.Hypot(v[3], v[4]), Axis: math.Atan2(v[4], v[3])}
}

// redrawn is the same golfer with other answers to settings: one of those that
// the world's own distribution makes as likely.
func (p *Player) redrawn(r *Rand, l Level, w World) *Player {
	q, o := *p, NewPlayer(r, l, w)
	q.Resquare, q.LoftGain, q.LieGain, q.CGGain, q.FaceByCG, q.Gear, q.Quirk = o.Resquare, o.LoftGain, o.LieGain, o.CGGain, o.FaceByCG, o.Gear, o.Quirk
	return &q
}

// BayesChoice is the setting of least expected strokes by the posterior of one
// who knows the world that the golfer was drawn from, the golfer's swing, ball
// and scatter, and who sees the measured launches: what can be known at all.
// The posterior is that of the normal with the moments of 800 golfers redrawn
// (the effects are nearly linear in normal draws); strokes are a quadratic in
// the shift of the launches, fitted to flights of the golfer's own swings.
func (p *Player) BayesChoice(balls []Ball, hole Hole, l Level, w World, seed uint64) int {
	r := NewRand(seed, 41)
	settings := Settings80()
	const golfers = 800
	n := len(settings)
	shifts := make([][]vector, golfers) // of every setting against today's
	at := func(q *Player, s Setting) vector {
		d, h := q.at(s)
		return strike(d, h).vector()
	}
	mean := make([]vector, n)
	for k := range shifts {
		q := p.redrawn(r, l, w)
		zero := at(q, settings[0].Setting)
		shifts[k] = make([]vector, n)
		for i, s := range settings {
			v := at(q, s.Setting)
			for j := range v {
				shifts[k][i][j] = v[j] - zero[j]
				mean[i][j] += shifts[k][i][j] / golfers
			}
		}
	}
	o := p.observed(balls, r)
	learnt := o.posterior(shifts, mean, r)
	cost := p.quadratic(hole, r)
	best, low := 0, math.Inf(1)
	for i := range settings {
		sum := 0.
		for k := range learnt {
			sum += cost(learnt[k][i])
		}
		if sum < low {
			best, low = i, sum
		}
	}
	return best
}

// observation is the mean launch of each setting hit, its balls, and the
// covariance of a ball.
type observation struct {
	setting []int
	mean    []vector
	balls   []float64
	noise   [launchDims][launchDims]float64
}

func (p *Player) observed(balls []Ball, r *Rand) (o observation) {
	at := map[int]int{}
	for _, b := range balls {
		if b.WarmUp {
			continue
		}
		k, ok := at[b.Setting]
		if !ok {
			k = len(o.setting)
			at[b.Setting] = k
			o.setting, o.mean, o.balls = append(o.setting, b.Setting), append(o.mean, vector{}), append(o.balls, 0)
		}
		o.balls[k]++
		v := Launch{b.BallSpeed, b.Launch, b.Direction, b.Spin, b.Axis}.vector()
		for j := range v {
			o.mean[k][j] += (v[j] - o.mean[k][j]) / o.balls[k]
		}
	}
	const swings = 600
	var all [swings]vector
	var m vector
	for i := range all {
		d, h, _ := p.swing(r, Setting{}, -1)
		l := strike(d, h)
		l.Direction += p.Align * r.Normal()
		all[i] = l.vector()
		for j, v := range all[i] {
			m[j] += v / swings
		}
	}
	for _, v := range all {
		for i := range v {
			for j := range v {
				o.noise[i][j] += (v[i] - m[i]) * (v[j] - m[j]) / swings
			}
		}
	}
	for j, sd := range (vector{.5 * mph, .2 * deg, .3 * deg, 80 * rpm, 1.5 * deg * m[3]}) { // the device, as in Session
		o.noise[j][j] += sd * sd
	}
	return o
}

// posterior moves every golfer of the ensemble to what was observed, each with
// its own draw of the noise. The launch of today's setting is known to nobody:
// a common level of wide prior stands before all.
func (o observation) posterior(shifts [][]vector, mean []vector, r *Rand) [][]vector {
	m := len(o.setting) * launchDims
	golfers := len(shifts)
	level := vector{}
	for k := range o.mean {
		for j := range level {
			level[j] += (o.mean[k][j] - mean[o.setting[k]][j]) / float64(len(o.mean))
		}
	}
	root := cholesky5(o.noise)
	// Deviations of each golfer in what is seen: shift of the settings hit.
	x := make([][]float64, golfers)
	for k := range x {
		x[k] = make([]float64, m)
		for a, s := range o.setting {
			for j := range launchDims {
				x[k][a*launchDims+j] = shifts[k][s][j] - mean[s][j]
			}
		}
	}
	c := make([][]float64, m)
	for i := range c {
		c[i] = make([]float64, m+golfers)
		for j := range m {
			for k := range x {
				c[i][j] += x[k][i] * x[k][j] / float64(golfers)
			}
			if i%launchDims == j%launchDims { // the level
				c[i][j] += 25 * o.noise[i%launchDims][i%launchDims]
			}
			if i/launchDims == j/launchDims {
				c[i][j] += o.noise[i%launchDims][j%launchDims] / o.balls[i/launchDims]
			}
		}
	}
	for k := range shifts { // right sides: what was seen less what this golfer would show
		var base vector
		for j := range base {
			base[j] = 5 * math.Sqrt(o.noise[j][j]) * r.Normal()
		}
		for a := range o.setting {
			var z, e vector
			for j := range z {
				z[j] = r.Normal()
			}
			for i := range e {
				for j := range i + 1 {
					e[i] += root[i][j] * z[j]
				}
				row := a*launchDims + i
				c[row][m+k] = o.mean[a][i] - level[i] - mean[o.setting[a]][i] - x[k][row] - base[i] - e[i]/math.Sqrt(o.balls[a])
			}
		}
	}
	eliminated(c)
	// covariance of every shift with what is seen, times the solved right sides
	out := make([][]vector, golfers)
	for k := range out {
		out[k] = make([]vector, len(mean))
	}
	cross := make([]float64, m)
	for s := range mean {
		for j := range launchDims {
			clear(cross)
			for k := range shifts {
				d := (shifts[k][s][j] - mean[s][j]) / float64(golfers)
				for i := range cross {
					cross[i] += d * x[k][i]
				}
			}
			for k := range out {
				v := shifts[k][s][j]
				for i, w := range cross {
					v += w * c[i][m+k]
				}
				out[k][s][j] = v
			}
		}
	}
	return out
}

func cholesky5(a [launchDims][launchDims]float64) (l [launchDims][launchDims]float64) {
	for i := range a {
		for j := range i + 1 {
			s := a[i][j]
			for k := range j {
				s -= l[i][k] * l[j][k]
			}
			if i == j {
				l[i][i] = math.Sqrt(s)
			} else {
				l[i][j] = s / l[j][j]
			}
		}
	}
	return l
}

// eliminated solves a positive system with many right sides in place.
func eliminated(a [][]float64) {
	for c := range a {
		d := 1 / a[c][c]
		for j := c; j < len(a[c]); j++ {
			a[c][j] *= d
		}
		for r := range a {
			if f := a[r][c]; r != c && f != 0 {
				for j := c; j < len(a[r]); j++ {
					a[r][j] -= f * a[c][j]
				}
			}
		}
	}
}

// quadratic is what drives cost, at the best aim, when every launch is shifted.
func (p *Player) quadratic(hole Hole, r *Rand) func(vector) float64 {
	const swings, places, terms = 96, 90, 21
	var all [swings]vector
	for i, u := range lattice(swings) {
		d, h, _ := p.shape(u, Setting{}, -1)
		all[i] = strike(d, h).vector()
	}
	scale := vector{1, 1.2 * deg, .8 * deg, 22, 10}
	form := func(d vector) (t [terms]float64) {
		t[0] = 1
		n := 1
		for i := range d {
			t[n] = d[i] / scale[i]
			n++
			for j := range i + 1 {
				t[n] = d[i] * d[j] / (scale[i] * scale[j])
				n++
			}
		}
		return t
	}
	a := make([][]float64, terms)
	for i := range a {
		a[i] = make([]float64, terms+1)
		a[i][i] = 1e-6
	}
	x, z := make([]float64, swings), make([]float64, swings)
	for range places {
		var d vector
		for j := range d {
			d[j] = scale[j] * r.Normal()
		}
		for i, v := range all {
			for j := range v {
				v[j] += d[j]
			}
			x[i], z[i] = fly(v.launch(), p.Air).rest()
		}
		y, _ := hole.Best(x, z, p.Align)
		t := form(d)
		for i := range t {
			for j := range t {
				a[i][j] += t[i] * t[j]
			}
			a[i][terms] += t[i] * y
		}
	}
	eliminated(a)
	return func(d vector) (s float64) {
		for i, t := range form(d) {
			s += t * a[i][terms]
		}
		return s
	}
}
