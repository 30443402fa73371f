// Package response learns what each adjustment does to this player's ball
// from a few noisy shots and the physics prior, and draws from what is then
// believed. Everything is a right-handed equivalent.
//
// Model, per ball i hit with setting s, in reference units (Scale) about the
// session's typical ball (Response.Centre):
//
//	y_i = b0 + B' x_s + D' u_i + G' (c_i - c_s) + delta_s + l_i + eps_i,  eps ~ t_4(Sigma)
//
// x_s are the features of package impact (lean, upright, centre of mass,
// mass) against the reference setting; u_i session time, warm-up, tiredness,
// ball and day; c_i strike place and club speed where they were measured, c_s
// what the setting itself is thought to make of them; delta_s what a setting
// does beyond its features, today's like any other; l_i the level of form, which
// wanders from ball to ball. How much settings deviate and form wanders is learned
// in each session. Prediction is for mid-session, a warm
// player, the usual ball, and the usual swing. A ball of which a launch number is
// missing enters through its flight, linear about where that ball is believed to
// have started (flights.go), with what the flight model may miss of one ball and
// of all of them.
//
// Physics that is wrong for this player is guarded against by a mixture of
// beliefs (prior.go). Main types in reading order: Obs, Input, Fit, Response, Effect.
//
// Begin with Fit and its example.
package response

import (
	"cmp"
	"errors"
	"fmt"

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
	Setting   int        // index into Input.Changes, -1 = names none: informs the spread only
	Y         [K]float64 // [SI] speed, launch, direction, spin, axis
	Has       [K]bool
	Carry     *float64 // [m] along the line; used when a response is missing
	Offline   *float64 // [m]
	Apex      *float64 // [m]
	Descent   *float64 // [rad] down +
	Time      *float64 // [s] launch to landing
	Toe       *float64 // [m] strike place, toe +
	High      *float64 // [m] strike place, up +
	ClubSpeed *float64 // [m/s]
	Ball      string   // kind of ball, "" = the session's
	Session   int      // day or file that it belongs to
	Block     int      // which of Input.Blocks it was hit in, used when there are any
	Order     int      // place in the order of hitting of its session, from 0
	Good      bool     // a person vouches for it: never weighed down
	Mishit    bool     // a person calls it a mis-hit: weighed down

	visit int // 0 = today, else which of Input.Earlier, from 1
}

// Input is all that a fit needs.
type Input struct {
	Shots     []Obs
	Changes   []club.Change // of every setting
	Reference int           // index of today's setting
	Anchors   []int         // settings against which those of their own club deviate, nil = Reference alone
	Parts     []Part        // heads and shafts other than those of the reference
	Prior     impact.Prior
	ToeSlope  [K]float64 // [SI/m] prior of the strike covariates, from impact.StrikeSlopes
	HighSlope [K]float64 // [SI/m]
	Handicap  *float64   // [strokes] sets how wide the spread is thought to be, nil = unknown
	Env       flight.Env
	Seed      seed.Seed
	Draws     int // 0 = 600

	// Blocks are stretches of balls whose flights share an offset that is not
	// the player's, such as the doubt of the wind; none = no such offsets.
	Blocks []Offset

	Earlier []Visit  // of the same player with the same head, see visits.go
	Record  []Belief // what other players' balls say of the effects, none = nothing
}

// Part is a head, a shaft, or both where they were changed together: what it does to
// every ball of some settings beside the reference's own.
type Part struct {
	Settings []int      // those that have it
	Mean, SD [K]float64 // [SI] what is believed of it before the balls
}

// Offset holds standard deviations of what all balls of a block may be off by
// together where they land [m].
type Offset struct{ Carry, Offline, Apex float64 }

// Response is the fitted model with its draws.
type Response struct {
	Centre   [K]float64 // [SI] about which the model is linear
	Draws    []bayes.Draw
	Weights  []float64      // [1] of each shot, in effect estimates; below LowWeight it is shown as a mis-hit
	Conflict float64        // [1] how far the shots are from the physics; > 1.5 is worth saying
	Resquare [2]float64     // [1] mean and standard deviation of the re-squaring share
	Drift    [K]float64     // [SI] posterior mean change from the first ball to the last, warm-up aside
	DriftSD  [K]float64     // [SI]
	Physics  float64        // [1] posterior weight of the beliefs that keep the textbook's means
	Tau      [K]float64     // [SI] deviation of a setting beyond its features
	Spread   [K]float64     // [SI] shot-to-shot standard deviation, swing included
	Sigma    [K * K]float64 // [SI product] covariance of the same
	Adds     []float64      // [balls] what each earlier visit is worth, in balls of today
	Trusted  []float64      // [1] posterior weight of each record's beliefs

	tried
	in      *pooled
	beliefs *beliefs
	others  []bayes.Alternative // the textbook's and those that stand beside it
	post    *bayes.Posterior
	middle  bayes.Draw // of what is believed on average
	flight  jacobian
}

// LowWeight is the weight below which a ball is shown as a mis-hit.
const LowWeight = .35

// ErrNoShots says that nothing usable came in.
var ErrNoShots = errors.New("response: no counted shot with a ball speed or a carry; expected at least one")

// featureUnit scales the features: degrees, millimetres, grams.
var featureUnit = [impact.F]float64{units.Degree, units.Degree, units.Millimetre, units.Millimetre, units.Gram}

// Fit fits the model. The error is ErrNoShots, or says which number is wrong.
func Fit(in Input) (*Response, error) {
	in.Draws = cmp.Or(in.Draws, 600)
	if in.Reference < 0 || in.Reference >= len(in.Changes) {
		return nil, fmt.Errorf("response: reference %d of %d settings", in.Reference, len(in.Changes))
	}
	b := pool(&in)
	c, err := b.centre()
	if err != nil {
		return nil, err
	}
	flight, err := (&flyer{env: in.Env}).jacobian(c.at)
	if err != nil {
		return nil, err
	}
	d := newDesign(b, c.at)
	e, err := gather(b, d, c.at)
	if err != nil {
		return nil, err
	}
	p := priors{b, c, d, &beliefs{&in.Prior, d.feature, in.Record}}
	m, records := p.model(e)
	if e, err = e.settled(m, 5, 5); err != nil {
		return nil, fmt.Errorf("response: %w", err)
	}
	r := &Response{Centre: c.at, tried: tried{d, e.rows, in.Changes}, in: b, beliefs: p.beliefs, others: m.Alternatives, flight: flight}
	m.Views = e.views
	if r.post, r.Draws, err = bayes.Sample(m, e.rows, in.Draws, in.Seed.Stream("response.draws")); err != nil {
		return nil, fmt.Errorf("response: %w", err)
	}
	d.usualSwing(r.Draws, in.Seed.Stream("swing"))
	r.Weights = r.post.Weights[:b.today]
	r.Adds = r.beliefs.adds(b, e.rows, r.post)
	r.middle = r.post.Middle()
	r.summarise(records)
	return r, nil
}

// Input is what the fit was made from, today's balls alone.
func (r *Response) Input() Input { return r.in.todays() }
