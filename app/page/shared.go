package page

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/report"
	"ferrule/core/share"
)

// Shared opens what a link holds, to be looked at and kept. It shows the answer
// as it was given; working it out anew is the reader's to ask for.
type Shared struct {
	base
	opened bool // the address holds a link, and it was read
	failed string
	given  *share.Given // nil when the link holds no answer
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
	p.opened, p.given = true, link.Given
	p.m.Show(link.Session, link.Given)
}

// Render draws the page.
func (p *Shared) Render() app.UI {
	p.name = "shared"
	s := p.st()
	switch {
	case p.failed != "":
		return p.frame(p.w("shared.lead"), ui.Alert("link-error", p.failed), p.back())
	case !p.opened || s.Session == nil: // one's own session is nobody's link
		return p.frame("", ui.Empty(p.w("shared.none"), p.w("shared.none-do")), p.back())
	case s.Answer.Value == nil:
		return p.frame(p.w("shared.lead"), p.short(), p.answerless(s))
	}
	return p.frame(p.w("shared.lead"), p.origin(s), p.paper(s, ""))
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
			ui.ButtonOff("anew", "", p.w("shared.anew"), s.Answer.Phase == act.Working, p.w("app.busy"), func(app.Context) { p.m.Analyse() }))
	}
	return p.differs(r)
}

// differs says when the answer worked out anew is another than the one given.
func (p *Shared) differs(r report.Report) app.UI {
	g := p.given
	if g == nil || r.Answer.Setting < 0 || r.Answer.Setting >= len(r.Settings) {
		return nil
	}
	was, is := g.Advised(), r.Settings[r.Answer.Setting].Setting.Key()
	if was == is && g.Verdict == r.Choice.Verdict {
		return nil
	}
	why := p.w("shared.why.rounded")
	switch {
	case g.Model != report.Version:
		why = p.w("shared.why.version")
	case g.Balls != uint64(r.Balls):
		why = p.w("shared.why.balls", strconv.FormatUint(g.Balls, 10), strconv.Itoa(r.Balls))
	}
	return ui.Status("differs", "banner", p.w("shared.differs", was, p.w("verdict."+string(g.Verdict)), is, p.w("verdict."+string(r.Choice.Verdict)), why))
}

// short is the answer as the link itself tells it, while the sheet is written.
func (p *Shared) short() app.UI {
	g := p.given
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
			return ui.P("moves", p.w("compare.better", p.percent(g.Answer.Chance)))
		}),
	)
}
