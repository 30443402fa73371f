package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
)

// How tells the method in plain words, its limits and its sources.
type How struct {
	base
	tables string // of the proof, "" = not here yet
	failed bool   // they did not come
}

// OnInit names the page.
func (p *How) OnInit() { p.base.OnInit(); p.name = "how" }

// OnMount fetches the tables of the proof.
func (p *How) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	ctx.Async(func() {
		tables, ok := proofTables()
		ctx.Dispatch(func(app.Context) { p.tables, p.failed = tables, !ok })
	})
}

// parts are the chapters, each a heading "how.NAME" and paragraphs
// "how.NAME.1", "how.NAME.2", ...
var parts = []struct {
	name  string
	lines int
}{
	{"does", 3}, {"model", 4}, {"sure", 3}, {"flags", 3}, {"limits", 6}, {"questions", 7}, {"privacy", 2}, {"sources", 6},
}

// Render draws the page.
func (p *How) Render() app.UI {
	p.name = "how"
	chapters := []app.UI{}
	for i, c := range parts {
		draw := func() app.UI {
			lines := []app.UI{}
			for i := 1; i <= c.lines; i++ {
				lines = append(lines, ui.P("", p.w("how."+c.name+"."+string(rune('0'+i)))))
			}
			return chapter("how-"+c.name, p.w("how."+c.name), c.name == "does", lines...)
		}
		if i < 2 {
			chapters = append(chapters, draw())
		} else {
			chapters = append(chapters, p.part(draw))
		}
	}
	chapters = append(chapters, p.part(func() app.UI {
		return chapter("how-proof", p.w("how.proof"), false, p.proofs()...)
	}))
	return p.frame(p.w("how.lead"),
		app.Div().Class("chapters").Body(chapters...),
		// A file of the site, not a page of the program: opened beside it.
		p.part(func() app.UI {
			return app.P().Body(app.A().ID("licences").Href("/licences.txt").Target("_blank").Text(p.w("how.licences")))
		}),
		p.part(func() app.UI {
			return ui.Caution(p.w("caution.hit"), p.w("caution.hit-clear"), p.w("caution.hit-warm"), p.w("caution.hit-pain"))
		}),
		p.part(func() app.UI {
			return ui.Caution(p.w("caution.adjust"), p.w("caution.adjust-tool"), p.w("caution.adjust-loose"), p.w("caution.adjust-stop"), p.w("caution.round"))
		}),
		p.part(func() app.UI { return ui.P("hint", p.w("caution.substitute")) }))
}

// chapter is a heading that unfolds: eight of them fit a phone's screen, their
// text is four screens long.
func chapter(id, title string, open bool, lines ...app.UI) app.UI {
	return app.Details().ID(id).Class("more chapter").Open(open).Body(
		append([]app.UI{app.Summary().Body(app.H2().Text(title))}, lines...)...)
}

// proofs draws each table of the file, in which a line "# name" opens one, then
// "title<tab>command<tab>note", then its head and rows, behind a line that says
// what it is. Command and note stand above it, so that a reader can print it too.
func (p *How) proofs() []app.UI {
	if app.IsServer {
		p.tables, _ = proofTables()
	}
	out := []app.UI{ui.P("", p.w("how.proof.1"))}
	if p.failed {
		out = append(out, ui.Alert("proof-missing", p.w("how.proof-missing")))
	}
	for _, block := range strings.Split("\n"+p.tables, "\n# ")[1:] {
		lines := strings.Split(strings.TrimSpace(block), "\n")
		if len(lines) < 4 {
			continue
		}
		about := append(strings.Split(lines[1], "\t"), "", "")
		t := ui.Table{Caption: about[0], Head: strings.Split(lines[2], "\t")}
		for _, l := range lines[3:] {
			t.Rows = append(t.Rows, strings.Split(l, "\t"))
		}
		out = append(out, moreLater("proof-"+lines[0], about[0], func() []app.UI {
			return []app.UI{ui.P("hint", about[1]), ui.P("hint", about[2]), t.Render()}
		}))
	}
	return out
}
