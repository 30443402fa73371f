package invent

import "math"

// Hole is the drive that the benchmark scores: straight, fairway of the given
// half width, a penalty area beyond Water on the right, trees 24 yd beyond the
// fairway's edge on the left.
type Hole struct {
	Length float64 // [m]
	Half   float64 // [m] of the fairway's width
	Water  float64 // [m] right of the middle
	Scale  float64 // [1] of the tour's strokes for this player
	Fixed  bool    // the player aims at the middle whatever the ball does
}

// BenchmarkHole is 400 yd, 32 yd of fairway, water from 36 yd right.
func BenchmarkHole(handicap float64) Hole {
	return Hole{Length: 400 * yd, Half: 16 * yd, Water: 36 * yd, Scale: 1 + handicap/72}
}

// Strokes to finish by distance every 20 yd from 20 to 400: Broadie 2012,
// table 9 (key Broadie2012 of the engine's references; second-hand copy in
// testdata/score/strokes_baseline.csv, against which a test holds these).
var (
	fromFairway  = [20]float64{2.40, 2.60, 2.70, 2.75, 2.80, 2.85, 2.91, 2.98, 3.08, 3.19, 3.32, 3.45, 3.58, 3.69, 3.78, 3.84, 3.88, 3.95, 4.03, 4.11}
	fromRough    = [20]float64{2.59, 2.78, 2.91, 2.96, 3.02, 3.08, 3.15, 3.23, 3.31, 3.42, 3.53, 3.64, 3.74, 3.83, 3.90, 3.95, 4.02, 4.11, 4.21, 4.30}
	fromRecovery = [20]float64{3.51, 3.71, 3.83, 3.84, 3.80, 3.78, 3.80, 3.81, 3.82, 3.87, 3.92, 3.97, 4.03, 4.10, 4.20, 4.31, 4.44, 4.56, 4.66, 4.75}
)

func finish(table *[20]float64, d float64) float64 {
	f := math.Min(math.Max(d/(20*yd)-1, 0), 18.9999)
	i := int(f)
	return table[i] + (f-float64(i))*(table[i+1]-table[i])
}

// Strokes is what the hole takes with a drive that rests at x down the line
// and z right of it [m].
func (h Hole) Strokes(x, z float64) float64 {
	left := math.Sqrt((h.Length-x)*(h.Length-x) + z*z)
	switch {
	case z > h.Water: // drop where the straight line to the ball crossed
		t := h.Water / z
		return 2 + h.Scale*finish(&fromRough, math.Hypot(h.Length-x*t, h.Water))
	case z < -h.Half-24*yd:
		return 1 + h.Scale*.5*(finish(&fromRough, left)+finish(&fromRecovery, left))
	case math.Abs(z) > h.Half:
		return 1 + h.Scale*finish(&fromRough, left)
	}
	return 1 + h.Scale*finish(&fromFairway, left)
}

// aims are the lines that a player may aim along [rad].
var aims = func() (a []float64) {
	for d := -6.; d <= 6; d += .5 {
		a = append(a, d*deg)
	}
	return a
}()

// five-point Gauss-Hermite rule for a standard normal.
var hermiteAt = [5]float64{-2.8569700138728056, -1.3556261799742659, 0, 1.3556261799742659, 2.8569700138728056}
var hermiteOf = [5]float64{.011257411327720693, .22207592200561266, .5333333333333333, .22207592200561266, .011257411327720693}

// Best is the least mean strokes over Aims of drives that rest at (x, z) when
// aimed at the middle, each spread by the player's lining-up, and that aim.
// The five aims about the best of the unspread drives are looked at closely;
// many drives are first tried two degrees apart.
func (h Hole) Best(x, z []float64, align float64) (strokes, aim float64) {
	mean := func(a float64) float64 {
		s, c := math.Sincos(a)
		sum := 0.
		for i := range x {
			sum += h.Strokes(x[i]*c-z[i]*s, z[i]*c+x[i]*s)
		}
		return sum / float64(len(x))
	}
	spread := func(a float64) (v float64) {
		for k, node := range hermiteAt {
			v += hermiteOf[k] * mean(a+align*node)
		}
		return v
	}
	switch {
	case h.Fixed && align == 0:
		return mean(0), 0
	case h.Fixed:
		return spread(0), 0
	}
	strokes = math.Inf(1)
	at := 0
	try := func(i int) {
		if v := mean(aims[i]); v < strokes {
			strokes, at = v, i
		}
	}
	if len(x) < 256 { // few balls: the cost has many dips
		for i := range aims {
			try(i)
		}
	} else {
		for i := 0; i < len(aims); i += 4 {
			try(i)
		}
		for step := 2; step > 0; step /= 2 {
			for _, i := range [2]int{at - step, at + step} {
				if i >= 0 && i < len(aims) {
					try(i)
				}
			}
		}
	}
	if align == 0 {
		return strokes, aims[at]
	}
	strokes = math.Inf(1)
	for i := max(0, at-2); i <= min(len(aims)-1, at+2); i++ {
		if v := spread(aims[i]); v < strokes {
			strokes, aim = v, aims[i]
		}
	}
	return strokes, aim
}
