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
func ofTurns(say wording, s act.State) string {
	if s.Stale() || s.Answer.Value == nil {
		return say.w("app.working")
	}
	for _, n := range s.Answer.Value.Notes {
		if strings.HasPrefix(n.Key, "note.check.") {
			return say.msg(n)
		}
	}
	return say.w("turns.done")
}

// turnsDo ends a change that is hit in turn: after all balls by taking one of the
// two up.
func turnsDo(model *act.Model, say wording, s act.State, done bool) app.UI {
	return ui.Row("",
		app.If(done, func() app.UI {
			return ui.Row("", takeUp(model, say, "turns-new", s.Turns.New), takeUp(model, say, "turns-today", s.Turns.Today))
		}),
		ui.Button("turns-stop", "quiet", say.w("turns.stop"), func(app.Context) { model.Bay.StopTurns() }))
}

// takeUp takes a setting up.
func takeUp(model *act.Model, say wording, id string, to club.Setting) app.HTMLButton {
	return app.Button().Type("button").ID(id).Class("button").OnClick(func(app.Context, app.Event) { model.Bay.Adopt(to) }, app.EventScope(id, to.Key())).Text(say.w("turns.play", say.setting(to)))
}

func (say wording) adopted(d shot.Decision) string {
	return say.w("turns.adopted", when(d.When), say.setting(d.Setting))
}

// takenUp says what was taken up, or takes the answer up.
func takenUp(model *act.Model, say wording, s act.State) app.UI {
	if d := s.Session.Adopted; d != nil && !d.Before(*s.Session) {
		return app.P().ID("adopted").Attr("role", "status").Text(say.adopted(*d))
	}
	r := s.Answer.Value
	return app.If(r.Answer.Setting >= 0 && r.Answer.Setting < len(r.Settings) && !s.ReadOnly, func() app.UI {
		return takeUp(model, say, "adopt", r.Settings[r.Answer.Setting].Setting).Disabled(s.Stale()) // in its place, while it is worked out anew
	})
}
