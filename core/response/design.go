package response

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"ferrule/core/bayes"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/robust"
	"ferrule/core/units"
)

// layout says in which columns, after the effects, each part of the design
// stands.
type layout struct {
	effects                             int // features in use
	intercept, drift, warm, tire, swing int // columns of the rest, counted after the effects
	unknown, ball, day, all             int
}

// swing is one measured part of the swing that goes along as a covariate.
type swing struct {
	name    string
	of      func(*Obs) *float64
	unit    float64 // [SI] one unit of the column
	between float64 // [SI] what a setting itself may do to it, standard deviation; judged, no source
	slope   [K]float64
	centre  []float64 // [SI] of every setting: what the swing is at it
}

// centre finds the typical ball: the median of what was measured, completed
// from carry and from what drivers usually do at that speed.
func (r *Response) centre() error {
	var v [K][]float64
	var carry []float64
	for i, s := range r.in.Shots {
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
	// Carry of ordinary drives is about 4.05 v - 57 (m, m/s); launch and spin of
	// an unmeasured ball: medians of adult drives (common practice, no source).
	r.Centre = [K]float64{0, 13 * units.Degree, 0, 2900 * units.RPM, 0}
	if len(carry) > 0 {
		r.Centre[0] = (robust.Median(carry) + 57) / 4.05
	}
	for k := range K {
		if len(v[k]) > 0 {
			r.Centre[k] = robust.Median(v[k])
		}
	}
	return nil
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
	l.unknown = l.swing + len(r.swing)
	l.ball = l.unknown + len(r.unknown)
	l.day = l.ball + len(r.balls)
	l.all = l.day + len(r.days)
	ref := r.in.Changes[r.in.Reference]
	for i, c := range r.in.Changes {
		x := make([]float64, l.effects+l.all)
		all := impact.Features(c, ref)
		for a, f := range r.feature {
			x[a] = all[f] / featureUnit[f]
		}
		x[l.effects+l.intercept] = 1
		for j, u := range r.unknown {
			if u == i {
				x[l.effects+l.unknown+j] = 1
			}
		}
		r.x = append(r.x, x)
	}
	jac, err := r.flightMap()
	if err != nil {
		return err
	}
	r.flight = jac
	last := map[int]int{} // session -> its last place
	for _, s := range r.in.Shots {
		last[s.Session] = max(last[s.Session], s.Order)
	}
	at := map[string]int{}
	for i := range r.in.Shots {
		row, ok := r.row(&r.in.Shots[i], jac, at, last[r.in.Shots[i].Session]+1)
		if !ok {
			return fmt.Errorf("response: shot %d shows no number", i)
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
	groups := 0
	for i := range hit {
		r.group[i] = -1
		if hit[i] && i != r.in.Reference { // the others' deviations are from it
			r.group[i] = groups
			groups++
		}
		if r.in.Changes[i].Unknown && i != r.in.Reference {
			r.unknown = append(r.unknown, i)
		}
	}
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
		{name: "strike_toe", of: func(o *Obs) *float64 { return o.Toe }, unit: .01, between: .002},
		{name: "strike_high", of: func(o *Obs) *float64 { return o.High }, unit: .01, between: .0015},
		{name: "club_speed", of: func(o *Obs) *float64 { return o.ClubSpeed }, unit: 1, between: .15},
	}
	for k := range K {
		candidates[0].slope[k] = r.in.ToeSlope[k]
		candidates[1].slope[k] = r.in.HighSlope[k]
	}
	// Ball speed follows club speed by the smash factor, spin in proportion.
	candidates[2].slope[0] = 1.4
	candidates[2].slope[3] = r.Centre[3] / (r.Centre[0] / 1.45)
	for _, c := range candidates {
		var all []float64
		sum, count := make([]float64, len(r.in.Changes)), make([]float64, len(r.in.Changes))
		for i := range r.in.Shots {
			s := &r.in.Shots[i]
			if v := c.of(s); v != nil {
				all = append(all, *v)
				if s.Setting >= 0 {
					sum[s.Setting] += *v
					count[s.Setting]++
				}
			}
		}
		if len(all) < 4 {
			continue
		}
		mid, sd := robust.Median(all), math.Max(robust.Spread(all), 1e-3*c.unit)
		c.centre = make([]float64, len(r.in.Changes))
		for j := range c.centre {
			c.centre[j] = mid
			if count[j] > 0 {
				share := c.between * c.between / (c.between*c.between + sd*sd/count[j])
				c.centre[j] += share * (sum[j]/count[j] - mid)
			}
		}
		r.swing = append(r.swing, c)
	}
	r.swingSpread()
}

// deviation is what of covariate c of ball s is the swing, in its unit; zero
// when it was not measured.
func (c *swing) deviation(s *Obs) float64 {
	v := c.of(s)
	if v == nil {
		return 0
	}
	mid := c.centre[max(s.Setting, 0)]
	return math.Max(-5, math.Min(5, (*v-mid)/c.unit)) // a slipped digit must not rule
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

// row turns one ball into a row of the model: its launch numbers where they
// are there, its flight numbers in place of those that are not.
func (r *Response) row(s *Obs, jac *jacobian, at map[string]int, n int) (bayes.Row, bool) {
	var h, z, noise []float64
	key := make([]byte, 0, 8)
	missing := false
	for k := range K {
		if !s.Has[k] {
			missing = true
			continue
		}
		row := make([]float64, K)
		row[k] = 1
		h, z, noise = append(h, row...), append(z, (s.Y[k]-r.Centre[k])/Scale[k]), append(noise, 0)
		key = append(key, 'a'+byte(k))
	}
	if missing {
		for i, v := range []*float64{s.Carry, s.Offline, s.Apex} {
			if v == nil || i == 2 && s.Has[1] && s.Has[3] {
				continue
			}
			h = append(h, jac.slope[i][:]...)
			z = append(z, *v-jac.at[i])
			noise = append(noise, jac.noise[i]*jac.noise[i])
			key = append(key, 'A'+byte(i))
		}
	}
	if len(z) == 0 {
		return bayes.Row{}, false
	}
	view, seen := at[string(key)]
	if !seen {
		v := bayes.View{Rows: len(z), H: h}
		if noise[len(noise)-1] > 0 {
			v.R = make([]float64, len(z)*len(z))
			for i, x := range noise {
				v.R[i*len(z)+i] = x
			}
		}
		view = len(r.views)
		r.views, at[string(key)] = append(r.views, v), view
	}
	out := bayes.Row{X: r.columns(s, n), Group: -1, View: view, Z: z}
	if s.Setting >= 0 {
		out.Group = r.group[s.Setting]
	}
	if s.Good {
		out.MinW = 1
	}
	if s.Mishit {
		out.MaxW = .25
	}
	return out, true
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
	return x
}

// tired grows from the 40th ball on, by one every 20 balls: fatigue is not
// linear in the session (shape judged, no source).
func tired(order float64) float64 { return math.Max(0, (order-40)/20) }

// jacobian is the flight map at the centre: carry, offline, apex.
type jacobian struct {
	at    [3]float64    // [m]
	slope [3][K]float64 // [m per reference unit]
	noise [3]float64    // [m] what the linear map and the flight model miss
}

func (r *Response) flightMap() (*jacobian, error) {
	fly := func(y [K]float64) ([3]float64, error) {
		g, err := flight.Fly(Launch(y), r.in.Env)
		return [3]float64{g.Carry, g.Offline, g.Apex}, err
	}
	j := &jacobian{noise: [3]float64{4, 4, 2}}
	var err error
	if j.at, err = fly(r.Centre); err != nil {
		return nil, fmt.Errorf("response: the typical ball can't be flown: %w", err)
	}
	for k := range K {
		a, b := r.Centre, r.Centre
		h := .5 * Scale[k]
		a[k], b[k] = a[k]+h, b[k]-h
		up, err1 := fly(a)
		down, err2 := fly(b)
		if err1 != nil || err2 != nil {
			return nil, errors.Join(err1, err2)
		}
		for i := range j.slope {
			j.slope[i][k] = up[i] - down[i]
		}
	}
	return j, nil
}
