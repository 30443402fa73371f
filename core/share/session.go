package share

import (
	"cmp"
	"fmt"
	"math"
	"strconv"

	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// Steps of a session's numbers: finer than anybody reads them off a club, a
// tape or a weather station.
const (
	stepClub     = 0.01 * units.Degree // [rad] of a sleeve
	stepLoft     = 0.05 * units.Degree // [rad] of a head
	stepMass     = 0.1e-3              // [kg]
	stepSmall    = 0.5e-3              // [m] of the whole club
	stepStop     = 0.25e-3             // [m] of a weight
	stepFeet     = units.Foot / 2      // [m] on the ground, where it is a whole number of them
	stepMetres   = 0.05                // [m] on the ground, else
	stepTemp     = 0.25                // [K]
	stepPressure = 25.0                // [Pa]
	stepWind     = 0.1                 // [m/s]
	stepTurn     = units.Degree        // [rad]
	stepShare    = 0.01                // [1]
)

// flow is either a writer or a reader with the same calls, so that what is
// written and what is read can't drift apart: each part of a session is
// described once.
type flow struct {
	w   *rangeWriter
	r   *rangeReader
	err error // of writing

	fine    bool // shots are rounded to what devices print
	version int  // what is carried: up to 4 the link's version, from then on the level
}

func (f *flow) bool(v *bool) {
	if f.w != nil {
		out{f.w}.bool(*v)
	} else {
		*v = in{f.r}.bool()
	}
}

func (f *flow) number(v *float64, step float64, k int) {
	if f.w != nil {
		f.err = cmp.Or(f.err, out{f.w}.fixed(*v, step, k))
	} else {
		*v = in{f.r}.fixed(step, k)
	}
}

// maybe is a number that may be zero or unknown: one bit then.
func (f *flow) maybe(v *float64, step float64, k int) {
	there := *v != 0
	if f.bool(&there); there {
		f.number(v, step, k)
	}
}

func (f *flow) optional(p **float64, step float64, k int) {
	there := *p != nil
	if f.bool(&there); there {
		if f.r != nil {
			*p = new(float64)
		}
		f.number(*p, step, k)
	}
}

// around is an optional number that is usually near another.
func (f *flow) around(p **float64, usual, step float64, k int) {
	there := *p != nil
	if f.bool(&there); !there {
		return
	}
	d := 0.0
	if f.w != nil {
		d = **p - usual
	}
	if f.number(&d, step, k); f.r != nil {
		d += usual
		*p = &d
	}
}

// ground is a length that a person typed: in yards, feet or metres. Whole
// ones come back whole, so that no field shows 31.99 for 32.
func (f *flow) ground(v *float64, k int) {
	there := *v != 0
	if f.bool(&there); !there {
		return
	}
	q := *v / stepFeet
	whole := math.Abs(q-math.Round(q)) < 1e-6
	if f.bool(&whole); whole {
		f.number(v, stepFeet, k)
	} else {
		f.number(v, stepMetres, k+1)
	}
}

func (f *flow) int(v *int, k int) {
	if f.w != nil {
		out{f.w}.golomb(uint64(max(*v, 0)), k)
	} else if u := (in{f.r}).golomb(k); u < 1<<31 {
		*v = int(u)
	} else {
		f.r.fail("the number %d", u)
	}
}

func (f *flow) text(s *string) {
	if f.w != nil {
		f.w.text(*s)
	} else {
		*s = f.r.text()
	}
}

// count is the length of a list.
func (f *flow) count(n, k, most int) int {
	if f.w != nil {
		out{f.w}.golomb(uint64(n), k)
		return n
	}
	return in{f.r}.count(k, most)
}

// choice is one of a few known texts, two bits for up to three of them; any
// other text is written out.
func (f *flow) choice(s *string, known ...string) {
	const other = 3
	at := other
	for i, k := range known {
		if k == *s {
			at = i
		}
	}
	if f.w != nil {
		f.w.put(uint64(at), 2)
	} else {
		at = int(f.r.get(2))
	}
	switch {
	case at == other:
		f.text(s)
	case at < len(known):
		*s = known[at]
	default:
		f.r.fail("a choice that is none")
	}
}

// list fills a slice to n elements when reading.
func list[T any](f *flow, s *[]T, k, most int) {
	n := f.count(len(*s), k, most)
	if f.r != nil && n > 0 {
		*s = make([]T, n)
	}
}

// level of what a session in a link carries. Whatever is added is written at
// the end of session behind "if f.version >= ..." and raises it by one.
const level = 5

func writeSession(s shot.Session, o Options, fine bool) ([]byte, error) {
	f := &flow{w: newRangeWriter(), fine: fine, version: level}
	here := level
	f.int(&here, 2)
	if len(s.Head.Exclude) > maxLabels {
		s.Head.Exclude = nil // it only saves the person an answer
	}
	f.session(&s, o.Names)
	if f.err != nil {
		return nil, f.err
	}
	return f.w.end(), nil
}

// readSession reads a session of the old version, or of the level that it names
// itself (old 0). What a later level added stands at the end and is left there.
func readSession(b []byte, names bool, old int) (shot.Session, error) {
	var s shot.Session
	f := &flow{r: newRangeReader(b), version: old}
	there := old
	if old == 0 {
		f.int(&there, 2)
		f.version = min(there, level)
	}
	f.session(&s, names)
	if f.r.err == nil && f.r.at < len(b) && there <= level {
		f.r.fail("%d bytes are left over", len(b)-f.r.at)
	}
	if f.r.err != nil {
		return shot.Session{}, f.r.err
	}
	if err := s.Bounded(); err != nil {
		return shot.Session{}, fmt.Errorf("%w: %w", errDamaged, err)
	}
	return s, nil
}

// session is the order of everything in a link of version 1.
func (f *flow) session(s *shot.Session, names bool) {
	if names {
		f.text(&s.Player.Name)
		f.text(&s.Title)
	}
	f.bool(&f.fine)
	days := int(s.Created / Day)
	f.int(&days, 14)
	s.Created = int64(days) * Day
	left := s.Player.Hand == frame.Left
	f.bool(&left)
	s.Player.Hand = frame.Right
	if left {
		s.Player.Hand = frame.Left
	}
	f.optional(&s.Player.Handicap, 0.1, 7)
	f.text(&s.Ball)
	f.aim(&s.Aim, names)
	f.conditions(&s.Conditions)
	if f.version >= 3 {
		list(f, &s.Airs, 0, maxAirs)
		for i := range s.Airs {
			f.air(&s.Airs[i])
		}
	}
	f.head(&s.Head)
	f.shots(s)
	if f.version >= 5 {
		f.clubs(s)
	}
}

// clubs are those after the first, what clubs share, and which balls are whose:
// two bits where there is one club.
func (f *flow) clubs(s *shot.Session) {
	list(f, &s.Clubs, 0, shot.MaxClubs-1)
	for i := range s.Clubs {
		f.head(&s.Clubs[i])
	}
	parts := false
	for _, h := range s.All() {
		parts = parts || h.Model != "" || h.Shaft.Name != ""
	}
	if f.bool(&parts); parts {
		for i := range len(s.Clubs) + 1 {
			f.text(&s.Club(i).Model)
			f.text(&s.Club(i).Shaft.Name)
		}
	}
	if len(s.Clubs) > 0 {
		f.text(&s.Own)
		f.texts(len(s.Shots), func(i int) *string { return &s.Shots[i].Setting.Club }, true)
	}
}

func (f *flow) aim(a *shot.Aim, names bool) {
	goal, side := string(a.Goal), string(a.Trouble)
	f.choice(&goal, "", string(shot.GoalStrokes), string(shot.GoalFairways))
	f.choice(&side, "", string(frame.SideRight), string(frame.SideLeft))
	f.choice(&a.TroubleKind, "", "penalty", "out")
	a.Goal, a.Trouble = shot.Goal(goal), frame.Side(side)
	f.ground(&a.TroubleAt, 7)
	f.maybe(&a.TroublePMax, 0.005, 4)
	f.ground(&a.FairwayWidth, 7)
	f.ground(&a.HoleLength, 11)
	for _, p := range []**float64{&a.ApexLow, &a.ApexHigh, &a.CarryMin} {
		there := *p != nil
		if f.bool(&there); !there {
			continue
		}
		if f.r != nil {
			*p = new(float64)
		}
		f.ground(*p, 8)
	}
	f.maybe(&a.BallsPerRound, 0.5, 5)
	f.maybe(&a.MinutesLeft, 1, 5)
	f.int(&a.BallsLeft, 2)
	f.maybe(&a.CarryPMin, 0.005, 5)
	f.maybe(&a.ApexPMin, 0.005, 5)
	if f.version >= 2 {
		f.bool(&a.Fixed)
	}
	if f.version >= 3 {
		f.home(&a.Home)
	}
	if f.version >= 4 {
		f.optional(&a.Reaim, stepShare, 6)
		f.maybe(&a.Least, 0.05, 5)
	}
	list(f, &a.Holes, 0, maxHoles)
	for i := range a.Holes {
		h := &a.Holes[i]
		if names { // a hole's name tells where somebody plays
			f.text(&h.Name)
		}
		f.ground(&h.Length, 11)
		f.ground(&h.FairwayWidth, 7)
		side := string(h.Trouble)
		f.choice(&side, "", string(frame.SideRight), string(frame.SideLeft))
		h.Trouble = frame.Side(side)
		f.ground(&h.TroubleAt, 7)
		f.choice(&h.TroubleKind, "", "penalty", "out")
		f.ground(&h.BendAt, 10)
		f.maybe(&h.Bend, stepTurn, 5)
		f.maybe(&h.Weight, 0.05, 5)
	}
}

func (f *flow) home(h **shot.Home) {
	there := *h != nil
	if f.bool(&there); !there {
		return
	}
	if f.r != nil {
		*h = new(shot.Home)
	}
	f.optional(&(*h).Altitude, 1, 7)
	f.maybe(&(*h).Wind, stepWind, 5)
}

func (f *flow) air(a *shot.Air) {
	f.around(&a.Temperature, 288.15, stepTemp, 4)
	f.around(&a.Pressure, 101325, stepPressure, 6)
	f.optional(&a.Humidity, stepShare, 6)
	f.optional(&a.Altitude, 1, 7)
	f.maybe(&a.Wind, stepWind, 5)
	f.maybe(&a.WindFrom, stepTurn, 6)
}

func (f *flow) conditions(c *shot.Conditions) {
	a := c.Air()
	f.air(&a)
	c.SetAir(a)
	f.bool(&c.Indoors)
	f.maybe(&c.Firmness, stepShare, 6)
}

func (f *flow) head(h *club.Head) {
	f.text(&h.Name)
	f.choice(&h.Kind, "", "driver", "fairway")
	f.choice(&h.Hold, "", "between", "soled")
	f.number(&h.Loft, stepLoft, 8)
	f.around(&h.MeasuredLoft, h.Loft, stepLoft, 3)
	f.number(&h.Lie, stepLoft, 11)
	f.maybe(&h.Face, stepClub, 7)
	f.maybe(&h.Mass, stepMass, 11)
	f.maybe(&h.Shaft.Length, stepSmall, 11)
	f.maybe(&h.Shaft.Mass, stepMass, 9)
	f.maybe(&h.Shaft.GripMass, stepMass, 9)
	f.maybe(&h.Shaft.Balance, 0.001, 9)
	f.maybe(&h.Shaft.TotalMass, stepMass, 11)
	f.sleeve(&h.Sleeve)
	list(f, &h.Weights, 0, 8)
	for i := range h.Weights {
		w := &h.Weights[i]
		f.text(&w.Name)
		f.maybe(&w.Mass, stepMass, 7)
		list(f, &w.Stops, 2, maxLabels)
		for j := range w.Stops {
			s := &w.Stops[j]
			f.text(&s.Label)
			f.maybe(&s.Toe, stepStop, 5)
			f.maybe(&s.Back, stepStop, 5)
			f.maybe(&s.Mass, stepMass, 7)
		}
	}
	labels := newIndex(*h)
	f.setting(&h.Current, labels)
	list(f, &h.Exclude, 0, maxLabels)
	for i := range h.Exclude {
		f.setting(&h.Exclude[i], labels)
	}
}

func (f *flow) sleeve(s *club.Sleeve) {
	list(f, &s.Rings, 0, 2)
	for i := range s.Rings {
		r := &s.Rings[i]
		f.number(&r.Tilt, stepClub, 7)
		f.int(&r.Positions, 3)
		f.maybe(&r.Offset, stepClub, 11)
	}
	list(f, &s.Labels, 2, maxLabels)
	for i := range s.Labels {
		f.text(&s.Labels[i])
	}
	list(f, &s.Table, 0, maxLabels)
	for i := range s.Table {
		p := &s.Table[i]
		f.text(&p.Label)
		f.bool(&p.Unknown)
		f.maybe(&p.Loft, stepClub, 7)
		f.maybe(&p.Lie, stepClub, 7)
		f.maybe(&p.Face, stepClub, 7)
	}
}

// index finds labels in a head by number: a setting then takes a few bits.
type index struct {
	sleeve  []string
	weights [][]string
}

func newIndex(h club.Head) index {
	var x index
	x.sleeve = h.Sleeve.Labels
	if len(h.Sleeve.Table) > 0 {
		x.sleeve = nil
		for _, p := range h.Sleeve.Table {
			x.sleeve = append(x.sleeve, p.Label)
		}
	}
	for _, w := range h.Weights {
		var ls []string
		for _, s := range w.Stops {
			ls = append(ls, s.Label)
		}
		x.weights = append(x.weights, ls)
	}
	return x
}

// label is one of a list by number, or written out when it is none of them.
func (f *flow) label(s *string, known []string) {
	bits := 0
	for 1<<bits < len(known)+1 {
		bits++
	}
	at := len(known)
	for i := len(known) - 1; i >= 0; i-- {
		if known[i] == *s {
			at = i
		}
	}
	if f.w != nil {
		f.w.put(uint64(at), bits)
	} else {
		at = int(f.r.get(bits))
	}
	switch {
	case at < len(known):
		*s = known[at]
	case at == len(known):
		f.text(s)
	default:
		f.r.fail("label %d of %d", at, len(known))
	}
}

func (f *flow) setting(s *club.Setting, x index) {
	f.label(&s.Sleeve, x.sleeve)
	usual := len(s.Weights) == len(x.weights)
	if f.bool(&usual); usual {
		if f.r != nil {
			s.Weights = nil
			if n := len(x.weights); n > 0 {
				s.Weights = make([]string, n)
			}
		}
	} else {
		list(f, &s.Weights, 1, 8)
	}
	for i := range s.Weights {
		var known []string
		if i < len(x.weights) {
			known = x.weights[i]
		}
		f.label(&s.Weights[i], known)
	}
}

// shotID is what a shot of a link is called: links keep no identities.
func shotID(i int) string { return "s" + strconv.Itoa(i+1) }
