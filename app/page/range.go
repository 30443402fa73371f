package page

import (
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
)

// between is what stands between two balls, at the range and at the bay alike: what
// to hit, how the club is set, the last ball.
type between struct {
	*base                  // of the page that it stands on
	turning  *club.Setting // how the club was set before it was changed, until that is done
	choosing bool          // any setting is being chosen
}

// confirmed tells the hands that a ball was taken, as the person wants it.
func confirmed(p act.Prefs) {
	if !app.IsServer && p.Confirm != "none" {
		app.Window().Call("ferruleConfirm", p.Confirm)
	}
}

// awake keeps the screen lit, where the browser can, as long as a page stands
// beside the player.
func awake(on bool) {
	if !app.IsServer {
		app.Window().Call("ferruleAwake", on)
	}
}

// firstVisit is what to hit now, by the one list; false where nothing is left.
func firstVisit(r *report.Report) (report.Visit, bool) {
	if r != nil {
		for _, v := range r.Todo.Visits {
			if v.Done < v.Balls && v.Setting >= 0 && v.Setting < len(r.Settings) {
				return v, true
			}
		}
	}
	return report.Visit{}, false
}

// hitNow is what to hit now: of a change that is hit in turn, else by the one list;
// no balls = nothing is left.
func hitNow(s act.State) (set club.Setting, balls int) {
	if s.Turns != nil {
		return s.Turn()
	}
	if v, any := firstVisit(s.Answer.Value); any {
		return s.Answer.Value.Settings[v.Setting].Setting, v.Balls - v.Done
	}
	return set, 0
}

// toHit says what to hit now, and when something can be said; of a change that was
// hit in turn, what came of it.
func (b *between) toHit(s act.State) app.UI {
	r := s.Answer.Value
	to, balls := hitNow(s)
	what := b.w("range.start")
	switch {
	case balls > 0:
		what = b.w("plan.visit", b.wording().balls1(balls), b.wording().setting(to))
		if s.Turns != nil || r.Todo.State == report.Check {
			what = b.w("range.check", what)
		}
	case s.Turns != nil:
		what = ofTurns(b.wording(), s)
	case r != nil && r.Todo.Why.Key != "":
		what = b.wording().msg(r.Todo.Why)
	case r != nil:
		what = b.w("plan.all-done")
	}
	until := ""
	if s.Turns == nil && r != nil && r.Todo.Until > 0 {
		until = b.w("range.until", strconv.Itoa(r.Todo.Until))
	}
	return app.Div().ID("to-hit").Class("to-hit").Body(
		app.Div().Body(
			app.P().ID("hit-now").Class("plan-what").Attr("role", "status").Text(what),
			app.P().ID("hit-until").Class("hint").Text(until)),
		app.Div().Body(
			app.If(balls > 0 && !to.Equal(act.Now(s)), func() app.UI {
				return ui.Button("set-now", "main", b.w("plan.set"), func(ctx app.Context) {
					if to, balls := hitNow(b.st()); balls > 0 {
						b.setTo(to)
					}
				})
			}),
			app.If(s.Turns != nil, func() app.UI { return turnsDo(b.m, b.wording(), s, balls == 0) })))
}

// chipsShown is how many settings are one tap away.
const chipsShown = 3

// near are the settings that are most likely meant: the one that is set, the one
// to hit next, today's, then those hit last.
func near(s act.State) []club.Setting {
	out := []club.Setting{}
	put := func(c club.Setting) {
		if len(out) < chipsShown && !slices.ContainsFunc(out, c.Equal) {
			out = append(out, c)
		}
	}
	put(act.Now(s))
	if to, balls := hitNow(s); balls > 0 {
		put(to)
	}
	put(act.Reference(s.Session))
	for i := len(s.Session.Shots) - 1; i >= 0 && len(out) < chipsShown; i-- {
		put(s.Session.Shots[i].Setting)
	}
	for _, c := range act.Settings(s.Session) {
		put(c)
	}
	return out
}

// chips set the club by one tap, and any setting behind the last of them. They
// keep their order as long as the same settings are near: no button moves under
// the finger.
func (b *between) chips(s act.State) app.UI {
	all := near(s)
	order := act.Settings(s.Session)
	at := func(c club.Setting) int { return slices.IndexFunc(order, c.Equal) }
	sort.SliceStable(all, func(i, j int) bool { return at(all[i]) < at(all[j]) })
	now := act.Now(s)
	if len(order) < 2 {
		return app.Div().ID("chips")
	}
	return app.Div().ID("chips").Class("chips").Body(
		app.Div().Class("chip-row").Attr("role", "group").Attr("aria-label", b.w("live.setting", b.wording().setting(now))).Body(
			app.Range(all).Slice(func(i int) app.UI {
				c := all[i]
				return chip("chip-"+strconv.Itoa(i), b.wording().setting(c), c.Equal(now), c.Key(), func() { b.setTo(c) })
			}),
			app.Button().Type("button").ID("chip-other").Class("set other").Attr("aria-expanded", strconv.FormatBool(b.choosing)).Attr("aria-label", b.w("range.other")).
				OnClick(func(app.Context, app.Event) { b.choosing = !b.choosing }, app.EventScope("chip-other")).Text("…")),
		app.Div().Class("state").Body(app.If(b.choosing, func() app.UI {
			return pickOf(b.m, b.wording(), "now", s.Session, now, func(_ app.Context, t club.Setting) { b.setTo(t) })
		})))
}

// setTo sets the club for the balls to come, and shows how, with the cautions.
func (b *between) setTo(to club.Setting) {
	from := act.Now(b.st())
	if from.Equal(to) {
		return
	}
	if b.turning == nil {
		b.turning = &from
	}
	b.m.Bay.SetNext(to)
}

// toTurn shows what to do at the club, from how the last ball was hit to how the
// next one is to be, and what to take care of. It goes with the next ball, or by
// a tap.
func (b *between) toTurn(s act.State) app.UI {
	now := act.Now(s)
	if b.turning == nil || b.turning.Equal(now) {
		b.turning = nil
		return nil
	}
	h := s.Session.HeadOf(now)
	from := *b.turning
	if from.Club != now.Club { // another club is taken up: from how it is set itself
		from = asToday(h)
	}
	m := chart.Move{Head: h, From: withWeights(h, from), To: withWeights(h, now), Hand: s.Session.Player.Hand}
	done := func(app.Context) { b.turning = nil }
	return ui.Slip(b.w("range.set", b.wording().setting(now)), b.w("app.close"), done,
		app.If(len(h.Places()) > 1 || len(h.Weights) > 0, func() app.UI {
			return app.Figure().ID("turn-to").Class("chart").Body(app.Div().Class("drawing").Body(app.Raw(chart.Turn(m, styleOf(b.wording(), "turn-to")).SVG)))
		}),
		ui.Caution(b.w("caution.adjust"), b.w("caution.adjust-tool"), b.w("caution.adjust-loose"), b.w("caution.adjust-stop")),
		ui.Button("turn-done", "main big", b.w("range.is-set"), done))
}

// lastBall shows the newest ball large, and what a slip needs: three taps that
// put it right.
func lastBall(model *act.Model, say wording, s act.State) app.UI {
	shots := s.Session.Shots
	if len(shots) == 0 {
		return app.Div().ID("last").Class("last").Body(ui.P("hint", say.w("balls.none")))
	}
	h := shots[len(shots)-1]
	id := h.ID
	figures := []app.UI{}
	for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch, shot.Spin, shot.Backspin, shot.Apex} {
		if v, ok := h.Values.Get(q); ok {
			class := "last-more"
			if q == shot.Carry || q == shot.Offline {
				class = "last-number"
			}
			figures = append(figures, app.Span().Class(class).Title(say.quantity(q)).Text(say.value(q, v)))
		}
	}
	_, sided := h.Values.Get(shot.Offline)
	mishit := h.Tag == shot.TagMishit
	return app.Div().ID("last").Class("last").Body(
		app.Div().Class("last-figures").Attr("role", "status").Body(append([]app.UI{
			app.Span().ID("last-is").Class("hint").Text(say.w("live.last-is", strconv.Itoa(len(shots)), say.setting(h.Setting)))}, figures...)...),
		ui.Row("last-do",
			app.Button().Type("button").ID("last-mishit").Class("button").Attr("aria-pressed", strconv.FormatBool(mishit)).
				OnClick(func(app.Context, app.Event) { tagLast(model, id) }, app.EventScope("mishit", id)).Text(capital(say.w("tag."+string(shot.TagMishit)))),
			ui.ButtonOff("last-side", "", say.w("range.wrong-side"), !sided, "", func(app.Context) { model.Balls.Turn(lastID(model.State(), id)) }),
			ui.Button("last-remove", "", say.w("balls.remove"), func(app.Context) { model.Balls.Remove(lastID(model.State(), id)) }),
		))
}

// tagLast calls the newest ball a mis-hit, or no longer so.
func tagLast(model *act.Model, otherwise string) {
	id, tag := lastID(model.State(), otherwise), shot.TagMishit
	for _, h := range model.State().Session.Shots {
		if h.ID == id && h.Tag == tag {
			tag = shot.TagNone
		}
	}
	model.Balls.Tag(id, tag)
}

// lastID is the newest ball at the time of the tap.
func lastID(s act.State, otherwise string) string {
	if s.Session != nil && len(s.Session.Shots) > 0 {
		return s.Session.Shots[len(s.Session.Shots)-1].ID
	}
	return otherwise
}
