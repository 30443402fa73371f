package predict

import (
	"math"

	"ferrule/core/flight"
	"ferrule/core/linear"
	"ferrule/core/response"
	"ferrule/core/robust"
	"ferrule/core/seed"
)

// aspects of a landing that balls are compared in: carry, offline, apex.
const aspects = 3

// offsets are what the session's balls did where they landed that their launch and
// the ball's flight do not say. Of output o, ball i of setting s in block b under
// draw d:
//
//	q_i = measured - flown(launch_i, ball of draw d) = c + w_b + v_s + e_i
//	c ~ N(0, 30^2) m    w_b ~ N(0, the block's doubt)    v_s ~ N(0, lambda^2)
//
// lambda is learned on a grid. A draw's balls are moved by c + v_s, those of a
// setting never hit by c and a draw of v. Without measured flights nothing moves.
type offsets struct {
	seen    [aspects]bool
	deltas  [aspects][]float64 // draws*(1+settings hit): c, v of each setting hit
	lambda  [aspects][]float64 // [m] of each draw
	column  []int              // of each setting, 0 = never hit
	columns int
	balls   []ballSeen
	scatter [aspects]float64 // [m] of q about its setting
}

// ballSeen is one ball of the session where it landed.
type ballSeen struct {
	setting, block int
	has            [aspects]bool    // measured, or to be had from a whole launch
	measured       [aspects]bool    // measured
	at             [aspects]float64 // [m]
}

var lambdas = [aspects][]float64{{.3, 1, 2, 4, 8, 14}, {.3, 1, 2, 4, 8, 14}, {.2, .5, 1, 2, 4, 7}}

// common is how far all balls may be off together [m], standard deviation.
const common = 30

var lambdaWeight = []float64{.4, .3, .17, .08, .04, .01}

// session flies the session's balls under every draw and finds what they did
// beyond it; far, high and aside are what each draw's ball does to a flight.
func (e *each) session() *offsets {
	in := e.r.Input()
	draws := len(e.r.Draws)
	l := &offsets{column: make([]int, len(in.Changes))}
	whole := true // one flight a ball does for all draws
	for i := range in.Shots {
		s := &in.Shots[i]
		b := ballSeen{setting: s.Setting, block: s.Block}
		full := s.Has == ([response.K]bool{true, true, true, true, true})
		for o, p := range [aspects]*float64{s.Carry, s.Offline, s.Apex} {
			b.has[o] = full
			if p != nil {
				b.has[o], b.measured[o], b.at[o] = true, true, *p
				l.seen[o] = true
				whole = whole && full
			}
		}
		if full && b.measured != ([aspects]bool{true, true, true}) {
			g := e.s.At(response.Launch(s.Y))
			for o, v := range [aspects]float64{g.Carry, g.Offline, g.Apex} {
				if !b.measured[o] {
					b.at[o] = v
				}
			}
		}
		if s.Setting >= 0 && l.column[s.Setting] == 0 {
			l.columns++
			l.column[s.Setting] = l.columns
		}
		l.balls = append(l.balls, b)
	}
	if l.seen == ([aspects]bool{}) {
		return l
	}
	var q [aspects][]float64 // draw by draw, ball by ball
	n := len(l.balls)
	for o := range q {
		q[o] = make([]float64, draws*n)
	}
	rng := e.cfg.Seed.Stream("predict.session")
	flown := make([]flight.Landing, n)
	for d := range draws {
		by := e.ball(d, &e.sens)
		for i := range l.balls {
			b := &l.balls[i]
			if b.measured == ([aspects]bool{}) {
				continue
			}
			axis := in.Shots[i].Y[4]
			if d == 0 || !whole {
				y := e.r.Start(d, i, rng)
				axis = y[4]
				flown[i] = e.s.At(response.Launch(y))
			}
			g := &flown[i]
			q[0][d*n+i] = b.at[0] - g.Carry*by.far
			q[1][d*n+i] = b.at[1] - g.Offline*by.far - by.aside*axis
			q[2][d*n+i] = b.at[2] - g.Apex*by.high
		}
	}
	for o := range q {
		if l.seen[o] {
			l.learn(o, q[o], in, draws, e.cfg)
		}
	}
	return l
}

// learn finds c and the deviations of output o under every draw.
func (l *offsets) learn(o int, q []float64, in response.Input, draws int, cfg Config) {
	n := len(l.balls)
	mean := make([]float64, n)
	for i := range q {
		mean[i%n] += q[i] / float64(draws)
	}
	weight := l.weigh(o, mean)
	blocks := len(in.Blocks)
	dims := 1 + l.columns + blocks
	v := l.scatter[o] * l.scatter[o]
	gram := make([]float64, dims*dims)
	places := make([][]int, n) // the unknowns of each ball
	for i := range l.balls {
		b := &l.balls[i]
		places[i] = append(make([]int, 0, 3), 0)
		if b.setting >= 0 {
			places[i] = append(places[i], l.column[b.setting])
		}
		if b.block < blocks {
			places[i] = append(places[i], 1+l.columns+b.block)
		}
		for _, a := range places[i] {
			for _, c := range places[i] {
				gram[a*dims+c] += weight[i] / v
			}
		}
	}
	right := func(q []float64, out []float64) {
		clear(out)
		for i := range l.balls {
			if w := weight[i] / v; w > 0 {
				for _, a := range places[i] {
					out[a] += w * q[i]
				}
			}
		}
	}
	b := make([]float64, dims)
	right(mean, b)
	factors, chance := l.spreads(o, gram, b, in)
	if chance == nil {
		return
	}
	rng := cfg.Seed.Stream("predict.level." + string(rune('a'+o)))
	l.deltas[o], l.lambda[o] = make([]float64, draws*(1+l.columns)), make([]float64, draws)
	z := make([]float64, dims)
	ranks := rng.Perm(draws)
	for d := range draws {
		u, g := (float64(ranks[d])+.5)/float64(draws), 0
		for g < len(chance)-1 && u > chance[g] {
			u -= chance[g]
			g++
		}
		l.lambda[o][d] = lambdas[o][g]
		right(q[d*n:(d+1)*n], b)
		factors[g].Solve(b)
		for c := range z {
			z[c] = rng.NormFloat64()
		}
		for c := dims - 1; c >= 0; c-- { // U^-1 z has the covariance of the answer
			for k := c + 1; k < dims; k++ {
				z[c] -= factors[g].U[c*dims+k] * z[k]
			}
			z[c] /= factors[g].U[c*dims+c]
		}
		for c := range 1 + l.columns {
			l.deltas[o][d*(1+l.columns)+c] = b[c] + z[c]
		}
	}
}

// spreads solves for each spread of the deviations in the grid and weighs it by
// its evidence: log p(lambda) + log|prior|/2 - log|A|/2 + b'A^-1 b/2 with A the
// balls' information and the prior's. There is nothing where a system could not be solved.
func (l *offsets) spreads(o int, gram, b []float64, in response.Input) (factors []linear.Cholesky, chance []float64) {
	dims := len(b)
	for g, lambda := range lambdas[o] {
		a := append([]float64(nil), gram...)
		a[0] += 1 / (common * common)
		log := math.Log(lambdaWeight[g])
		for c := 1; c <= l.columns; c++ {
			a[c*dims+c] += 1 / (lambda * lambda)
			log -= math.Log(lambda)
		}
		for k, blk := range in.Blocks {
			c := 1 + l.columns + k
			sd := math.Max([aspects]float64{blk.Carry, blk.Offline, blk.Apex}[o], 1e-3)
			a[c*dims+c] += 1 / (sd * sd)
		}
		f, ok := linear.Factor(dims, a)
		if !ok {
			return nil, nil
		}
		x := append([]float64(nil), b...)
		f.Solve(x)
		log += linear.Dot(b, x) / 2
		for c := range dims {
			log -= math.Log(f.U[c*dims+c])
		}
		factors, chance = append(factors, f), append(chance, log)
	}
	linear.Shares(chance)
	return factors, chance
}

// weigh sets the scatter of output o about the settings and returns the weight
// of each ball: what is farther than two and a half of it counts less (Huber).
func (l *offsets) weigh(o int, q []float64) []float64 {
	bySetting := make([][]float64, 1+l.columns)
	column := func(b *ballSeen) int {
		if b.setting < 0 {
			return 0
		}
		return l.column[b.setting]
	}
	n, used := 0., 0.
	for i := range l.balls {
		if b := &l.balls[i]; b.measured[o] {
			bySetting[column(b)] = append(bySetting[column(b)], q[i])
			n++
		}
	}
	middle := make([]float64, len(bySetting))
	for c, v := range bySetting {
		if len(v) > 0 {
			middle[c] = robust.Median(v)
			used++
		}
	}
	var off []float64
	for i := range l.balls {
		if b := &l.balls[i]; b.measured[o] {
			off = append(off, q[i]-middle[column(b)])
		}
	}
	// before any setting has two balls: what devices and flights miss of one ball
	usual := [aspects]float64{3, 2.5, 1.2}[o]
	free := math.Max(0, n-used)
	own := robust.Spread(off)
	if free > 0 {
		own = math.Max(.3, own*math.Sqrt(n/free))
	}
	const worth = 4 // balls
	l.scatter[o] = math.Sqrt((worth*usual*usual + free*own*own) / (worth + free))
	weight := make([]float64, len(l.balls))
	for i := range l.balls {
		if b := &l.balls[i]; b.measured[o] {
			weight[i] = math.Min(1, 2.5*l.scatter[o]/math.Max(1e-9, math.Abs(q[i]-middle[column(b)])))
		}
	}
	return weight
}

// shift is how far draw d's balls of setting i are moved; own are normal numbers
// for a setting never hit.
func (l *offsets) shift(o, d, i int, own []float64) float64 {
	if !l.seen[o] || l.deltas[o] == nil {
		return 0
	}
	at := l.deltas[o][d*(1+l.columns):]
	if c := l.column[i]; c > 0 {
		return at[0] + at[c]
	}
	return at[0] + l.lambda[o][d]*own[d*aspects+o]
}

// own are normal numbers of a setting's landing, by name.
func own(s seed.Seed, name string, draws int) []float64 {
	rng := s.Stream("predict.own." + name)
	z := make([]float64, draws*aspects)
	for i := range z {
		z[i] = rng.NormFloat64()
	}
	return z
}
