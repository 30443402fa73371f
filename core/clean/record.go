package clean

import (
	"math"
	"strings"

	"ferrule/core/report"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Limits of one record. Common practice, no source; from memory unless said.
const (
	smashImpossible = 1.56 // [1] no legal face gives more than about 1.52
	smashSuspect    = 1.52 // [1]
	smashLow        = 1.20 // [1] a mis-hit, or a false club speed
	strikeOff       = .020 // [m] of the centre: a mis-hit
	carryShort      = .60  // [1] share of the player's median carry
)

// bound is one plausibility interval: outside suspect a person is asked,
// outside impossible the record is wrong.
type bound struct {
	q              shot.Quantity
	suspectLow     float64
	suspectHigh    float64
	impossibleLow  float64
	impossibleHigh float64
	size           bool // judge the size, for compass quantities
}

var bounds = []bound{
	{shot.BallSpeed, 20, 90, 4, 105, false},
	{shot.ClubSpeed, 15, 65, 4, 75, false},
	{shot.Launch, 0, 25 * units.Degree, -20 * units.Degree, 65 * units.Degree, false},
	{shot.LaunchDirection, 0, 15 * units.Degree, 0, 60 * units.Degree, true},
	{shot.SpinAxis, 0, 45 * units.Degree, 0, 90 * units.Degree, true},
	{shot.Spin, 800 * units.RPM, 6500 * units.RPM, 1 * units.RPM, 14000 * units.RPM, false},
	{shot.Backspin, 800 * units.RPM, 6500 * units.RPM, -6000 * units.RPM, 14000 * units.RPM, false},
	{shot.Carry, 20, 340, 0, 450, false},
	{shot.Total, 20, 380, 0, 500, false},
	{shot.Apex, 1, 65, -2, 110, false},
	{shot.Attack, -12 * units.Degree, 12 * units.Degree, -45 * units.Degree, 45 * units.Degree, false},
	{shot.Path, 0, 20 * units.Degree, 0, 60 * units.Degree, true},
	{shot.Face, 0, 20 * units.Degree, 0, 60 * units.Degree, true},
	{shot.DynamicLoft, 2 * units.Degree, 35 * units.Degree, -10 * units.Degree, 75 * units.Degree, false},
	{shot.FlightTime, 1, 10, 0, 15, false},
}

// smashOf is the smash factor of a shot, from its speeds when both are there.
func smashOf(v shot.Values) (float64, bool) {
	b, ok1 := v[shot.BallSpeed]
	c, ok2 := v[shot.ClubSpeed]
	if ok1 && ok2 && c > 0 {
		return b / c, true
	}
	s, ok := v[shot.Smash]
	return s, ok && s > 0
}

// records checks each number of each shot by itself.
func (r *reviewer) records() {
	for i, x := range r.s.Shots {
		for _, b := range bounds {
			v, ok := x.Values[b.q]
			if !ok {
				continue
			}
			at := v
			if b.size {
				at = math.Abs(v)
			}
			switch {
			case math.IsNaN(v) || math.IsInf(v, 0):
				r.mark(i, report.Impossible, 0, "impossible", report.Say("clean.not_a_number", report.Quantity(b.q)))
			case at < b.impossibleLow || at > b.impossibleHigh:
				r.mark(i, report.Impossible, 0, "impossible", report.Say("clean.impossible", report.Quantity(b.q), value(b.q, v)))
			case at < b.suspectLow || at > b.suspectHigh:
				r.mark(i, report.Suspect, 1, "suspect", report.Say("clean.unusual", report.Quantity(b.q), value(b.q, v)))
			}
		}
		if smash, ok := smashOf(x.Values); ok {
			switch {
			case smash > smashImpossible:
				r.mark(i, report.Impossible, 0, "impossible", report.Say("clean.smash_impossible", report.Number(smash, units.None, 2)))
			case smash > smashSuspect:
				r.mark(i, report.Suspect, 1, "suspect", report.Say("clean.smash_high", report.Number(smash, units.None, 2)))
			}
		}
	}
	r.unitSlips()
}

// unitSlips looks for single speeds off by the ratio of two units.
func (r *reviewer) unitSlips() {
	for _, q := range []shot.Quantity{shot.BallSpeed, shot.ClubSpeed} {
		var all []float64
		for _, x := range r.s.Shots {
			if v, ok := x.Values[q]; ok {
				all = append(all, v)
			}
		}
		if len(all) < 5 {
			continue
		}
		m := robust.Median(all)
		for i, x := range r.s.Shots {
			v, ok := x.Values[q]
			if !ok || !(v > 0) {
				continue
			}
			for _, f := range []float64{units.MPH / units.KMH, 1 / units.MPH} { // 1.609 and 2.237
				if math.Abs(v/m/f-1) < .04 {
					r.mark(i, report.Suspect, 1, "unit", report.Say("clean.unit_slip", report.Quantity(q), value(q, v), value(q, v/f)))
				} else if math.Abs(v/m*f-1) < .04 && f > 2 {
					r.mark(i, report.Suspect, 1, "unit", report.Say("clean.unit_slip", report.Quantity(q), value(q, v), value(q, v*f)))
				}
			}
		}
	}
}

// identity is something that must hold inside one record.
type identity struct {
	kind string // end of the text key
	// broken reports whether the numbers are there, and whether they contradict.
	check func(shot.Values) (known, broken bool)
}

func all(v shot.Values, qs ...shot.Quantity) ([]float64, bool) {
	out := make([]float64, len(qs))
	for i, q := range qs {
		x, ok := v[q]
		if !ok {
			return nil, false
		}
		out[i] = x
	}
	return out, true
}

// identities of the trade; tolerances are about twice a device's rounding.
var identities = []identity{
	{"smash", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.Smash, shot.BallSpeed, shot.ClubSpeed)
		return ok, ok && x[2] > 0 && math.Abs(x[0]-x[1]/x[2]) > .03
	}},
	{"spin", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.Spin, shot.Backspin, shot.Sidespin)
		return ok, ok && math.Abs(math.Hypot(x[1], x[2])-x[0]) > math.Max(.05*x[0], 60*units.RPM)
	}},
	{"axis", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.SpinAxis, shot.Backspin, shot.Sidespin)
		ok = ok && x[1] > 500*units.RPM
		return ok, ok && math.Abs(math.Atan2(x[2], x[1])-x[0]) > 2.5*units.Degree
	}},
	{"face", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.FaceToPath, shot.Face, shot.Path)
		return ok, ok && math.Abs(x[1]-x[2]-x[0]) > .6*units.Degree
	}},
	{"roll", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.Roll, shot.Total, shot.Carry)
		return ok, ok && math.Abs(x[1]-x[2]-x[0]) > 3
	}},
	{"total", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.Total, shot.Carry)
		return ok, ok && x[0] < x[1]-2
	}},
	{"curve", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.Curve, shot.Offline, shot.Carry, shot.LaunchDirection)
		return ok, ok && math.Abs(x[1]-x[2]*math.Tan(x[3])-x[0]) > math.Max(6, .04*x[2])
	}},
	{"loft", func(v shot.Values) (bool, bool) {
		x, ok := all(v, shot.SpinLoft, shot.DynamicLoft, shot.Attack)
		return ok, ok && x[0] < x[1]-x[2]-1.5*units.Degree // the 3-D angle is never below the vertical part
	}},
}

// identities marks shots whose numbers contradict one another. An identity
// that most shots break is the file's habit (another definition, another unit)
// and is said once for the session instead.
func (r *reviewer) identities() {
	for _, id := range identities {
		var known, broken []int
		for i, x := range r.s.Shots {
			if r.rows[i].Status == report.Impossible {
				continue
			}
			k, b := id.check(x.Values)
			if k {
				known = append(known, i)
			}
			if b {
				broken = append(broken, i)
			}
		}
		if len(broken) == 0 {
			continue
		}
		if len(broken) >= 4 && len(broken)*2 > len(known) {
			r.say("identity", report.Say("clean.identities."+id.kind, report.Count(len(broken)), report.Count(len(known))))
			continue
		}
		for _, i := range broken {
			r.mark(i, report.Suspect, 1, "identity", report.Say("clean.identity."+id.kind))
		}
	}
}

// sameNumbers counts the quantities that two shots share to the digit, and
// those that differ.
func sameNumbers(a, b shot.Values) (same, differ int) {
	for q, x := range a {
		if y, ok := b[q]; ok {
			if math.Abs(x-y) <= 1e-9*math.Max(1, math.Abs(x)) {
				same++
			} else {
				differ++
			}
		}
	}
	return
}

// duplicates finds records that stand in the session twice. From two files
// or from the same line of one they are the same ball read twice and the later is
// left out; inside one file the person is asked. At least four shared numbers and none that differs.
func (r *reviewer) duplicates() {
	first := map[float64][]int{}
	for i, x := range r.s.Shots {
		key, ok := x.Values[shot.BallSpeed]
		if !ok {
			if key, ok = x.Values[shot.Carry]; !ok {
				continue
			}
		}
		key = math.Round(key * 1e6)
		for _, j := range first[key] {
			y := r.s.Shots[j]
			if same, differ := sameNumbers(x.Values, y.Values); same < 4 || differ > 0 {
				continue
			}
			if x.Source != y.Source || x.Line > 0 && x.Line == y.Line { // the same file twice, too
				r.mark(i, report.LeftOut, 0, "duplicate", report.Say("clean.duplicate_files", report.Label(y.Source), report.Count(y.Line)))
			} else {
				r.mark(i, report.Suspect, 1, "duplicate", report.Say("clean.duplicate", report.Count(j+1)))
			}
			break
		}
		first[key] = append(first[key], i)
	}
}

// balls leaves out shots with another ball than the session's: balls differ by
// more than settings do. The session's ball is the one hit most often.
func (r *reviewer) balls() {
	name := func(x shot.Shot) string {
		if b := strings.ToLower(strings.TrimSpace(x.Ball)); b != "" {
			return b
		}
		return strings.ToLower(strings.TrimSpace(r.s.Ball))
	}
	n := map[string]int{}
	shown := map[string]string{strings.ToLower(strings.TrimSpace(r.s.Ball)): strings.TrimSpace(r.s.Ball)}
	for _, x := range r.s.Shots {
		if x.Tag == shot.TagWarmup || x.Tag == shot.TagOut {
			continue
		}
		n[name(x)]++
		if x.Ball != "" {
			shown[name(x)] = strings.TrimSpace(x.Ball)
		}
	}
	main, most := "", -1
	for _, x := range r.s.Shots { // in the order of hitting, so that ties are settled alike each time
		if k := name(x); n[k] > most {
			main, most = k, n[k]
		}
	}
	r.main = shown[main]
	if len(n) < 2 {
		return
	}
	others := 0
	for i, x := range r.s.Shots {
		if k := name(x); k != main {
			key, args := "clean.other_ball", []report.Arg{report.Label(shown[k]), report.Label(r.main)}
			if k == "" || main == "" {
				key, args = "clean.other_ball_unnamed", nil
			}
			r.mark(i, report.LeftOut, 0, "ball", report.Say(key, args...))
			others++
		}
	}
	if others > 0 {
		r.say("balls", report.Say("clean.balls", report.Count(others), report.Count(len(r.s.Shots))))
	}
}
