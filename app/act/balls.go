package act

import (
	"slices"
	"sort"

	"ferrule/app/kept"
	"ferrule/core/shot"
)

// ballsKey keeps the balls that were typed and may not be stored yet, by session
// and ball.
const ballsKey = "ferrule.balls"

func ballKey(session, ball string) string { return ballsKey + "/" + session + "/" + ball }

// noteBall keeps a ball of the open session until it is stored.
func (m *Model) noteBall(h shot.Shot) {
	if text, err := kept.Write(h); err == nil {
		m.typed[ballKey(m.s.Session.ID, h.ID)] = true
		m.note(ballKey(m.s.Session.ID, h.ID), text)
	}
}

// has reports whether a ball is among shots; its numbers may have been edited.
func has(shots []shot.Shot, h shot.Shot) bool {
	return slices.ContainsFunc(shots, func(o shot.Shot) bool { return o.ID == h.ID })
}

// keptBalls hands the balls that the journal has of a session to f, with their keys.
func (m *Model) keptBalls(session string, f func(key string, h shot.Shot)) {
	for _, key := range m.deps.Pocket.Keys(ballKey(session, "")) {
		var h shot.Shot
		if kept.Read(m.deps.Pocket.Load(key), &h) == nil && len(h.Values) > 0 {
			f(key, h)
		}
	}
}

// forgetBalls takes those of a session's balls out of the journal that done names.
func (m *Model) forgetBalls(session string, done func(h shot.Shot) bool) {
	m.keptBalls(session, func(key string, h shot.Shot) {
		if done(h) {
			m.note(key, "")
		}
	})
}

// returnBalls puts the balls of the open session that an earlier run of the
// program typed and could not store at its end.
func (m *Model) returnBalls() {
	var lost []shot.Shot
	m.keptBalls(m.s.Session.ID, func(key string, h shot.Shot) {
		if m.typed[key] {
			return
		}
		if m.note(key, ""); !has(m.s.Session.Shots, h) {
			lost = append(lost, h)
		}
	})
	sort.Slice(lost, func(i, j int) bool {
		a, b := lost[i].ID, lost[j].ID
		return len(a) < len(b) || len(a) == len(b) && a < b
	})
	for _, h := range lost {
		m.Edit(Change{Key: "edit.shot-added"}, func(s *shot.Session) { s.Shots = append(s.Shots, h) })
		m.noteBall(h)
	}
}
