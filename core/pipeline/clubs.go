package pipeline

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/club"
	"ferrule/core/impact"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/response"
	"ferrule/core/units"
)

// clubs says whose the settings of an analysis are, where there are several.
type clubs struct {
	heads  []club.Head // the player's own first; nil = one club
	of     []int       // of each setting, index in heads
	anchor []int       // of each club, the setting that it has today
}

// listSettings lists every setting of every club with what it does, and finds
// that of each ball.
func (a *analysis) listSettings() error {
	var err error
	if a.s.Several() {
		err = a.severalClubs()
	} else {
		err = a.oneClub()
	}
	if err != nil {
		return err
	}
	index := map[string]int{}
	for i, st := range a.settings {
		index[st.Key()] = i
	}
	for _, sh := range a.s.Shots {
		at := -1
		if i, ok := index[sh.Setting.Key()]; ok {
			at = i
		} else if sh.Setting.Key() != "" {
			if st, err := a.s.Find(sh.Setting.Key()); err == nil {
				if i, ok := index[st.Key()]; ok {
					at = i
				}
			}
		} else if len(a.settings) == 1 {
			at = 0
		}
		a.at = append(a.at, at)
	}
	return nil
}

func (a *analysis) oneClub() (err error) {
	h := &a.s.Head
	if len(h.Sleeve.Rings)+len(h.Sleeve.Table)+len(h.Weights) == 0 {
		made := HeadFromShots(a.s.Shots)
		if n := len(made.Sleeve.Table); n > mostNamed {
			return message.New("problem.many-settings", n, mostNamed)
		}
		made.Name = h.Name
		*h = made
	} else if err := h.Validate(); err != nil {
		return message.New("problem.club", err)
	}
	a.head = *h
	a.settings = h.Settings()
	if a.changes, err = h.Changes(a.settings); err != nil {
		return message.New("problem.club", err)
	}
	return nil
}

// severalClubs puts the player's own club first, as package shot lists them; a
// club that cannot be set is one setting.
func (a *analysis) severalClubs() error {
	if err := a.s.CheckClubs(); err != nil {
		return message.New("problem.clubs", err)
	}
	all, own := a.s.All(), a.s.OwnAt()
	a.head = all[own]
	a.clubs.heads = append([]club.Head{a.head}, slices.Delete(all, own, own+1)...)
	for i := range a.s.Shots { // a ball that names none is the first club's
		if t := &a.s.Shots[i].Setting; t.Club == "" {
			t.Club = a.s.Head.Name
		}
	}
	for k, h := range a.clubs.heads {
		if err := h.Validate(); err != nil {
			return message.New("problem.club-named", strconv.Quote(h.Name), err)
		}
		list := h.Settings()
		changes, err := h.Changes(list)
		if err != nil {
			return message.New("problem.club-named", strconv.Quote(h.Name), err)
		}
		a.clubs.anchor = append(a.clubs.anchor, len(a.settings))
		for i, t := range list {
			a.settings, a.changes, a.clubs.of = append(a.settings, t.Of(h.Name)), append(a.changes, changes[i]), append(a.clubs.of, k)
		}
	}
	if n := len(a.settings); n > mostTogether {
		return message.New("problem.many-together", n, mostTogether)
	}
	return nil
}

// mostTogether bounds the settings of all clubs, as those of one are.
const mostTogether = 6000

// What another head or shaft may do to a ball beyond what its loft, lie, mass and
// length say, standard deviations: speed [mph], launch, direction [deg], spin
// [rpm], axis [deg]. Judged, no source; of the right size are: heads made to
// draw took players' balls 13.3 yd left on average, three in ten not (a magazine's
// blind test); faces of four heads stood open by two to eight degrees (one
// clubmaker's measurements), of which hands take back most; half of 33 players changed speed with the
// shaft's stiffness, none of them the face [MacKenzieBoucher2016].
var (
	headDoubt  = [response.K]float64{1.6, .8, 1.1, 220, 3.2}
	shaftDoubt = [response.K]float64{1.3, .5, .9, 130, 2.2}
	partUnit   = [response.K]float64{units.MPH, units.Degree, units.Degree, units.RPM, units.Degree}
)

// loftDoubt is how far the stated lofts of two heads may differ otherwise than
// stated (17 heads: sd 1.0 degrees each [GearAppendix]); measured ones by a third
// of a degree (judged).
func loftDoubt(h club.Head) float64 {
	if h.MeasuredLoft != nil {
		return .33 * units.Degree
	}
	return 1.0 * units.Degree
}

// longerShaft is the club speed of an inch more (four handicap groups, 43 to 44
// in: +0.74 mph; one shop's study), as ball speed at a smash of 1.45.
const longerShaft = .74 * 1.45 * units.MPH / units.Inch

// otherKind widens what is believed of a club of another kind.
const otherKind = 2.5

// clubEffects lays out the clubs for the fit: every setting against its own
// club's today, and one effect for each head and each shaft that the player's
// own club has not. Clubs that share a head or a shaft share its effect; what
// comes only together is one effect.
func (a *analysis) clubEffects(in *response.Input) {
	c := &a.clubs
	if c.heads == nil {
		return
	}
	in.Changes = make([]club.Change, len(a.changes))
	for i, ch := range a.changes {
		in.Changes[i] = ch.Against(a.changes[c.anchor[c.of[i]]])
	}
	in.Anchors = c.anchor
	for _, p := range c.parts() {
		q := response.Part{}
		for i, k := range c.of {
			if p.clubs[k] {
				q.Settings = append(q.Settings, i)
			}
		}
		var v [response.K]float64
		if p.head {
			c.headBelief(p.first, &in.Prior, &q, &v)
		}
		if p.shaft {
			c.shaftBelief(p.first, &q, &v)
		}
		for k := range v {
			q.SD[k] = math.Sqrt(v[k])
		}
		in.Parts = append(in.Parts, q)
	}
}

// clubPart is a head, a shaft or both, and the clubs that have it.
type clubPart struct {
	head, shaft bool
	first       int
	clubs       []bool
}

// parts lists the heads and the shafts other than those of the player's own club.
func (c *clubs) parts() []clubPart {
	var out []clubPart
	find := func(same func(a, b club.Head) bool, shaft bool) {
		for k := 1; k < len(c.heads); k++ {
			if same(c.heads[k], c.heads[0]) || slices.ContainsFunc(c.heads[1:k], func(h club.Head) bool { return same(h, c.heads[k]) }) {
				continue
			}
			p := clubPart{head: !shaft, shaft: shaft, first: k, clubs: make([]bool, len(c.heads))}
			for j := k; j < len(c.heads); j++ {
				p.clubs[j] = j == k || same(c.heads[j], c.heads[k])
			}
			if i := slices.IndexFunc(out, func(q clubPart) bool { return slices.Equal(p.clubs, q.clubs) }); i >= 0 {
				out[i].shaft = true
				continue
			}
			out = append(out, p)
		}
	}
	find(club.Head.SameHead, false)
	find(club.Head.SameShaft, true)
	return out
}

// headBelief adds what loft, lie and mass of club k's head do beside those of the
// player's own, and how little that says.
func (c *clubs) headBelief(k int, prior *impact.Prior, q *response.Part, v *[response.K]float64) {
	h, own := c.heads[k], c.heads[0]
	lie := cmp.Or(own.Lie, 58*units.Degree)
	loft, upright, mass := h.BestLoft()-own.BestLoft(), h.Lie-own.Lie, h.Mass-own.Mass
	doubt := math.Hypot(loftDoubt(h), loftDoubt(own))
	wide := 1.0
	if h.KindOf() != own.KindOf() {
		wide = otherKind
	}
	for i := range response.K {
		lofts := 0.0 // another head's loft closes no face: speed, launch and spin alone
		if i == 0 || i == 1 || i == 3 {
			lofts = prior.Mean[0][i] * math.Sin(lie)
		}
		q.Mean[i] += lofts*loft + prior.Mean[1][i]*upright + prior.Mean[4][i]*mass
		sd := wide * headDoubt[i] * partUnit[i]
		v[i] += sd*sd + lofts*lofts*doubt*doubt + math.Pow(.3*lofts*loft, 2)
	}
}

// shaftBelief is the same of club k's shaft and length.
func (c *clubs) shaftBelief(k int, q *response.Part, v *[response.K]float64) {
	h, own := c.heads[k].Shaft, c.heads[0].Shaft
	longer := 0.0
	if h.Length > 0 && own.Length > 0 {
		longer = longerShaft * (h.Length - own.Length)
	}
	q.Mean[0] += longer
	v[0] += longer * longer / 4 // strike often eats what speed gives
	for i := range response.K {
		sd := shaftDoubt[i] * partUnit[i]
		v[i] += sd * sd
	}
}

// writeClubs says what the balls cannot tell of the clubs: which of head and
// shaft it is where both were changed together, and clubs that were not hit.
func (a *analysis) writeClubs(r *report.Report) {
	c := &a.clubs
	if c.heads == nil {
		return
	}
	hit := make([]bool, len(c.heads))
	for _, o := range a.obs {
		hit[c.of[o.Setting]] = true
	}
	own := report.Label(c.heads[0].Name)
	for k := range c.heads {
		if !hit[k] {
			r.Doubts = append(r.Doubts, report.Doubt{Setting: c.anchor[k], Balls: response.ResolveBalls, Text: report.Say("clubs.unhit", report.Label(c.heads[k].Name))})
		}
	}
	if !hit[0] {
		return // nothing was compared with it
	}
	seen := func(p clubPart) string { // the clubs that were hit with it
		var b strings.Builder
		for k, has := range p.clubs {
			if has && hit[k] {
				fmt.Fprint(&b, k, " ")
			}
		}
		return b.String()
	}
	parts := c.parts()
	for i, p := range parts {
		both := p.head && p.shaft
		for _, q := range parts[:i] {
			both = both || p.shaft && q.head && seen(p) == seen(q)
		}
		if both && seen(p) != "" {
			d := report.Doubt{Setting: -1, Text: report.Say("clubs.together", report.Label(c.heads[p.first].Name), own)}
			r.Doubts = append(r.Doubts, d)
			r.Findings = append(r.Findings, report.Finding{Kind: "confounded", Text: d.Text, Weight: 1})
		}
	}
}
