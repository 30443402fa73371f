package response

import (
	"math"
	"math/rand/v2"
	"slices"
	"sort"

	"ferrule/core/bayes"
	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/linear"
	"ferrule/core/robust"
)

// layout says in which columns, after the effects, each part of the design
// stands.
type layout struct {
	effects                             int // features in use
	intercept, drift, warm, tire, swing int // columns of the rest, counted after the effects
	part, ball, day, visit, all         int
}

// swing is one measured part of the swing that goes along as a covariate.
type swing struct {
	of      func(*Obs) *float64
	unit    float64 // [SI] one unit of the column
	between float64 // [SI] what a setting itself is usually thought to do to it, standard deviation; judged, no source
	slope   [K]float64
	day     []float64 // [SI] of every session: how far its swing is from the usual, which is the day's own
	centre  []float64 // [SI] of every setting: what the swing is at it
	doubt   []float64 // [SI] standard deviation of that, of settings hit
}

// Launch is a response vector as a launch.
func Launch(y [K]float64) flight.Launch {
	return flight.Launch{Speed: math.Max(y[0], 5), Angle: y[1], Direction: y[2], Spin: math.Max(y[3], 0), Axis: y[4]}
}

// design says what of each setting and each ball stands in which column.
type design struct {
	feature []int       // columns of impact.Features in use
	x       [][]float64 // of every setting
	group   []int       // of every setting, -1 = never hit
	parts   []part      // heads, shafts and undescribed settings, each with a column of its own
	balls   []string    // kinds of ball with a column of their own
	days    []int       // sessions with a column of their own
	swing   []swing     // covariates in use
	cover   []float64   // covariance of the covariates about their settings, len(swing)^2
	lay     layout
	chains  [][]int // each session's balls in the order of hitting
}

// part is a Part in reference units.
type part struct {
	of       []bool // of each setting
	mean, sd [K]float64
}

// newDesign lays out features and covariates.
func newDesign(in *pooled, centre [K]float64) *design {
	d := &design{feature: varied(in.Changes, in.Reference), chains: chains(in.Shots)}
	d.settings(in)
	d.kinds(in.Shots)
	d.swings(in, centre)
	l := &d.lay
	l.effects = len(d.feature)
	l.intercept, l.drift, l.warm, l.tire, l.swing = 0, 1, 2, 3, 4
	l.part = l.swing + len(d.swing)
	l.ball = l.part + len(d.parts)
	l.day = l.ball + len(d.balls)
	l.visit = l.day + len(d.days)
	l.all = l.visit + len(in.Earlier)*l.effects
	ref := in.Changes[in.Reference]
	for i, c := range in.Changes {
		x := make([]float64, l.effects+l.all)
		all := impact.Features(c, ref)
		for a, f := range d.feature {
			x[a] = all[f] / featureUnit[f]
		}
		x[l.effects+l.intercept] = 1
		for j := range d.parts {
			if d.parts[j].of[i] {
				x[l.effects+l.part+j] = 1
			}
		}
		d.x = append(d.x, x)
	}
	return d
}

// chains are each session's balls in the order of hitting, along which form wanders.
func chains(shots []Obs) (out [][]int) {
	order := make([]int, len(shots))
	for i := range order {
		order[i] = i
	}
	sort.SliceStable(order, func(a, b int) bool {
		x, y := &shots[order[a]], &shots[order[b]]
		return x.Session < y.Session || x.Session == y.Session && x.Order < y.Order
	})
	for j, i := range order {
		if j == 0 || shots[i].Session != shots[order[j-1]].Session {
			out = append(out, nil)
		}
		out[len(out)-1] = append(out[len(out)-1], i)
	}
	return out
}

// varied are the features in which any setting is another than today's.
func varied(changes []club.Change, reference int) (out []int) {
	var varies [impact.F]bool
	for _, c := range changes {
		for f, v := range impact.Features(c, changes[reference]) {
			varies[f] = varies[f] || math.Abs(v) > 1e-9
		}
	}
	for f, yes := range varies {
		if yes {
			out = append(out, f)
		}
	}
	return out
}

// settings says which have a deviation of their own, and which have parts.
func (d *design) settings(in *pooled) {
	hit := make([]bool, len(in.Changes))
	for _, s := range in.Shots {
		if s.Setting >= 0 {
			hit[s.Setting] = true
		}
	}
	d.group = make([]int, len(hit))
	for _, p := range in.Parts {
		q := part{of: make([]bool, len(hit))}
		for _, i := range p.Settings {
			q.of[i] = true
		}
		for k := range K {
			q.mean[k], q.sd[k] = p.Mean[k]/Scale[k], p.SD[k]/Scale[k]
		}
		d.parts = append(d.parts, q)
	}
	groups := 0
	for i := range hit {
		d.group[i] = -1
		if hit[i] {
			d.group[i] = groups
			groups++
		}
		anchor := i == in.Reference || slices.Contains(in.Anchors, i) // its club's own, whose features are nothing
		if in.Changes[i].Unknown && !anchor && len(d.feature) > 0 {
			q := part{of: make([]bool, len(hit)), sd: unknownSD}
			q.of[i] = true
			d.parts = append(d.parts, q)
		}
	}
}

// kinds finds the balls and the days other than the usual ones.
func (d *design) kinds(shots []Obs) {
	balls, days := map[string]int{}, map[int]int{}
	for _, s := range shots {
		balls[s.Ball]++
		days[s.Session]++
	}
	usual := ""
	for b, n := range balls {
		if n > balls[usual] || n == balls[usual] && b < usual {
			usual = b
		}
	}
	for b := range balls {
		if b != usual {
			d.balls = append(d.balls, b)
		}
	}
	sort.Strings(d.balls)
	for day := range days {
		d.days = append(d.days, day)
	}
	sort.Ints(d.days)
	d.days = d.days[1:] // the first day is the reference
}

// swings chooses the covariates that at least four balls have, and what each
// setting is thought to do to them: the setting's own mean, shrunk by how
// little its few balls say of it. What is left of a ball's swing after that is
// "the swing"; what stays in the setting is "the club".
func (d *design) swings(in *pooled, centre [K]float64) {
	candidates := []swing{
		{of: func(o *Obs) *float64 { return o.Toe }, unit: .01, between: .002},
		{of: func(o *Obs) *float64 { return o.High }, unit: .01, between: .0015},
		{of: func(o *Obs) *float64 { return o.ClubSpeed }, unit: 1, between: .15},
	}
	for k := range K {
		candidates[0].slope[k] = in.ToeSlope[k]
		candidates[1].slope[k] = in.HighSlope[k]
	}
	// Ball speed follows club speed by the smash factor, spin in proportion.
	candidates[2].slope[0] = 1.4
	candidates[2].slope[3] = centre[3] / (centre[0] / 1.45)
	for _, c := range candidates {
		all := c.days(in.Shots)
		if len(all) < 4 {
			continue
		}
		sum, count := make([]float64, len(in.Changes)), make([]float64, len(in.Changes))
		for i := range in.Shots {
			if s := &in.Shots[i]; s.Setting >= 0 && c.of(s) != nil {
				sum[s.Setting] += c.at(s)
				count[s.Setting]++
			}
		}
		c.middle(in.Shots, robust.Median(all), sum, count)
		d.swing = append(d.swing, c)
	}
	n := len(d.swing)
	d.cover = make([]float64, n*n)
	for i := range in.Shots {
		for a := range n {
			for b := range n {
				d.cover[a*n+b] += d.swing[a].deviation(&in.Shots[i]) * d.swing[b].deviation(&in.Shots[i]) / float64(len(in.Shots))
			}
		}
	}
}

// fewOfADay is how many balls of a day tell half of how far its swing is from the
// usual (judged).
const fewOfADay = 3

// days finds the level of each day and lists what was measured without it: who
// swings faster on another day must not make the settings fast that were hit then.
func (c *swing) days(shots []Obs) (all []float64) {
	of := map[int][]float64{}
	last := 0
	for i := range shots {
		if v := c.of(&shots[i]); v != nil {
			all = append(all, *v)
			of[shots[i].Session] = append(of[shots[i].Session], *v)
		}
		last = max(last, shots[i].Session)
	}
	c.day = make([]float64, last+1)
	usual := robust.Median(all)
	for d, v := range of {
		n := float64(len(v))
		c.day[d] = (robust.Median(v) - usual) * n / (n + fewOfADay)
	}
	all = all[:0]
	for i := range shots {
		if c.of(&shots[i]) != nil {
			all = append(all, c.at(&shots[i]))
		}
	}
	return all
}

// at is what was measured of a ball without its day's level.
func (c *swing) at(s *Obs) float64 { return *c.of(s) - c.day[s.Session] }

// betweens are the multiples of what a setting is usually thought to do to the
// swing among which its balls choose, and how likely each is thought to be.
var betweens = bayes.Grid{Values: []float64{.5, 1, 2, 4, 8}, Weight: []float64{.3, .35, .2, .1, .05}}

// middle finds what the swing is at each setting and how sure that is. Of n balls
// of a setting with mean m, m ~ N(mid, b^2 + sd^2/n); b is learned on a grid.
func (c *swing) middle(shots []Obs, mid float64, sum, count []float64) {
	var off []float64
	used := 0.0
	for i := range shots {
		if c.of(&shots[i]) != nil {
			at := mid
			if j := shots[i].Setting; j >= 0 {
				at = sum[j] / count[j]
			}
			off = append(off, c.at(&shots[i])-at)
		}
	}
	for _, n := range count {
		if n > 0 {
			used++
		}
	}
	n := float64(len(off))
	sd := math.Max(robust.Spread(off)*math.Sqrt(n/math.Max(1, n-used)), 1e-3*c.unit)
	chance := make([]float64, len(betweens.Values))
	for g, by := range betweens.Values {
		b, log := by*c.between, math.Log(betweens.Weight[g])
		for j, n := range count {
			if n > 0 {
				v := b*b + sd*sd/n
				off := sum[j]/n - mid
				log -= off*off/(2*v) + math.Log(v)/2
			}
		}
		chance[g] = log
	}
	linear.Shares(chance)
	c.centre, c.doubt = make([]float64, len(count)), make([]float64, len(count))
	for j, n := range count {
		c.centre[j] = mid
		if n == 0 {
			continue
		}
		share, squares, own := 0.0, 0.0, 0.0
		for g, by := range betweens.Values {
			b := by * c.between
			s, p := b*b/(b*b+sd*sd/n), chance[g]
			share, squares, own = share+p*s, squares+p*s*s, own+p*s*sd*sd/n
		}
		off := sum[j]/n - mid
		c.centre[j] += share * off
		c.doubt[j] = math.Sqrt(own + (squares-share*share)*off*off)
	}
}

// usualSwing spreads the draws of each setting hit by how little is known of what
// the swing is at it.
func (d *design) usualSwing(draws []bayes.Draw, rng *rand.Rand) {
	at := d.lay.effects + d.lay.swing
	for i := range draws {
		draw := &draws[i]
		for c := range d.swing {
			for j, g := range d.group {
				if g < 0 {
					continue
				}
				by := d.swing[c].doubt[j] / d.swing[c].unit * rng.NormFloat64()
				for k := range K {
					draw.Group[g*K+k] += by * draw.Coef[(at+c)*K+k]
				}
			}
		}
	}
}

// deviation is what of covariate c of ball s is the swing, in its unit; zero
// when it was not measured.
func (c *swing) deviation(s *Obs) float64 {
	if c.of(s) == nil {
		return 0
	}
	mid := c.centre[max(s.Setting, 0)]
	return math.Max(-5, math.Min(5, (c.at(s)-mid)/c.unit)) // a slipped digit must not rule
}

// columns is the design of ball s, the setting's features with time, swing,
// ball and day filled in; n balls were hit in its session.
func (d *design) columns(s *Obs, n int) []float64 {
	l := &d.lay
	x := append([]float64(nil), d.x[max(s.Setting, 0)]...)
	if s.Setting < 0 {
		clear(x)
		x[l.effects+l.intercept] = 1
	}
	rest := x[l.effects:]
	mid := float64(n-1) / 2
	if n > 1 { // from -1/2 to 1/2
		rest[l.drift] = float64(s.Order)/float64(n-1) - .5
	}
	rest[l.warm] = math.Exp(-float64(s.Order) / 5)
	rest[l.tire] = tired(float64(s.Order)) - tired(mid)
	for i := range d.swing {
		rest[l.swing+i] = d.swing[i].deviation(s)
	}
	for i, b := range d.balls {
		if s.Ball == b {
			rest[l.ball+i] = 1
		}
	}
	for i, day := range d.days {
		if s.Session == day {
			rest[l.day+i] = 1
		}
	}
	if s.visit > 0 {
		copy(rest[l.visit+(s.visit-1)*l.effects:], x[:l.effects])
	}
	return x
}

// tired grows from the 40th ball on, by one every 20 balls: fatigue is not
// linear in the session (shape judged, no source).
func tired(order float64) float64 { return math.Max(0, (order-40)/20) }
