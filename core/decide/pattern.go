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
	spots    []score.Spot // the balls about their draw's line, the middle of all draws at far
	far      float64      // [m] distance of the middle
	line     float64      // [rad] its direction, right +
	distance []float64    // [m] of each draw's middle, less far
	turn     []float64    // [rad] of each draw's middle, less line
	u, v     []float64    // [m] of each ball along its draw's line, less its middle, and right of it
	grid     []float64    // shares by cell, between uses all 0
	noise    [2][]float64 // of each draw's distance [m] and turn [rad]: what its few balls happen to be off
}

// The balls are gathered in cells, each ball shared among the four corners
// around it so that their mean stays where it is: some hundred spots cost what
// thousands of balls would. Balls beyond the grid are spots of their own.
const (
	cell         = 4.              // [m]
	cellsAlong   = 41              // to 80 m short and beyond
	cellsAcross  = 51              // to 100 m to either side
	cellVariance = cell * cell / 6 // [m^2] by which the sharing spreads the balls
)

// measure takes the resting places of an outcome.
func (p *pattern) measure(o *predict.Outcome) {
	if p.u == nil {
		p.u, p.v = make([]float64, len(o.Balls)), make([]float64, len(o.Balls))
		p.distance, p.turn = make([]float64, o.Draws), make([]float64, o.Draws)
		p.grid = make([]float64, cellsAlong*cellsAcross)
	}
	per := o.PerDraw
	p.far, p.line = 0, 0
	for d := range o.Draws {
		var x, z float64
		balls := o.Balls[d*per : (d+1)*per]
		for i := range balls {
			x, z = x+balls[i].RestX, z+balls[i].RestZ
		}
		x, z = x/float64(per), z/float64(per)
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
	var us, vs, uu, vv float64
	for d := range o.Draws {
		sin, cos := math.Sincos(p.turn[d])
		far := p.distance[d]
		for i := d * per; i < (d+1)*per; i++ {
			b := &o.Balls[i]
			u, v := grow*(b.RestX*cos+b.RestZ*sin-far), grow*(b.RestZ*cos-b.RestX*sin)
			p.u[i], p.v[i] = u, v
			us, vs, uu, vv = us+u, vs+v, uu+u*u, vv+v*v
		}
		p.distance[d] -= p.far
		p.turn[d] -= p.line
	}
	if p.noise[0] == nil {
		n := float64(len(p.u))
		p.noise = [2][]float64{happened(p.distance, uu/n, per), happened(p.turn, vv/n/p.far/p.far, per)}
	}
	for d := range p.turn {
		p.distance[d] -= p.noise[0][d]
		p.turn[d] -= p.noise[1][d]
	}
	p.gather(together(us, uu, len(p.u), cellVariance), together(vs, vv, len(p.v), cellVariance+score.Soft*score.Soft))
}

// happened is the part of draws, whose mean is zero, that comes from having only per
// balls in each; v is the variance of one ball. A draw's balls swing alike in every
// setting, so what the first setting's draws happen to be off is taken from all.
func happened(draws []float64, v float64, per int) []float64 {
	return less(draws, quiet(draws, v, per))
}

// shrink draws numbers together: m + by (x - m).
type shrink struct{ m, by float64 }

// together takes out of n numbers, of which the sum and the sum of squares are
// given, a variance that is put in again elsewhere.
func together(sum, squares float64, n int, variance float64) shrink {
	m := sum / float64(n)
	all := squares/float64(n) - m*m
	if !(all > 0) {
		return shrink{m, 1}
	}
	return shrink{m, math.Sqrt(math.Max(.5, 1-variance/all))}
}

// gather makes the spots.
func (p *pattern) gather(along, across shrink) {
	p.spots = p.spots[:0]
	share := 1 / float64(len(p.u))
	for i, u := range p.u {
		u, v := along.m+along.by*(u-along.m), across.m+across.by*(p.v[i]-across.m)
		a, b := u/cell+(cellsAlong-1)/2, v/cell+(cellsAcross-1)/2
		if !(a >= 0 && b >= 0 && a < cellsAlong-1 && b < cellsAcross-1) {
			p.spots = append(p.spots, score.Spot{U: p.far + u, V: v, Share: share})
			continue
		}
		k := int(a)*cellsAcross + int(b)
		a, b = a-float64(int(a)), b-float64(int(b))
		g := p.grid[k : k+cellsAcross+2]
		far, near := share*a, share*(1-a)
		g[0] += near * (1 - b)
		g[1] += near * b
		g[cellsAcross] += far * (1 - b)
		g[cellsAcross+1] += far * b
	}
	for i := range cellsAlong {
		for j := range cellsAcross {
			if w := p.grid[i*cellsAcross+j]; w > 0 {
				p.spots = append(p.spots, score.Spot{U: p.far + cell*float64(i-(cellsAlong-1)/2), V: cell * float64(j-(cellsAcross-1)/2), Share: w})
				p.grid[i*cellsAcross+j] = 0
			}
		}
	}
}

// ground is the mean over spots of what is to be made small, along a line and
// by times as far.
type ground func(spots []score.Spot, line, by float64) float64

// cost is the mean cost when the middle lies on the line at. A broken limit on
// balls beyond the side costs more than any score can.
func (p *pattern) cost(c *score.Course, g ground, most, at float64) float64 {
	v := g(p.spots, at, 1)
	if most > 0 {
		if beyond := lost(c, p.spots, at); beyond > most {
			v += 1000 * (1 + beyond - most)
		}
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
	var known [2*widest + 5]float64
	var asked [2*widest + 5]bool
	value := func(k int) float64 {
		i := k + widest + 2
		if !asked[i] {
			known[i], asked[i] = p.cost(c, g, most, start+float64(k)*coarse), true
		}
		return known[i]
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

// aimed is the line of each draw's middle when the player takes up a share of
// the way from where the balls go by themselves to line, of at most maxAim, and
// the least and the greatest of them.
func (p *pattern) aimed(line, share float64) (at []float64, lo, hi float64) {
	at = make([]float64, len(p.turn))
	lo, hi = math.Inf(1), math.Inf(-1)
	for d, t := range p.turn {
		own := p.line + t
		at[d] = own + share*math.Max(-maxAim, math.Min(maxAim, line-own))
		lo, hi = math.Min(lo, at[d]), math.Max(hi, at[d])
	}
	return at, lo, hi
}

// draws is the cost of each draw of the pattern when a share of the way to line
// is aimed for: by the slope and the bend with distance, and along lines by
// cubic interpolation where the draws' differ.
func (p *pattern) draws(g ground, line, share float64) []float64 {
	at, lo, hi := p.aimed(line, share)
	mid := mean(at)
	near, here, beyond := g(p.spots, mid, 1-reach/p.far), g(p.spots, mid, 1), g(p.spots, mid, 1+reach/p.far)
	slope, bend := (beyond-near)/2/reach, (beyond+near-2*here)/reach/reach
	const n = 7
	var y [n]float64
	h := (hi - lo) / (n - 1)
	along := h > 1e-5
	if along {
		for k := range y {
			y[k] = g(p.spots, lo+h*float64(k), 1)
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
