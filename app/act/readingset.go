package act

import (
	"maps"
	"slices"
	"sort"
	"strconv"
	"strings"

	"ferrule/core/shot"
)

// said is all that a person has said of a file that is being read.
type said struct {
	columns []shot.Column
	answers map[string]string
	marks   map[int]int
}

func (m *Model) said() said {
	g := m.s.Reading
	return said{g.columns, g.answers, g.marks}
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
	g.columns, g.answers, g.marks = last.columns, last.answers, last.marks
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

// ofLines reports an answer about lines of one file: it is not for the next.
func ofLines(id string) bool {
	k := strings.LastIndex(id, " in ")
	return k > 0 && strings.IndexAny(strings.TrimPrefix(id[k+4:], "lines "), "0123456789") == 0
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

// Line is one line of a file's time line: balls that follow each other without a
// break.
type Line struct {
	shot.FilePart
	Use  int // index of the head's setting they were hit with, -1 = as the file says
	Kept int // balls that are not left out
}

// SplitField is the draft of the balls at which the time line is cut.
const SplitField = "file-split"

// asBefore begins a line of the time line and says nothing of its setting.
const asBefore = -2

// SetFrom says with which of the head's settings the balls from one on were hit,
// up to the next of which the same was said; -1 is as the file says.
func (m *Model) SetFrom(ball, use int) { m.mark(map[int]int{ball: use}) }

// Split begins lines of the time line at balls, counted from 1: "7", "7-12" or
// several of these. It reports whether the text could be used.
func (m *Model) Split(text string) bool {
	g := m.s.Reading
	marks := map[int]int{}
	for _, part := range strings.FieldsFunc(text, func(r rune) bool { return r == ' ' || r == ',' || r == ';' || r == '、' }) {
		from, to, ranged := strings.Cut(strings.ReplaceAll(part, "–", "-"), "-")
		a, err := strconv.Atoi(from)
		b := a
		if ranged && err == nil {
			b, err = strconv.Atoi(to)
			b++
		}
		if err != nil || g.Table == nil || a < 1 || b < a || b > len(g.Table.Shots)+1 || a > len(g.Table.Shots) {
			return false
		}
		for _, at := range []int{a - 1, b - 1} {
			if _, said := g.marks[at]; !said && at < len(g.Table.Shots) {
				marks[at] = asBefore
			}
		}
	}
	if len(marks) > 0 {
		m.mark(marks)
	}
	return true
}

func (m *Model) mark(more map[int]int) {
	m.remind()
	marks := map[int]int{}
	maps.Copy(marks, m.s.Reading.marks)
	maps.Copy(marks, more)
	m.s.Reading.marks = marks
	m.s.Reading.Lines = m.s.Reading.lines()
	m.changed()
}

// lines cuts a file where it breaks and where the person said so.
func (g Reading) lines() []Line {
	if g.Table == nil || len(g.Table.Shots) == 0 {
		return nil
	}
	starts := []int{0}
	for _, p := range g.Table.Parts {
		starts = append(starts, p.From)
	}
	starts = append(slices.AppendSeq(starts, maps.Keys(g.marks)), len(g.Table.Shots))
	sort.Ints(starts)
	starts = slices.Compact(starts)
	var out []Line
	now, part := -1, 0
	for k, from := range starts[:len(starts)-1] {
		if use, said := g.marks[from]; said && use != asBefore {
			now = use
		}
		l := Line{Use: now}
		for part+1 < len(g.Table.Parts) && g.Table.Parts[part+1].From <= from {
			part++
		}
		if part < len(g.Table.Parts) {
			l.FilePart = g.Table.Parts[part]
		}
		if l.From != from {
			l.From, l.Why = from, ""
		}
		l.Balls = starts[k+1] - from
		for _, h := range g.Table.Shots[from:starts[k+1]] {
			if h.Tag != shot.TagOut {
				l.Kept++
			}
		}
		out = append(out, l)
	}
	return out
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
func (m *Model) AcceptNew() { m.onceRead(m.acceptNew) }

func (m *Model) acceptNew() {
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
