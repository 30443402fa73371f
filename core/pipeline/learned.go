package pipeline

import (
	"slices"

	"ferrule/core/message"
	"ferrule/core/record"
	"ferrule/core/response"
	"ferrule/core/shot"
	"ferrule/core/wire"
)

// before is what a question says was learned before. What of it cannot be read is
// no reason to answer nothing: the report says it.
func before(m *wire.Memory) (out Memory) {
	if m == nil {
		return out
	}
	out.Visits, out.unread = m.Visits, map[*record.Record]error{}
	for _, h := range m.Heads {
		r, err := together(h)
		if err != nil {
			r = record.New(h.Head)
			out.unread[r] = err
		}
		out.Records = append(out.Records, r)
	}
	return out
}

// together is the record of a head with its parts. Of a player whose sessions it
// holds already nothing is added, of one some of whose it holds as much as is new.
func together(m wire.OfHead) (*record.Record, error) {
	r := record.New(m.Head)
	if len(m.Record) > 0 {
		var err error
		if r, err = record.Decode(m.Record); err != nil {
			return nil, err
		}
	}
	for _, p := range m.Parts {
		fresh := false
		for _, mark := range p.Seen {
			fresh = fresh || !r.Knows(mark)
		}
		if !fresh {
			continue
		}
		one := record.New(r.Head)
		if err := one.Add(player(p)); err != nil {
			return nil, err
		}
		if _, err := r.Merge(one); err != nil {
			return nil, err
		}
	}
	return r, nil
}

// part and player are the two forms of what a player's sessions say.
func part(p record.Player) wire.Part {
	out := wire.Part{Features: p.Features, Vec: p.Vec, Seen: p.Seen}
	for i, e := 0, len(p.Vec); i < e; i++ {
		out.Info = append(out.Info, p.Info[i*e+i:i*e+e]...)
	}
	return out
}

func player(p wire.Part) record.Player {
	e := len(p.Vec)
	out := record.Player{Features: p.Features, Vec: p.Vec, Seen: p.Seen}
	if len(p.Info) != e*(e+1)/2 || e > len(p.Features)*response.K {
		return out // of a wrong size: the record refuses it
	}
	out.Info = make([]float64, e*e)
	for i, at := 0, 0; i < e; i++ {
		for j := i; j < e; j, at = j+1, at+1 {
			out.Info[i*e+j], out.Info[j*e+i] = p.Info[at], p.Info[at]
		}
	}
	return out
}

// learnt answers wire.Learn.
func learnt(q wire.Learn, progress Progress) (out wire.Learned, err error) {
	for i, sessions := range q.Players {
		p, err := pooled(record.New(q.Head), sessions)
		var why message.Message
		if err != nil {
			why = message.From(err)
		}
		out.Parts, out.Why = append(out.Parts, part(p)), append(out.Why, why)
		if progress != nil {
			progress("learn", float64(i+1)/float64(len(q.Players)))
		}
	}
	r, err := together(q.OfHead)
	if err != nil {
		return out, err
	}
	if len(q.Other) > 0 {
		o, err := record.Decode(q.Other)
		if err != nil {
			return out, err
		}
		if out.Both, err = r.Merge(o); err != nil {
			return out, err
		}
		out.Theirs, out.New = o.Players, len(o.Seen)-out.Both
	}
	if out.Players = r.Players; r.Features != nil {
		out.Record, err = r.Encode()
	}
	return out, err
}

// pooled is what one player's sessions say together, of those that the record does
// not hold.
func pooled(r *record.Record, sessions []shot.Session) (p record.Player, err error) {
	err = ErrTaught
	for _, s := range sessions {
		if m := Mark(s); r.Knows(m) || slices.Contains(p.Seen, m) { // or a copy of one
			continue
		}
		q, why := Player(r, s)
		if why != nil {
			err = why
			continue
		}
		if p.Info == nil {
			p = q
			continue
		}
		for i, v := range q.Info {
			p.Info[i] += v
		}
		for i, v := range q.Vec {
			p.Vec[i] += v
		}
		p.Seen = append(p.Seen, q.Seen...)
	}
	if p.Info != nil {
		err = nil
	}
	return p, err
}
