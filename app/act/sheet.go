package act

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"ferrule/core/wire"
)

// Sheet has the fitting sheet and asks for it.
type Sheet struct {
	loop    *Loop
	editor  *Editor
	answers *Answers
	prefs   *Preferences

	paper Paper
	asked bool
}

// Paper is the fitting sheet as one page of HTML.
type Paper struct {
	Phase   Phase
	HTML    string
	Error   error
	Edition int    // of the session that it shows
	For     string // language, units, whether names are printed, the link
}

// wanted is how the person wants it: in which words and units.
func (sh *Sheet) wanted() string {
	p := sh.prefs.now
	return p.Language + "|" + string(p.System) + "|"
}

func (sh *Sheet) paperFor(link string, names bool) string {
	f := sh.wanted() + strconv.FormatBool(names) + "|"
	// What is written on the sheet without changing a number of the report.
	if s := sh.editor.session; s != nil {
		f += fmt.Sprintf("%q %q %q %q", s.Title, s.Player.Name, s.Head.Name, s.Bench)
	}
	return f + "|" + link
}

// Print asks the worker for the sheet of the newest report, unless it is
// there already, with or without names. The link and its code are printed on
// it; empty = none.
func (sh *Sheet) Print(link string, names bool) {
	a := sh.answers.state
	if sh.editor.session == nil || a.Value == nil {
		return
	}
	p := sh.paper
	if p.Edition == a.Edition && p.For == sh.paperFor(link, names) && p.Phase != Failed && p.Phase != Idle {
		return
	}
	if p.HTML != "" && p.Edition == a.Edition && p.Phase == Ready && strings.HasPrefix(p.For, sh.wanted()+strconv.FormatBool(names)) {
		// Words are being typed: the sheet follows when the hands rest.
		if sh.asked {
			return
		}
		sh.asked = true
		sh.loop.later(pause, func() {
			sh.asked = false
			sh.print(link, names)
		})
		return
	}
	sh.print(link, names)
}

// Picture asks for the answer as one drawing (SVG), with or without names; then
// gets it, or the reason why there is none.
func (sh *Sheet) Picture(names bool, then func(svg string, failed error)) {
	if sh.editor.session == nil || sh.answers.state.Value == nil {
		return
	}
	req := sh.request("", names)
	req.Sheet.Picture = true
	sh.loop.elsewhere(func() func() {
		res, err := wrong(sh.loop.deps.Worker.Do(context.Background(), req))
		return func() { then(res.HTML, err); sh.loop.changed() }
	})
}

// request is the question for the sheet of the newest report.
func (sh *Sheet) request(link string, names bool) wire.Request {
	return wire.Request{Version: wire.Version, Sheet: &wire.Sheet{Session: Clone(*sh.editor.session), Report: *sh.answers.state.Value,
		Language: sh.prefs.now.Language, System: string(sh.prefs.now.System), Names: names, Link: link}}
}

// print asks for the sheet as the session is now.
func (sh *Sheet) print(link string, names bool) {
	a, p := sh.answers.state, sh.paper
	if sh.editor.session == nil || a.Value == nil {
		return
	}
	want := Paper{Phase: Working, HTML: p.HTML, Edition: a.Edition, For: sh.paperFor(link, names)}
	sh.paper = want
	req := sh.request(link, names)
	sh.loop.changed()
	sh.loop.elsewhere(func() func() {
		res, err := wrong(sh.loop.deps.Worker.Do(context.Background(), req))
		return func() {
			if sh.paper != want {
				return
			}
			switch {
			case err != nil:
				sh.paper.Phase, sh.paper.Error = Failed, err
			default:
				sh.paper.Phase, sh.paper.HTML, sh.paper.Error = Ready, res.HTML, nil
			}
			sh.loop.changed()
		}
	})
}
