package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/shot"
)

// ofTurns says what came of a change that was hit in turn.
func (b *base) ofTurns(s act.State) string {
	if s.Stale() || s.Answer.Value == nil {
		return b.w("app.working")
	}
	for _, n := range s.Answer.Value.Notes {
		if strings.HasPrefix(n.Key, "note.check.") {
			return b.msg(n)
		}
	}
	return b.w("turns.done")
}

// turnsDo ends a change that is hit in turn: after all balls by taking one of the
// two up.
func (b *base) turnsDo(s act.State, done bool) app.UI {
	return ui.Row("",
		app.If(done, func() app.UI {
			return ui.Row("", b.take("turns-new", s.Turns.New), b.take("turns-today", s.Turns.Today))
		}),
		ui.Button("turns-stop", "quiet", b.w("turns.stop"), func(app.Context) { b.m.Bay.StopTurns() }))
}

// take takes a setting up.
func (b *base) take(id string, to club.Setting) app.UI {
	return app.Button().Type("button").ID(id).Class("button").OnClick(func(app.Context, app.Event) { b.m.Bay.Adopt(to) }, app.EventScope(id, to.Key())).Text(b.w("turns.play", b.setting(to)))
}

func (b *base) adopted(d shot.Decision) string {
	return b.w("turns.adopted", when(d.When), b.setting(d.Setting))
}

// taken says what was taken up, or takes the answer up.
func (b *base) taken(s act.State) app.UI {
	if d := s.Session.Adopted; d != nil && !d.Before(*s.Session) {
		return app.P().ID("adopted").Attr("role", "status").Text(b.adopted(*d))
	}
	r := s.Answer.Value
	return app.If(r.Answer.Setting >= 0 && r.Answer.Setting < len(r.Settings) && !s.Stale() && !s.ReadOnly, func() app.UI {
		return b.take("adopt", r.Settings[r.Answer.Setting].Setting)
	})
}
