package page

import (
	"cmp"
	"math"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// past is what was learned before the open session: the player's visits, and what
// others hit with the head.
func (p *Visits) past(s act.State) app.UI {
	if s.Session == nil || s.ReadOnly {
		return nil
	}
	return app.Div().Class("page").Body(p.decided(s), p.earlier(s), p.record(s))
}

// decided is what was taken up last, and what has moved since.
func (p *Visits) decided(s act.State) app.UI {
	d := s.Session.Adopted
	if d == nil {
		return nil
	}
	said := p.wording().decision(*d)
	if r := s.Answer.Value; r != nil && r.Since != nil {
		said = append(said, p.wording().msgs(r.Since.Said)...)
	}
	return ui.Card("decided", p.w("turns.decided"), ui.List("", said))
}

// decision is what was taken up, on which aim and with which chance.
func (say wording) decision(d shot.Decision) []string {
	said := []string{say.adopted(d)}
	if d.Chance > 0 {
		said = append(said, say.w("turns.chance", say.w("goal."+string(cmp.Or(d.Goal, shot.GoalStrokes))), say.percent(d.Chance)))
	}
	return said
}

func (p *Visits) earlier(s act.State) app.UI {
	var said []string
	if r := s.Answer.Value; r != nil {
		for _, v := range r.Earlier {
			name := strings.TrimSpace(when(v.When) + " " + v.Title)
			said = append(said, p.w("past.visit", name, p.wording().msg(v.Why)))
		}
	}
	return ui.Card("past-visits", p.w("past.visits"),
		&ui.Check{ID: "use-visits", Label: p.w("past.use-visits"), On: !s.Prefs.Alone, Turned: func(_ app.Context, on bool) {
			p.m.Memory.Count(func(x *act.Prefs) { x.Alone = !on })
		}},
		app.If(p.m.Memory.Nameless(), func() app.UI {
			return &ui.Check{ID: "nameless", Label: p.w("past.nameless"), On: s.Prefs.Nameless, Turned: func(_ app.Context, on bool) {
				p.m.Memory.Count(func(x *act.Prefs) { x.Nameless = on })
			}}
		}),
		app.If(len(said) > 0, func() app.UI { return ui.List("", said) }),
		app.If(len(p.m.Memory.SamePlayer()) == 0, func() app.UI { return ui.P("hint", p.w("past.no-visits")) }))
}

func (p *Visits) record(s act.State) app.UI {
	heads := act.Learnable(*s.Session)
	anybody := false
	var body []app.UI
	for k, h := range heads {
		_, kept := p.m.Heads.Of(h)
		players := 0
		if kept != nil {
			players = int(math.Round(kept.Theirs)) + p.m.Heads.Others(kept)
		}
		anybody = anybody || players > 0
		said := p.w("past.nobody")
		if players > 0 {
			said = p.w("past.learned", strconv.Itoa(players))
		}
		if len(heads) > 1 {
			said = h.Name + ": " + said
		}
		body = append(body, app.P().ID(numbered("record-said", k)).Attr("role", "status").Text(said),
			p.worth(s, h, players), p.learning(s, h, k, kept != nil))
	}
	return ui.Card("past-record", p.w("past.record"), append(body,
		app.If(anybody, func() app.UI {
			return &ui.Check{ID: "use-record", Label: p.w("past.use-record"), On: !s.Prefs.NoRecord, Turned: func(_ app.Context, on bool) {
				p.m.Memory.Count(func(x *act.Prefs) { x.NoRecord = !on })
			}}
		}),
		app.If(s.Records.Phase == act.Working, func() app.UI { return ui.Working("", p.w("app.working"), "", nil) }),
		app.If(s.Records.Phase == act.Failed, func() app.UI {
			return ui.Alert("record-error", p.w("past.failed", p.wording().err(s.Records.Error)))
		}),
		app.If(s.Records.Offer != nil, func() app.UI { return p.offer(*s.Records.Offer) }),
		ui.P("hint", p.w("past.what")))...)
}

// worth is what the answer says of a head's record.
func (p *Visits) worth(s act.State, h club.Head, players int) app.UI {
	why := ""
	if r := s.Answer.Value; players > 0 && r != nil {
		for _, m := range r.Records {
			if m.Head == h.Name && m.Why.Key != "" {
				why = p.wording().msg(m.Why)
			}
		}
	}
	return app.If(why != "", func() app.UI { return ui.P("hint", why) })
}

// learning is what can be done with the record of head number k.
func (p *Visits) learning(s act.State, h club.Head, k int, kept bool) app.UI {
	return ui.Row("",
		ui.ButtonOff(numbered("learn", k), "", p.w("past.learn"), s.Records.Phase == act.Working, p.w("app.working"), func(app.Context) { p.m.Heads.Learn(h) }),
		&ui.File{ID: numbered("open-record", k), Input: numbered("record-input", k), Label: p.w("past.open"), Accept: ".ferrule-record,application/octet-stream",
			Opened: func(_ app.Context, _ string, data []byte) { p.m.Heads.Open(h, data) }},
		app.If(kept, func() app.UI {
			return ui.Button(numbered("save-record", k), "", p.w("past.save"), func(app.Context) {
				p.m.Heads.Save(h, func(b []byte) { download(file{"head.ferrule-record", "application/octet-stream", b}) })
			})
		}))
}

// numbered tells apart what stands there for each of several; the first has the
// bare name.
func numbered(id string, k int) string {
	if k == 0 {
		return id
	}
	return id + "-" + strconv.Itoa(k)
}

// offer asks whether a record is to be kept.
func (p *Visits) offer(o act.Offer) app.UI {
	return app.Div().ID("record-offer").Class("part").Body(
		ui.P("", p.w("past.offer", strconv.Itoa(int(math.Round(o.Players))), strconv.Itoa(o.New))),
		ui.Row("ask",
			ui.Button("take-record", "main", p.w("past.take"), func(app.Context) { p.m.Heads.AnswerOffer(true) }),
			ui.Button("leave-record", "quiet", p.w("app.no"), func(app.Context) { p.m.Heads.AnswerOffer(false) })))
}

// recalledLine says in a line what the answer counts beside today's balls, or that what
// was taken up is to be tested again.
func recalledLine(say wording, r report.Report) app.UI {
	said := say.msgs(r.Recalled)
	if r.Since != nil && r.Since.Test {
		said = say.msgs(r.Since.Said)
	}
	return app.If(len(said) > 0, func() app.UI {
		return app.P().ID("recalled").Class("hint").Body(app.A().Href("/visits").Text(said[0]))
	})
}
