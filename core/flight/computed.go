package flight

import (
	"math"
	"slices"

	"ferrule/core/linear"
)

// Provenance says whether carries were tracked to the ground or computed by the
// device from its own launch numbers. A computed flight follows from the launch
// but for rounding; a tracked one does not, because launch numbers err by enough
// for two yards and because no two balls and gusts are alike. No wind blows in a
// computed one.
type Provenance struct {
	Known    bool    // enough balls to tell
	Computed bool    // the carries follow from the launches, and so do the sides where they are known
	Spread   float64 // [m] what launch does not explain of a carry, robust standard deviation
	Side     float64 // [m] the same of a side, 0 = too few are known
	Drift    float64 // [m] what all sides have in common that launch does not explain
}

// Numbers of Origin, our own choice: carries that another model computed, with
// launch numbers rounded to a mile an hour and carries to a yard, leave up to
// 1.4 yd over launches far more varied than one player's; three open kinds of
// measured drives leave 3.2 yd and more (TestOrigin).
const (
	followsWithin = 1.5 * yard
	originShots   = 18
)

// Origin looks at what is left of carry once the model's flight and a smooth
// correction of it (by speed, speed squared, launch, spin and axis squared) are
// taken away, and at what is left of the side beyond start line and curve.
func Origin(obs []Observation, e Env) Provenance {
	e = e.filled()
	var used []Observation
	var flown []Landing
	for _, o := range obs {
		if o.Carry != nil && o.Launch.Validate() == nil && *o.Carry > 20 {
			used, flown = append(used, o), append(flown, flyWith(o.Launch, e, e.Model))
		}
	}
	n := len(used)
	if n < originShots {
		return Provenance{}
	}
	var mid Launch
	for _, o := range used {
		mid.Speed, mid.Angle, mid.Spin = mid.Speed+o.Launch.Speed/float64(n), mid.Angle+o.Launch.Angle/float64(n), mid.Spin+o.Launch.Spin/float64(n)
	}
	var carry, side remainder
	for i, o := range used {
		l, g := o.Launch, flown[i]
		v := (l.Speed - mid.Speed) / 5
		carry.add(*o.Carry-g.Distance(), 1, v, v*v, (l.Angle-mid.Angle)/.05, (l.Spin-mid.Spin)/50, l.Axis*l.Axis/.04)
		if o.Offline != nil {
			start := *o.Carry * math.Sin(l.Direction)
			side.add(*o.Offline-start, 1, (g.Offline-g.Distance()*math.Sin(l.Direction))/10, start/10)
		}
	}
	p := Provenance{}
	if _, p.Spread, p.Known = carry.fit(); !p.Known {
		return Provenance{}
	}
	p.Computed = p.Spread < followsWithin
	if len(side.left) >= originShots {
		if x, spread, ok := side.fit(); ok {
			p.Side, p.Drift = spread, x[0]
			p.Computed = p.Computed && spread < followsWithin && math.Abs(p.Drift) < followsWithin
		}
	}
	return p
}

// remainder is a robust regression: what is left, and rows of what may explain it.
type remainder struct {
	rows [][]float64
	left []float64
}

func (r *remainder) add(left float64, row ...float64) {
	r.left, r.rows = append(r.left, left), append(r.rows, row)
}

// fit returns the coefficients and the robust standard deviation of the rest,
// reweighted so that a few wild balls hide nothing.
func (r *remainder) fit() (x []float64, spread float64, ok bool) {
	n, columns := len(r.left), len(r.rows[0])
	weight, rest := make([]float64, n), make([]float64, n)
	for i := range weight {
		weight[i] = 1
	}
	for range 8 {
		a, b := make([]float64, (n+columns)*columns), make([]float64, n+columns)
		for i, row := range r.rows {
			for k, v := range row {
				a[i*columns+k] = weight[i] * v
			}
			b[i] = weight[i] * r.left[i]
		}
		for k := range columns {
			a[(n+k)*columns+k] = 1e-3 // columns that do not vary
		}
		if x, ok = linear.NewQR(n+columns, columns, a).Solve(b, 1); !ok {
			return nil, 0, false
		}
		sizes := make([]float64, n)
		for i := range sizes {
			rest[i] = r.left[i] - linear.Dot(r.rows[i], x)
			sizes[i] = math.Abs(rest[i])
		}
		slices.Sort(sizes)
		spread = math.Max(1.4826*sizes[n/2], 1e-3) * math.Sqrt(float64(n)/float64(n-columns))
		for i := range weight {
			weight[i] = 1 / math.Sqrt(1+rest[i]*rest[i]/(4*spread*spread))
		}
	}
	return x, spread, true
}
