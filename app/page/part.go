package page

import (
	"sync/atomic"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/yield"
)

// part is a piece of a page that is drawn in a turn of its own, once what
// stands above it is drawn: a long page at one go stops a phone for half a
// second, and its screen shows the top. From then on it is drawn with its page.
type part struct {
	app.Compo

	Of   *base
	Draw func() app.UI

	drawn bool
}

// part has a piece of the page wait for its turn. Nothing drawn is nothing
// shown.
func (b *base) part(draw func() app.UI) app.UI { return &part{Of: b, Draw: draw} }

// OnMount has the part wait; of a page that is gone back to it is drawn at
// once, for the page is to stand where it was left.
func (p *part) OnMount(ctx app.Context) {
	ctx.PreventUpdate() // that it stands there changes nothing of the page
	if p.drawn || p.Of.again {
		return
	}
	p.Of.waiting = append(p.Of.waiting, turn{ctx, p})
	undrawn.Add(1)
	if len(p.Of.waiting) == 1 {
		p.Of.turn()
	}
}

// OnDismount lets the next one have its turn.
func (p *part) OnDismount() {
	for i, t := range p.Of.waiting {
		if t.part == p {
			p.Of.waiting = append(p.Of.waiting[:i:i], p.Of.waiting[i+1:]...)
			undrawn.Add(-1)
			if i == 0 {
				p.Of.turn()
			}
			return
		}
	}
}

// Render draws the part if it is its turn. Where there is no screen all is
// drawn.
func (p *part) Render() app.UI {
	if p.drawn || p.Of.again || app.IsServer {
		if drawn := app.FilterUIElems(p.Draw()); len(drawn) > 0 {
			return drawn[0]
		}
	}
	return app.Div().Hidden(true)
}

// undrawn is how many parts wait on the page that is shown.
var undrawn atomic.Int32

// drawn waits until the page shows the state as it is: for the next frame, and
// for the parts that it leaves for later.
func drawn() {
	for time.Sleep(3 * time.Second / 60); undrawn.Load() > 0; {
		yield.Turn()
	}
}

// turn is a part that waits to be drawn.
type turn struct {
	ctx  app.Context
	part *part
}

// turn draws the parts that wait, one after the other, each after a turn of
// the browser.
func (b *base) turn() {
	b.marks()
	if len(b.waiting) == 0 {
		return
	}
	t := b.waiting[0]
	t.ctx.Async(func() {
		yield.Turn()
		t.ctx.Dispatch(func(ctx app.Context) { // not if it is gone by now
			t.part.drawn = true
			b.ctx.PreventUpdate() // the part alone is drawn
			ctx.Defer(func(app.Context) {
				b.waiting = b.waiting[1:]
				undrawn.Add(-1)
				b.turn()
			})
		})
	})
}
