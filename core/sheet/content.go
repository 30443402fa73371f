// Package sheet makes the fitting sheet of a session: one page to take home,
// with the setting, what to expect, the shots behind it, what was not tried,
// how to check it on the course and when to test again.
//
// Make gathers the sheet as a plain value (Content) that a page can draw in
// its own way; HTML prints it as one self-contained document with its styles
// and drawings inside and no script; Plain writes it as text for a message.
// What nobody measured or wrote is left out.
//
// Begin with Plain and its example.
package sheet

import (
	"cmp"
	"math"
	"strconv"
	"strings"
	"time"

	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/text"
	"ferrule/core/units"
)

// Options say what is printed.
type Options struct {
	Names  bool   // the player's name and the session's title
	Date   string // of the session, as the reader writes dates; empty = from the session
	Link   string // printed below, and beside its picture
	QR     string // the link's picture: path data of one SVG path in a square of QRSize
	QRSize int    // [modules] with its margin
}

// Field is one thing that the sheet states.
type Field struct {
	Label string
	Value string
	Above bool // it stands in the head of the sheet too: on paper that is enough
}

// Group is a titled list of fields.
type Group struct {
	Title  string
	Fields []Field
}

// Content is a whole sheet in the reader's language.
type Content struct {
	Title    string
	Subtitle string // date, player, head
	Answer   string // the setting, in the user's labels
	Degrees  string // what it is, in degrees and millimetres
	Moves    string // what that changes against today's setting, empty = nothing
	Headline string
	Verdict  string
	Gain     string
	Why      []string
	Groups   []Group
	Compare  chart.Table // before and after
	Expect   []string
	Behind   []string // the shots behind it
	NotTried []string
	Next     []string
	Check    []string
	Again    []string
	Cautions []string
	Setting  int // index in Report.Settings of the setting answered
}

// Make gathers the sheet of a session's report. A report that names no
// setting (nothing was analysed) gives a sheet that says so.
func Make(s shot.Session, r report.Report, to text.Reader, o Options) Content {
	m := maker{s: s, r: r, o: o, rd: to}
	c := Content{Title: m.w("paper.title"), Setting: r.Choice.Setting}
	c.Subtitle = m.subtitle()
	if len(r.Settings) == 0 || c.Setting < 0 || c.Setting >= len(r.Settings) || r.Reference < 0 || r.Reference >= len(r.Settings) {
		c.Setting = -1
		c.Answer = m.w("paper.nothing")
		c.Groups, c.Cautions = m.groups(club.Change{}, s.Head.Current), m.cautions()
		return c
	}
	chosen := r.Settings[c.Setting]
	c.Answer = m.name(chosen)
	c.Degrees, c.Moves = m.degrees(chosen)
	if r.Choice.Headline.Key != "" {
		c.Headline = m.rd.Say(r.Choice.Headline)
	}
	c.Verdict, c.Gain = m.verdict(), m.gain()
	c.Why = append(m.say(r.Against), m.say(r.Choice.Why)...)
	c.Groups = m.groups(chosen.Change, chosen.Setting)
	c.Compare = m.compare(c.Setting)
	c.Expect = append(append(m.airs(), m.say(r.Recalled)...), m.expect()...)
	c.Behind = m.behind()
	c.NotTried = m.notTried()
	c.Next = m.next()
	c.Check = m.check(chosen)
	c.Again = m.again()
	c.Cautions = m.cautions()
	return c
}

// maker holds what every part of a sheet needs.
type maker struct {
	s  shot.Session
	r  report.Report
	o  Options
	rd text.Reader
}

func (m maker) w(key string) string { return m.rd.Word(key) }

func (m maker) fill(key string, args ...string) string { return m.rd.Fill(key, args...) }

func (m maker) say(ms []report.Message) []string {
	var out []string
	for _, x := range ms {
		if x.Key != "" {
			out = append(out, m.rd.Say(x))
		}
	}
	return out
}

// name is the person's own name of a setting, or that nothing is set.
func (m maker) name(s report.Setting) string {
	if k := s.Setting.Key(); k != "" {
		return k
	}
	return m.w("setting.as-is")
}

// date is the session's day where the reader is; away from a browser, UTC's.
func (m maker) date() string {
	switch {
	case m.o.Date != "":
		return m.o.Date
	case m.s.Created > 0:
		return m.rd.Day(m.s.Created)
	}
	return ""
}

// weeksOn is the day a number of weeks after the session, or "" if it has none.
func (m maker) weeksOn(weeks int) string {
	if m.s.Created <= 0 {
		return ""
	}
	return m.rd.Day(time.Unix(m.s.Created, 0).AddDate(0, 0, 7*weeks).Unix())
}

func (m maker) subtitle() string {
	var parts []string
	if d := m.date(); d != "" {
		parts = append(parts, d)
	}
	if m.o.Names && m.s.Player.Name != "" {
		parts = append(parts, m.s.Player.Name)
	}
	if m.o.Names && m.s.Title != "" {
		parts = append(parts, m.s.Title)
	}
	if head := first(m.r.Head, m.s.Head.Name); head != "" {
		parts = append(parts, head)
	}
	return strings.Join(parts, " · ")
}

func first(a, b string) string {
	if a != "" {
		return a
	}
	return b
}

// degrees says what a setting is, against the untilted sleeve and with its
// weights where they stand, and what it changes against today's.
func (m maker) degrees(s report.Setting) (own, today string) {
	parts := []string{m.rd.FromOwn(s.Change)}
	for i, w := range m.s.HeadOf(s.Setting).Weights {
		if i < len(s.Setting.Weights) {
			if t := m.stop(w, s.Setting.Weights[i]); t != "" {
				parts = append(parts, t)
			}
		}
	}
	if m.r.Choice.Setting != m.r.Reference && s.Setting.Club == m.r.Settings[m.r.Reference].Setting.Club {
		today = m.rd.FromToday(s.Change.Against(m.r.Settings[m.r.Reference].Change))
	}
	return strings.Join(parts, " · "), today
}

// stop says where a weight stands and what it weighs: "slider 20 mm to the heel, 12 g".
func (m maker) stop(w club.Weight, label string) string {
	for _, s := range w.Stops {
		if s.Label != label {
			continue
		}
		mass := cmp.Or(s.Mass, w.Mass)
		var at []string
		place := func(v float64, plus, minus string) {
			if math.Abs(v) >= 0.05e-3 {
				key := plus
				if v < 0 {
					key = minus
				}
				at = append(at, m.fill(key, m.rd.Number(math.Abs(v), units.Small, 0)))
			}
		}
		place(s.Toe, "paper.weight.toe", "paper.weight.heel")
		place(s.Back, "paper.weight.back", "paper.weight.front")
		if len(at) == 0 {
			at = []string{m.w("paper.weight.middle")}
		}
		if mass > 0 {
			at = append(at, m.rd.Number(mass, units.Mass, 0))
		}
		return first(w.Name, m.w("paper.weight")) + ": " + strings.Join(at, ", ")
	}
	return ""
}

// verdict is how sure the choice is, in words and as a chance.
func (m maker) verdict() string {
	ch := m.r.Choice
	word := "paper.verdict.cannot"
	switch ch.Verdict {
	case report.Clear:
		word = "paper.verdict.clear"
	case report.Likely:
		word = "paper.verdict.likely"
	case report.Leaning:
		word = "paper.verdict.leaning"
	}
	if ch.Keep || ch.Setting == m.r.Reference {
		return m.w("paper.verdict.keep")
	}
	return m.fill(word, m.percent(m.r.Answer.Chance))
}

func (m maker) percent(p float64) string {
	n := int(math.Round(100 * math.Max(0, math.Min(1, p))))
	if n == 100 && p < 1 {
		n = 99
	}
	if n == 0 && p > 0 {
		n = 1
	}
	return m.fill("chart.percent", strconv.Itoa(n))
}

// gain is what the choice is expected to bring, in the aim's own unit and in
// carry.
func (m maker) gain() string {
	a := m.r.Answer
	if m.r.Choice.Keep || a.Other < 0 || m.r.Choice.Setting == m.r.Reference {
		return ""
	}
	carry, _ := m.r.Settings[a.Other].Of(shot.Carry)
	plain := func(v float64) string { return m.rd.Plain(v, units.Length, 0) }
	y := carry.Difference
	said := m.fill("paper.gain.carry", m.rd.Difference(y.Mean, units.Length, 0), plain(y.Lo80), plain(y.Hi80))
	if a.Gain.Unit == report.UnitCarry { // one thing is said once
		return said
	}
	bare := func(v float64) string { return m.rd.Number(v, units.None, 1) }
	v := a.Gain.Value
	return m.fill("paper.gain", m.fill("gain."+string(a.Gain.Unit), bare(v.Mean)), bare(v.Lo80), bare(v.Hi80)) + " " + said
}

// airs says for which air the numbers are, what the balls say of theirs, and what
// today's setting did as measured beside it.
func (m maker) airs() []string {
	a := m.r.Air
	if a == nil {
		return nil
	}
	out := []string{m.rd.Say(a.For)}
	for _, b := range a.Blocks {
		if b.Text.Key != "" {
			out = append(out, m.rd.Say(b.Text))
		}
	}
	return out
}
