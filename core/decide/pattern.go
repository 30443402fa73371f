package decide

import (
	"math"

	"ferrule/core/predict"
	"ferrule/core/score"
)

// pattern is what the balls of one setting do about their own draw's mean: the
// shape of the player's spread, apart from where its middle is.
//
// What a setting costs is split into two smooth parts. One is the cost of the
// pattern of all draws together as a function of where its middle lies, c(line,
// distance): thousands of balls, the same ones for every setting, so that
// little noise is left in a difference. The other is where each draw puts the
// middle. A draw's cost is read off c there, which needs no search for an aim
// among the few balls of one draw.
//
// When the aim is free a draw is worth the least of c over lines at its
// distance: whoever hits a ball farther to the right than was thought sees it
// within a round and aims there. A setting is so charged neither for turning
// the line nor for not knowing how far.
type pattern struct {
	u, v     []float64 // [m] of each ball along and right of its draw's line, the middle of all draws on u
	far      float64   // [m] distance of the middle
	line     float64   // [rad] its direction, right +
	distance []float64 // [m] of each draw's middle, less far
	turn     []float64 // [rad] of each draw's middle, less line
}

// patternOf measures the resting places of an outcome.
func patternOf(o *predict.Outcome) *pattern {
	per := o.PerDraw
	p := &pattern{u: make([]float64, len(o.Balls)), v: make([]float64, len(o.Balls)), distance: make([]float64, o.Draws), turn: make([]float64, o.Draws)}
	for d := range o.Draws {
		var x, z float64
		for _, b := range o.Balls[d*per : (d+1)*per] {
			x, z = x+b.RestX/float64(per), z+b.RestZ/float64(per)
		}
		p.distance[d], p.turn[d] = math.Hypot(x, z), math.Atan2(z, x)
		p.far += p.distance[d] / float64(o.Draws)
		p.line += p.turn[d] / float64(o.Draws)
	}
	if per == 1 { // nothing tells a draw's middle from its ball
		for d := range o.Draws {
			p.distance[d], p.turn[d] = p.far, p.line
		}
	}
	grow := math.Sqrt(float64(per) / math.Max(1, float64(per-1))) // deviations from a mean of few are too small
	for d := range o.Draws {
		sin, cos := math.Sincos(p.turn[d])
		for i := d * per; i < (d+1)*per; i++ {
			b := &o.Balls[i]
			p.u[i] = p.far + grow*(b.RestX*cos+b.RestZ*sin-p.distance[d])
			p.v[i] = grow * (b.RestZ*cos - b.RestX*sin)
		}
		p.distance[d] -= p.far
		p.turn[d] -= p.line
	}
	// the ground's soft edges spread the balls: drawn together by as much
	if v := variance(p.v); v > 0 {
		m, pull := mean(p.v), math.Sqrt(math.Max(.5, 1-score.Soft*score.Soft/v))
		for i := range p.v {
			p.v[i] = m + pull*(p.v[i]-m)
		}
	}
	return p
}

// cost is the mean cost of every step-th ball when the middle lies on the line
// at and by more than its own distance. A broken limit on balls beyond the
// side costs more than any score can.
func (p *pattern) cost(c *score.Course, g ground, most, at, more float64, step int) float64 {
	sin, cos := math.Sincos(at)
	sum, beyond, n := 0.0, 0.0, 0
	for i := 0; i < len(p.u); i += step {
		u, v := p.u[i]+more, p.v[i]
		x, z := u*cos-v*sin, v*cos+u*sin
		sum += g(x, z)
		if most > 0 {
			beyond += lost(c, z)
		}
		n++
	}
	v := sum / float64(n)
	if most > 0 && beyond/float64(n) > most {
		v += 1000 * (1 + beyond/float64(n) - most)
	}
	return v
}

const (
	coarse = maxAim / 4 // [rad] between lines that are tried
	widest = 16         // coarse steps to either side at most
	reach  = 6.         // [m] to either side, for the slope of the cost with distance
)

// best is the line along which the pattern costs least wherever the player
// may aim, and that cost: a walk in coarse steps from the line start, then the
// foot of a parabola.
func (p *pattern) best(c *score.Course, g ground, most, start float64) (line, cost float64) {
	known := map[int]float64{}
	value := func(k int) float64 {
		v, ok := known[k]
		if !ok {
			v = p.cost(c, g, most, start+float64(k)*coarse, 0, 1)
			known[k] = v
		}
		return v
	}
	for at := 0; ; {
		lo, mid, hi := value(at-1), value(at), value(at+1)
		far := at < -widest || at > widest
		switch {
		case lo < mid && lo <= hi && !far:
			at--
			continue
		case hi < mid && !far:
			at++
			continue
		}
		line, cost = start+float64(at)*coarse, mid
		if curve := lo + hi - 2*mid; curve > 0 && most == 0 && !far {
			line += coarse * (lo - hi) / 2 / curve
			cost -= (lo - hi) * (lo - hi) / 8 / curve
		}
		return line, cost
	}
}

// aimed is the line of each draw's middle when the player aims for line but no
// more than most to either side of where the balls go by themselves, and the
// least and the greatest of them.
func (p *pattern) aimed(line, most float64) (at []float64, lo, hi float64) {
	at = make([]float64, len(p.turn))
	lo, hi = math.Inf(1), math.Inf(-1)
	for d, t := range p.turn {
		own := p.line + t
		at[d] = math.Max(own-most, math.Min(own+most, line))
		lo, hi = math.Min(lo, at[d]), math.Max(hi, at[d])
	}
	return at, lo, hi
}

// draws is the cost of each draw of the pattern when aimed for line within
// most of its own: by the slope and the bend with distance, and along lines by
// cubic interpolation where the draws' differ.
func (p *pattern) draws(c *score.Course, g ground, line, most float64) []float64 {
	at, lo, hi := p.aimed(line, most)
	mid := mean(at)
	here := p.cost(c, g, 0, mid, 0, 1)
	near, level, beyond := p.cost(c, g, 0, mid, -reach, 3), p.cost(c, g, 0, mid, 0, 3), p.cost(c, g, 0, mid, reach, 3)
	slope, bend := (beyond-near)/2/reach, (beyond+near-2*level)/reach/reach
	const n = 7
	var y [n]float64
	h := (hi - lo) / (n - 1)
	along := h > 1e-5
	if along {
		for k := range y {
			y[k] = p.cost(c, g, 0, lo+h*float64(k), 0, 1)
		}
	}
	out := make([]float64, len(at))
	for d, more := range p.distance {
		more = math.Max(-3*reach, math.Min(3*reach, more))
		out[d] = here + slope*more + bend/2*more*more
		if !along {
			continue
		}
		f := (at[d] - lo) / h
		k := max(0, min(n-4, int(f)-1))
		s := f - float64(k) // Lagrange through four neighbours at 0, 1, 2, 3
		out[d] += -y[k]*(s-1)*(s-2)*(s-3)/6 + y[k+1]*s*(s-2)*(s-3)/2 - y[k+2]*s*(s-1)*(s-3)/2 + y[k+3]*s*(s-1)*(s-2)/6 - here
	}
	return out
}
