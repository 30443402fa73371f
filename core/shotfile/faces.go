package shotfile

import (
	"fmt"
	"math"

	"ferrule/core/message"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// What face and path say of signs.

// faceSigns tells face, path and face-to-path, each way round of the three by
// how well it fits (faceFit).
func (p *signAudit) faceSigns(rows []int, out map[*column]relation, dir, spinning *column) {
	club := [3]*column{p.cols.of(shot.Face), p.cols.of(shot.Path), p.cols.of(shot.FaceToPath)}
	if club == [3]*column{} {
		return
	}
	ways := func(c *column) []float64 {
		if c == nil {
			return []float64{0}
		}
		return []float64{1, -1}
	}
	turned := func(c *column) func(i int) float64 { // by the sign that is known of it, NaN when none is
		if c == nil || out[c].sign == 0 {
			return func(int) float64 { return math.NaN() }
		}
		return func(i int) float64 { return out[c].sign * c.value(i) }
	}
	start, tilt := turned(dir), turned(nil)
	if spinning != nil && spinning.quantity == shot.SpinAxis {
		tilt = turned(spinning)
	}
	best, n := math.Inf(-1), 0
	var at [3]float64
	scores := map[[3]float64]float64{}
	for _, face := range ways(club[0]) {
		for _, path := range ways(club[1]) {
			for _, toPath := range ways(club[2]) {
				signs := [3]float64{face, path, toPath}
				scores[signs], n = p.faceFit(rows, club, signs, start, tilt)
				if scores[signs] > best {
					best, at = scores[signs], signs
				}
			}
		}
	}
	if n == 0 {
		return
	}
	p.axisByFace(rows, out, spinning, at, club)
	for j, c := range club {
		if c == nil {
			continue
		}
		second := math.Inf(-1) // the best with this column the other way
		for signs, ll := range scores {
			if signs[j] != at[j] {
				second = math.Max(second, ll)
			}
		}
		rel := relation{text: message.Of(map[bool]string{true: "problem.rel-this-way", false: "problem.rel-other-way"}[at[j] > 0], message.Key("quantity."+string(c.quantity)), fmt.Sprintf("%.0f", math.Min(999, best-second)), n)}
		if best-second >= 3 && n >= 4 {
			rel.sign, rel.lead = at[j], at[j]*(best-second)
		}
		out[c] = rel
	}
}

// faceFit is the log likelihood of face, path and face-to-path under signs, and
// how many shots tell anything: face-to-path is face less path, the ball starts
// .82 of the way from path to face (.9 of the face alone), and its axis tilts
// 1.9 times face-to-path (rough figures of an open collection of drives).
func (p *signAudit) faceFit(rows []int, club [3]*column, signs [3]float64, start, tilt func(i int) float64) (ll float64, n int) {
	for _, i := range rows {
		face, path, toPath := signs[0]*club[0].value(i), signs[1]*club[1].value(i), signs[2]*club[2].value(i)
		known := false
		tell := func(miss, spread float64) {
			if !math.IsNaN(miss) {
				ll, known = ll+tail(miss, spread), true
			}
		}
		tell(face-path-toPath, .3*units.Degree)
		if math.IsNaN(toPath) {
			toPath = face - path
		}
		if miss := start(i) - .82*face - .18*path; !math.IsNaN(miss) {
			tell(miss, .8*units.Degree)
		} else {
			tell(start(i)-.9*face, 1.2*units.Degree)
		}
		tell(tilt(i)-1.9*toPath, 6*units.Degree)
		if known {
			n++
		}
	}
	return ll, n
}

// axisByFace tells the axis, where the flights were too few or too straight,
// by face-to-path.
func (p *signAudit) axisByFace(rows []int, out map[*column]relation, axis *column, at [3]float64, club [3]*column) {
	if axis == nil || axis.quantity != shot.SpinAxis || out[axis].sign != 0 {
		return
	}
	rel := p.compare(rows, message.Of("problem.rel-face-path"), axis, func(i int) float64 {
		if club[2] != nil && at[2] != 0 && club[0] == nil {
			return math.NaN() // face-to-path alone has no sure sign of its own
		}
		return 1.9 * (at[0]*club[0].value(i) - at[1]*club[1].value(i))
	}, 6*units.Degree, 2*units.Degree)
	if rel.sign != 0 {
		out[axis] = rel
	}
}

// faceLead is the log likelihood by which start lines and axes say that both are
// written one way: a face that points right starts a ball to the right of its path and
// tilts its axis there. How closely they go together is a golfer's own (faceTies, our own
// choice; rough figures of an open collection of drives), so it never says much.
func faceLead(ts []track) float64 {
	var n, x, y, xx, yy, xy float64
	for _, t := range ts {
		if !math.IsNaN(t.dir + t.axis) {
			n, x, y = n+1, x+t.dir, y+t.axis
			xx, yy, xy = xx+t.dir*t.dir, yy+t.axis*t.axis, xy+t.dir*t.axis
		}
	}
	r := (n*xy - x*y) / math.Sqrt((n*xx-x*x)*(n*yy-y*y))
	if n < 4 || !(math.Abs(r) < 1) {
		return 0
	}
	var lls [2][len(faceTies)]float64
	for k, tie := range faceTies {
		for s, sign := range []float64{-1, 1} {
			lls[s][k] = (n-1)/2*math.Log(1-tie*tie) - (n-1.5)*math.Log(1-tie*sign*r)
		}
	}
	return math.Max(-faceMost, math.Min(faceMost, sumOfLogs(lls[1][:])-sumOfLogs(lls[0][:])))
}

var faceTies = [...]float64{-.3, -.1, .1, .3, .5}

const faceMost = 1.5
