package act

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"ferrule/core/wire"
)

// Paper is the fitting sheet as one page of HTML.
type Paper struct {
	Phase   Phase
	HTML    string
	Error   string
	Edition int    // of the session that it shows
	For     string // language, units, whether names are printed, the link
}

// paperPrefs is how the person wants it: in which words and units.
func (m *Model) paperPrefs() string {
	p := m.s.Prefs
	return p.Language + "|" + string(p.System) + "|"
}

func (m *Model) paperFor(link string, names bool) string {
	f := m.paperPrefs() + strconv.FormatBool(names) + "|"
	// What is written on the sheet without changing a number of the report.
	if s := m.s.Session; s != nil {
		f += fmt.Sprintf("%q %q %q %q", s.Title, s.Player.Name, s.Head.Name, s.Bench)
	}
	return f + "|" + link
}

// Print asks the worker for the sheet of the newest report, unless it is
// there already, with or without names. The link and its code are printed on
// it; empty = none.
func (m *Model) Print(link string, names bool) {
	a := m.s.Answer
	if m.s.Session == nil || a.Value == nil {
		return
	}
	p := m.s.Paper
	if p.Edition == a.Edition && p.For == m.paperFor(link, names) && p.Phase != Failed && p.Phase != Idle {
		return
	}
	if p.HTML != "" && p.Edition == a.Edition && p.Phase == Ready && strings.HasPrefix(p.For, m.paperPrefs()+strconv.FormatBool(names)) {
		// Words are being typed: the sheet follows when the hands rest.
		if m.paperAsked {
			return
		}
		m.paperAsked = true
		m.later(pause, func() {
			m.paperAsked = false
			m.print(link, names)
		})
		return
	}
	m.print(link, names)
}

// Picture asks for the answer as one drawing (SVG), with or without names; then
// gets it, or the reason why there is none.
func (m *Model) Picture(names bool, then func(svg, failed string)) {
	if m.s.Session == nil || m.s.Answer.Value == nil {
		return
	}
	req := m.sheetOf("", names)
	req.Sheet.Picture = true
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), req)
		if err != nil {
			res.Error = err.Error()
		}
		return func() { then(res.HTML, res.Error); m.changed() }
	})
}

// sheetOf is the question for the sheet of the newest report.
func (m *Model) sheetOf(link string, names bool) wire.Request {
	return wire.Request{Version: wire.Version, Sheet: &wire.Sheet{Session: Clone(*m.s.Session), Report: *m.s.Answer.Value,
		Language: m.s.Prefs.Language, System: string(m.s.Prefs.System), Names: names, Link: link}}
}

// print asks for the sheet as the session is now.
func (m *Model) print(link string, names bool) {
	a, p := m.s.Answer, m.s.Paper
	if m.s.Session == nil || a.Value == nil {
		return
	}
	want := Paper{Phase: Working, HTML: p.HTML, Edition: a.Edition, For: m.paperFor(link, names)}
	m.s.Paper = want
	req := m.sheetOf(link, names)
	m.changed()
	m.elsewhere(func() func() {
		res, err := m.deps.Worker.Do(context.Background(), req)
		return func() {
			if m.s.Paper != want {
				return
			}
			switch {
			case err != nil:
				m.s.Paper.Phase, m.s.Paper.Error = Failed, err.Error()
			case res.HTML == "":
				m.s.Paper.Phase, m.s.Paper.Error = Failed, res.Error
			default:
				m.s.Paper.Phase, m.s.Paper.HTML, m.s.Paper.Error = Ready, res.HTML, ""
			}
			m.changed()
		}
	})
}
