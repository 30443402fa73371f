package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/share"
)

// Shared opens what a link holds, to be looked at and kept. It shows the answer
// as it was given; working it out anew is the reader's to ask for.
type Shared struct {
	base
	opened bool // the address holds a link, and it was read
	failed string
}

// OnInit names the page.
func (p *Shared) OnInit() { p.base.OnInit(); p.name = "shared" }

// OnNav reads the link. It opens nothing over what is stored.
func (p *Shared) OnNav(ctx app.Context) {
	p.base.OnNav(ctx)
	fragment := ctx.Page().URL().Fragment
	p.opened, p.failed = false, ""
	if !strings.HasPrefix(fragment, share.Prefix) {
		return
	}
	link, err := share.Decode(fragment)
	if err != nil {
		p.failed = p.w(share.Key(err))
		return
	}
	p.opened = true
	p.m.Sessions.Show(link.Session, link.Given, false)
}

// Render draws the page.
func (p *Shared) Render() app.UI {
	p.name = "shared"
	s := p.st()
	switch {
	case p.failed != "":
		return p.frame(p.w("shared.lead"), ui.Alert("link-error", p.failed), backLinks(p.m, p.wording()))
	case s.Session == nil || !p.opened && !s.ReadOnly && s.Given == nil: // one's own session is nobody's link
		return p.frame("", ui.Empty(p.w("shared.none"), p.w("shared.none-do")), backLinks(p.m, p.wording()))
	case s.Answer.Value == nil:
		return p.frame(p.w("shared.lead"), p.short(s.Given), p.answerless(s))
	}
	return p.frame(p.w("shared.lead"), p.origin(s), paperFrame(p.m, p.wording(), s, "", true))
}

// origin says that the answer is the one that was given, and offers to work it
// out anew; worked out anew, it says what differs and why.
func (p *Shared) origin(s act.State) app.UI {
	r := *s.Answer.Value
	if r.Given {
		said := p.w("shared.given-undated")
		if r.Made > 0 {
			said = p.w("shared.given", p.reader().Day(r.Made))
		}
		return ui.Row("banner no-print", ui.P("", said),
			ui.ButtonOff("anew", "", p.w("shared.anew"), s.Answer.Phase == act.Working, p.w("app.busy"), func(app.Context) { p.m.Answers.Analyse() }))
	}
	return nil // the banner says what is otherwise
}

// givenDiffers says what is otherwise in the answer worked out anew than in the one
// that came with the session; nothing is otherwise, nothing is said.
func givenDiffers(say wording, s act.State) app.UI {
	if s.Given == nil || s.Answer.Value == nil || s.Answer.Value.Given {
		return nil
	}
	said := say.msgs(s.Given.Differs(*s.Answer.Value, s.Exact))
	if len(said) == 0 {
		return nil
	}
	return ui.Status("differs", "banner", strings.Join(said, " "))
}

// short is the answer as the link itself tells it, while the sheet is written.
func (p *Shared) short(g *share.Given) app.UI {
	if g == nil {
		return nil
	}
	big := g.Advised()
	if g.Keep {
		big = p.w("choose.keep", g.Today.Label)
	}
	return app.Section().Class("answer").Attr("aria-labelledby", "answer").Body(
		ui.P("verdict", p.w("verdict."+string(g.Verdict))),
		app.P().ID("answer").Class("big").Text(big),
		app.If(!g.Keep, func() app.UI {
			return counted(p.wording(), p.w("compare.better", p.wording().percent(g.Answer.Chance)), g.Answer.Chance)
		}),
	)
}
