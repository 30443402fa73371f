package page

import (
	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
)

// progress is the line that tells how far the analysis is. It draws itself:
// twenty words of progress would otherwise draw the whole page twenty times
// while the person scrolls it.
type progress struct {
	app.Compo

	Said string
	Stop string

	m   *act.Model
	b   *base
	end func()
}

// OnMount has the line drawn at each word of progress.
func (p *progress) OnMount(ctx app.Context) {
	if app.IsServer {
		return
	}
	p.end = p.m.Answers.OnProgress(func() {
		ctx.Dispatch(func(app.Context) { p.b.ctx.PreventUpdate() }) // the line alone is drawn
	})
}

// OnDismount stops listening.
func (p *progress) OnDismount() {
	if p.end != nil {
		p.end()
	}
}

// Render draws the line.
func (p *progress) Render() app.UI {
	said := p.Said
	if d := p.m.Answers.Progress(); d > 0 {
		said += " · " + p.b.reader().Percent(d)
	}
	return ui.Working("cancel", said, p.Stop, func(app.Context) { p.m.Answers.Cancel() })
}

// working says that the answer is being worked out and lets the person stop.
func (b *base) working() app.UI {
	return &progress{Said: b.w("app.working"), Stop: b.w("app.cancel"), m: b.m, b: b}
}
