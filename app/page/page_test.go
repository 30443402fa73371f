package page

import (
	"context"
	"regexp"
	"strings"
	"testing"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/core/chart/charttest"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/message"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/store"
	"ferrule/core/text"
	"ferrule/core/units"
	"ferrule/core/wire"
)

// stand answers with the invented report of package charttest.
type stand struct{ report report.Report }

func (s stand) Do(_ context.Context, r wire.Request) (wire.Result, error) {
	switch {
	case r.Analyse != nil:
		v := s.report
		return wire.Result{Report: &v}, nil
	case r.Sheet != nil:
		return wire.Result{HTML: "<!doctype html><title>sheet</title>"}, nil
	case r.Fly != nil:
		f := wire.Flight{Path: []report.Point{{}, {X: 100, Y: 25}, {X: 200}}, Carry: 200, Time: 6}
		return wire.Result{Flights: []wire.Flight{f, f}}, nil
	case r.Follow != nil:
		by := report.Message{Key: "follow.speed", Args: []report.Arg{{Form: message.FormSigned, Value: 5 * units.MPH, Dim: units.Speed, Digits: -1}}}
		row := report.FollowRow{Setting: s.report.Settings[0].Setting, Quantity: shot.Carry, Balls: [2]int{5, 6},
			Then: report.Interval{Mean: 200}, Now: report.Interval{Mean: 204}, Change: report.Interval{Mean: 4, Lo80: 1, Hi80: 7}}
		all := row
		all.Setting = club.Setting{}
		return wire.Result{Follow: &report.FollowUp{Before: "Spring", Now: "Autumn", Rows: []report.FollowRow{row}, Common: []report.FollowRow{all},
			Retest: []report.Message{by}, Said: []report.Message{by, {Key: "follow.when"}}}}, nil
	case r.Given != nil:
		return wire.Result{Report: &s.report}, nil
	case r.Vary != nil:
		v := report.Variation{Text: report.Message{Key: "vary.as-hit"}, Setting: s.report.Settings[0].Setting, Keep: true, Verdict: report.CannotTell, Same: true}
		w := report.Variation{Text: report.Message{Key: "vary.firm"}, Setting: s.report.Settings[1].Setting, Verdict: report.Likely}
		return wire.Result{Varied: []report.Variation{v, w}}, nil
	case r.Read != nil:
		var own *shot.Session
		if strings.HasSuffix(r.Read.Name, ".json") { // stands for an export of ours
			own = &shot.Session{Title: "evening", Shots: make([]shot.Shot, 3)}
		}
		return wire.Result{Session: own, Table: &shot.Table{
			Columns: []shot.Column{{Header: "Ball <mph>", Quantity: shot.BallSpeed, Unit: "mph", Evidence: said("header")}, {Header: "Side", Quantity: shot.Offline, Unit: "yd"}, {Header: "", Role: ""}},
			Shots:   []shot.Shot{{Line: 2, Setting: club.Setting{Sleeve: "up"}, Values: shot.Values{shot.Carry: 200}}},
			Errors:  []shot.RowError{{Line: 3, Column: "Side", Message: said("read x, expected a number")[0]}},
			Notes:   said("assumed yards"), Ask: said("left or right?"), Questions: []shot.Question{{ID: "side Way", Text: said("left or right?")[0], Choices: []shot.Choice{{Value: "right Way", Text: said("right")[0]}, {Value: "left Way", Text: said("left")[0]}}, Open: true}},
		}}, nil
	}
	return wire.Result{Error: &said("?")[0]}, nil
}

// said is one sentence as it is.
func said(s string) []message.Message { return []message.Message{message.Plain(s)} }

// demoSession is a session that fits the invented report.
func demoSession(r report.Report) shot.Session {
	s := shot.Session{Title: "Range & wind", Head: charttest.Head(), Player: shot.Player{Hand: r.Hand, Name: "A player"}}
	for i, row := range r.Shots {
		h := shot.Shot{ID: row.ID, Values: shot.Values{shot.Carry: row.Carry, shot.Offline: row.Offline, shot.BallSpeed: 60, shot.Spin: 300}}
		if row.Setting >= 0 {
			h.Setting = r.Settings[row.Setting].Setting
		}
		if i == 0 {
			h.Note, h.Tag = "first", shot.TagWarmup
		}
		s.Shots = append(s.Shots, h)
	}
	return s
}

// model is the state that the pages of a test show, see with.
var model *act.Model

// with makes the program's state: a session and its answer, or none.
func with(t *testing.T, r *report.Report, set func(*act.Prefs)) *act.Model {
	t.Helper()
	st := stand{}
	if r != nil {
		st.report = *r
	}
	model = act.New(act.Deps{Worker: st,
		Open: func(context.Context) act.Place {
			return act.Place{Store: store.New(store.NewMemory(nil), func() int64 { return 1 })}
		},
		Now:   func() time.Time { return time.Unix(1_800_000_000, 0) },
		After: func(time.Duration, func()) {}})
	if set != nil {
		model.Preferences.Set(set)
	}
	model.Boot()
	model.Loop.Settle()
	if r != nil {
		model.Sessions.Show(demoSession(*r), nil, false)
		model.Loop.Settle()
		model.Sessions.Keep()
		model.Keeper.Flush()
		model.Loop.Settle()
	}
	return model
}

func pages() map[string]app.Composer {
	out := map[string]app.Composer{}
	for path, make := range routes {
		c := make(base{m: model})
		c.(app.Initializer).OnInit()
		out[path] = c
	}
	out["/shared"].(*Shared).opened = true
	lost := &Lost{base: base{m: model}}
	lost.OnInit()
	lost.address = "/nowhere"
	out["/nowhere"] = lost
	return out
}

var (
	missing = regexp.MustCompile(`\[[a-z]+\.[a-z0-9. -]+\]`)
	place   = regexp.MustCompile(`\{[0-9]\}`)
	idOf    = regexp.MustCompile(` id="([^"]*)"`)
	forOf   = regexp.MustCompile(`<label[^>]* for="([^"]*)"`)
	inputs  = regexp.MustCompile(`<(?:input|select|textarea)[^>]*>`)
	buttons = regexp.MustCompile(`<button[^>]*>`)
)

// sound checks what must hold for every page in every state.
func sound(t *testing.T, name, html string) {
	t.Helper()
	if m := missing.FindString(html); m != "" {
		t.Errorf("%s: words missing: %s", name, m)
	}
	if m := place.FindString(html); m != "" {
		at := strings.Index(html, m)
		t.Errorf("%s: a place was not filled: …%s…", name, html[max(0, at-80):min(len(html), at+20)])
	}
	if n := strings.Count(html, "<h1"); n != 1 {
		t.Errorf("%s: %d h1, want 1", name, n)
	}
	if n := strings.Count(html, "<main"); n != 1 {
		t.Errorf("%s: %d main, want 1", name, n)
	}
	if strings.Contains(html, "NaN") || strings.Contains(html, "+Inf") {
		t.Errorf("%s: a number that is none", name)
	}
	ids := map[string]bool{}
	for _, m := range idOf.FindAllStringSubmatch(html, -1) {
		if ids[m[1]] {
			t.Errorf("%s: id %q twice", name, m[1])
		}
		ids[m[1]] = true
	}
	labelled := map[string]bool{}
	for _, m := range forOf.FindAllStringSubmatch(html, -1) {
		labelled[m[1]] = true
	}
	for _, in := range inputs.FindAllString(html, -1) {
		m := idOf.FindStringSubmatch(in)
		if m == nil || !labelled[m[1]] && !strings.Contains(in, "aria-label") {
			t.Errorf("%s: no label for %s", name, in)
		}
	}
	for _, b := range buttons.FindAllString(html, -1) {
		if !strings.Contains(b, " id=") || !strings.Contains(b, `type="button"`) {
			t.Errorf("%s: a button without id or type: %s", name, b)
		}
	}
}

func TestPagesInEveryState(t *testing.T) {
	demo, left := charttest.Report(), charttest.Mirrored()
	thin := charttest.Report()
	thin.Settings, thin.Shots, thin.Plan, thin.Next = thin.Settings[:1], thin.Shots[:1], nil, nil
	thin.Reference, thin.Choice = 0, report.Choice{Keep: true, RunnerUp: -1, Verdict: report.CannotTell}
	thin.Answer, thin.Todo = report.Answer{Other: -1}, report.Todo{}
	for i := range thin.Shots {
		thin.Shots[i].Setting = 0
	}
	for _, c := range []struct {
		name   string
		report *report.Report
		set    func(*act.Prefs)
	}{
		{"empty", nil, nil},
		{"demo", &demo, nil},
		{"left", &left, func(p *act.Prefs) { p.System = units.Metric }},
		{"thin", &thin, func(p *act.Prefs) { p.System = units.MetricMPS }},
	} {
		for _, lang := range text.Languages {
			m := with(t, c.report, c.set)
			m.Preferences.Set(func(p *act.Prefs) { p.Language = string(lang) })
			for path, page := range pages() {
				sound(t, string(lang)+" "+c.name+" "+path, app.HTMLString(page))
			}
		}
	}
}

func TestShotsPageReadsAFile(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	m.Files.Open("shots.csv", []byte("x"))
	m.Loop.Settle()
	p := pages()["/shots"]
	html := app.HTMLString(p)
	sound(t, "file", html)
	for _, want := range []string{"Ball &lt;mph&gt;", "left or right?", "assumed yards", `id="accept-file"`, `id="column-0"`, `id="flip-1"`} {
		if !strings.Contains(html, want) {
			t.Errorf("the file's page lacks %s", want)
		}
	}
}

func TestOpenDetailsAreSound(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	p := pages()["/shots"].(*Shots)
	p.open = r.Shots[0].ID
	p.typing().fields, p.paste = true, true
	sound(t, "shots open", app.HTMLString(p))
	c := pages()["/choose"].(*Choose)
	c.cell = 1
	model.WhatIf.Fly(make([]wire.Launch, 2))
	model.Loop.Settle()
	sound(t, "choose open", app.HTMLString(c))
	k := pages()["/compare"].(*Compare)
	k.tapped = r.Shots[0].ID
	sound(t, "compare open", app.HTMLString(k))
	h := pages()["/club"].(*Club)
	model.Editor.Edit(act.Change{}, func(s *shot.Session) { sleeveKind(&s.Head, "table"); s.Aim.Trouble = frame.SideRight })
	sound(t, "club table", app.HTMLString(h))
	if !strings.Contains(app.HTMLString(h), `id="row1-loft"`) {
		t.Error("the table of positions has no fields")
	}
	model.Editor.Edit(act.Change{}, func(s *shot.Session) { sleeveKind(&s.Head, "none"); s.Head.Loft = 2 })
	html := app.HTMLString(h)
	sound(t, "club wrong", html)
	if !strings.Contains(html, "loft_deg") {
		t.Error("a club that cannot be is not said to be wrong")
	}
}

// What a person typed is never markup. (In attributes go-app quotes as Go does
// when it writes text; in the browser it sets them, where nothing is parsed.)
func TestTypedTextIsEscaped(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	model.Editor.Edit(act.Change{}, func(s *shot.Session) { s.Title = "<b>wind</b>" })
	html := app.HTMLString(pages()["/choose"])
	if !strings.Contains(html, "&lt;b&gt;wind") || strings.Contains(html, "<b>wind") {
		t.Error("the title came through as markup")
	}
	model.Editor.Edit(act.Change{}, func(s *shot.Session) {
		for i := range s.Head.Sleeve.Labels {
			s.Head.Sleeve.Labels[i] = strings.Repeat("<b>", i+1)
		}
	})
	if html := app.HTMLString(pages()["/club"]); strings.Contains(html, "<svg") && strings.Contains(html[strings.Index(html, "<svg"):strings.LastIndex(html, "</svg>")], "<b>") {
		t.Error("a label came through as markup in a drawing")
	}
}

func TestAnswerIsOnTheChoosePage(t *testing.T) {
	r := charttest.Report()
	with(t, &r, nil)
	html := app.HTMLString(pages()["/choose"])
	set := r.Settings[r.Choice.Setting].Setting.Key()
	i := strings.Index(html, `id="answer"`)
	if i < 0 || !strings.Contains(html[i:min(len(html), i+300)], set) {
		t.Errorf("the headline does not name %q", set)
	}
}

func TestKeypadReadsSidesAndKeepsWhatIsWrong(t *testing.T) {
	r := charttest.Report()
	m := with(t, &r, nil)
	p := pages()["/shots"].(*Shots)
	n := len(m.State().Session.Shots)
	m.Drafts.Put(entryID(shot.Carry), "210,5", "")
	m.Drafts.Put(entryID(shot.Offline), "12 L", "")
	p.typing().record(false)
	s := m.State()
	if len(s.Session.Shots) != n+1 {
		t.Fatalf("balls %d, want %d: drafts %+v", len(s.Session.Shots), n+1, s.Drafts)
	}
	v := s.Session.Shots[n].Values
	if got := v[shot.Carry] / units.Yard; got < 210.49 || got > 210.51 {
		t.Errorf("carry %v yd, want 210.5", got)
	}
	if got := v[shot.Offline] / units.Yard; got > -11.99 || got < -12.01 {
		t.Errorf("offline %v yd, want −12 (left)", got)
	}
	if len(s.Drafts) != 0 {
		t.Errorf("drafts %+v, want none left", s.Drafts)
	}
	m.Drafts.Put(entryID(shot.Carry), "abc", "")
	m.Drafts.Put(entryID(shot.BallSpeed), "130", "")
	if p.typing().record(false) < 0 {
		t.Error("a text was taken for a number")
	}
	s = m.State()
	if len(s.Session.Shots) != n+1 || s.Drafts[entryID(shot.Carry)].Text != "abc" || s.Drafts[entryID(shot.Carry)].Error == "" || s.Drafts[entryID(shot.BallSpeed)].Text != "130" {
		t.Errorf("balls %d drafts %+v, want the ball refused and all text kept", len(s.Session.Shots), s.Drafts)
	}
}

func TestRenamedLabelFollowsEverywhere(t *testing.T) {
	s := shot.Session{Head: club.Example()}
	s.Shots = []shot.Shot{{Setting: club.Setting{Sleeve: "up", Weights: []string{"heel 20"}}}}
	renamePlace(&s, 0, "tall")
	renameStop(&s, 0, 0, "inside")
	if got := s.Shots[0].Setting.Key(); got != "tall / inside" {
		t.Errorf("the ball's setting is %q", got)
	}
	if err := s.Head.Validate(); err != nil {
		t.Error(err)
	}
	dropStop(&s, 0, 2) // the middle, where it is set today
	if err := s.Head.Validate(); err != nil {
		t.Errorf("after a place was removed: %v", err)
	}
	dropWeight(&s, 0)
	if len(s.Shots[0].Setting.Weights) != 0 || s.Head.Validate() != nil {
		t.Errorf("after the weight was removed: %+v, %v", s.Shots[0].Setting, s.Head.Validate())
	}
}
