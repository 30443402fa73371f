package page

import (
	"cmp"
	"slices"
	"sort"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
	"ferrule/core/store"
)

// Live is the big view beside a launch monitor: the setting in two taps, the
// last ball in large numbers, the comparison as it comes, the plan beside it,
// and a tap to the next player.
type Live struct {
	base
	pad    ballPad
	typing bool // the key pad is open

	here    bool   // the page is shown
	watches bool   // the browser can watch a folder
	folder  string // that is watched, empty = none
}

// OnInit names the page.
func (p *Live) OnInit() { p.base.OnInit(); p.name = "live" }

// Render draws the page.
func (p *Live) Render() app.UI {
	p.name = "live"
	s := p.st()
	if s.Session == nil {
		return p.frame(p.w("live.lead"), noSession(p.m, p.wording()))
	}
	p.tell(s)
	return p.frame("",
		app.Div().Class("bay-top").Body(p.bayBar(s), p.roster(s)),
		app.Div().Class("live-grid").Body(
			app.Div().Class("live-now").Body(p.last(s), p.arrived(s), p.typed(s)),
			app.Div().Class("live-set").Body(p.settingButtons(s), p.openPlan(s)),
			app.Div().Class("live-side").Body(p.answerLine(s), p.side(s)),
			app.Div().Class("live-count").Body(p.recent(s), p.tally(s)),
		),
		app.Div().Body(p.pad.on(&p.base).bay.toTurn(s)),
	)
}

// rosterLength is how many players stand side by side: as many as wait their
// turn at one bay, with room to spare.
const rosterLength = 8

// players are the sessions of the roster: those changed last, in the order in
// which they were begun, so that no button moves under the finger.
func players(entries []store.Head) []store.Head {
	out := slices.Clone(entries[:min(rosterLength, len(entries))])
	sort.SliceStable(out, func(i, j int) bool {
		if a, b := out[i].Created, out[j].Created; a != b {
			return a < b
		}
		return out[i].ID < out[j].ID
	})
	return out
}

// playerName tells a session of the roster: by its player, by its title too
// where two have the same player, and by its day where both are the same.
func (p *Live) playerName(e store.Head, all []store.Head) string {
	title := cmp.Or(e.Title, p.w("app.untitled"))
	if e.Player == "" {
		return title
	}
	name := e.Player
	for _, o := range all {
		if o.ID == e.ID || o.Player != e.Player {
			continue
		}
		if o.Title == e.Title {
			return e.Player + " · " + title + " · " + when(e.Created)
		}
		name = e.Player + " · " + title
	}
	return name
}

// roster switches between the players of the day: each has a session.
func (p *Live) roster(s act.State) app.UI {
	entries, here := s.Sessions.Entries, s.Session
	if !slices.ContainsFunc(entries, func(e store.Head) bool { return e.ID == here.ID }) {
		// Not saved yet: a button that comes later would move all below it.
		entries = append([]store.Head{{ID: here.ID, Title: here.Title, Player: here.Player.Name, Created: here.Created}}, entries...)
	}
	entries = players(entries)
	// Folded: who looks over the player's shoulder reads no other names.
	return app.Div().Class("roster").Body(ui.More("players", p.w("live.players"), app.Div().Class("row").Attr("role", "group").Attr("aria-label", p.w("live.players")).Body(
		app.Range(entries).Slice(func(i int) app.UI {
			e := entries[i]
			return app.Button().Type("button").ID("player-"+e.ID).Class("button").
				Attr("aria-pressed", strconv.FormatBool(e.ID == s.Session.ID)).
				OnClick(func(app.Context, app.Event) {
					if s := p.st(); s.Session == nil || s.Session.ID != e.ID {
						p.m.Sessions.Open(e.ID)
					}
				}, app.EventScope("player", e.ID)).Text(p.playerName(e, entries))
		}))),
		ui.Button("new-player", "quiet", p.w("live.new"), func(ctx app.Context) {
			p.m.Sessions.NewPlayer()
			ctx.Navigate("/club")
		}),
	)
}

// settingButtons set the club for the balls to come: one tap for the sleeve,
// one for each weight.
func (p *Live) settingButtons(s act.State) app.UI {
	now := act.Now(s)
	h := s.Session.HeadOf(now)
	group := func(id, name, value string, labels []string, pick func(label string)) app.UI {
		return app.Div().Class("set-group").Attr("role", "group").Attr("aria-label", name).Body(
			app.P().Class("hint").Text(capital(name)),
			app.Div().Class("set-buttons").Body(app.Range(labels).Slice(func(i int) app.UI {
				l := labels[i]
				return app.Button().Type("button").ID(id+strconv.Itoa(i)).Class("set").
					Attr("aria-pressed", strconv.FormatBool(l == value)).
					OnClick(func(app.Context, app.Event) { pick(l) }, app.EventScope(id, l)).Text(l)
			})))
	}
	groups := []app.UI{}
	if s.Session.Several() {
		names := []string{}
		for _, c := range s.Session.All() {
			names = append(names, c.Name)
		}
		groups = append(groups, group("live-club-", p.w("clubs.which"), h.Name, names, func(l string) {
			other := p.st().Session.HeadOf(club.Setting{Club: l})
			p.m.Bay.SetNext(asToday(other).Of(other.Name))
		}))
	}
	labels := []string{}
	for _, pl := range h.Places() {
		labels = append(labels, pl.Label)
	}
	if len(labels) > 1 {
		groups = append(groups, group("live-sleeve-", p.w("club.sleeve"), now.Sleeve, labels, func(l string) {
			t := withWeights(h, act.Now(p.st())).Of(act.Now(p.st()).Club)
			t.Sleeve = l
			p.m.Bay.SetNext(t)
		}))
	}
	for i, w := range h.Weights {
		stops := []string{}
		for _, st := range w.Stops {
			stops = append(stops, st.Label)
		}
		groups = append(groups, group("live-weight"+strconv.Itoa(i)+"-", w.Name, withWeights(h, now).Weights[i], stops, func(l string) {
			t := withWeights(h, act.Now(p.st())).Of(act.Now(p.st()).Club)
			if i < len(t.Weights) {
				t.Weights[i] = l
				p.m.Bay.SetNext(t)
			}
		}))
	}
	if len(groups) == 0 {
		groups = append(groups, ui.P("hint", p.w("setting.one")))
	}
	groups = append(groups, ui.P("hint", p.w("caution.adjust-loose")))
	return ui.Card("live-setting", p.w("live.setting", p.wording().setting(now)), groups...)
}

// last shows the newest ball in numbers that are read from two metres away.
func (p *Live) last(s act.State) app.UI {
	shots := s.Session.Shots
	if len(shots) == 0 {
		return ui.Card("live-last", p.w("balls.none"), ui.P("hint", p.w("balls.none-do")))
	}
	h := shots[len(shots)-1]
	big := []app.UI{}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch, shot.Spin, shot.Backspin, shot.Apex} {
		if v, ok := h.Values.Get(q); ok && len(big) < 6 {
			class := "live-figure"
			if q == shot.Carry || q == shot.Offline {
				class = "live-figure first"
			}
			big = append(big, app.Div().Class(class).Body(app.Span().Class("live-number").Text(p.wording().value(q, v)), app.Span().Class("hint").Text(p.wording().quantity(q))))
		}
	}
	id, way := h.ID, wayOf(p.m, p.wording(), h.Values.WithoutDrift(driftOf(p.st().Answer.Value, h.ID)))
	return ui.Card("live-last", p.w("live.last-is", strconv.Itoa(len(shots)), p.wording().setting(h.Setting)),
		app.Div().Class("live-numbers").Attr("role", "status").Body(big...),
		app.If(way != "", func() app.UI { return ui.P("way", capital(way)) }),
		ui.Row("",
			app.Button().Type("button").ID("live-type").Class("button main").Attr("aria-expanded", strconv.FormatBool(p.typing)).
				OnClick(func(app.Context, app.Event) { p.typing = !p.typing }, app.EventScope("live-type")).Text(p.w("live.type")),
			ui.Button("live-mishit", "", capital(p.w("tag."+string(shot.TagMishit))), func(app.Context) { p.m.Balls.Tag(lastID(p.st(), id), shot.TagMishit) }),
			ui.Button("live-remove", "quiet", p.w("balls.remove"), func(app.Context) { p.m.Balls.Remove(lastID(p.st(), id)) }),
		),
		thoughtChips(p.m, p.wording(), s),
	)
}

// typed is the key pad, beside the monitor or where nothing was hit yet. The
// setting is chosen by the buttons of this page.
func (p *Live) typed(s act.State) app.UI {
	p.typing = p.typing || len(s.Session.Shots) == 0
	if !p.typing || s.ReadOnly {
		return nil
	}
	return app.Div().Body(p.pad.on(&p.base).pad(s), ui.Row("", openButton(p.m, p.wording(), "quiet")))
}

// recentBalls is how many of the last balls stand under the newest.
const recentBalls = 4

// recent are the balls before the newest, the later first.
func (p *Live) recent(s act.State) app.UI {
	shots := s.Session.Shots
	rows := []app.UI{}
	for i := len(shots) - 2; i >= 0 && len(rows) < recentBalls; i-- {
		h := shots[i]
		numbers := strconv.Itoa(i + 1)
		for _, q := range []shot.Quantity{shot.Carry, shot.Offline} {
			if v, ok := h.Values.Get(q); ok {
				numbers += " · " + p.wording().value(q, v)
			}
		}
		rows = append(rows, app.Li().Body(app.Span().Text(numbers), app.Span().Class("hint").Text(p.wording().setting(h.Setting))))
	}
	return app.Ol().ID("recent").Class("recent").Body(rows...)
}

// tally counts the balls of each setting hit so far.
func (p *Live) tally(s act.State) app.UI {
	type line struct {
		set club.Setting
		n   int
	}
	lines := []line{}
	for _, h := range s.Session.Shots {
		i := slices.IndexFunc(lines, func(l line) bool { return l.set.Equal(h.Setting) })
		if i < 0 {
			lines = append(lines, line{set: h.Setting})
			i = len(lines) - 1
		}
		lines[i].n++
	}
	t := ui.Table{Head: []string{p.w("compare.setting"), p.w("live.count")}}
	for _, l := range lines {
		t.Rows = append(t.Rows, []string{p.wording().setting(l.set), strconv.Itoa(l.n)})
	}
	if len(lines) == 0 {
		return nil
	}
	return moreLater("tally", p.w("live.tally"), func() []app.UI { return []app.UI{t.Render()} })
}

// answerLine is the answer so far. Before the first ball the key pad beside it
// says what to do.
func (p *Live) answerLine(s act.State) app.UI {
	r := s.Answer.Value
	if len(s.Session.Shots) == 0 {
		return nil
	}
	if r == nil || r.Choice.Setting < 0 || r.Choice.Setting >= len(r.Settings) {
		return p.answerless(s)
	}
	big := p.wording().setting(r.Settings[r.Choice.Setting].Setting)
	if r.Choice.Keep {
		big = p.w("choose.keep", big)
	}
	return app.Section().Class("answer small").Body(
		ui.P("verdict", p.w("verdict."+string(r.Choice.Verdict))),
		app.P().ID("answer").Class("big").Attr("role", "status").Text(big),
		p.stale(s),
	)
}

// side shows the comparison and the plan beside the numbers.
func (p *Live) side(s act.State) app.UI {
	r := s.Answer.Value
	if r == nil || len(r.Settings) == 0 {
		return nil
	}
	landing, diff := styleOf(p.wording(), "live"), styleOf(p.wording(), "live-diff")
	landing.Only = pair(*r, chart.Keys(*r), -1)
	diff.Only = landing.Only
	return app.Div().Body(
		chartOf(p.wording(), "live-landing", p.once("landing", shownOf(r, landing), func() chart.Drawing { return chart.Landing(*r, landing) }), nil),
		moreLater("live-more", p.w("compare.differences"), func() []app.UI {
			return []app.UI{chartOf(p.wording(), "live-differences", p.once("differences", shownOf(r, diff), func() chart.Drawing { return chart.Differences(*r, shot.Carry, diff) }), nil)}
		}),
	)
}

// openPlan is the hitting plan as far as it is open: what is next, with a tap
// to set it, and what follows.
func (p *Live) openPlan(s act.State) app.UI {
	r := s.Answer.Value
	if r == nil || len(r.Settings) == 0 {
		return nil
	}
	body := []app.UI{}
	for i, v := range r.Plan {
		if v.Done >= v.Balls || v.Setting < 0 || v.Setting >= len(r.Settings) || len(body) > 4 {
			continue
		}
		line := p.w("plan.visit", p.wording().balls1(v.Balls-v.Done), p.wording().setting(r.Settings[v.Setting].Setting))
		if len(body) > 0 {
			body = append(body, app.Li().Class("later").Text(line))
			continue
		}
		if r.Todo.State == report.Check {
			line = p.w("range.check", line)
		}
		body = append(body, app.Li().Class("here").Body(
			app.Span().Class("plan-what").Text(line),
			app.If(!r.Settings[v.Setting].Setting.Equal(act.Now(s)), func() app.UI {
				return ui.Button("live-set", "main", p.w("plan.set"), func(app.Context) { p.pad.on(&p.base).bay.setTo(planned(p.m, firstOpen(p.st(), i))) })
			})))
	}
	if len(body) == 0 {
		return ui.Card("live-next", p.w("live.next"), ui.P("stop", p.wording().msg(r.Stop.Why)), ui.P("", p.w("plan.all-done")))
	}
	return ui.Card("live-next", p.w("live.next"), app.Ol().Class("plan").Body(body...))
}

// firstOpen is the first visit of the plan that is not done, at the time of
// the tap.
func firstOpen(s act.State, otherwise int) int {
	if r := s.Answer.Value; r != nil {
		for i, v := range r.Plan {
			if v.Done < v.Balls {
				return i
			}
		}
	}
	return otherwise
}
