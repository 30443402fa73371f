package clean

import (
	"fmt"
	"math"
	"testing"

	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// TestIdentities gives each record numbers that agree by the identity's own
// formula, which nothing is said of, then one that contradicts, which is asked
// about; a file in which most contradict is said once.
func TestIdentities(t *testing.T) {
	deg, rpm := units.Degree, units.RPM
	for _, c := range []struct {
		kind  string
		agree func(v shot.Values)
		q     shot.Quantity // that is put wrong,
		by    float64       // by this
	}{
		{"smash", func(v shot.Values) { v[shot.Smash] = v[shot.BallSpeed] / v[shot.ClubSpeed] }, shot.Smash, .05},
		{"spin", func(v shot.Values) {
			v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
		}, shot.Spin, 250 * rpm},
		{"axis", func(v shot.Values) {
			v[shot.Backspin], v[shot.Sidespin] = v[shot.Spin]*math.Cos(v[shot.SpinAxis]), v[shot.Spin]*math.Sin(v[shot.SpinAxis])
		}, shot.SpinAxis, 4 * deg},
		{"face", func(v shot.Values) {
			v[shot.Face], v[shot.Path], v[shot.FaceToPath] = 2*deg, -1*deg, 3*deg
		}, shot.FaceToPath, 1 * deg},
		{"roll", func(v shot.Values) { v[shot.Total], v[shot.Roll] = v[shot.Carry]+18, 18 }, shot.Roll, 5},
		{"total", func(v shot.Values) { v[shot.Total] = v[shot.Carry] }, shot.Total, -5},
		{"curve", func(v shot.Values) {
			v[shot.Offline] = 4
			v[shot.Curve] = 4 - v[shot.Carry]*math.Tan(v[shot.LaunchDirection])
		}, shot.Curve, 15},
		{"loft", func(v shot.Values) {
			v[shot.DynamicLoft], v[shot.Attack], v[shot.SpinLoft] = 15*deg, 2*deg, 13.2*deg
		}, shot.SpinLoft, -3 * deg},
	} {
		s := invented(17).session(5, "a", "b", "a", "b")
		for i := range s.Shots {
			c.agree(s.Shots[i].Values)
		}
		if n := kinds(Review(s, nil))["identity"]; n != 0 {
			t.Errorf("%s: %d records that agree are asked about", c.kind, n)
		}
		s.Shots[7].Values[c.q] += c.by
		r := Review(s, nil)
		if row := r.Rows[7]; row.Status != report.Suspect || row.Weight != 1 || row.Reasons[0].Key != "clean.identity."+c.kind {
			t.Errorf("%s: one record that contradicts: %s, weight %g, %v", c.kind, row.Status, row.Weight, row.Reasons)
		}
		for i := range s.Shots {
			if i != 7 && i%4 != 0 {
				s.Shots[i].Values[c.q] += c.by
			}
		}
		said := 0
		for _, f := range Review(s, nil).Findings {
			if f.Kind == "identity" && f.Text.Key == "clean.identities."+c.kind && f.ShotID == "" {
				said++
			}
		}
		if n := kinds(Review(s, nil))["identity"]; said != 1 || n != 1 {
			t.Errorf("%s: a file of another definition gives %d findings, %d of them about the session; want one", c.kind, n, said)
		}
	}
}

// TestBounds: what every driver shows is plain, what hardly one does is asked
// about, what none does is no record. Sizes of a side count to either side.
func TestBounds(t *testing.T) {
	deg := units.Degree
	for _, c := range []struct {
		q                          shot.Quantity
		plain, unusual, impossible float64
	}{
		{shot.ClubSpeed, 42, 14, 80},
		{shot.Spin, 2700 * units.RPM, 700 * units.RPM, 15000 * units.RPM},
		{shot.Backspin, 2600 * units.RPM, 7000 * units.RPM, -7000 * units.RPM},
		{shot.SpinAxis, 20 * deg, 60 * deg, 95 * deg},
		{shot.Total, 240, 390, 510},
		{shot.Apex, 30, .5, 120},
		{shot.Attack, 4 * deg, 14 * deg, 50 * deg},
		{shot.Path, -6 * deg, -25 * deg, -70 * deg},
		{shot.Face, 6 * deg, 25 * deg, 70 * deg},
		{shot.DynamicLoft, 14 * deg, 40 * deg, 80 * deg},
		{shot.FlightTime, 6, .9, 16},
	} {
		for status, v := range map[report.Status]float64{report.Counted: c.plain, report.Suspect: c.unusual, report.Impossible: c.impossible} {
			row := Review(shot.Session{Shots: []shot.Shot{{ID: "1", Values: shot.Values{c.q: v}}}}, nil).Rows[0]
			if row.Status != status {
				t.Errorf("%s of %g: %s, want %s", c.q, v, row.Status, status)
			}
		}
	}
}

// TestWarmUpAndTiring: four slow balls at the start and ten at the end are
// said, with how slow they were; the same speeds spread over the session are not.
func TestWarmUpAndTiring(t *testing.T) {
	const slow = 4 * units.MPH
	for _, c := range []struct {
		kind, key string
		slow      func(i, n int) bool
	}{
		{"warm-up", "clean.warmup", func(i, n int) bool { return i < 4 }},
		{"tired", "clean.tired", func(i, n int) bool { return i >= n-10 }},
		{"", "", func(i, n int) bool { return i%4 == 1 }},
	} {
		found, size := 0, 0.0
		const sessions = 20
		for seed := range uint64(sessions) {
			s := invented(300+seed).session(5, "a", "b", "c", "c", "b", "a")
			for i := range s.Shots {
				if c.slow(i, len(s.Shots)) {
					s.Shots[i].Values[shot.ClubSpeed] -= slow
				}
			}
			for _, f := range Review(s, nil).Findings {
				if f.Kind == "warm-up" || f.Kind == "tired" {
					if f.Kind != c.kind && c.kind == "" {
						t.Errorf("seed %d: %s where the slow balls lie all over", seed, f.Kind)
					}
					if f.Text.Key == c.key {
						found++
						size += f.Text.Args[1].Value / units.MPH
					}
				}
			}
		}
		if c.kind == "" {
			continue
		}
		// a setting's median moves along with its slow balls, so less than all of it may be seen
		if mean := size / float64(found); found*3 < sessions*2 || mean < 2.4 || mean > 4.8 {
			t.Errorf("%s: found in %d of %d sessions, %.2f mph slower on average, want about 4", c.kind, found, sessions, mean)
		}
	}
}

// TestCountsAndRates: what is weighed down or left out is counted, and a
// setting with clearly more mis-hits than the others is named.
func TestCountsAndRates(t *testing.T) {
	say := func(r Result, kind string) (args []string) {
		for _, f := range r.Findings {
			if f.Kind == kind {
				for _, a := range f.Text.Args {
					args = append(args, a.Text+fmt.Sprint(a.Value))
				}
			}
		}
		return args
	}
	s := invented(21).session(8, "a", "b", "a", "b")
	if r := Review(s, nil); say(r, "mis-hit-rate") != nil {
		t.Errorf("rates of a plain session: %v", say(r, "mis-hit-rate"))
	}
	for i := range s.Shots {
		s.Shots[i].Tag = shot.TagGood
	}
	if r := Review(s, nil); say(r, "counts") != nil {
		t.Errorf("counts of a session that is vouched for: %v", say(r, "counts"))
	}
	mishits := func(a, b int) Result {
		left := map[string]int{"a": a, "b": b}
		for i := range s.Shots {
			s.Shots[i].Tag = shot.TagGood
			if k := s.Shots[i].Setting.Key(); left[k] > 0 {
				left[k]--
				s.Shots[i].Tag = shot.TagMishit
			}
		}
		s.Shots[31].Tag = shot.TagOut
		return Review(s, nil)
	}
	r := mishits(3, 3)
	if got, want := fmt.Sprint(say(r, "counts")), "[6 0 1 32 0]"; got != want {
		t.Errorf("counts %s, want %s: mis-hits, impossible, left out, of, suspect", got, want)
	}
	if say(r, "mis-hit-rate") != nil {
		t.Errorf("equal rates are told apart: %v", say(r, "mis-hit-rate"))
	}
	r = mishits(7, 0) // of 16 and 15: chance C(16,7)/C(31,7) = .0044
	if got, want := fmt.Sprint(say(r, "mis-hit-rate")), "[a0 7 16 0 15]"; got != want {
		t.Errorf("rates %s, want %s", got, want)
	}
	if p := atLeast(7, 16, 7, 31); math.Abs(p-11440./2629575) > 1e-9 { // binomials by hand
		t.Errorf("Fisher's chance %g, want C(16,7)/C(31,7) = %g", p, 11440./2629575)
	}
	if p := atLeast(0, 5, 3, 12); math.Abs(p-1) > 1e-9 {
		t.Errorf("none or more: %g, want 1", p)
	}
}

// TestSlope against the closed form: points on two parallel lines, then one
// point moved by d, of which the standard error follows by hand.
func TestSlope(t *testing.T) {
	x := []float64{0, 1, 2, 0, 1, 2}
	group := []string{"a", "a", "a", "b", "b", "b"}
	y := []float64{5, 7, 9, 1, 3, 5}
	if b, se, ok := slope(x, y, group); !ok || math.Abs(b-2) > 1e-12 || se > 1e-9 {
		t.Errorf("slope %g ± %g (%t), want 2 ± 0", b, se, ok)
	}
	// The middle of a group up by 3: residuals -1, 2, -1, of squares 6 over
	// df = 6 - 2 - 1, Sxx = 4.
	y[1] += 3
	if b, se, ok := slope(x, y, group); !ok || math.Abs(b-2) > 1e-12 || math.Abs(se-math.Sqrt(6./3/4)) > 1e-12 {
		t.Errorf("slope %g ± %g (%t), want 2 ± %g", b, se, ok, math.Sqrt(6./3/4))
	}
	if _, _, ok := slope(x[:5], y[:5], group[:5]); ok {
		t.Error("a slope of five points")
	}
}

// TestPool: each setting about its own median, one scale for all, the root for
// the medians that were estimated; few balls are held against all.
func TestPool(t *testing.T) {
	v := []float64{10, 11, 13, 20, 22, 21, 15}
	key := []string{"a", "a", "a", "b", "b", "b", "c"}
	idx := []int{0, 1, 2, 3, 4, 5, 6}
	p := pool(idx, key, func(i int) (float64, bool) { return v[i], true }, 0)
	for i, want := range []float64{-1, 0, 2, -1, 1, 0, 0} { // medians 11, 21, and 15 of all
		if p.residual[i] != want {
			t.Errorf("residual %d is %g, want %g", i, p.residual[i], want)
		}
	}
	// sizes 1 0 2 1 1 0 0, median 1; seven numbers, three medians
	if want := 1.4826 * math.Sqrt(7./4); math.Abs(p.scale-want) > 1e-12 || p.n != 7 {
		t.Errorf("scale %g of %d, want %g of 7", p.scale, p.n, want)
	}
	unnamed := pool(idx, []string{"", "", "", "b", "b", "b", "c"}, func(i int) (float64, bool) { return v[i], true }, 0)
	if unnamed.scale != p.scale {
		t.Errorf("scale %g when a setting has no name, %g when it has", unnamed.scale, p.scale)
	}
	if p := pool(idx, key, func(i int) (float64, bool) { return v[i], i > 0 }, 5); p.scale != 5 || !math.IsNaN(p.residual[0]) {
		t.Errorf("scale %g at least 5, residual of what is missing %g", p.scale, p.residual[0])
	}
}

// TestThreeAlike counts the triples that are alike among rounded normal values.
func TestThreeAlike(t *testing.T) {
	p := invented(1)
	const n, grain, reps = 12, .1, 40000
	triples := 0.0
	for range reps {
		cells := map[float64]float64{}
		for range n {
			cells[math.Round(p.NormFloat64()/grain)]++
		}
		for _, k := range cells {
			triples += k * (k - 1) * (k - 2) / 6
		}
	}
	if got, want := threeAlike(n, grain, 1), triples/reps; math.Abs(got/want-1) > .05 {
		t.Errorf("%.4f triples expected, %.4f counted", got, want)
	}
	if math.Abs(threeAlike(n, 3*grain, 3)/threeAlike(n, grain, 1)-1) > 1e-12 {
		t.Error("the unit matters")
	}
}

// TestLeftover: what a straight line in two columns leaves of y, to the
// definition of the robust spread; a column that does not vary takes nothing.
func TestLeftover(t *testing.T) {
	var rows [][]float64
	var y []float64
	for i := range 21 {
		x := float64(i) / 10
		e := float64(i%3-1) * .1 // -.1, 0, .1 in turn
		rows, y = append(rows, []float64{1, x, x * x, 0}), append(y, 3-2*x+.5*x*x+e)
	}
	got, ok := leftover(rows, y)
	if want := 1.4826 * .1 * math.Sqrt(21./17); !ok || math.Abs(got/want-1) > .15 { // the fit takes a tenth of it
		t.Errorf("%.4f is left (%t), want about %.4f", got, ok, want)
	}
	for i := range y {
		y[i] = 3 - 2*rows[i][1]
	}
	if got, ok := leftover(rows, y); !ok || got > 1e-5 {
		t.Errorf("%g is left of a straight line (%t)", got, ok)
	}
}

// TestStrikeRules: each limit of a strike by itself, one side of it and the other.
func TestStrikeRules(t *testing.T) {
	base := invented(31).session(6, "a", "b", "a", "b")
	for i := range base.Shots { // alike but for what is changed below
		base.Shots[i].Values = shot.Values{shot.BallSpeed: 60 + .2*float64(i%3), shot.ClubSpeed: 60 / 1.44, shot.Carry: 200 + float64(i%5)}
	}
	for _, c := range []struct {
		what   string
		change func(v shot.Values)
		key    string // "" = a good strike
	}{
		{"smash .09 below the others", func(v shot.Values) { v[shot.ClubSpeed] = 60 / 1.35 }, "clean.mishit.smash"},
		{"smash .04 below the others", func(v shot.Values) { v[shot.ClubSpeed] = 60 / 1.40 }, ""},
		{"a carry of half the others'", func(v shot.Values) {
			delete(v, shot.BallSpeed)
			delete(v, shot.ClubSpeed)
			v[shot.Carry] = 100
		}, "clean.mishit.carry"},
		{"a carry of three quarters", func(v shot.Values) {
			delete(v, shot.BallSpeed)
			delete(v, shot.ClubSpeed)
			v[shot.Carry] = 150
		}, ""},
		{"a strike 17 mm off", func(v shot.Values) { v[shot.StrikeToe], v[shot.StrikeHigh] = .012, -.012 }, ""},
		{"a strike 21 mm off", func(v shot.Values) { v[shot.StrikeToe], v[shot.StrikeHigh] = .015, -.015 }, "clean.mishit.strike"},
	} {
		s := tenth(base, c.change)
		row, key := Review(s, nil).Rows[9], ""
		for _, m := range row.Reasons {
			key = m.Key
		}
		if key != c.key || (row.Status == report.Mishit) != (c.key != "") {
			t.Errorf("%s: %s %v, want %q", c.what, row.Status, row.Reasons, c.key)
		}
		if row.Status == report.Mishit && (row.Weight < minWeight || row.Weight > taggedWeight) {
			t.Errorf("%s: weight %g, want %g to %g", c.what, row.Weight, minWeight, taggedWeight)
		}
	}
	low := shot.Session{Shots: []shot.Shot{{Values: shot.Values{shot.Smash: 1.1}}, {Values: shot.Values{shot.Smash: 0}}, {Values: shot.Values{shot.Smash: 1.4}}}}
	for i, want := range []report.Status{report.Mishit, report.Counted, report.Counted} {
		if row := Review(low, nil).Rows[i]; row.Status != want {
			t.Errorf("smash %g alone: %s, want %s", low.Shots[i].Values[shot.Smash], row.Status, want)
		}
	}
}
