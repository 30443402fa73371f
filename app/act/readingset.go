package act

import (
	"slices"
	"strings"

	"ferrule/core/shot"
)

// said is all that a person has said of a file that is being read.
type said struct {
	columns []shot.Column
	answers map[string]string
	parts   map[int]int
}

func (m *Model) said() said {
	g := m.s.Reading
	return said{g.columns, g.answers, g.parts}
}

// remind keeps what was said before a change, so that it is undone by one tap.
func (m *Model) remind() {
	m.s.Reading.before = append(slices.Clone(m.s.Reading.before), m.said())
	m.s.Reading.Undo = len(m.s.Reading.before)
}

// UndoReading takes the last word on the file back.
func (m *Model) UndoReading() {
	g := &m.s.Reading
	n := len(g.before)
	if n == 0 {
		return
	}
	last := g.before[n-1]
	g.before, g.Undo = g.before[:n-1], n-1
	g.columns, g.answers, g.parts = last.columns, last.answers, last.parts
	m.remember(g.shape, g.columns, g.answers)
	m.read()
}

// Answer answers a question of the file and reads it again.
func (m *Model) Answer(id, value string) {
	m.remind()
	answers := map[string]string{}
	for k, v := range m.s.Reading.answers {
		answers[k] = v
	}
	answers[id] = value
	m.s.Reading.answers = answers
	m.remember(m.s.Reading.shape, m.s.Reading.columns, answers)
	m.read()
}

// KeepClub says whether the balls of one club of the file belong to the session.
func (m *Model) KeepClub(name string, keep bool) {
	g := m.s.Reading
	if g.Table == nil {
		return
	}
	open := slices.ContainsFunc(g.Table.Questions, func(q shot.Question) bool { return q.ID == "clubs" && q.Open })
	var names []string
	for _, c := range g.Table.Clubs {
		on := c.Kept && !open // nothing is chosen before somebody says so
		if c.Name == name {
			on = keep
		}
		if on {
			names = append(names, c.Name)
		}
	}
	if len(names) == 0 {
		return
	}
	m.Answer("clubs", strings.Join(names, "\n"))
}

// SetPart says with which of the head's settings the balls from a part of the
// file on were hit, up to the next part of which the same was said.
func (m *Model) SetPart(part, use int) {
	m.remind()
	parts := map[int]int{}
	for k, v := range m.s.Reading.parts {
		parts[k] = v
	}
	parts[part] = use
	m.s.Reading.parts = parts
	m.s.Reading.Parts = m.s.Reading.spread()
	m.changed()
}

// spread is the setting of each part, as an index of the head's settings; -1 =
// nothing was said.
func (g Reading) spread() []int {
	if g.Table == nil {
		return nil
	}
	out := make([]int, len(g.Table.Parts))
	now := -1
	for k := range out {
		if use, ok := g.parts[k]; ok {
			now = use
		}
		out[k] = now
	}
	return out
}

// partOf is the part in which the i-th shot of the file stands.
func (g Reading) partOf(i int) int {
	k := 0
	for k+1 < len(g.Table.Parts) && g.Table.Parts[k+1].From <= i {
		k++
	}
	return k
}

// open reports whether a question is open whose answer says which balls count.
func (g Reading) open() int {
	n := 0
	for _, q := range g.Table.Questions {
		if q.Open {
			n++
		}
	}
	return n
}

// Days are the days that shots name, as written, in their order, at most a few.
func Days(shots []shot.Shot) []string {
	var out []string
	for _, h := range shots {
		day, _, _ := strings.Cut(strings.ReplaceAll(h.Clock, "T", " "), " ")
		if day == "" || strings.Contains(day, ":") || slices.Contains(out, day) {
			continue
		}
		if out = append(out, day); len(out) == 4 {
			break
		}
	}
	return out
}

// AcceptNew makes a new session of the shots that were read, of the player whom
// the file names, with the club of the session that is open.
func (m *Model) AcceptNew() {
	g := m.s.Reading
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return
	}
	waiting := m.waiting
	m.left(g.kept)
	m.s.Reading, m.waiting = Reading{}, nil
	who := ""
	if len(g.Table.Players) == 1 {
		who = g.Table.Players[0]
	}
	m.anew(func(s *shot.Session, before shot.Session) {
		if other := before.Player.Name; who != "" && !strings.EqualFold(strings.TrimSpace(other), who) && other != "" {
			s.Head, s.Ball = before.Head, before.Ball
		} else {
			sameDay(s, before)
		}
	}, func() {
		if who != "" && m.s.Session.Player.Name == "" {
			m.s.Session.Player.Name = who
		}
		g.Known = 0
		m.take(g, waiting)
	})
}
