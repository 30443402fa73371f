package act

import (
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/app/kept"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// Balls are those of the open session, as they are typed and corrected.
type Balls struct {
	loop    *Loop
	notices *Notices
	editor  *Editor
	keeper  *Keeper
	drafts  *Drafts

	typed map[string]bool // keys of the balls that this run of the program noted
}

// ballsKey keeps the balls that were typed and may not be stored yet, by session
// and ball.
const ballsKey = "ferrule.balls"

func ballKey(session, ball string) string { return ballsKey + "/" + session + "/" + ball }

// note keeps a ball of the open session until it is stored.
func (bs *Balls) note(h shot.Shot) {
	if text, err := kept.Write(h); err == nil {
		bs.typed[ballKey(bs.editor.session.ID, h.ID)] = true
		bs.keeper.note(ballKey(bs.editor.session.ID, h.ID), text)
	}
}

// has reports whether the ball of an id is among shots; its numbers may have been
// edited.
func has(shots []shot.Shot, id string) bool {
	return slices.ContainsFunc(shots, func(h shot.Shot) bool { return h.ID == id })
}

// forget takes out of the journal those of the balls of s that s holds, or
// those that it does not.
func (bs *Balls) forget(s shot.Session, held bool) {
	prefix := ballKey(s.ID, "")
	for _, key := range bs.loop.deps.Pocket.Keys(prefix) {
		if has(s.Shots, strings.TrimPrefix(key, prefix)) == held {
			bs.keeper.note(key, "")
		}
	}
}

// giveBack puts the balls of the open session that an earlier run of the
// program typed and could not store at its end.
func (bs *Balls) giveBack() {
	var lost []shot.Shot
	for _, key := range bs.loop.deps.Pocket.Keys(ballKey(bs.editor.session.ID, "")) {
		var h shot.Shot
		if bs.typed[key] || kept.Read(bs.loop.deps.Pocket.Load(key), &h) != nil || len(h.Values) == 0 {
			continue
		}
		if bs.keeper.note(key, ""); !has(bs.editor.session.Shots, h.ID) {
			lost = append(lost, h)
		}
	}
	sort.Slice(lost, func(i, j int) bool {
		a, b := lost[i].ID, lost[j].ID
		return len(a) < len(b) || len(a) == len(b) && a < b
	})
	for _, h := range lost {
		bs.editor.Edit(Change{Key: "edit.shot-added"}, func(s *shot.Session) { s.Shots = append(s.Shots, h) })
		bs.note(h)
	}
}

// add puts one ball at the end of the session.
func (bs *Balls) add(v shot.Values, set club.Setting) {
	if bs.editor.session == nil {
		return
	}
	day := bs.editor.day(*bs.editor.session)
	bs.editor.Edit(Change{Key: "edit.shot-added"}, func(s *shot.Session) {
		s.Shots = append(s.Shots, shot.Shot{ID: freshShotID(s.Shots), Setting: cloneSetting(set), Session: day, Air: s.AirNow(), Values: v})
		countDown(s, 1)
	})
}

// AddTyped is Add for a ball that was typed into fields. The ball is in the
// journal until it is stored, and what stands in the fields is done.
func (bs *Balls) AddTyped(v shot.Values, set club.Setting, fields []string) {
	if bs.editor.session == nil || bs.editor.readOnly {
		return
	}
	bs.add(v, set)
	bs.note(bs.editor.session.Shots[len(bs.editor.session.Shots)-1])
	d := maps.Clone(bs.drafts.texts)
	for _, field := range fields {
		delete(d, field)
	}
	bs.drafts.set(d, true)
}

// Remove takes a ball out; Undo brings it back.
func (bs *Balls) Remove(id string) {
	bs.editor.Edit(Change{Key: "edit.shot-removed"}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots = slices.Delete(s.Shots, i, i+1) })
	})
	bs.notices.Tell("notice.shot-removed", true)
}

// Tag says what a ball was.
func (bs *Balls) Tag(id string, t shot.Tag) {
	bs.editor.Edit(Change{Key: "edit.tag"}, func(s *shot.Session) { at(s, id, func(i int) { s.Shots[i].Tag = t }) })
}

// Turn says that a ball landed on the other side of where it was typed.
func (bs *Balls) Turn(id string) {
	bs.editor.Edit(Change{Key: "edit.value"}, func(s *shot.Session) {
		at(s, id, func(i int) {
			for _, q := range []shot.Quantity{shot.Offline, shot.OfflineTotal} {
				if v, ok := s.Shots[i].Values[q]; ok {
					s.Shots[i].Values[q] = -v
				}
			}
		})
	})
}

// Note writes the person's note to a ball.
func (bs *Balls) Note(id, note string) {
	bs.editor.Edit(Change{Key: "edit.note", Field: "note-" + id, Quiet: true}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots[i].Note = note })
	})
}

// SetBall says which ball was hit.
func (bs *Balls) SetBall(id, ball string) {
	bs.editor.Edit(Change{Key: "edit.ball", Field: "ball-" + id}, func(s *shot.Session) {
		at(s, id, func(i int) { s.Shots[i].Ball = ball })
	})
}

// SetValue corrects one number of a ball; nil takes it away.
func (bs *Balls) SetValue(id string, q shot.Quantity, v *float64) {
	bs.editor.Edit(Change{Key: "edit.value", Field: "value-" + id + string(q)}, func(s *shot.Session) {
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

// SetSetting corrects how the club was set for one ball, or for it and all that
// follow with the same setting up to the next change.
func (bs *Balls) SetSetting(id string, set club.Setting, onward bool) {
	bs.editor.Edit(Change{Key: "edit.setting"}, func(s *shot.Session) {
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

// Move moves a ball one place earlier (-1) or later (+1): order matters
// for drift.
func (bs *Balls) Move(id string, by int) {
	bs.editor.Edit(Change{Key: "edit.order"}, func(s *shot.Session) {
		at(s, id, func(i int) {
			j := i + by
			if j >= 0 && j < len(s.Shots) {
				s.Shots[i], s.Shots[j] = s.Shots[j], s.Shots[i]
			}
		})
	})
}

// TakeWind gives the air of a number the wind that its balls say.
func (bs *Balls) TakeWind(number int, speed, from float64) {
	bs.editor.Edit(Change{Key: "edit.air"}, func(s *shot.Session) {
		a := s.AirNumber(number)
		a.Wind, a.WindFrom = speed, from
		s.SetAir(number, a)
	})
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
