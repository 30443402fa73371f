// Package pipeline is the one place that knows the whole chain, from a
// session to its report, and the door through which the worker, the command
// line and the tests go in. It holds functions only.
//
// Begin with Analyse and its example.
package pipeline

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"slices"
	"strconv"

	"ferrule/core/air"
	"ferrule/core/clean"
	"ferrule/core/club"
	"ferrule/core/decide"
	"ferrule/core/flight"
	"ferrule/core/frame"
	"ferrule/core/impact"
	"ferrule/core/message"
	"ferrule/core/predict"
	"ferrule/core/report"
	"ferrule/core/response"
	"ferrule/core/robust"
	"ferrule/core/score"
	"ferrule/core/seed"
	"ferrule/core/share"
	"ferrule/core/shot"
)

// Progress is told how far an analysis is: a stage and a share of the whole.
type Progress func(stage string, share float64)

// errNoShots says that a session holds no ball that can be used.
var errNoShots = message.New("problem.no-shots")

// Analyse answers a session: findings, every setting, the choice, what next.
// The same session and seed give the same report (compared rounded). The
// error is a sentence for the player; the session is never changed.
func Analyse(s shot.Session, sd uint64, progress Progress) (report.Report, error) {
	return AnalyseWith(s, Memory{}, sd, progress)
}

// AnalyseWith is Analyse with what was learned before; the report says what each
// earlier visit and the record add.
func AnalyseWith(s shot.Session, m Memory, sd uint64, progress Progress) (report.Report, error) {
	tell := func(stage string, share float64) {
		if progress != nil {
			progress(stage, share)
		}
	}
	tell("check", 0)
	if err := s.Bounded(); err != nil {
		return report.Report{}, err
	}
	request := hash(s, sd)
	hand := s.Player.Hand
	a := analysis{s: rightHanded(s), seed: seed.Seed(sd), memory: m.withoutOwn(s)}
	if err := a.prepare(); err != nil {
		return report.Report{}, err
	}
	tell("learn", .15)
	a.learning = func(share float64) { tell("learn", share) }
	if err := a.learn(); err != nil {
		return report.Report{}, err
	}
	tell("predict", .3)
	a.place()
	r, err := a.decide(func(done, all int) { tell("predict", .3+.6*float64(done)/float64(all)) })
	if err != nil {
		return report.Report{}, err
	}
	tell("write", .95)
	a.write(&r)
	r.Version, r.Request, r.Seed, r.Title, r.Goal, r.Head = report.Version, request, sd, s.Title, a.course.Goal, a.head.Name
	a.remembered(&r)
	handedBack(&r, hand)
	if s.Adopted.Before(s) {
		r.Since = decide.Since(*s.Adopted, r)
	}
	r.Made = max(s.Changed, s.Created)
	if _, err := share.Settle(&r); err != nil {
		return report.Report{}, err
	}
	tell("done", 1)
	return r, nil
}

// analysis carries one run from arrow to arrow.
type analysis struct {
	s            shot.Session // right-handed equivalent
	head         club.Head    // the player's own club, to which today's setting belongs
	clubs        clubs        // of each setting
	seed         seed.Seed
	learning     func(share float64) // tells how far it is; nil = nobody asks
	env          flight.Env          // the air that the answer is for, and the ball
	blocks       []block
	blockOf      []int         // of each shot
	seen         []shot.Values // as measured; a.s.Shots hold them in the air of env
	drift        []float64     // [m] of each shot
	tried        bool          // another air is tried: the home course's wind is left out
	settings     []club.Setting
	changes      []club.Change
	at           []int // setting of each shot, -1 = none of this head's
	review       clean.Result
	obs          []response.Obs
	shotOf       []int // session shot of each obs
	fit          flight.Calibration
	adjusted     bool
	origin       flight.Provenance
	base         impact.Baseline
	response     *response.Response
	course       *score.Course
	contradicted []int // settings whose own balls contradicted the model
	memory       Memory
	visits       []report.Earlier // what each earlier visit adds
	records      []report.Record  // what each of memory.Records is worth
	typical      []flight.Launch  // mean launch of each setting, for drawing
	placed       []report.ShotRow // where each ball of the session landed
}

// environment is the air and the ground of a session.
func environment(c shot.Conditions) (flight.Env, error) {
	e := flight.Env{Firmness: c.Firmness}
	var err error
	if e.Air, err = air.From(c.Temperature, c.Pressure, c.Humidity, c.Altitude, c.Wind, c.WindFrom); err != nil {
		return e, message.New("problem.air", err)
	}
	return e, nil
}

func (a *analysis) prepare() (err error) {
	if err = a.balls(); err != nil {
		return err
	}
	a.course, err = score.New(a.s.Aim, a.s.Player.Handicap, frame.Right)
	return err
}

// balls prepares all but what the balls are judged by.
func (a *analysis) balls() (err error) {
	if a.env, err = environment(a.s.Stated()); err != nil {
		return err
	}
	if err = a.airs(); err != nil {
		return err
	}
	if err = a.listSettings(); err != nil {
		return err
	}
	a.review = clean.Review(a.canonical(), flyerOf(a.env))
	return nil
}

// canonical is the session with each shot's setting as the head lists it.
func (a *analysis) canonical() shot.Session {
	s := a.s
	s.Shots = append([]shot.Shot(nil), s.Shots...)
	for i := range s.Shots {
		if a.at[i] >= 0 {
			s.Shots[i].Setting = a.settings[a.at[i]]
		}
	}
	return s
}

// launchOf is the launch of a shot and which of its numbers were measured, in
// the order of the responses; sidespin says the axis where none was given.
func launchOf(v shot.Values) (l flight.Launch, has [response.K]bool) {
	l.Speed, has[0] = v.Get(shot.BallSpeed)
	l.Angle, has[1] = v.Get(shot.Launch)
	l.Direction, has[2] = v.Get(shot.LaunchDirection)
	l.Spin, has[3] = v.TotalSpin()
	side, okSide := v.Get(shot.Sidespin)
	if l.Axis, has[4] = v.Get(shot.SpinAxis); !has[4] && okSide && has[3] && l.Spin > 0 {
		if back, ok := v.Get(shot.Backspin); ok {
			l.Axis = math.Atan2(side, back)
		} else {
			l.Axis = math.Asin(math.Max(-1, math.Min(1, side/l.Spin)))
		}
		has[4] = true
	}
	return l, has
}

// flyerOf computes carry and apex of a shot whose launch is whole.
func flyerOf(env flight.Env) clean.Flyer {
	return func(v shot.Values) (carry, apex float64, ok bool) {
		l, has := launchOf(v)
		if !has[0] || !has[1] || !has[3] {
			return 0, 0, false
		}
		g, err := flight.Fly(l, env)
		return g.Distance(), g.Apex, err == nil
	}
}

func ptr(v shot.Values, q shot.Quantity) *float64 {
	if x, ok := v.Get(q); ok {
		return &x
	}
	return nil
}

// offlineOf is where a ball landed sideways, from whichever column says it.
func offlineOf(v shot.Values) *float64 {
	if o := ptr(v, shot.Offline); o != nil {
		return o
	}
	if angle, ok := v.Get(shot.OfflineAngle); ok {
		if c, ok := v.Get(shot.Carry); ok {
			o := c * math.Sin(angle)
			return &o
		}
	}
	return ptr(v, shot.OfflineTotal)
}

// alongOf is the carry along the target line: devices print the straight
// distance from tee to landing place.
func alongOf(v shot.Values) *float64 {
	c := ptr(v, shot.Carry)
	if c == nil {
		if t := ptr(v, shot.Total); t != nil {
			x := *t * .92 // a driver runs about 8 % of its total (common practice, no source)
			c = &x
		}
	}
	if o := offlineOf(v); c != nil && o != nil && math.Abs(*o) < *c {
		x := math.Sqrt(*c**c - *o**o)
		return &x
	}
	return c
}

// repeated says whether a shot has the very numbers of an earlier one, and nobody
// vouches for it: the same ball twice is no evidence.
func repeated(s shot.Shot, row clean.Row) bool {
	return s.Tag != shot.TagGood && slices.ContainsFunc(row.Reasons, func(m report.Message) bool { return m.Key == "clean.duplicate" })
}

// observe lists the counted balls as the model takes them.
func (a *analysis) observe() {
	days, order := map[string]int{}, map[string]int{} // each day has its own level and its own order
	for i, sh := range a.s.Shots {
		status := a.review.Rows[i].Status
		day, seen := days[sh.Session]
		if !seen {
			day = len(days)
			days[sh.Session] = day
		}
		place := order[sh.Session]
		if status != report.Impossible {
			order[sh.Session]++
		}
		if status == report.Impossible || status == report.LeftOut || a.at[i] < 0 || repeated(a.s.Shots[i], a.review.Rows[i]) {
			continue
		}
		l, has := launchOf(sh.Values)
		o := response.Obs{Setting: a.at[i], Y: [response.K]float64{l.Speed, l.Angle, l.Direction, l.Spin, l.Axis}, Has: has, Session: day, Order: place,
			Carry: alongOf(sh.Values), Offline: offlineOf(sh.Values), Apex: ptr(sh.Values, shot.Apex),
			Descent: ptr(sh.Values, shot.Descent), Time: ptr(sh.Values, shot.FlightTime),
			Toe: ptr(sh.Values, shot.StrikeToe), High: ptr(sh.Values, shot.StrikeHigh),
			ClubSpeed: ptr(sh.Values, shot.ClubSpeed), Ball: sh.Ball, Block: a.blockOf[i], Good: sh.Tag == shot.TagGood, Mishit: status == report.Mishit}
		if has == ([response.K]bool{}) && o.Carry == nil && o.Offline == nil {
			continue
		}
		a.obs, a.shotOf = append(a.obs, o), append(a.shotOf, i)
	}
	centreStrikes(a.obs)
}

func (a *analysis) learn() error {
	in, err := a.input()
	if err != nil {
		return err
	}
	a.recall(&in)
	a.fitting(.24)
	a.response, err = response.Fit(in)
	if errors.Is(err, response.ErrNoShots) {
		return errNoShots
	}
	return err
}

// fitting tells how far the learning is: of a season its parts take long, and a
// worker that says nothing is taken for one that has ended.
func (a *analysis) fitting(share float64) {
	if a.learning != nil {
		a.learning(share)
	}
}

// input is what the model is fitted to, today's balls alone.
func (a *analysis) input() (in response.Input, err error) {
	a.calibrate()
	a.fitting(.2)
	a.level()
	a.observe()
	if len(a.obs) == 0 {
		return in, a.noShots()
	}
	base := a.baseline()
	a.base = base
	in = response.Input{Shots: a.obs, Changes: a.changes, Reference: 0, Env: a.env, Seed: a.seed, Handicap: a.s.Player.Handicap, Blocks: a.offsets()}
	if in.Prior, err = impact.Effects(base, a.head, a.seed); err != nil {
		return in, message.New("problem.strike", fmt.Sprintf("%.0f", base.Launch.Speed), err)
	}
	if toe, high, err := impact.StrikeSlopes(base, a.head); err == nil {
		in.ToeSlope, in.HighSlope = toe, high
	}
	a.clubEffects(&in)
	return in, nil
}

// noShots says why nothing can be used.
func (a *analysis) noShots() error {
	if len(a.s.Shots) == 0 {
		return errNoShots
	}
	unplaced := 0
	example := ""
	for i, at := range a.at {
		if at < 0 {
			unplaced++
			example = a.s.Shots[i].Setting.Key()
		}
	}
	if unplaced == len(a.at) && example == "" {
		return message.New("problem.unset", unplaced)
	}
	if unplaced == len(a.at) {
		return message.New("problem.no-setting", unplaced, strconv.Quote(example))
	}
	return message.New("problem.no-usable", len(a.s.Shots))
}

// baseline is the typical ball of today's setting, or of all when it was not hit.
func (a *analysis) baseline() impact.Baseline {
	r, err := response.Typical(response.Input{Shots: a.obs, Changes: a.changes, Env: a.env})
	var b impact.Baseline
	if err == nil {
		b.Launch = response.Launch(r)
	}
	var speed, attack []float64
	for _, i := range a.shotOf {
		v := a.s.Shots[i].Values
		if x, ok := v.Get(shot.ClubSpeed); ok {
			speed = append(speed, x)
		}
		if x, ok := v.Get(shot.Attack); ok {
			attack = append(attack, x)
		}
	}
	if len(speed) > 0 {
		x := robust.Median(speed)
		if smash := b.Launch.Speed / x; smash > 1.15 && smash < 1.6 {
			b.ClubSpeed = &x
		}
	}
	if len(attack) > 0 {
		x := robust.Median(attack)
		b.Attack = &x
	}
	if own := a.ownStrike(); own.Used >= 5 {
		b.Own = &own
	}
	return b
}

// ownStrike is grip and restitution of the player's own centred strikes.
func (a *analysis) ownStrike() impact.Calibration {
	var seen []impact.Observation
	for _, i := range a.shotOf {
		v := a.s.Shots[i].Values
		if l, has := launchOf(v); has[0] && has[1] && has[3] && a.review.Rows[i].Status == report.Counted {
			seen = append(seen, impact.Observation{Launch: l, ClubSpeed: ptr(v, shot.ClubSpeed), Attack: ptr(v, shot.Attack),
				StrikeToe: ptr(v, shot.StrikeToe), StrikeHigh: ptr(v, shot.StrikeHigh)})
		}
	}
	_, c := impact.Calibrate(seen, impact.DefaultParams(a.head))
	return c
}

// centreStrikes takes strike places against their middle, so that effects are
// those of the player's usual strike; one place alone says nothing.
func centreStrikes(obs []response.Obs) {
	for _, get := range []func(*response.Obs) **float64{func(o *response.Obs) **float64 { return &o.Toe }, func(o *response.Obs) **float64 { return &o.High }} {
		var all []float64
		for i := range obs {
			if p := *get(&obs[i]); p != nil {
				all = append(all, *p)
			}
		}
		middle := robust.Median(all)
		for i := range obs {
			if p := get(&obs[i]); *p != nil {
				x := **p - middle
				*p = &x
			}
		}
	}
}

func (a *analysis) decide(progress func(done, all int)) (report.Report, error) {
	surface, err := flight.NewSurface(flight.Around(response.Launch(a.response.Centre)), a.env)
	if err != nil {
		return report.Report{}, err
	}
	measured, learned := make([]float64, len(a.settings)), make([]float64, len(a.settings))
	for j := range measured {
		measured[j], learned[j] = a.response.Measured(j), a.response.Learned(j)
	}
	d, err := decide.New(decide.Config{Course: a.course, Aim: a.s.Aim, Settings: a.settings, Changes: a.changes, Reference: 0,
		Shots: a.decideShots(), Measured: measured, Learned: learned, Spread: a.response.Spread, Doubted: anyMistold(a.blocks)})
	if err != nil {
		return report.Report{}, err
	}
	a.typical = make([]flight.Launch, len(a.settings))
	cfg := predict.Config{Seed: a.seed, Progress: progress}
	if a.adjusted { // a ball adjusted to its own flights is known better
		cfg.Doubt = a.fit.Doubt()
	}
	predict.Each(a.response, surface, a.settings, cfg, func(i int, o *predict.Outcome) {
		var y [response.K]float64
		for dr := range o.Draws {
			for k := range y {
				y[k] += o.Launch[dr*response.K+k] / float64(o.Draws)
			}
		}
		a.typical[i] = response.Launch(y)
		a.blown(o, a.typical[i])
		if o.Check != nil && o.Check.Contradicted {
			a.contradicted = append(a.contradicted, i)
		}
		if e := d.Add(i, o); e != nil && err == nil {
			err = e
		}
	})
	if err != nil {
		return report.Report{}, err
	}
	res, err := d.Result()
	if err != nil {
		return report.Report{}, err
	}
	return report.Report{Answer: res.Answer, Todo: res.Todo, Notes: res.Notes, Settings: res.Settings, Choice: res.Choice, Next: res.Next, Stop: res.Stop, Plan: res.Plan, Confirm: res.Confirm, Needs: res.Needs, Ground: res.Ground, Balls: len(a.obs), Clubs: res.Clubs}, nil
}

// decideShots lists every ball for the counts, the raw averages and the plan.
func (a *analysis) decideShots() []decide.Shot {
	used := map[int]int{}
	for k, i := range a.shotOf {
		used[i] = k
	}
	out := make([]decide.Shot, len(a.s.Shots))
	for i, sh := range a.s.Shots {
		k, counted := used[i]
		row := a.placed[i]
		v := maps.Clone(sh.Values)
		if row.Known {
			v[shot.Carry], v[shot.Offline], v[shot.Apex] = row.Carry, row.Offline, row.Apex
		}
		out[i] = decide.Shot{Setting: a.at[i], Counted: counted, Mishit: counted && a.isMishit(k, i), Values: v}
	}
	return out
}

// isMishit joins the rule of package clean and the weight in the model.
func (a *analysis) isMishit(k, i int) bool {
	return a.review.Rows[i].Status == report.Mishit || a.response.Weights[k] < response.LowWeight
}
