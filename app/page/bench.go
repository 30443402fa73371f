package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/sheet"
	"ferrule/core/shot"
)

// bench takes what only a person can know of the club and the day: it stands
// on the sheet, which says "not measured" where nothing is written.
func (p *Sheet) bench(s shot.Session) app.UI {
	fields := []app.UI{}
	for _, key := range sheet.Open {
		fields = append(fields, textField(p.m, "bench-"+key, p.w("paper.field."+key), "", s.Bench[key], act.Change{Key: "edit.bench", Quiet: true},
			func(s *shot.Session, v string) {
				if s.Bench == nil {
					s.Bench = map[string]string{}
				}
				s.Bench[key] = v
			}))
	}
	return moreLater("bench", p.w("sheet.bench"), func() []app.UI {
		return []app.UI{ui.P("hint", p.w("sheet.bench-hint")), app.Div().Class("values").Body(fields...)}
	})
}
