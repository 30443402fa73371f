package predict

import "math"

// Check compares the balls of a setting that was hit with those that the model
// says it makes: carry, offline and apex, time and swing taken out.
type Check struct {
	Balls        int              // hit with the setting
	Seen         [aspects]float64 // [m] their averages
	Said         [aspects]float64 // [m] what the model said of them
	Z            [aspects]float64 // [1] the difference over what the averages scatter by
	Spread       [aspects]float64 // [m] standard deviation of the balls
	SpreadZ      [aspects]float64 // [1] how far that is above what the model said, as a normal number
	Contradicted bool             // the balls contradict the model: the outcome was widened until it agrees
}

// From these on balls contradict: one average in a hundred of a right model goes
// so far before it is pulled to its balls, and fewer after; spreads have long
// tails.
const (
	contradicts    = 2.6
	contradictsFar = 3.5
)

// widening is what is done to a setting's balls so that they agree with what was
// seen: a shift of a mean and a standard deviation, and a factor of the scatter.
type widening struct{ mean, sd, scatter [aspects]float64 }

// check compares every setting hit, in its plain outcome o, with its balls.
func (e *each) check(i int, o *Outcome) *Check {
	c := &Check{}
	var sum, squares [aspects]float64
	var n [aspects]float64
	for k := range e.level.balls {
		b := &e.level.balls[k]
		if b.setting != i {
			continue
		}
		c.Balls++
		owed := e.r.Landings(k)
		for a := range aspects {
			if b.has[a] {
				v := b.at[a] - owed[a]
				n[a], sum[a], squares[a] = n[a]+1, sum[a]+v, squares[a]+v*v
			}
		}
	}
	if c.Balls == 0 {
		return nil
	}
	wander := e.r.Wander(i)
	for a := range aspects {
		if n[a] == 0 {
			continue
		}
		said, variance := spreadOf(o, a)
		c.Said[a], c.Seen[a] = said, sum[a]/n[a]
		variance += 1
		c.Z[a] = (c.Seen[a] - said) / math.Sqrt(variance*(1/n[a]+wander))
		if n[a] >= 4 {
			own := math.Max(0, squares[a]-sum[a]*sum[a]/n[a]) / (n[a] - 1)
			c.Spread[a] = math.Sqrt(own)
			v := 2 / 9. / (n[a] - 1) // the cube root of a chi-square is nearly normal (Wilson, Hilferty)
			c.SpreadZ[a] = (math.Cbrt(own/variance) - (1 - v)) / math.Sqrt(v)
		}
		c.Contradicted = c.Contradicted || math.Abs(c.Z[a]) > contradicts
	}
	return c
}

// spreadOf is the mean of an output over all balls and the variance of a ball
// about its draw's mean.
func spreadOf(o *Outcome, a int) (mean, variance float64) {
	per := float64(o.PerDraw)
	for d := range o.Draws {
		var s, ss float64
		for b := d * o.PerDraw; b < (d+1)*o.PerDraw; b++ {
			v := *o.Balls[b].aim(a)
			s, ss = s+v, ss+v*v
		}
		mean += s / per / float64(o.Draws)
		if per > 1 {
			variance += (ss - s*s/per) / (per - 1) / float64(o.Draws)
		}
	}
	return mean, variance
}

func (b *Ball) aim(a int) *float64 {
	return [aspects]*float64{&b.Carry, &b.Offline, &b.Apex}[a]
}

// widen finds what makes setting i's outcome agree with its balls. What they are
// off by is taken for a deviation of its own of that size, so that the mean moves
// by 1 - 1/z^2 of the way, and is in doubt by as much of the averages' own: far
// off, that is the plain average with its plain interval.
func (c *Check) widen(o *Outcome) (w widening) {
	for a := range aspects {
		w.scatter[a] = 1
		if z := c.Z[a]; math.Abs(z) > contradicts {
			share := 1 - 1/(z*z)
			w.mean[a] = share * (c.Seen[a] - c.Said[a])
			w.sd[a] = math.Sqrt(share) * math.Abs((c.Seen[a]-c.Said[a])/z)
		}
		if c.SpreadZ[a] > contradictsFar {
			_, v := spreadOf(o, a)
			n, own := float64(c.Balls-1), c.Spread[a]*c.Spread[a]
			const usual = 20 // balls that the common scatter is worth
			w.scatter[a] = math.Sqrt((usual*v + n*own) / (usual + n) / v)
		}
	}
	return w
}

// checks compares all settings hit before any is handed out: what they are off
// by is learned for those never hit.
func (e *each) checks(settings []string, o *Outcome) {
	e.widening, e.checked = make([]widening, len(settings)), make([]*Check, len(settings))
	var sum [aspects]float64
	hit := 0.
	for i, name := range settings {
		if e.level.column[i] == 0 {
			continue
		}
		hit++
		e.plain(i, name, o)
		c := e.check(i, o)
		e.checked[i], e.widening[i] = c, c.widen(o)
		for a := range aspects {
			sum[a] += e.widening[i].mean[a] * e.widening[i].mean[a]
		}
	}
	for i := range e.widening {
		if e.level.column[i] == 0 {
			e.widening[i].scatter = [aspects]float64{1, 1, 1}
			for a := range aspects {
				e.widening[i].sd[a] = math.Sqrt(sum[a] / math.Max(hit, 1))
			}
		}
	}
}

// widened moves and spreads the balls of setting i.
func (e *each) widened(i int, own []float64, o *Outcome) {
	w := &e.widening[i]
	if w.mean == ([aspects]float64{}) && w.sd == ([aspects]float64{}) && w.scatter == ([aspects]float64{1, 1, 1}) {
		return
	}
	for d := range o.Draws {
		balls := o.Balls[d*o.PerDraw : (d+1)*o.PerDraw]
		for a := range aspects {
			mean := 0.0
			for b := range balls {
				mean += *balls[b].aim(a) / float64(len(balls))
			}
			move := w.mean[a] + w.sd[a]*own[d*aspects+a]
			for b := range balls {
				balls[b].move(a, move+(w.scatter[a]-1)*(*balls[b].aim(a)-mean))
			}
		}
	}
}

// move moves where a ball lands, and with it where it rests.
func (b *Ball) move(a int, by float64) {
	switch a {
	case 0:
		b.Carry, b.RestX = b.Carry+by, b.RestX+by
	case 1:
		b.Offline, b.RestZ = b.Offline+by, b.RestZ+by
	default:
		b.Apex = math.Max(0, b.Apex+by)
	}
}
