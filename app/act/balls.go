package act

import (
	"slices"
	"sort"
	"strings"

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

// has reports whether the ball of an id is among shots; its numbers may have been
// edited.
func has(shots []shot.Shot, id string) bool {
	return slices.ContainsFunc(shots, func(h shot.Shot) bool { return h.ID == id })
}

// forgetBalls takes out of the journal those of the balls of s that s holds, or
// those that it does not.
func (m *Model) forgetBalls(s shot.Session, held bool) {
	prefix := ballKey(s.ID, "")
	for _, key := range m.deps.Pocket.Keys(prefix) {
		if has(s.Shots, strings.TrimPrefix(key, prefix)) == held {
			m.note(key, "")
		}
	}
}

// returnBalls puts the balls of the open session that an earlier run of the
// program typed and could not store at its end.
func (m *Model) returnBalls() {
	var lost []shot.Shot
	for _, key := range m.deps.Pocket.Keys(ballKey(m.s.Session.ID, "")) {
		var h shot.Shot
		if m.typed[key] || kept.Read(m.deps.Pocket.Load(key), &h) != nil || len(h.Values) == 0 {
			continue
		}
		if m.note(key, ""); !has(m.s.Session.Shots, h.ID) {
			lost = append(lost, h)
		}
	}
	sort.Slice(lost, func(i, j int) bool {
		a, b := lost[i].ID, lost[j].ID
		return len(a) < len(b) || len(a) == len(b) && a < b
	})
	for _, h := range lost {
		m.Edit(Change{Key: "edit.shot-added"}, func(s *shot.Session) { s.Shots = append(s.Shots, h) })
		m.noteBall(h)
	}
}
