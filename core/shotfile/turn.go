package shotfile

import (
	"strconv"

	"ferrule/core/message"
	"ferrule/core/shot"
)

// camps are the columns that go with the anchor and those that go against it, where
// nothing says which way they go.
type camps struct {
	weight [2]float64
	habits [2]int  // independent columns among them
	known  float64 // sign of the anchor's camp, by what letters, the header or the person say,
	said   bool    // where one of them says it
}

func (p *signAudit) camps(rel map[*column]relation) (k camps) {
	for _, c := range p.cols {
		r, ok := rel[c]
		if !ok {
			continue
		}
		s := r.sign
		if c.fixed || c.worded > 0 || c.side != 0 { // letters, the header or the person say which way it goes
			want := s
			if c.side < 0 && c.worded == 0 {
				want = -s
			}
			if s != 0 && !k.said {
				k.known, k.said = want, true
			}
			continue
		}
		i := 0
		if s < 0 {
			i = 1
		}
		if s != 0 {
			k.weight[i] += weight(c.quantity)
			if weight(c.quantity) >= 1 {
				k.habits[i]++
			}
		}
	}
	return k
}

// turn settles which camp is right-positive in the rows and turns the other.
func (p *signAudit) turn(rows []int, named bool) {
	rel := p.relations(rows)
	k := p.camps(rel)
	flip := 1.0 // sign of the anchor's camp
	switch {
	case k.said:
		flip = k.known
	case k.weight[1] > k.weight[0]:
		flip = -1
	}
	var where span
	if named {
		where = p.where(rows)
		if c := p.cols.spinning(); c != nil && rel[c].sign == 0 && median(c, rows) != 0 { // the other blocks say nothing of it
			r := rel[c]
			r.torn, r.curved = true, true
			rel[c] = r
		}
	}
	// One against one: an axis is turned more often than a landing side, but a
	// start line or a face is not; and two habits are no slip.
	alone := k.habits[0] == 1 && (against(rel, p.cols.of(shot.LaunchDirection)) || against(rel, p.cols.of(shot.Face)))
	if !k.said && k.habits[1] > 0 && (k.weight[1] >= k.weight[0] || k.habits[1] > 1 && k.weight[1]*2 > k.weight[0] || alone) {
		one, other := p.going(rel, 1), p.going(rel, -1)
		p.ask(append(one, other...), where.said("problem.disagree", names(one), names(other)))
	}
	for _, c := range p.cols {
		if r, ok := rel[c]; ok {
			p.settle(c, r, flip, rows, where)
		} else if c.side < 0 && c.worded == 0 && !c.fixed && c.quantity != "" && c.kind.Compass {
			p.flip(c, rows, message.Of("problem.left-positive"), where)
		}
	}
}

// settle turns one column over, asks about it or keeps what tells its side, when the
// camp of the anchor has the sign flip.
func (p *signAudit) settle(c *column, r relation, flip float64, rows []int, where span) {
	switch {
	case r.torn && !c.fixed && c.worded == 0:
		c.add(r.text)
		if r.curved {
			p.askCurve(c, rows, where, r.text)
		} else {
			p.ask([]*column{c}, where.said("problem.positive-right", r.text, strconv.Quote(c.header)))
		}
	case c.fixed || c.worded > 0:
		if c.worded > 0 && r.sign != 0 && r.sign != flip {
			p.ask([]*column{c}, where.said("problem.sides-contradict", strconv.Quote(c.header), r.text))
		}
		if r.text.Key != "" {
			c.add(r.text)
		}
	case r.sign != 0 && r.sign != flip, r.sign == 0 && c.side < 0:
		why := r.text
		if why.Key == "" {
			why = message.Of("problem.others-against")
		}
		p.flip(c, rows, why, where)
	case r.text.Key != "":
		c.add(r.text)
	}
}
