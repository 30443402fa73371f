package decide

import (
	"math"

	"ferrule/core/frame"
	"ferrule/core/predict"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// The quantities of which a mean a shot is predicted. The first five come with
// the launch, the others from the balls.
const (
	qSpeed = iota
	qLaunch
	qDirection
	qSpin
	qAxis
	qCarry
	qOffline
	qApex
	qDescent
	qTotal
	quantities
)

var quantityOf = [quantities]shot.Quantity{shot.BallSpeed, shot.Launch, shot.LaunchDirection, shot.Spin, shot.SpinAxis,
	shot.Carry, shot.Offline, shot.Apex, shot.Descent, shot.Total}

// The limits that a setting may have to meet.
const (
	limitTrouble = iota
	limitCarry
	limitApex
	limits
)

// Add takes the outcome of setting i. The reference comes first; the outcome
// is not kept.
func (d *Decider) Add(i int, o *predict.Outcome) error {
	if err := d.check(i, o); err != nil {
		return err
	}
	n := len(o.Balls)
	first := d.ref.balls == nil
	if first {
		d.draws, d.perDraw = o.Draws, o.PerDraw
		d.cost = make([]float64, n)
		d.diffs = make([]float64, d.draws)
		d.ref.balls = append([]predict.Ball(nil), o.Balls...)
	}
	r := &d.rows[i]
	r.done = true
	r.out = report.Setting{Setting: d.list[i], Change: d.changes[i], Balls: d.counts[i].Balls, Mishits: d.counts[i].Mishits,
		Tested: d.counts[i].Balls > 0}
	if d.cfg.Measured != nil {
		r.out.Measured = d.cfg.Measured[i]
	}
	p := &d.pattern
	p.measure(o)
	d.aimed(r, first)
	d.score(r, o, first)
	d.fillStrokes(r, p, first)
	r.out.R50, r.out.R80 = radii(o.Balls, &d.order)
	d.amounts(r, o, first)
	d.tally(r)
	d.others(r)
	if len(o.Launch) > 0 {
		r.launches = make([]float32, len(o.Launch))
		for k, v := range o.Launch {
			r.launches[k] = float32(v)
		}
	}
	return nil
}

// sides counts balls beyond a line.
type sides struct{ right, left float64 }

func (s *sides) see(z, line float64) {
	if z > line {
		s.right++
	} else if z < -line {
		s.left++
	}
}

// scored is what the balls of a setting add up to at its own aim.
type scored struct {
	right, left, fair, lost, apex, carry float64
	straight                             sides
	strokes                              []float64 // a ball, of the first setting alone
	level, stroke                        []float64 // a draw
	limit                                [limits][]float64
}

// score measures a setting at its own aim: costs a draw, strokes, shares.
func (d *Decider) score(r *row, o *predict.Outcome, first bool) {
	aimed, _, _ := d.pattern.aimed(r.line, d.cfg.Course.Reaim)
	n := len(o.Balls)
	limited := d.cfg.Course.Limits.Any()
	s := &scored{level: make([]float64, d.draws), stroke: make([]float64, d.draws)}
	if first {
		s.strokes = make([]float64, n)
	}
	for l := range s.limit {
		if limited {
			s.limit[l] = make([]float64, d.draws)
		}
	}
	for at := range d.draws {
		d.scoreDraw(s, o, at, aimed[at])
	}
	all := float64(n)
	if !(d.cfg.Course.Limits.CarryMin > 0) { // nobody asks
		s.carry = all
	}
	r.out.PRight, r.out.PLeft, r.out.PFairway, r.out.PApex, r.out.PCarry = s.right/all, s.left/all, s.fair/all, s.apex/all, s.carry/all
	r.lost = s.lost / all
	r.straight = [2]float64{s.straight.right / all, s.straight.left / all}
	if first {
		d.ref.cost = append([]float64(nil), d.cost...)
		d.ref.limit = s.limit
		d.ref.level = append([]float64(nil), s.level...)
		d.ref.known = quiet(s.stroke, within(s.strokes, nil, d.perDraw), d.perDraw)
	}
	if d.goal == shot.GoalCarry || d.goal == shot.GoalHeight {
		r.cost = d.against(s.level, d.ref.level, d.cost, d.ref.cost)
		r.level = quiet(s.level, within(d.cost, nil, d.perDraw), d.perDraw)
	} else { // settle has them from the pattern
		r.cost, r.level = s.stroke, s.level
	}
	if limited {
		d.limit(r, s.limit)
	}
}

// scoreDraw adds the balls of one draw, aimed at an angle [rad], to s.
func (d *Decider) scoreDraw(s *scored, o *predict.Outcome, at int, angle float64) {
	c, p := d.cfg.Course, &d.pattern
	windowed := c.Limits.ApexLow > 0 || c.Limits.ApexHigh > 0
	asksReach := c.Limits.CarryMin > 0
	var reached, window, cost, sum float64
	var beyond sides
	sin, cos := math.Sincos(angle)
	far := p.far + p.distance[at]
	for b := at * d.perDraw; b < (at+1)*d.perDraw; b++ {
		ball := &o.Balls[b]
		u, v := far+p.u[b], p.v[b]
		x, z := u*cos-v*sin, v*cos+u*sin
		f, stroke := c.Fairway(x, z), 0.0
		if s.strokes != nil { // the strokes of the others are told by their pattern
			stroke = c.Strokes(x, z)
			s.strokes[b] = stroke
		}
		own, high := stroke, 1.0
		if windowed && !c.Limits.InWindow(ball.Apex) {
			high = 0
		}
		if asksReach {
			reached += indicator(math.Hypot(ball.Carry, ball.Offline) >= c.Limits.CarryMin)
		}
		switch d.goal {
		case shot.GoalCarry:
			own = -ball.Carry
		case shot.GoalFairways:
			own = -f
		case shot.GoalHeight:
			own = -high
		}
		d.cost[b] = own
		s.lost += c.InTrouble(x, z)
		cost, sum, s.fair, window = cost+own, sum+stroke, s.fair+f, window+high
		beyond.see(z, c.Line)
		s.straight.see(ball.RestZ, c.Line)
	}
	s.right, s.left, s.apex, s.carry = s.right+beyond.right, s.left+beyond.left, s.apex+window, s.carry+reached
	per := 1 / float64(d.perDraw)
	s.level[at], s.stroke[at] = cost*per, sum*per
	if c.Limits.Any() {
		s.limit[limitTrouble][at], s.limit[limitCarry][at], s.limit[limitApex][at] = onSide(c.Limits.Side, beyond.right, beyond.left)*per, reached*per, window*per
	}
}

// limit keeps the draws' shares of balls that each limit is about.
func (d *Decider) limit(r *row, at [limits][]float64) {
	for l := range at {
		r.limit[l].mean = mean(at[l])
		r.limit[l].at = quiet(at[l], binomial(at[l], d.perDraw), d.perDraw)
		r.limit[l].diff = make([]float64, d.draws)
		for k := range at[l] {
			r.limit[l].diff[k] = at[l][k] - d.ref.limit[l][k]
		}
	}
}

// aimed finds the line that is cheapest for the balls of a setting, and how far
// towards it the player is taken to aim.
func (d *Decider) aimed(r *row, first bool) {
	c, p := d.cfg.Course, &d.pattern
	most := c.Limits.TroubleMax
	if first {
		low, start := math.Inf(1), 0.0
		for k := -6; k <= 6; k++ {
			at := float64(k) * coarse
			if v := p.cost(c, d.costs(), most, at); v < low {
				low, start = v, at
			}
		}
		d.ref.line, _ = p.best(c, d.costs(), most, start) // the lines tried are then the same for every setting
		d.ref.turned = math.Max(-maxAim, math.Min(maxAim, d.ref.line-p.line))
		d.ref.lost = lost(c, p.spots, p.line+d.ref.turned)
		d.ref.unlost = inTrouble(c, p.spots, p.line) - inTrouble(c, p.spots, p.line+d.ref.turned)
	}
	var vertex float64
	r.line, vertex = p.best(c, d.costs(), most, d.ref.line)
	if most == 0 {
		r.belowLine = vertex - p.cost(c, d.costs(), 0, r.line)
	}
	r.out.Aim = c.Reaim * math.Max(-maxAim, math.Min(maxAim, r.line-p.line))
}

// fillStrokes fills strokes and what is aimed for with the costs of the draws that
// the pattern gives: aimed as far as the player does, all the way and not at
// all. Carry and height are not a matter of the line.
func (d *Decider) fillStrokes(r *row, p *pattern, first bool) {
	c := d.cfg.Course
	strokes := d.ways(p, c.SoftStrokes, r)
	own := strokes
	if d.goal == shot.GoalFairways {
		own = d.ways(p, d.costs(), r)
	}
	if first {
		d.ref.smooth, d.ref.own = strokes[played], own
	}
	diff, level := less(strokes[played], d.ref.smooth), make([]float64, d.draws)
	for k := range diff {
		level[k] = d.ref.known[k] + diff[k]
	}
	r.out.Strokes, r.out.Difference = d.order.interval(level), d.order.interval(diff)
	if d.goal == shot.GoalCarry || d.goal == shot.GoalHeight {
		r.ways = [ways][]float64{r.cost, r.cost, r.cost}
		return
	}
	for w := range r.ways {
		r.ways[w] = less(own[w], d.ref.own[w])
	}
	r.cost = r.ways[played]
	for k := range r.level {
		r.level[k] = d.ref.level[k] + r.cost[k]
	}
	if first {
		d.ref.aiming = mean(own[still]) - mean(own[moved])
	}
	if d.goal == shot.GoalFairways { // as the gain says it
		r.out.PFairway = math.Max(0, math.Min(1, -mean(r.level)))
	}
}

// The ways of aiming that are compared.
const (
	played = iota // as far as the player does
	moved         // to where the balls cost least
	still         // at the middle
	ways
)

// ways are the costs of the draws by way of aiming.
func (d *Decider) ways(p *pattern, g ground, r *row) (out [ways][]float64) {
	share := d.cfg.Course.Reaim
	for w, s := range [ways]float64{share, 1, 0} {
		switch {
		case w != played && s == share:
			out[w] = out[played]
			continue
		}
		out[w] = p.draws(g, r.line, s)
		for k := range out[w] { // from the line to the foot of its parabola
			out[w][k] += s * r.belowLine
		}
	}
	return out
}

// less is a - b.
func less(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for k := range a {
		out[k] = a[k] - b[k]
	}
	return out
}

// radii are the distances from the middle of the landing places within which
// half and four fifths of the balls come down, mis-hits included: the spread
// apart from where it lies. A quarter of the balls is looked at.
func radii(balls []predict.Ball, by *order) (r50, r80 float64) {
	var x, z float64
	n := 0
	for b := 0; b < len(balls); b += 4 {
		x, z, n = x+balls[b].Carry, z+balls[b].Offline, n+1
	}
	x, z = x/float64(n), z/float64(n)
	r := make([]float64, 0, n)
	for b := 0; b < len(balls); b += 4 {
		u, v := balls[b].Carry-x, balls[b].Offline-z
		r = append(r, math.Sqrt(u*u+v*v))
	}
	r = by.sorted(r)
	return quantile(r, .5), quantile(r, .8)
}

func indicator(b bool) float64 {
	if b {
		return 1
	}
	return 0
}

// onSide is whether a ball is lost to the side that counts: either when none
// is named.
func onSide(side frame.Side, right, left float64) float64 {
	switch side {
	case frame.SideRight:
		return right
	case frame.SideLeft:
		return left
	}
	return right + left
}

// against returns the draws' differences a - b with the noise of having only
// a few balls in each draw taken out, judged by the balls themselves.
func (d *Decider) against(a, b, balls, refBalls []float64) []float64 {
	for k := range a {
		d.diffs[k] = a[k] - b[k]
	}
	return quiet(d.diffs, within(balls, refBalls, d.perDraw), d.perDraw)
}

// flown are the quantities that come from the balls.
const flown = quantities - launch

// columns of the balls, a quantity each.
func columns(balls []predict.Ball, to *[flown][]float64) {
	for k := range to {
		if to[k] == nil {
			to[k] = make([]float64, len(balls))
		}
	}
	for i := range balls {
		b := &balls[i]
		to[0][i], to[1][i], to[2][i], to[3][i], to[4][i] = b.Carry, b.Offline, b.Apex, b.Descent, b.RestX
	}
}

// amounts fills the predicted means of launch and flight.
func (d *Decider) amounts(r *row, o *predict.Outcome, first bool) {
	if first {
		columns(o.Balls, &d.ref.flown)
	}
	columns(o.Balls, &d.flown)
	q := make([]float64, d.draws)
	r.out.Quantities = make([]report.Amount, 0, quantities)
	for k := range quantities {
		var a report.Amount
		a.Quantity, a.BallsMore = quantityOf[k], -1
		var noise, noiseDiff float64
		if k < launch {
			if len(o.Launch) == 0 {
				continue
			}
			for i := range q {
				q[i] = o.Launch[i*launch+k]
			}
			a.Spread = d.cfg.Spread[k]
		} else {
			noise, noiseDiff = drawMeans(q, d.flown[k-launch], d.ref.flown[k-launch], d.perDraw)
			a.Spread = math.Sqrt(noise)
		}
		if first {
			d.ref.q[k] = append([]float64(nil), q...)
		}
		for i := range q {
			d.diffs[i] = q[i] - d.ref.q[k][i]
		}
		pull(q, noise, d.perDraw)
		pull(d.diffs, noiseDiff, d.perDraw)
		if k == qTotal && len(o.Ground) == len(q) {
			for i, g := range o.Ground {
				q[i] += g
			}
		}
		a.Value, a.Difference = d.order.interval(q), d.order.interval(d.diffs)
		r.mean[k] = a.Value.Mean
		if first {
			d.ref.told[k] = roundTo(a.Value.Mean, max(stepOf[a.Quantity], 1e-12))
		}
		settleAmount(&a, d.ref.told[k])
		if !first {
			a.BallsMore = ballsMore(a.Spread, a.Difference.Mean, min(d.counts[d.reference].Balls, r.out.Balls))
		}
		r.out.Quantities = append(r.out.Quantities, a)
	}
}

// drawMeans fills q with the means of groups of per of a, and returns the mean
// variances inside them of a and of a - b, as within.
func drawMeans(q, a, b []float64, per int) (noise, noiseDiff float64) {
	n := float64(per)
	for g := range q {
		x, y := a[g*per:(g+1)*per], b[g*per:(g+1)*per]
		shift, shiftDiff := x[0], x[0]-y[0]
		var s, ss, t, tt float64
		for i, v := range x {
			u := v - y[i] - shiftDiff
			v -= shift
			s += v
			ss += v * v
			t += u
			tt += u * u
		}
		q[g] = shift + s/n
		noise += ss - s*s/n
		noiseDiff += tt - t*t/n
	}
	if per < 2 {
		return 0, 0
	}
	all := float64(len(q)) * (n - 1)
	return noise / all, noiseDiff / all
}
