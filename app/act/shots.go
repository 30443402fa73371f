package act

import (
	"maps"
	"slices"
	"strconv"
	"time"

	"ferrule/core/club"
	"ferrule/core/shot"
)

// AddShot puts one ball at the end of the session.
func (m *Model) AddShot(v shot.Values, set club.Setting) {
	if m.s.Session == nil {
		return
	}
	day := m.day(*m.s.Session)
	m.Edit(Change{Key: "edit.shot-added"}, func(s *shot.Session) {
		s.Shots = append(s.Shots, shot.Shot{ID: freshShotID(s.Shots), Setting: cloneSetting(set), Session: day, Air: s.AirNow(), Values: v})
		countDown(s, 1)
	})
}

// day is the part of the session that a ball typed now belongs to: the date,
// from the day after it was begun on. A player is another one the next day, and
// the analysis gives each part a level of its own.
func (m *Model) day(s shot.Session) string {
	now := m.deps.Now()
	if today := now.Format(time.DateOnly); today != time.Unix(s.Created, 0).In(now.Location()).Format(time.DateOnly) {
		return today
	}
	return ""
}

// countDown takes balls that were hit from those that are left; less than none
// says that they are used up.
func countDown(s *shot.Session, hit int) {
	if n := s.Aim.BallsLeft; n > 0 {
		if s.Aim.BallsLeft = n - hit; s.Aim.BallsLeft <= 0 {
			s.Aim.BallsLeft = -1
		}
	}
}

// AddTyped is AddShot for a ball that was typed into fields. The ball is in the
// journal until it is stored, and what stands in the fields is done.
func (m *Model) AddTyped(v shot.Values, set club.Setting, fields []string) {
	if m.s.Session == nil || m.s.ReadOnly {
		return
	}
	m.AddShot(v, set)
	m.noteBall(m.s.Session.Shots[len(m.s.Session.Shots)-1])
	d := maps.Clone(m.s.Drafts)
	for _, field := range fields {
		delete(d, field)
	}
	m.setDrafts(d, true)
}

// freshShotID is one more than the highest number in use, so that an id is
// never given twice even after removals and undo.
func freshShotID(shots []shot.Shot) string { return freshIDs(shots)() }

// freshIDs hands out one unused id after the other.
func freshIDs(shots []shot.Shot) func() string {
	top := 0
	for _, h := range shots {
		if n, err := strconv.Atoi(h.ID); err == nil && n > top {
			top = n
		}
	}
	return func() string { top++; return strconv.Itoa(top) }
}

// at runs f on the shot with the given id.
func at(s *shot.Session, id string, f func(i int)) {
	if i := slices.IndexFunc(s.Shots, func(h shot.Shot) bool { return h.ID == id }); i >= 0 {
		f(i)
	}
}

// RemoveShot takes a ball out; Undo brings it back.
func (m *Model) RemoveShot(id string) {
	m.Edit(Change{Key: "edit.shot-removed"}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots = slices.Delete(s.Shots, i, i+1) })
	})
	m.say("notice.shot-removed", true)
}

// TagShot says what a ball was.
func (m *Model) TagShot(id string, t shot.Tag) {
	m.Edit(Change{Key: "edit.tag"}, func(s *shot.Session) { at(s, id, func(i int) { s.Shots[i].Tag = t }) })
}

// TurnShot says that a ball landed on the other side of where it was typed.
func (m *Model) TurnShot(id string) {
	m.Edit(Change{Key: "edit.value"}, func(s *shot.Session) {
		at(s, id, func(i int) {
			for _, q := range []shot.Quantity{shot.Offline, shot.OfflineTotal} {
				if v, ok := s.Shots[i].Values[q]; ok {
					s.Shots[i].Values[q] = -v
				}
			}
		})
	})
}

// NoteShot writes the person's note to a ball.
func (m *Model) NoteShot(id, note string) {
	m.Edit(Change{Key: "edit.note", Field: "note-" + id, Quiet: true}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots[i].Note = note })
	})
}

// BallShot says which ball was hit.
func (m *Model) BallShot(id, ball string) {
	m.Edit(Change{Key: "edit.ball", Field: "ball-" + id}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots[i].Ball = ball })
	})
}

// ValueShot corrects one number of a ball; nil takes it away.
func (m *Model) ValueShot(id string, q shot.Quantity, v *float64) {
	m.Edit(Change{Key: "edit.value", Field: "value-" + id + string(q)}, func(s *shot.Session) {
		at(s, id, func(i int) {
			if v == nil {
				delete(s.Shots[i].Values, q)
				return
			}
			if s.Shots[i].Values == nil {
				s.Shots[i].Values = shot.Values{}
			}
			s.Shots[i].Values[q] = *v
			s.Shots[i].Assumed = slices.DeleteFunc(s.Shots[i].Assumed, func(a shot.Quantity) bool { return a == q })
		})
	})
}

// SetShot corrects how the club was set for one ball, or for it and all that
// follow with the same setting up to the next change.
func (m *Model) SetShot(id string, set club.Setting, onward bool) {
	m.Edit(Change{Key: "edit.setting"}, func(s *shot.Session) {
		at(s, id, func(i int) {
			old := s.Shots[i].Setting
			for ; i < len(s.Shots); i++ {
				if !s.Shots[i].Setting.Equal(old) {
					return
				}
				s.Shots[i].Setting = cloneSetting(set)
				if !onward {
					return
				}
			}
		})
	})
}

// MoveShot moves a ball one place earlier (-1) or later (+1): order matters
// for drift.
func (m *Model) MoveShot(id string, by int) {
	m.Edit(Change{Key: "edit.order"}, func(s *shot.Session) {
		at(s, id, func(i int) {
			j := i + by
			if j >= 0 && j < len(s.Shots) {
				s.Shots[i], s.Shots[j] = s.Shots[j], s.Shots[i]
			}
		})
	})
}

// TakeWind gives the air of a number the wind that its balls say.
func (m *Model) TakeWind(number int, speed, from float64) {
	m.Edit(Change{Key: "edit.air"}, func(s *shot.Session) {
		a := s.AirNumber(number)
		a.Wind, a.WindFrom = speed, from
		s.SetAir(number, a)
	})
}
