package pipeline

import (
	"maps"
	"slices"
	"strconv"
	"strings"

	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// rightHanded returns the session as a right-hander would have hit it: every
// compass number turned over, the club left alone because it is kept in the
// player's own terms. For a right-hander it is the session itself. This and
// handedBack are the only places that know of left-handers.
func rightHanded(s shot.Session) shot.Session {
	hand := s.Player.Hand
	if hand != frame.Left {
		return s
	}
	s.Aim.Trouble = hand.MirrorSide(s.Aim.Trouble)
	s.Aim.Holes = slices.Clone(s.Aim.Holes)
	for i := range s.Aim.Holes {
		h := &s.Aim.Holes[i]
		h.Trouble, h.Bend = hand.MirrorSide(h.Trouble), hand.Mirror(h.Bend)
	}
	s.Conditions.WindFrom = hand.Mirror(s.Conditions.WindFrom)
	s.Airs = slices.Clone(s.Airs)
	for i := range s.Airs {
		s.Airs[i].WindFrom = hand.Mirror(s.Airs[i].WindFrom)
	}
	s.Shots = slices.Clone(s.Shots)
	for i := range s.Shots {
		v := maps.Clone(s.Shots[i].Values)
		for q, x := range v {
			if k, ok := shot.KindOf(q); ok && k.Compass {
				v[q] = hand.Mirror(x)
			}
		}
		s.Shots[i].Values = v
	}
	return s
}

// handedBack turns the report of a right-handed equivalent into the report
// for hand, in place.
func handedBack(r *report.Report, hand frame.Hand) {
	r.Hand = hand
	if hand != frame.Left {
		return
	}
	for i := range r.Shots {
		r.Shots[i].Offline = -r.Shots[i].Offline
		r.Shots[i].Drift = -r.Shots[i].Drift
		for _, l := range []*report.Level{r.Shots[i].Level, r.Shots[i].Seen} {
			if l != nil {
				l.Offline = -l.Offline
			}
		}
	}
	if r.Air != nil {
		for i := range r.Air.Means {
			m := &r.Air.Means[i]
			m.Seen.Offline, m.Brought.Offline = -m.Seen.Offline, -m.Brought.Offline
		}
		for i := range r.Air.Blocks {
			b := &r.Air.Blocks[i]
			b.Typed.From, b.Said.From, b.Cross = -b.Typed.From, -b.Said.From, b.Cross.Minus()
		}
	}
	if r.Ball != nil {
		for i := range r.Ball.Airs {
			c := &r.Ball.Airs[i]
			c.Offline = -c.Offline
			switch c.Key { // a mirrored wind from the right is one from the left
			case "right":
				c.Key = "left"
			case "left":
				c.Key = "right"
			}
		}
	}
	for _, p := range []*report.Place{&r.Answer.Today, &r.Answer.Then} {
		p.Side, p.Aim = -p.Side, -p.Aim
	}
	r.Ground.Trouble = hand.MirrorSide(r.Ground.Trouble)
	for i := range r.Settings {
		s := &r.Settings[i]
		s.Aim = -s.Aim
		s.PRight, s.PLeft = s.PLeft, s.PRight
		s.Ellipse.Z, s.Ellipse.Turn = -s.Ellipse.Z, -s.Ellipse.Turn
		for j := range s.Path {
			s.Path[j].Z = -s.Path[j].Z
		}
		mirrorAmounts(s.Quantities)
		mirrorAmounts(s.Raw)
		for j := range s.Differs {
			if f := &s.Differs[j]; f.Quantity == shot.Offline {
				f.Average, f.Expected = -f.Average, -f.Expected
			}
		}
	}
	for i := range r.Moves {
		if args := r.Moves[i].Text.Args; len(args) > 6 { // turned over below, the ends of its side change places
			args[5], args[6] = args[6], args[5]
		}
		for j := range r.Moves[i].Effects {
			e := &r.Moves[i].Effects[j]
			if k, ok := shot.KindOf(e.Quantity); ok && k.Compass {
				e.Value, e.Textbook = e.Value.Minus(), e.Textbook.Minus()
			}
		}
	}
	eachMessage(r, func(m *report.Message) {
		for i := range m.Args { // messages name sides only through FormSide, winds by the keys of their directions
			a := &m.Args[i]
			if a.Form == message.FormSide {
				a.Value = -a.Value
			}
			if d, ok := strings.CutPrefix(a.Text, windKey); ok && a.Form == message.FormKey {
				if n, err := strconv.Atoi(d); err == nil && n != 180 {
					a.Text = compass(-n).Text
				}
			}
		}
	})
}

func mirrorAmounts(as []report.Amount) {
	for i, a := range as {
		if k, ok := shot.KindOf(a.Quantity); ok && k.Compass {
			as[i].Value, as[i].Difference = a.Value.Minus(), a.Difference.Minus()
		}
	}
}

// eachMessage visits every sentence of a report.
func eachMessage(r *report.Report, visit func(*report.Message)) {
	visit(&r.Choice.Headline)
	visit(&r.Stop.Why)
	if r.Air != nil {
		visit(&r.Air.For)
	}
	visit(&r.Todo.Why)
	for i := range r.Todo.Visits {
		visit(&r.Todo.Visits[i].Why)
	}
	for i := range r.Settings {
		for j := range r.Settings[i].Differs {
			visit(&r.Settings[i].Differs[j].Text)
		}
	}
	for _, ms := range [][]report.Message{r.Choice.Why, r.Choice.Flips, r.Notes, r.Cautions} {
		for i := range ms {
			visit(&ms[i])
		}
	}
	for i := range r.Findings {
		visit(&r.Findings[i].Text)
	}
	for i := range r.Next {
		visit(&r.Next[i].Why)
	}
	for i := range r.Confirm {
		visit(&r.Confirm[i].Why)
	}
	for i := range r.Plan {
		visit(&r.Plan[i].Why)
	}
	for i := range r.Moves {
		visit(&r.Moves[i].Text)
	}
	for i := range r.Against {
		visit(&r.Against[i])
	}
	for i := range r.Doubts {
		visit(&r.Doubts[i].Text)
	}
}
