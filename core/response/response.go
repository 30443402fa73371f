// Package response learns what each adjustment does to this player's ball
// from a few noisy shots and the physics prior, and draws from what is then
// believed. Everything is a right-handed equivalent.
//
// Model, per ball i hit with setting s, in reference units about the centre:
//
//	y_i = b0 + B' x_s + drift(t_i) + strike_i + delta_s + eps_i,  eps ~ t_4(Sigma)
//
// x_s are the features of package impact (lean, upright, centre of mass,
// mass) against the reference setting, delta_s what a setting does beyond
// them. A ball of which only the flight was measured enters through the
// flight map linearised at the centre. Main types: Input, Fit, Response.
package response

import (
	"errors"
	"fmt"
	"math"
	"sort"

	"ferrule/core/bayes"
	"ferrule/core/club"
	"ferrule/core/flight"
	"ferrule/core/impact"
	"ferrule/core/seed"
	"ferrule/core/units"
)

// K is the number of responses of a ball, in impact's order.
const K = impact.K

// Scale is the reference unit of each response [SI]: about the shot-to-shot
// spread of a mid-handicapper (invented reference, it only sets numbers near 1).
var Scale = [K]float64{3 * units.MPH, 2 * units.Degree, 2.4 * units.Degree, 400 * units.RPM, 7 * units.Degree}

// Obs is one ball.
type Obs struct {
	Setting int        // index into Input.Changes, -1 = names none: informs the spread only
	Y       [K]float64 // [SI] speed, launch, direction, spin, axis
	Has     [K]bool
	Carry   *float64 // [m] along the line; used when a response is missing
	Offline *float64 // [m]
	Apex    *float64 // [m]
	Toe     *float64 // [m] strike place
	High    *float64 // [m]
	Good    bool     // a person vouches for it: never weighed down
	Mishit  bool     // a person calls it a mis-hit: weighed down
	Order   int      // place in the order of hitting, from 0
}

// Input is all that a fit needs.
type Input struct {
	Shots     []Obs
	Changes   []club.Change // of every setting
	Reference int           // index of today's setting
	Prior     impact.Prior
	ToeSlope  [K]float64 // [SI/m] prior of the strike covariates, from impact.StrikeSlopes
	HighSlope [K]float64 // [SI/m]
	Env       flight.Env
	Seed      seed.Seed
	Draws     int // 0 = 160
}

// Response is the fitted model with its draws.
type Response struct {
	Centre   [K]float64 // [SI] about which the model is linear
	Draws    []bayes.Draw
	Weights  []float64  // [1] of each shot, in effect estimates
	Conflict float64    // [1] how far the shots are from the physics; > 1.5 is worth saying
	Resquare [2]float64 // [1] mean and standard deviation of the re-squaring share
	Drift    [K]float64 // [SI] posterior mean change from the first ball to the last, warm-up aside
	DriftSD  [K]float64 // [SI]
	Physics  float64    // [1] posterior weight of the plain physics prior
	Tau      [K]float64 // [SI] deviation of a setting beyond its features
	Spread   [K]float64 // [SI] shot-to-shot standard deviation

	in      Input
	post    *bayes.Posterior
	feature []int       // columns of impact.Features in use
	x       [][]float64 // of every setting
	group   []int       // of every setting, -1 = never hit
	rows    []bayes.Row
	full    []int // rows that show a whole residual
	unknown []int // settings with a column of their own
	rest    int
}

// ErrNoShots says that nothing usable came in.
var ErrNoShots = errors.New("response: no counted shot with a speed, a carry or a launch; expected at least one")

// featureUnit scales the features: degrees, millimetres, grams.
var featureUnit = [impact.F]float64{units.Degree, units.Degree, units.Millimetre, units.Millimetre, units.Gram}

// Columns of the rest of the design, after the effects.
const (
	restIntercept = iota
	restDrift
	restWarm
	restTire
	restToe
	restHigh
	restFixed
)

// Fit fits the model. The error is ErrNoShots, or says which number is wrong.
func Fit(in Input) (*Response, error) {
	if in.Draws == 0 {
		in.Draws = 160
	}
	r := &Response{in: in}
	if err := r.centre(); err != nil {
		return nil, err
	}
	r.settings()
	m, err := r.model()
	if err != nil {
		return nil, err
	}
	if r.post, err = bayes.Fit(m, r.rows); err != nil {
		return nil, fmt.Errorf("response: %w", err)
	}
	r.Weights = r.post.Weights
	r.Draws = r.post.Draws(in.Draws, in.Seed.Stream("response.draws"))
	r.summarise(m)
	return r, nil
}

// centre finds the typical ball: the median of what was measured, completed
// from carry and from what drivers usually do at that speed.
func (r *Response) centre() error {
	var v [K][]float64
	var carry []float64
	for _, s := range r.in.Shots {
		for k := range K {
			if s.Has[k] {
				if math.IsNaN(s.Y[k]) || math.IsInf(s.Y[k], 0) {
					return fmt.Errorf("response: a shot holds %g, expected finite numbers", s.Y[k])
				}
				v[k] = append(v[k], s.Y[k])
			}
		}
		if s.Carry != nil {
			carry = append(carry, *s.Carry)
		}
	}
	med := func(x []float64, otherwise float64) float64 {
		if len(x) == 0 {
			return otherwise
		}
		sort.Float64s(x)
		return (x[len(x)/2] + x[(len(x)-1)/2]) / 2
	}
	if len(v[0]) == 0 && len(carry) == 0 {
		return ErrNoShots
	}
	// Carry of ordinary drives is about 4.05 v - 57 (m, m/s); launch and spin of
	// an unmeasured ball: medians of adult drives (common practice, no source).
	speed := med(v[0], (med(carry, 200)+57)/4.05)
	r.Centre = [K]float64{speed, med(v[1], 13*units.Degree), med(v[2], 0), med(v[3], 2900*units.RPM), med(v[4], 0)}
	return nil
}

// Launch is a response vector as a launch.
func Launch(y [K]float64) flight.Launch {
	return flight.Launch{Speed: math.Max(y[0], 5), Angle: y[1], Direction: y[2], Spin: math.Max(y[3], 0), Axis: y[4]}
}

// settings chooses the features in use and lays out x and group.
func (r *Response) settings() {
	ref := r.in.Changes[r.in.Reference]
	all := make([][impact.F]float64, len(r.in.Changes))
	var varies [impact.F]bool
	for i, c := range r.in.Changes {
		all[i] = impact.Features(c, ref)
		for f, v := range all[i] {
			varies[f] = varies[f] || math.Abs(v) > 1e-9
		}
	}
	for f, yes := range varies {
		if yes {
			r.feature = append(r.feature, f)
		}
	}
	hit := make([]bool, len(all))
	for _, s := range r.in.Shots {
		if s.Setting >= 0 {
			hit[s.Setting] = true
		}
	}
	r.group = make([]int, len(all))
	groups := 0
	for i := range all {
		r.group[i] = -1
		if hit[i] {
			r.group[i] = groups
			groups++
		}
		if r.in.Changes[i].Unknown && i != r.in.Reference {
			r.unknown = append(r.unknown, i)
		}
	}
	r.rest = restFixed + len(r.unknown)
	for i := range all {
		x := make([]float64, 0, len(r.feature)+r.rest)
		for _, f := range r.feature {
			x = append(x, all[i][f]/featureUnit[f])
		}
		rest := make([]float64, r.rest)
		rest[restIntercept] = 1
		for j, u := range r.unknown {
			if u == i {
				rest[restFixed+j] = 1
			}
		}
		r.x = append(r.x, append(x, rest...))
	}
}

// views holds what kinds of ball have been seen, by which numbers they show.
type views struct {
	list []bayes.View
	at   map[string]int
}

// row turns one ball into a row of the model: its launch numbers where they
// are there, its flight numbers in place of those that are not.
func (r *Response) row(s Obs, jac *jacobian, vs *views, n int) (bayes.Row, bool) {
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
	view, seen := vs.at[string(key)]
	if !seen {
		v := bayes.View{Rows: len(z), H: h}
		if noise[len(noise)-1] > 0 {
			v.R = make([]float64, len(z)*len(z))
			for i, x := range noise {
				v.R[i*len(z)+i] = x
			}
		}
		view = len(vs.list)
		vs.list, vs.at[string(key)] = append(vs.list, v), view
	}
	x := append([]float64(nil), r.x[max(s.Setting, 0)]...)
	group := -1
	if s.Setting >= 0 {
		group = r.group[s.Setting]
	}
	e := len(r.feature)
	if n > 1 { // t runs from -1/2 to 1/2
		x[e+restDrift] = float64(s.Order)/float64(n-1) - .5
	}
	x[e+restWarm] = math.Exp(-float64(s.Order) / 5)
	x[e+restTire] = math.Max(0, float64(s.Order-40)/20)
	if s.Toe != nil {
		x[e+restToe] = *s.Toe / .01
	}
	if s.High != nil {
		x[e+restHigh] = *s.High / .01
	}
	out := bayes.Row{X: x, Group: group, View: view, Z: z}
	if s.Good {
		out.MinW = 1
	}
	if s.Mishit {
		out.MaxW = .25
	}
	return out, true
}

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

// model lays out priors and rows.
func (r *Response) model() (*bayes.Model, error) {
	jac, err := r.flightMap()
	if err != nil {
		return nil, err
	}
	vs := &views{at: map[string]int{}}
	measured := [K]bool{}
	for _, s := range r.in.Shots {
		for k := range K {
			measured[k] = measured[k] || s.Has[k]
		}
	}
	n := 0
	for _, s := range r.in.Shots {
		n = max(n, s.Order+1)
	}
	for _, s := range r.in.Shots {
		row, ok := r.row(s, jac, vs, n)
		if !ok {
			row = bayes.Row{X: r.x[0], Group: -1, View: -1}
		}
		if len(row.Z) == K && row.View >= 0 && vs.list[row.View].R == nil {
			r.full = append(r.full, len(r.rows))
		}
		r.rows = append(r.rows, row)
	}
	if len(vs.list) == 0 {
		return nil, ErrNoShots
	}
	for i := range r.rows { // a ball that shows nothing: seen through an empty wish
		if r.rows[i].View < 0 {
			return nil, fmt.Errorf("response: shot %d shows no number", i)
		}
	}
	groups := 0
	for _, g := range r.group {
		groups = max(groups, g+1)
	}
	m := &bayes.Model{Dim: K, Effects: len(r.feature), Rest: r.rest, Groups: groups, Nu: 4, Views: vs.list,
		Tau: make([]float64, K), Scale: make([]float64, K*K), ScaleDf: 9}
	for k := range K {
		m.Tau[k] = math.Max(r.in.Prior.Misfit[k]/Scale[k], .05)
		m.Scale[k*K+k] = 3 * .8 * .8 // IW(9, 3 h^2 I): prior mean h^2
		r.Tau[k] = m.Tau[k] * Scale[k]
	}
	r.restPriors(m, measured)
	if len(r.feature) > 0 {
		m.Alternatives = r.alternatives()
	}
	return m, nil
}

func (r *Response) restPriors(m *bayes.Model, measured [K]bool) {
	m.RestMean, m.RestSD = make([]float64, r.rest*K), make([]float64, r.rest*K)
	set := func(col, k int, mean, sd float64) { m.RestMean[col*K+k], m.RestSD[col*K+k] = mean, sd }
	for k := range K {
		wide := 5.0
		if !measured[k] {
			wide = 1 // what players are like, not more
		}
		set(restIntercept, k, 0, wide)
		set(restDrift, k, 0, .5)
		set(restWarm, k, 0, .5)
		set(restTire, k, 0, .3)
		toe, high := r.in.ToeSlope[k]*.01/Scale[k], r.in.HighSlope[k]*.01/Scale[k]
		set(restToe, k, toe, .15+.5*math.Abs(toe))
		set(restHigh, k, high, .15+.5*math.Abs(high))
		for j := range r.unknown {
			set(restFixed+j, k, 0, 1.5)
		}
	}
}

// families splits the features: what the sleeve does, what the weights do.
func family(f int) int {
	if f < 2 {
		return 0
	}
	return 1
}

// alternatives is the guard against physics that is wrong for this player:
// for the sleeve and for the weights apart, the textbook, the textbook with
// its doubt doubled, and no textbook (zero mean, as wide as the textbook's
// mean and doubt together). Each combination is weighed by how well it
// predicted the shots.
func (r *Response) alternatives() []bayes.Alternative {
	type belief struct {
		name               string
		weight, mean, wide float64
		alone              bool
	}
	beliefs := []belief{{"physics", .55, 1, 1, false}, {"wide", .25, 1, 2, false}, {"none", .20, 0, 1.2, true}}
	var has [2]bool
	for _, f := range r.feature {
		has[family(f)] = true
	}
	var out []bayes.Alternative
	for a, s := range beliefs {
		for b, w := range beliefs {
			if !has[0] && a > 0 || !has[1] && b > 0 {
				continue
			}
			alt := bayes.Alternative{Name: s.name + "/" + w.name, Weight: s.weight * w.weight}
			pick := func(f int) belief {
				if family(f) == 0 {
					return s
				}
				return w
			}
			e := len(r.feature) * K
			alt.Mean, alt.Cov = make([]float64, e), make([]float64, e*e)
			for i, f := range r.feature {
				for k := range K {
					alt.Mean[i*K+k] = pick(f).mean * r.in.Prior.Mean[f][k] * featureUnit[f] / Scale[k]
				}
				for j, g := range r.feature {
					for k := range K {
						for l := range K {
							u := featureUnit[f] * featureUnit[g] / (Scale[k] * Scale[l])
							c := r.in.Prior.Cov[(f*K+k)*impact.F*K+g*K+l] * u
							p, q := pick(f), pick(g)
							same := f == g && k == l
							switch {
							case (p.alone || q.alone) && !same:
								c = 0
							case p.alone:
								mean := r.in.Prior.Mean[f][k] * featureUnit[f] / Scale[k]
								c = p.wide * p.wide * (c + mean*mean)
							default:
								c *= p.wide * q.wide
							}
							alt.Cov[(i*K+k)*e+j*K+l] = c
						}
					}
				}
			}
			for i := range e {
				alt.Cov[i*e+i] += 1e-6
			}
			out = append(out, alt)
		}
	}
	return out
}
