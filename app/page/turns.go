package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
)

// inTurn says which setting of a change is to be hit now, and at its end what came
// of it and what can be taken up.
func (b *base) inTurn(s act.State) app.UI {
	set, left := s.Turn()
	what := b.w("range.check", b.w("plan.visit", b.balls1(left), b.setting(set)))
	if left == 0 {
		what = b.w("app.working")
		if !s.Stale() && s.Answer.Value != nil {
			what = b.w("turns.done")
			for _, n := range s.Answer.Value.Notes {
				if strings.HasPrefix(n.Key, "note.check.") && n.Key != "note.check.weighed" {
					what = b.msg(n)
				}
			}
		}
	}
	adopt := func(id, class string, fresh bool) app.UI {
		to := s.Turns.Today
		if fresh {
			to = s.Turns.New
		}
		return ui.Button(id, class, b.w("turns.play", b.setting(to)), func(app.Context) {
			if t := b.st().Turns; t != nil && fresh {
				b.m.Adopt(t.New)
			} else if t != nil {
				b.m.Adopt(t.Today)
			}
		})
	}
	return app.Div().ID("to-hit").Class("to-hit").Body(
		app.Div().Body(app.P().ID("hit-now").Class("plan-what").Attr("role", "status").Text(what)),
		app.Div().Class("row").Body(
			app.If(left > 0 && !set.Equal(act.Now(s)), func() app.UI {
				return ui.Button("set-now", "main", b.w("plan.set"), func(app.Context) {
					if s := b.st(); s.Turns != nil {
						set, _ := s.Turn()
						b.setTo(set)
					}
				})
			}),
			app.If(left == 0, func() app.UI {
				return ui.Row("", adopt("turns-new", "", true), adopt("turns-today", "", false))
			}),
			ui.Button("turns-stop", "quiet", b.w("turns.stop"), func(app.Context) { b.m.StopTurns() })))
}

// taken says what was taken up, or takes the answer up.
func (b *base) taken(s act.State) app.UI {
	if d := s.Session.Adopted; d != nil && !d.Before(*s.Session) {
		return app.P().ID("adopted").Attr("role", "status").Text(b.w("turns.adopted", when(d.When), b.setting(d.Setting)))
	}
	r := s.Answer.Value
	if r == nil || r.Answer.Setting < 0 || r.Answer.Setting >= len(r.Settings) || s.Stale() || s.ReadOnly {
		return nil
	}
	return ui.Row("no-print", ui.Button("adopt", "", b.w("turns.play", b.setting(r.Settings[r.Answer.Setting].Setting)), func(app.Context) {
		if r := b.st().Answer.Value; r != nil {
			b.m.Adopt(r.Settings[r.Answer.Setting].Setting)
		}
	}))
}
