package page

import (
	"cmp"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/report"
)

// Visits says what was learned before the open session, and compares two stored
// ones: has anything changed since, and is it time to test again?
type Visits struct {
	base
	before, now string // ids that were picked, empty = the newest but one, the newest
}

// OnInit names the page.
func (p *Visits) OnInit() { p.base.OnInit(); p.name = "visits" }

// Render draws the page.
func (p *Visits) Render() app.UI {
	p.name = "visits"
	s := p.st()
	if s.Sessions.Phase == act.Failed {
		return p.frame(p.w("visits.lead"), ui.Alert("list-error", p.wording().r.Say(report.Say("error.list", s.Sessions.Error))))
	}
	if len(s.Sessions.Entries) < 2 {
		return p.frame(p.w("visits.lead"), p.past(s), ui.Empty(p.w("visits.few"), p.w("visits.few-do"), ui.Link("to-home", "main", "/", p.w("home.sessions"))))
	}
	return p.frame(p.w("visits.lead"), p.past(s), p.pickers(s), p.told(s))
}

// pair is the two sessions that are compared: those that were picked, else the
// two newest by the day they were begun.
func (p *Visits) pair(s act.State) (before, now string) {
	before, now = p.before, p.now
	newest, second := -1, -1
	for i, e := range s.Sessions.Entries {
		switch {
		case newest < 0 || e.Created > s.Sessions.Entries[newest].Created:
			newest, second = i, newest
		case second < 0 || e.Created > s.Sessions.Entries[second].Created:
			second = i
		}
	}
	if now == "" && newest >= 0 {
		now = s.Sessions.Entries[newest].ID
	}
	if before == "" && second >= 0 {
		before = s.Sessions.Entries[second].ID
	}
	return before, now
}

func (p *Visits) pickers(s act.State) app.UI {
	options := make([]ui.Option, len(s.Sessions.Entries))
	for i, e := range s.Sessions.Entries {
		title := cmp.Or(e.Title, p.w("app.untitled"))
		if e.Player != "" {
			title += " · " + e.Player
		}
		options[i] = ui.Option{Value: e.ID, Label: when(e.Created) + " · " + title} // the day first: a long name is cut
	}
	before, now := p.pair(s)
	return ui.Card("which", p.w("past.compare"),
		&ui.Pick{ID: "before", Label: p.w("visits.before"), Value: before, Options: options, Wide: true,
			Picked: func(_ app.Context, v string) { p.before = v }},
		&ui.Pick{ID: "now", Label: p.w("visits.now"), Value: now, Options: options, Wide: true,
			Picked: func(_ app.Context, v string) { p.now = v }},
		ui.Button("compare-visits", "main", p.w("visits.do"), func(app.Context) {
			b, n := p.pair(p.st())
			p.m.Clients.Compare(b, n)
		}))
}

func (p *Visits) told(s act.State) app.UI {
	v := s.Visits
	switch {
	case v.Phase == act.Working:
		return ui.Working("", p.w("app.working"), "", nil)
	case v.Phase == act.Failed:
		return ui.Alert("visits-error", p.w("visits.failed", p.wording().err(v.Error)))
	case v.Value == nil:
		return ui.P("hint", p.w("visits.hint"))
	}
	f := *v.Value
	head := p.w("visits.fine")
	switch {
	case len(f.Retest) > 0:
		head = p.w("visits.retest")
	case len(f.Rows) == 0:
		head = p.w("visits.nothing")
	}
	return app.Div().Class("page").Body(
		app.Section().Class("answer").Body(
			ui.P("verdict", p.w("visits.then-now", f.Before, f.Now)),
			app.P().ID("visits-said").Class("big").Attr("role", "status").Text(head),
			app.If(len(f.Retest) > 0, func() app.UI { return ui.List("", p.wording().msgs(f.Retest)) })),
		ui.Card("visits-words", p.w("visits.words"), ui.List("", p.wording().msgs(f.Said))),
		app.If(len(f.Rows) > 0, func() app.UI { return p.table(f) }))
}

// table is each setting hit on both visits, quantity by quantity.
func (p *Visits) table(f report.FollowUp) app.UI {
	t := ui.Table{Caption: p.w("visits.table"), Class: "quantities",
		Head: []string{p.w("compare.setting"), p.w("choose.quantity"), p.w("visits.change"), p.w("visits.then"), p.w("visits.is"), p.w("compare.balls")}} // what is looked for stands where a phone shows it
	add := func(name string, r report.FollowRow) {
		t.Rows = append(t.Rows, []string{name, p.wording().quantity(r.Quantity), p.wording().against(r.Quantity, r.Change),
			p.wording().value(r.Quantity, r.Then.Mean), p.wording().value(r.Quantity, r.Now.Mean), p.w("visits.balls", p.reader().Plain(float64(r.Balls[0]), 0, 0), p.reader().Plain(float64(r.Balls[1]), 0, 0))})
	}
	for _, r := range f.Common {
		add(p.w("visits.all"), r)
	}
	for _, r := range f.Rows {
		add(p.wording().setting(r.Setting), r)
	}
	return ui.Card("visits-numbers", p.w("visits.numbers"), t.Render(), ui.P("hint", p.w("visits.interval")))
}
