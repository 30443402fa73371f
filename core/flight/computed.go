package flight

import (
	"math"
	"slices"

	"ferrule/core/linear"
)

// Provenance says whether carries were tracked to the ground or computed by the
// device from its own launch numbers. A computed carry follows from the launch
// but for rounding; a tracked one does not, because launch numbers err by enough
// for two yards and because no two balls and gusts are alike.
type Provenance struct {
	Known    bool    // enough balls to tell
	Computed bool    // the carries follow from the launches
	Spread   float64 // [m] what launch does not explain of a carry, robust standard deviation
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
// taken away.
func Origin(obs []Observation, e Env) Provenance {
	e = e.filled()
	var used []Observation
	for _, o := range obs {
		if o.Carry != nil && o.Launch.Validate() == nil && *o.Carry > 20 {
			used = append(used, o)
		}
	}
	const columns = 6
	n := len(used)
	if n < originShots {
		return Provenance{}
	}
	var mid Launch
	for _, o := range used {
		mid.Speed, mid.Angle, mid.Spin = mid.Speed+o.Launch.Speed/float64(n), mid.Angle+o.Launch.Angle/float64(n), mid.Spin+o.Launch.Spin/float64(n)
	}
	row := func(l Launch) [columns]float64 {
		v := (l.Speed - mid.Speed) / 5
		return [columns]float64{1, v, v * v, (l.Angle - mid.Angle) / .05, (l.Spin - mid.Spin) / 50, l.Axis * l.Axis / .04}
	}
	left := make([]float64, n)
	for i, o := range used {
		left[i] = *o.Carry - flyWith(o.Launch, e, e.Model).Distance()
	}
	weight := make([]float64, n)
	for i := range weight {
		weight[i] = 1
	}
	spread := 0.
	rest := slices.Clone(left)
	for range 8 { // reweighted, so that a few wild balls hide nothing
		a, b := make([]float64, (n+columns)*columns), make([]float64, n+columns)
		for i, o := range used {
			for k, x := range row(o.Launch) {
				a[i*columns+k] = weight[i] * x
			}
			b[i] = weight[i] * left[i]
		}
		for k := range columns {
			a[(n+k)*columns+k] = 1e-3 // columns that do not vary
		}
		x, ok := linear.NewQR(n+columns, columns, a).Solve(b, 1)
		if !ok {
			return Provenance{}
		}
		sizes := make([]float64, n)
		for i, o := range used {
			rest[i] = left[i]
			for k, c := range row(o.Launch) {
				rest[i] -= c * x[k]
			}
			sizes[i] = math.Abs(rest[i])
		}
		slices.Sort(sizes)
		spread = math.Max(1.4826*sizes[n/2], 1e-3) * math.Sqrt(float64(n)/float64(n-columns))
		for i := range weight {
			weight[i] = 1 / math.Sqrt(1+rest[i]*rest[i]/(4*spread*spread))
		}
	}
	return Provenance{Known: true, Computed: spread < followsWithin, Spread: spread}
}
