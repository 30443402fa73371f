package response

import (
	"fmt"
	"math"
	"slices"
	"sort"

	"ferrule/core/bayes"
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

// centre finds the typical ball: the median of what was measured, completed
// from carry and from what drivers usually do at that speed.
func (r *Response) centre() error {
	var v [K][]float64
	var carry []float64
	for i, s := range r.in.Shots[:r.today] {
		if s.Setting < -1 || s.Setting >= len(r.in.Changes) {
			return fmt.Errorf("response: shot %d names setting %d of %d", i, s.Setting, len(r.in.Changes))
		}
		for k := range K {
			if s.Has[k] {
				if math.IsNaN(s.Y[k]) || math.IsInf(s.Y[k], 0) {
					return fmt.Errorf("response: shot %d holds %g, expected finite numbers", i, s.Y[k])
				}
				v[k] = append(v[k], s.Y[k])
			}
		}
		if s.Carry != nil {
			carry = append(carry, *s.Carry)
		}
	}
	if len(v[0]) == 0 && len(carry) == 0 {
		return ErrNoShots
	}
	var has [K]bool
	for k := range K {
		if has[k] = len(v[k]) > 0; has[k] {
			r.Centre[k] = robust.Median(v[k])
		}
	}
	if !has[0] { // carry of ordinary drives is about 4.05 v - 57 (m, m/s)
		r.Centre[0] = (robust.Median(carry) + 57) / 4.05
	}
	r.Centre = usual(r.Centre, has)
	r.usual, r.measured = r.Centre, has
	var err error
	r.Centre, err = r.typical(r.Centre, has)
	return err
}

// Launch is a response vector as a launch.
func Launch(y [K]float64) flight.Launch {
	return flight.Launch{Speed: math.Max(y[0], 5), Angle: y[1], Direction: y[2], Spin: math.Max(y[3], 0), Axis: y[4]}
}

// design lays out features, covariates, views and rows.
func (r *Response) design() error {
	r.settings()
	r.kinds()
	r.swings()
	l := &r.lay
	l.effects = len(r.feature)
	l.intercept, l.drift, l.warm, l.tire, l.swing = 0, 1, 2, 3, 4
	l.part = l.swing + len(r.swing)
	l.ball = l.part + len(r.parts)
	l.day = l.ball + len(r.balls)
	l.visit = l.day + len(r.days)
	l.all = l.visit + len(r.in.Earlier)*l.effects
	ref := r.in.Changes[r.in.Reference]
	for i, c := range r.in.Changes {
		x := make([]float64, l.effects+l.all)
		all := impact.Features(c, ref)
		for a, f := range r.feature {
			x[a] = all[f] / featureUnit[f]
		}
		x[l.effects+l.intercept] = 1
		for j := range r.parts {
			if r.parts[j].of[i] {
				x[l.effects+l.part+j] = 1
			}
		}
		r.x = append(r.x, x)
	}
	jac, err := r.flightMap()
	if err != nil {
		return err
	}
	r.flight = jac
	r.mode = make([][K]float64, len(r.in.Shots))
	for i := range r.in.Shots {
		s := &r.in.Shots[i]
		r.mode[i] = r.Centre
		for k := range K {
			if s.Has[k] {
				r.mode[i][k] = s.Y[k]
			}
		}
		r.mode[i] = held(r.mode[i])
		r.lands = r.lands || lands(s)
	}
	if r.lands && !r.timed() {
		if r.surface, err = flight.NewSurface(flight.Around(Launch(r.Centre)), r.in.Env); err != nil {
			return err
		}
	}
	r.chain()
	return r.seen()
}

// chain is each session's balls in the order of hitting, along which form wanders.
func (r *Response) chain() {
	order := make([]int, len(r.in.Shots))
	for i := range order {
		order[i] = i
	}
	shots := r.in.Shots
	sort.SliceStable(order, func(a, b int) bool {
		x, y := &shots[order[a]], &shots[order[b]]
		return x.Session < y.Session || x.Session == y.Session && x.Order < y.Order
	})
	r.chains = nil
	for j, i := range order {
		if j == 0 || shots[i].Session != shots[order[j-1]].Session {
			r.chains = append(r.chains, nil)
		}
		last := len(r.chains) - 1
		r.chains[last] = append(r.chains[last], i)
	}
}

// seen lays out the rows, views and shared offsets, each ball's flight linear
// about where it is believed to have started.
func (r *Response) seen() error {
	last := map[int]int{} // session -> its last place
	for _, s := range r.in.Shots {
		last[s.Session] = max(last[s.Session], s.Order)
	}
	r.rows, r.views, r.shared = r.rows[:0], nil, nil
	at, offsets := map[[K]bool]int{}, map[[2]int]int{}
	for i := range r.in.Shots {
		row, err := r.row(i, at, offsets, last[r.in.Shots[i].Session]+1)
		if err != nil {
			return err
		}
		r.rows = append(r.rows, row)
	}
	return nil
}

// settings chooses the features in use, and which settings have a deviation.
func (r *Response) settings() {
	ref := r.in.Changes[r.in.Reference]
	var varies [impact.F]bool
	for _, c := range r.in.Changes {
		for f, v := range impact.Features(c, ref) {
			varies[f] = varies[f] || math.Abs(v) > 1e-9
		}
	}
	for f, yes := range varies {
		if yes {
			r.feature = append(r.feature, f)
		}
	}
	hit := make([]bool, len(r.in.Changes))
	for _, s := range r.in.Shots {
		if s.Setting >= 0 {
			hit[s.Setting] = true
		}
	}
	r.group = make([]int, len(hit))
	for _, p := range r.in.Parts {
		q := part{of: make([]bool, len(hit))}
		for _, i := range p.Settings {
			q.of[i] = true
		}
		for k := range K {
			q.mean[k], q.sd[k] = p.Mean[k]/Scale[k], p.SD[k]/Scale[k]
		}
		r.parts = append(r.parts, q)
	}
	groups := 0
	for i := range hit {
		r.group[i] = -1
		if hit[i] {
			r.group[i] = groups
			groups++
		}
		if r.in.Changes[i].Unknown && !r.anchor(i) && len(r.feature) > 0 {
			q := part{of: make([]bool, len(hit)), sd: unknownSD}
			q.of[i] = true
			r.parts = append(r.parts, q)
		}
	}
}

// anchor reports whether setting i is its club's own, whose features are nothing.
func (r *Response) anchor(i int) bool {
	return i == r.in.Reference || slices.Contains(r.in.Anchors, i)
}

// kinds finds the balls and the days other than the usual ones.
func (r *Response) kinds() {
	balls, days := map[string]int{}, map[int]int{}
	for _, s := range r.in.Shots {
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
			r.balls = append(r.balls, b)
		}
	}
	sort.Strings(r.balls)
	for d := range days {
		r.days = append(r.days, d)
	}
	sort.Ints(r.days)
	r.days = r.days[1:] // the first day is the reference
}

// swings chooses the covariates that at least four balls have, and what each
// setting is thought to do to them: the setting's own mean, shrunk by how
// little its few balls say of it. What is left of a ball's swing after that is
// "the swing"; what stays in the setting is "the club".
func (r *Response) swings() {
	candidates := []swing{
		{of: func(o *Obs) *float64 { return o.Toe }, unit: .01, between: .002},
		{of: func(o *Obs) *float64 { return o.High }, unit: .01, between: .0015},
		{of: func(o *Obs) *float64 { return o.ClubSpeed }, unit: 1, between: .15},
	}
	for k := range K {
		candidates[0].slope[k] = r.in.ToeSlope[k]
		candidates[1].slope[k] = r.in.HighSlope[k]
	}
	// Ball speed follows club speed by the smash factor, spin in proportion.
	candidates[2].slope[0] = 1.4
	candidates[2].slope[3] = r.Centre[3] / (r.Centre[0] / 1.45)
	for _, c := range candidates {
		all := c.days(r.in.Shots)
		if len(all) < 4 {
			continue
		}
		sum, count := make([]float64, len(r.in.Changes)), make([]float64, len(r.in.Changes))
		for i := range r.in.Shots {
			if s := &r.in.Shots[i]; s.Setting >= 0 && c.of(s) != nil {
				sum[s.Setting] += c.at(s)
				count[s.Setting]++
			}
		}
		c.middle(r.in.Shots, robust.Median(all), sum, count)
		r.swing = append(r.swing, c)
	}
	r.swingSpread()
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
func (r *Response) usualSwing() {
	rng := r.in.Seed.Stream("swing")
	at := r.lay.effects + r.lay.swing
	for d := range r.Draws {
		draw := &r.Draws[d]
		for c := range r.swing {
			for j, g := range r.group {
				if g < 0 {
					continue
				}
				by := r.swing[c].doubt[j] / r.swing[c].unit * rng.NormFloat64()
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

func (r *Response) swingSpread() {
	n := len(r.swing)
	r.cover = make([]float64, n*n)
	for i := range r.in.Shots {
		for a := range n {
			for b := range n {
				r.cover[a*n+b] += r.swing[a].deviation(&r.in.Shots[i]) * r.swing[b].deviation(&r.in.Shots[i]) / float64(len(r.in.Shots))
			}
		}
	}
}

// row turns ball i into a row of the model: its launch numbers where they are
// there, its flight in place of those that are not. n balls were hit in its session.
func (r *Response) row(i int, at map[[K]bool]int, offsets map[[2]int]int, n int) (bayes.Row, error) {
	s := &r.in.Shots[i]
	v := bayes.View{}
	var z, noise []float64
	for k := range K {
		if s.Has[k] {
			row := make([]float64, K)
			row[k] = 1
			v.H, z, noise = append(v.H, row...), append(z, (s.Y[k]-r.Centre[k])/Scale[k]), append(noise, 0)
		}
	}
	out := bayes.Row{X: r.columns(s, n), Group: -1}
	flies := lands(s)
	if flies {
		out.Shared = make([][2]int, len(z))
		for d := range out.Shared {
			out.Shared[d] = [2]int{-1, -1}
		}
		from, err := r.fly(r.mode[i])
		if err != nil {
			return out, err
		}
		var slopes [K]flown
		for k := range K {
			if !s.Has[k] {
				if slopes[k], err = r.slope(r.mode[i], k); err != nil {
					return out, err
				}
			}
		}
		for o, p := range flights(s) {
			if p == nil || o == outTime && r.surface != nil {
				continue
			}
			row, x := make([]float64, K), *p-from[o]
			for k := range K {
				if !s.Has[k] {
					row[k] = slopes[k][o]
					x += row[k] * (r.mode[i][k] - r.Centre[k]) / Scale[k]
				}
			}
			v.H, z, noise = append(v.H, row...), append(z, x), append(noise, flightNoise[o]*flightNoise[o])
			out.Shared = append(out.Shared, [2]int{r.offset(offsets, -1-s.visit, o), r.offset(offsets, s.Block, o)})
		}
	}
	if len(z) == 0 {
		return out, fmt.Errorf("response: shot %d shows no number", i)
	}
	v.Rows = len(z)
	view, seen := at[s.Has]
	if flies || !seen {
		if flies {
			v.R = make([]float64, len(z)*len(z))
			for d, x := range noise {
				v.R[d*len(z)+d] = x
			}
		}
		view = len(r.views)
		r.views = append(r.views, v)
		if !flies {
			at[s.Has] = view
		}
	}
	out.View, out.Z = view, z
	if s.Setting >= 0 {
		out.Group = r.group[s.Setting]
	}
	if s.Good {
		out.MinW = 1
	}
	if s.Mishit {
		out.MaxW = .25
	}
	return out, nil
}

// offset is the column of what the balls of a block share in flight output o, -1
// = none; block -1 is the whole of today, -2 the whole of the first earlier visit.
func (r *Response) offset(at map[[2]int]int, block, o int) int {
	sd := flightDoubt[o]
	if block >= 0 {
		if o > 2 || block >= len(r.in.Blocks) {
			return -1
		}
		b := &r.in.Blocks[block]
		sd = [3]float64{b.Carry, b.Offline, b.Apex}[o]
		if !(sd > 0) {
			return -1
		}
	}
	c, seen := at[[2]int{block, o}]
	if !seen {
		c = len(r.shared)
		at[[2]int{block, o}] = c
		r.shared = append(r.shared, sd)
	}
	return c
}

// columns is the design of ball s, the setting's features with time, swing,
// ball and day filled in; n balls were hit in its session.
func (r *Response) columns(s *Obs, n int) []float64 {
	l := &r.lay
	x := append([]float64(nil), r.x[max(s.Setting, 0)]...)
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
	for i := range r.swing {
		rest[l.swing+i] = r.swing[i].deviation(s)
	}
	for i, b := range r.balls {
		if s.Ball == b {
			rest[l.ball+i] = 1
		}
	}
	for i, d := range r.days {
		if s.Session == d {
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

// jacobian is the flight map at the centre: carry, offline, apex.
type jacobian struct {
	at    [3]float64    // [m]
	slope [3][K]float64 // [m per reference unit]
}

func (r *Response) flightMap() (*jacobian, error) {
	j := &jacobian{}
	at, err := r.fly(r.Centre)
	if err != nil {
		return nil, err
	}
	copy(j.at[:], at[:])
	for k := range K {
		s, err := r.slope(r.Centre, k)
		if err != nil {
			return nil, err
		}
		for i := range j.slope {
			j.slope[i][k] = s[i]
		}
	}
	return j, nil
}
