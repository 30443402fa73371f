package page

import (
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/kept"
	"ferrule/core/chart"
	"ferrule/core/shot"
)

// told is what the big view tells a second window: no names, no session.
type told struct {
	Ball    string     // its number, empty = none was hit
	Setting string     // as the club is set
	Figures [][]string // numbers of the last ball, each with what it is
	Drawing string     // both patterns
}

// Client is that window: large numbers and the patterns for who is fitted. It
// follows the big view of another window and has no controls.
type Client struct {
	base
	told told
}

// OnInit names the page.
func (p *Client) OnInit() { p.base.OnInit(); p.name = "client" }

// OnMount listens to the big view.
func (p *Client) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	if app.IsServer {
		return
	}
	awake(true)
	app.Window().Call("ferruleListen", app.FuncOf(func(_ app.Value, args []app.Value) any {
		var t told
		if kept.Read(args[0].String(), &t) == nil {
			ctx.Dispatch(func(app.Context) { p.told = t })
		}
		return nil
	}))
}

// OnDismount lets the screen go dark again.
func (p *Client) OnDismount() { awake(false) }

// Render draws the window.
func (p *Client) Render() app.UI {
	p.name = "client"
	t := p.told
	figures := app.Range(t.Figures).Slice(func(i int) app.UI {
		return app.Div().Class("live-figure").Body(app.Span().Class("live-number").Text(t.Figures[i][0]), app.Span().Class("hint").Text(t.Figures[i][1]))
	})
	title := p.w("client.wait")
	if t.Ball != "" {
		title = p.w("live.last-is", t.Ball, t.Setting)
	}
	return app.Main().ID("main").Class("client").DataSet("page", p.name).Body(
		app.H1().ID("page-title").TabIndex(-1).Text(title),
		app.Div().Class("client-numbers").Attr("role", "status").Body(figures),
		app.Figure().Class("chart").Body(app.Div().Class("drawing").Body(app.If(t.Drawing != "", func() app.UI { return app.Raw(t.Drawing) }))),
	)
}

// tell sends the second window what it shows.
func (p *Live) tell(s act.State) {
	if app.IsServer || !app.Window().Get("ferruleFollowed").Truthy() {
		return
	}
	t := told{Setting: p.wording().setting(act.Now(s))}
	if n := len(s.Session.Shots); n > 0 {
		h := s.Session.Shots[n-1]
		t.Ball, t.Setting = strconv.Itoa(n), p.wording().setting(h.Setting)
		for _, q := range []shot.Quantity{shot.Carry, shot.Offline, shot.BallSpeed, shot.Launch} {
			if v, ok := h.Values.Get(q); ok {
				t.Figures = append(t.Figures, []string{p.wording().value(q, v), p.wording().quantity(q)})
			}
		}
	}
	if r := s.Answer.Value; r != nil && len(r.Settings) > 0 && r.Answer.Other < len(r.Settings) && r.Reference < len(r.Settings) {
		st := styleOf(p.wording(), "client")
		t.Drawing = p.once("client", shownOf(r, st), func() chart.Drawing { return chart.Patterns(*r, r.Reference, r.Answer.Other, st) }).SVG
	}
	if text, err := kept.Write(t); err == nil {
		app.Window().Call("ferruleTell", text)
	}
}
