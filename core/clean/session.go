package clean

import (
	"math"
	"strings"

	"ferrule/core/linear"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/robust"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// session looks at the session as a whole.
func (r *reviewer) session() {
	r.drift()
	r.blocks()
	r.aliases()
	r.estimatedSpin()
	r.counts()
}

// tempo is the quantity by which drift is judged: club speed, or ball speed of
// the shots that are no mis-hits when nobody measured the club.
func (r *reviewer) tempo() (shot.Quantity, []int) {
	use := r.used(false)
	for _, q := range []shot.Quantity{shot.ClubSpeed, shot.BallSpeed} {
		var have []int
		for _, i := range use {
			if _, ok := r.s.Shots[i].Values[q]; ok {
				have = append(have, i)
			}
		}
		if len(have) >= 8 && len(have)*2 > len(use) {
			return q, have
		}
	}
	return "", nil
}

// drift looks for a trend of speed over the session inside settings, a slow
// beginning and a tired end. Settings have their own level, so a slow setting
// is no drift; a trend counts at 2.5 standard errors and half a mile an hour
// over the session.
func (r *reviewer) drift() {
	q, idx := r.tempo()
	if q == "" {
		return
	}
	var x, y []float64
	var g []string
	for _, i := range idx {
		x, y, g = append(x, float64(i)), append(y, r.s.Shots[i].Values[q]), append(g, r.key[i])
	}
	span := x[len(x)-1] - x[0]
	const least = .5 * units.MPH
	if b, se, ok := slope(x, y, g); ok && math.Abs(b) > 2.5*se && math.Abs(b)*span > least {
		key := "clean.drift.fell"
		if b > 0 {
			key = "clean.drift.rose"
		}
		r.say("drift", report.Say(key, report.Quantity(q), report.Number(math.Abs(b)*span, units.Speed, 1), report.Number(math.Abs(b)*10, units.Speed, 2)))
	}
	p := pool(idx, r.key, r.of(q), .3)
	if p.scale == 0 || len(idx) < 12 {
		return
	}
	mean := func(list []int) float64 {
		s := 0.0
		for _, i := range list {
			s += p.residual[i]
		}
		return s / float64(len(list))
	}
	early, rest := idx[:4], idx[4:]
	if d := mean(rest) - mean(early); d > 2.5*p.scale*math.Sqrt(1/4.+1/float64(len(rest))) && d > least {
		r.say("warm-up", report.Say("clean.warmup", report.Quantity(q), report.Number(d, units.Speed, 1)))
	}
	if len(idx) >= 24 {
		last, before := idx[len(idx)-10:], idx[4:len(idx)-10]
		if d := mean(before) - mean(last); d > 2.5*p.scale*math.Sqrt(.1+1/float64(len(before))) && d > least {
			r.say("tired", report.Say("clean.tired", report.Quantity(q), report.Number(d, units.Speed, 1)))
		}
	}
}

// blocks says when each setting was hit in one go: time and setting then
// cannot be separated, and no model can do it afterwards.
func (r *reviewer) blocks() {
	visits, last := map[string]int{}, "\x00"
	var order []string
	for _, i := range r.used(true) {
		if k := r.key[i]; k != last {
			if visits[k] == 0 {
				order = append(order, k)
			}
			visits[k]++
			last = k
		}
	}
	if len(order) < 2 {
		return
	}
	var once []string
	for _, k := range order {
		if visits[k] == 1 {
			once = append(once, k)
		}
	}
	switch {
	case len(once) == len(order):
		r.say("confounded", report.Say("clean.blocks.all", report.Count(len(order))))
	case len(once) > 1 && visits[order[0]] > 1: // one alone is the turn of a mirrored order
		r.say("blocks", report.Say("clean.blocks.some", report.Count(len(once)), report.Label(order[0])))
	}
}

// feature is one thing that a setting changes.
type feature struct {
	name  string // end of the text key
	scale float64
}

var features = []feature{
	{"lean", units.Degree}, {"upright", units.Degree}, {"toe", units.Millimetre}, {"back", units.Millimetre}, {"mass", units.Gram},
}

// aliases finds things that were always changed together although the club
// could change them apart, by the rank of what the tested settings do: two
// columns that keep one ratio over the tested settings and not over all of
// them. It names the setting that would tell them apart best.
func (r *reviewer) aliases() {
	tested, seen := [][5]float64{}, map[string]bool{}
	ref, ok := r.change(-1)
	for _, i := range r.used(true) {
		if seen[r.key[i]] {
			continue
		}
		seen[r.key[i]] = true
		if c, known := r.change(i); known {
			tested = append(tested, c)
		}
	}
	if len(tested) < 2 {
		return
	}
	if !ok {
		ref = tested[0]
	}
	settings := r.s.OwnClub().Settings()
	changes, err := r.s.OwnClub().Changes(settings)
	if err != nil {
		return
	}
	var offered [][5]float64
	for _, c := range changes {
		offered = append(offered, [5]float64{c.Lean, c.Upright, c.CGToe, c.CGBack, c.Mass})
	}
	for a := range features {
		for b := a + 1; b < len(features); b++ {
			if part := a < 2; part == (b < 2) && len(tested) < 3 {
				continue // one turn of a sleeve, one move of a weight: it cannot be otherwise
			}
			ratioT, tiedT := tied(tested, ref, a, b)
			if _, tiedAll := tied(offered, ref, a, b); !tiedT || tiedAll {
				continue
			}
			best, far := -1, 0.0
			for i, c := range offered {
				if changes[i].Unknown {
					continue
				}
				if d := math.Abs((c[b] - ref[b]) - ratioT*(c[a]-ref[a])); d > far*1.001 {
					best, far = i, d
				}
			}
			args := []report.Arg{message.Key("clean.feature." + features[a].name), message.Key("clean.feature." + features[b].name)}
			if best < 0 {
				r.say("aliased", report.Say("clean.aliased", args...))
				continue
			}
			r.say("aliased", report.Say("clean.aliased.split", append(args, report.Label(settings[best].Key()))...))
		}
	}
}

// change is what the setting of shot i (or the current one, i < 0) does.
func (r *reviewer) change(i int) ([5]float64, bool) {
	set := r.s.OwnClub().Current
	if i >= 0 {
		set = r.s.Shots[i].Setting
		if r.s.ClubAt(set.Club) != r.s.OwnAt() {
			return [5]float64{}, false
		}
	}
	c, err := r.s.OwnClub().Change(set.Of(""))
	if err != nil || c.Unknown {
		return [5]float64{}, false
	}
	return [5]float64{c.Lean, c.Upright, c.CGToe, c.CGBack, c.Mass}, true
}

// tied reports whether features a and b both change and keep one ratio b/a
// within 2 % of their spread over the settings.
func tied(set [][5]float64, ref [5]float64, a, b int) (ratio float64, yes bool) {
	var saa, sbb, sab float64
	for _, c := range set {
		x, y := (c[a]-ref[a])/features[a].scale, (c[b]-ref[b])/features[b].scale
		saa, sbb, sab = saa+x*x, sbb+y*y, sab+x*y
	}
	if saa < .01 || sbb < .01 {
		return 0, false // one of them hardly changed: nothing to mix up
	}
	return sab / saa * features[b].scale / features[a].scale, sab*sab > .98*.98*saa*sbb
}

// estimatedSpin says when spins look like a device's guess: told so by the
// file, or one value to the digit more often than chance allows.
func (r *reviewer) estimatedSpin() {
	told, n := 0, 0
	times := map[float64]int{}
	var all []float64
	for _, i := range r.used(true) {
		x := r.s.Shots[i]
		s, ok := x.Values.TotalSpin()
		if !ok {
			continue
		}
		n++
		for _, q := range x.Assumed {
			if q == shot.Spin || q == shot.Backspin {
				told++
				break
			}
		}
		times[math.Round(s/units.RPM*10)]++
		all = append(all, s/units.RPM*10)
	}
	if told > 0 {
		r.say("estimated-spin", report.Say("clean.spin_told", report.Count(told), report.Count(n)))
		return
	}
	most, value := 0, 0.0
	grain := 0.0 // the device's rounding: the greatest common step of the values
	for v, k := range times {
		if k > most || k == most && v < value {
			most, value = k, v
		}
		grain = gcd(grain, v)
	}
	if most < 3 || len(all) < 4 {
		return
	}
	if threeAlike(n, grain, math.Max(robust.Spread(all), grain)) < .02 || most*2 > n {
		r.say("estimated-spin", report.Say("clean.spin_repeats", report.Number(value/10*units.RPM, units.Spin, 0), report.Count(most)))
	}
}

// threeAlike is how many triples among n normal values of standard deviation sd
// are expected to be alike when they are rounded to grain, C(n,3) grain^2 times
// the integral of the cubed density: the chance of one, while it is small.
func threeAlike(n int, grain, sd float64) float64 {
	triples := float64(n*(n-1)*(n-2)) / 6
	return triples * grain * grain / (2 * math.Pi * math.Sqrt(3) * sd * sd)
}

func gcd(a, b float64) float64 {
	for b > .5 {
		a, b = b, math.Mod(a, b)
	}
	return a
}

// counts says how many shots are weighed down or left out: it stands on every
// screen.
func (r *reviewer) counts() {
	var mishit, out, wrong, suspect int
	for _, row := range r.rows {
		switch row.Status {
		case report.Mishit:
			mishit++
		case report.LeftOut:
			out++
		case report.Impossible:
			wrong++
		case report.Suspect:
			suspect++
		}
	}
	if mishit+out+wrong+suspect > 0 {
		r.say("counts", report.Say("clean.counts", report.Count(mishit), report.Count(wrong), report.Count(out), report.Count(len(r.rows)), report.Count(suspect)))
	}
	if mishit > 0 {
		r.mishitRates()
	}
}

// mishitRates says when one setting has clearly more mis-hits than the rest:
// the rate is a result, too. Fisher's exact probability below 2 %.
func (r *reviewer) mishitRates() {
	n, bad := map[string]int{}, map[string]int{}
	var total, totalBad int
	var keys []string
	for _, i := range r.used(true) {
		k := r.key[i]
		if n[k] == 0 {
			keys = append(keys, k)
		}
		n[k]++
		total++
		if r.rows[i].Status == report.Mishit {
			bad[k]++
			totalBad++
		}
	}
	for _, k := range keys {
		if n[k] == total || bad[k] < 2 || strings.TrimSpace(k) == "" {
			continue
		}
		if p := atLeast(bad[k], n[k], totalBad, total); p < .02 {
			r.say("mis-hit-rate", report.Say("clean.mishit_rate", report.Label(k), report.Count(bad[k]), report.Count(n[k]), report.Count(totalBad-bad[k]), report.Count(total-n[k])))
		}
	}
}

// atLeast is the hypergeometric chance of k or more of the bad balls among the
// n of one setting: C(bad,i) C(total-bad,n-i) / C(total,n) summed from i = k.
func atLeast(k, n, bad, total int) float64 {
	choose := func(n, k int) float64 {
		a, _ := math.Lgamma(float64(n + 1))
		b, _ := math.Lgamma(float64(k + 1))
		c, _ := math.Lgamma(float64(n - k + 1))
		return a - b - c
	}
	p := 0.0
	for i := k; i <= min(n, bad); i++ {
		if n-i <= total-bad {
			p += math.Exp(choose(bad, i) + choose(total-bad, n-i) - choose(total, n))
		}
	}
	return p
}

// leftover is the robust standard deviation of y around its least-squares fit
// on rows, in y's unit. false: the fit cannot be found.
func leftover(rows [][]float64, y []float64) (float64, bool) {
	n, p := len(rows), len(rows[0])
	a, b := make([]float64, (n+p)*p), make([]float64, n+p)
	copy(b, y)
	for i, row := range rows {
		copy(a[i*p:], row)
	}
	for i := range p {
		a[(n+i)*p+i] = 1e-3 // of a column that does not vary: no slope
	}
	x, ok := linear.NewQR(n+p, p, a).Solve(b, 1)
	if !ok {
		return 0, false
	}
	rest := make([]float64, n)
	for i, row := range rows {
		rest[i] = y[i] - linear.Dot(row, x)
	}
	return robust.Spread(rest) * math.Sqrt(float64(n)/float64(n-p)), true
}
