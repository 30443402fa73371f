// Package decide turns predictions of every setting into an answer: which
// setting, how sure, what to hit next, and when to stop.
//
// A Decider takes the outcomes one by one and keeps only a few numbers a draw
// of each, so that thousands of settings need no storage of balls. All is
// right-handed equivalent. Main types in reading order: Config, Decider,
// Result.
//
// Begin with New and its example.
package decide

import (
	"errors"
	"fmt"
	"math"

	"ferrule/core/club"
	"ferrule/core/predict"
	"ferrule/core/report"
	"ferrule/core/score"
	"ferrule/core/shot"
)

// Shot is one ball that was hit, in the order of hitting.
type Shot struct {
	Setting int         // index in Config.Settings, -1 when it names none
	Counted bool        // false for a wrong record, a warm-up, or one left out
	Mishit  bool        // counted, but weighed down in effects
	Values  shot.Values // right-handed equivalent; carry and offline as far as known
}

// Count is how often a setting was hit.
type Count struct{ Balls, Mishits int }

// Config is what the decision rests on besides the outcomes.
type Config struct {
	Course    *score.Course
	Aim       shot.Aim // balls a round, minutes and balls left
	Settings  []club.Setting
	Changes   []club.Change
	Reference int             // index of today's setting
	Shots     []Shot          // all of them, in order; gives counts, raw averages, ellipses and the plan
	Measured  []float64       // [1] a setting each, share that comes from shots; nil = unknown
	Learned   []float64       // [1] a setting each, share by which the best of many is judged (clearOfMany); nil = Measured
	Spread    [launch]float64 // [SI] shot-to-shot spread of speed, angle, direction, spin, axis; 0 = unknown
	Doubted   bool            // something that was typed cannot explain the shots: nothing is called clear
}

// influence is a group of balls whose absence is asked about: the log
// likelihood of the group under each draw, by which the draws are weighed.
type influence struct {
	Setting int       // index of the setting left out, -1 when it is one ball
	Line    int       // of the ball in its file, or its number from 1
	LogLik  []float64 // [Draws] natural logarithm
}

const launch = 5 // responses of a launch: speed, angle, direction, spin, axis

// Decider collects outcomes. Make one with New.
type Decider struct {
	settings
	worth
	session
	cfg      Config
	draws    int
	perDraw  int
	rows     []row
	ref      reference
	pattern  pattern          // buffer: of the setting that is added
	flown    [flown][]float64 // buffer: its balls
	cost     []float64        // buffer: cost of each ball
	diffs    []float64        // buffer: of intervals
	order    order            // buffer: of interval
	variants []variant
}

// row is what is kept of one setting.
type row struct {
	done      bool
	out       report.Setting
	cost      []float64       // [draws] mean cost aimed as the player does, less the reference's, Monte-Carlo noise taken out
	level     []float64       // [draws] mean cost itself, likewise
	line      float64         // [rad] along which the middle of its balls is best sent
	belowLine float64         // what the foot of the parabola is below the cost on that line
	ways      [ways][]float64 // [draws] cost by way of aiming
	lost      float64         // [1] balls in trouble
	average   float64         // of cost
	scatter   float64         // standard deviation of cost
	launches  []float32       // [draws*5]
	limit     [limits]share
	straight  [2]float64 // [1] shares beyond the right and the left line when aimed at the middle
	other     []float64  // mean strokes under each variant of the course
	mean      [quantities]float64
}

// share is how many of a setting's balls are on a limit's side.
type share struct {
	mean float64
	at   []float64 // [draws] Monte-Carlo noise taken out
	diff []float64 // [draws] less the reference's
}

// reference keeps the balls of today's setting, against which all others are
// compared ball by ball.
type reference struct {
	balls  []predict.Ball
	cost   []float64
	flown  [flown][]float64
	level  []float64       // [draws]
	known  []float64       // [draws] mean strokes, Monte-Carlo noise taken out
	smooth []float64       // [draws] mean strokes by the pattern
	own    [ways][]float64 // [draws] mean cost by the pattern
	line   float64         // [rad] along which it is best played
	moving
	limit [limits][]float64
	q     [quantities][]float64 // [draws]
	told  [quantities]float64   // [SI] means as they are told
}

// moving is what today's setting does when the aim is moved to where its balls
// cost least.
type moving struct {
	aiming float64 // what that saves
	unlost float64 // [1] balls that it keeps out of trouble
	turned float64 // [rad] what the player would aim for that, right +
	lost   float64 // [1] of its balls beyond the line that counts when aimed so
}

// Result is the decision: the parts of a report that this package fills.
type Result struct {
	Answer   report.Answer
	Todo     report.Todo
	Settings []report.Setting // in the order of Config.Settings; Path is left empty
	Choice   report.Choice
	Next     []report.Next
	Stop     report.Stop
	Plan     []report.Visit
	Confirm  []report.Visit
	Needs    []report.Need
	Ground   report.Ground
	Notes    []report.Message
	Clubs    []report.Club // empty = one club
}

// errReferenceFirst is a caller's bug: differences need the reference.
var errReferenceFirst = errors.New("decide: the reference must be added before any other setting")

// New returns a Decider. The error says what does not fit together.
func New(cfg Config) (*Decider, error) {
	n := len(cfg.Settings)
	switch {
	case cfg.Course == nil:
		return nil, errors.New("decide: no course")
	case n == 0:
		return nil, errors.New("decide: no setting to choose from")
	case len(cfg.Changes) != n:
		return nil, fmt.Errorf("decide: %d settings but %d changes", n, len(cfg.Changes))
	case cfg.Reference < 0 || cfg.Reference >= n:
		return nil, fmt.Errorf("decide: the reference is setting %d of %d", cfg.Reference, n)
	case cfg.Measured != nil && len(cfg.Measured) != n, cfg.Learned != nil && len(cfg.Learned) != n:
		return nil, fmt.Errorf("decide: %d settings but %d shares measured and %d learned", n, len(cfg.Measured), len(cfg.Learned))
	}
	for i, s := range cfg.Shots {
		if s.Setting < -1 || s.Setting >= n {
			return nil, fmt.Errorf("decide: shot %d names setting %d of %d", i+1, s.Setting, n)
		}
	}
	return &Decider{cfg: cfg, settings: settings{cfg.Settings, cfg.Changes, cfg.Reference}, worth: worth{cfg.Course.Goal, cfg.Aim},
		session: session{cfg.Shots, counted(cfg.Shots, n), cfg.Reference}, rows: make([]row, n), variants: variantsOf(cfg.Course)}, nil
}

// check refuses an outcome that cannot be scored.
func (d *Decider) check(i int, o *predict.Outcome) error {
	if i < 0 || i >= len(d.rows) {
		return fmt.Errorf("decide: outcome of setting %d of %d", i, len(d.rows))
	}
	if d.ref.balls == nil && i != d.reference {
		return errReferenceFirst
	}
	if o.Draws < 2 || o.PerDraw < 1 || len(o.Balls) != o.Draws*o.PerDraw || len(o.Launch) != 0 && len(o.Launch) != o.Draws*launch {
		return fmt.Errorf("decide: setting %d: %d draws of %d balls hold %d balls and %d launch numbers", i, o.Draws, o.PerDraw, len(o.Balls), len(o.Launch))
	}
	if d.draws != 0 && (o.Draws != d.draws || o.PerDraw != d.perDraw) {
		return fmt.Errorf("decide: setting %d has %d draws of %d balls, the others %d of %d", i, o.Draws, o.PerDraw, d.draws, d.perDraw)
	}
	all := 0.0
	for i := range o.Balls {
		b := &o.Balls[i]
		all += b.Carry + b.Offline + b.Apex + b.Descent + b.RestX + b.RestZ
	}
	if !finite(all) { // stays so once it is so
		for _, b := range o.Balls {
			if !finite(b.Carry + b.Offline + b.Apex + b.Descent + b.RestX + b.RestZ) {
				return fmt.Errorf("decide: setting %d: a predicted ball is not a number: %+v", i, b)
			}
		}
	}
	return nil
}

func finite(v float64) bool { return !math.IsNaN(v) && !math.IsInf(v, 0) }

// Result decides. Every setting must have been added.
func (d *Decider) Result() (Result, error) {
	for i := range d.rows {
		if !d.rows[i].done {
			return Result{}, fmt.Errorf("decide: setting %d of %d was not added", i, len(d.rows))
		}
	}
	c := d.compare()
	hit := &d.session
	d.tested(c.rows)
	choice := c.choose(hit)
	out := &c.rows[choice.Setting].out
	r := Result{Clubs: c.clubs(hit), Needs: needed(&c.rows[d.reference], d.cfg.Course.Limits.Side), Ground: GroundOf(d.cfg.Course, d.aim),
		Notes: append(hit.spreadNotes(&d.settings), c.checkNotes(hit)...)}
	order := schedule{&d.settings, hit, &d.worth}
	ahead := d.lookahead(c)
	visits := ahead.batch(order.ahead(), hit)
	r.Stop = order.stop(choice, out.Loss, visits.worth)
	r.Plan = order.plan(choice, r.Stop, visits.list)
	r.Todo = hit.todo(r.Plan, r.Stop, d.plain(visits.worth))
	r.Next = ahead.next(r.Todo.Visits, visits.list, hit.standing(), choice)
	r.Confirm = confirm(choice, d.reference)
	say := words{c, hit, d.cfg.Measured != nil}
	choice.Headline, choice.Why = say.headline(choice), append(d.whyClubs(choice, r.Clubs), say.why(choice)...)
	choice.Flips = (&flips{c, d.variants, d.shots, d.cfg.Spread}).said(choice)
	r.Choice, r.Answer = choice, c.answer(choice)
	for i := range c.rows {
		r.Settings = append(r.Settings, c.rows[i].out)
	}
	return r, nil
}

// tested tells the settings that were hit what their own balls did.
func (d *Decider) tested(rows []row) {
	others := len(d.groups()) > 1
	for i, a := range d.averages(factors{}) {
		o, measured := &rows[i].out, 1.
		o.Raw, o.Ellipse = a.raw, a.ellipse
		if d.cfg.Measured != nil {
			measured = d.cfg.Measured[i]
		}
		o.Differs = differs(o, measured, others)
	}
}

// lookahead is what is known, with what balls would show.
func (d *Decider) lookahead(c *comparison) *lookahead {
	return &lookahead{c, d.cfg.Spread, within(d.ref.cost, nil, d.perDraw)}
}

// GroundOf is the hole as it is drawn.
func GroundOf(c *score.Course, aim shot.Aim) report.Ground {
	h := c.Holes[0]
	g := report.Ground{FairwayHalf: h.FairwayHalf, HoleLength: h.Length, CarryMin: c.Limits.CarryMin,
		ApexLow: c.Limits.ApexLow, ApexHigh: c.Limits.ApexHigh, Trouble: c.Limits.Side}
	if g.Trouble != "" {
		g.TroubleAt = c.Line
		g.TroubleKind = string(score.Penalty)
		if aim.TroubleKind != "" {
			g.TroubleKind = aim.TroubleKind
		}
	}
	return g
}
