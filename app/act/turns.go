package act

import (
	"slices"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// Turns is a change that is hit in turn: today's setting, the new one, today's
// again.
type Turns struct {
	Today, New club.Setting
	After      string // id of the last ball before it
}

// inTurn is how many balls a turn has.
const inTurn = 3

// turnsKey keeps, by session, a change that is being hit in turn.
const turnsKey = "ferrule.turns/"

// StartTurns has a new setting hit in turn with today's.
func (b *Bay) StartTurns(today, fresh club.Setting) {
	if b.editor.session == nil {
		return
	}
	t := Turns{Today: today, New: fresh}
	if n := len(b.editor.session.Shots); n > 0 {
		t.After = b.editor.session.Shots[n-1].ID
	}
	b.setTurns(&t)
}

// StopTurns ends it.
func (b *Bay) StopTurns() { b.setTurns(nil) }

func (b *Bay) setTurns(t *Turns) {
	b.turns = t
	text := ""
	if t != nil {
		text, _ = kept.Write(*t)
	}
	b.keeper.note(turnsKey+b.editor.session.ID, text)
	b.loop.changed()
}

// storedTurns is what was being hit in turn; damaged counts as nothing.
func (b *Bay) storedTurns(id string) *Turns {
	var t Turns
	if text := b.loop.deps.Pocket.Load(turnsKey + id); text == "" || kept.Read(text, &t) != nil {
		return nil
	}
	return &t
}

// Turn is which setting is to be hit now and how many balls of it; none left: all
// were hit. Balls with another setting between are not counted.
func (s State) Turn() (set club.Setting, left int) {
	t := s.Turns
	shots := s.Session.Shots
	at := slices.IndexFunc(shots, func(h shot.Shot) bool { return h.ID == t.After })
	left = inTurn
	order := []club.Setting{t.Today, t.New, t.Today}
	for _, h := range shots[at+1:] {
		if h.Tag == shot.TagOut || h.Tag == shot.TagWarmup || !s.Session.Canonical(h.Setting).Equal(s.Session.Canonical(order[0])) {
			continue
		}
		if left--; left > 0 {
			continue
		}
		if order = order[1:]; len(order) == 0 {
			return t.New, 0
		}
		left = inTurn
	}
	return order[0], left
}

// Adopt takes a setting of the answer up: it is today's of the next session.
func (b *Bay) Adopt(setting club.Setting) {
	r := b.answers.state.Value
	if r == nil || b.editor.session == nil {
		return
	}
	for i, x := range r.Settings {
		if !x.Setting.Equal(setting) {
			continue
		}
		d := shot.Decision{When: max(b.loop.deps.Now().Unix(), b.editor.session.Created), Setting: cloneSetting(setting), Goal: r.Goal, Chance: x.PBetter}
		switch {
		case i == r.Answer.Other:
			d.Chance = r.Answer.Chance
		case i == r.Reference && r.Answer.Other >= 0:
			d.Chance = 1 - r.Answer.Chance
		}
		for q, to := range map[shot.Quantity]*shot.Expected{shot.Carry: &d.Carry, shot.Offline: &d.Side} {
			if a, ok := x.Of(q); ok {
				*to = shot.Expected{Mean: a.Value.Mean, Lo: a.Value.Lo80, Hi: a.Value.Hi80}
			}
		}
		b.editor.Edit(Change{Key: "edit.adopt", Quiet: true}, func(s *shot.Session) { s.Adopted = &d })
		b.setTurns(nil)
		b.notices.Tell("notice.adopted", true)
		return
	}
}

// adopted has a session begin with what was taken up in the one before as today's.
func adopted(s *shot.Session, before shot.Session) {
	d := before.Adopted
	if s.Adopted = d; d == nil || d.Before(before) { // it was today's then: what was set since stands
		return
	}
	k := s.ClubAt(d.Setting.Club)
	if k < 0 {
		return
	}
	h := s.Club(k)
	if set := d.Setting.Of(""); slices.ContainsFunc(h.Settings(), set.Equal) {
		h.Current = cloneSetting(set)
		if s.Several() {
			s.Own = h.Name
		}
	}
}
