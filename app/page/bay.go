package page

import (
	"slices"
	"strconv"
	"time"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
)

// bayBar is what is left to hit and where the balls come from.
func (p *Live) bayBar(s act.State) app.UI {
	left := []string{}
	if n := s.Session.Aim.BallsLeft; n != 0 {
		left = append(left, p.w("bay.balls", strconv.Itoa(max(0, n))))
	}
	minutes, runs := p.m.Bay.MinutesLeft()
	if runs {
		left = append(left, p.w("bay.minutes", strconv.Itoa(int(minutes))))
	}
	clock, start := p.w("bay.start"), s.Session.Aim.MinutesLeft
	if start <= 0 {
		start = 60 // common practice, no source: an hour at a bay
	}
	if runs {
		clock, start = p.w("bay.stop"), 0
	}
	watching := p.folder != ""
	folder := p.w("bay.folder")
	if watching {
		folder = p.w("bay.watching", p.folder)
	}
	return app.Div().ID("bay").Class("row bay").Body(
		app.P().ID("bay-left").Class("bay-left").Attr("role", "status").Body(app.Range(left).Slice(func(i int) app.UI { return app.Span().Text(left[i]) })),
		ui.Button("bay-clock", "quiet", clock, func(app.Context) { p.m.Bay.StartClock(start) }),
		ui.Button("client-open", "quiet", p.w("client.open"), func(app.Context) { app.Window().Call("open", "/client", "ferrule-client") }),
		app.Div().Body(app.If(p.watches || watching, func() app.UI {
			return app.Button().Type("button").ID("bay-folder").Class("button quiet").Attr("aria-pressed", strconv.FormatBool(watching)).
				OnClick(func(ctx app.Context, _ app.Event) { p.watch(ctx, true) }, app.EventScope("bay-folder")).Text(folder)
		})),
		app.Div().Class("state").Body(app.If(s.Reading.Phase == act.Ready || s.Reading.Phase == act.Failed, func() app.UI {
			return ui.Link("bay-asks", "main", "/shots", p.w("bay.asks", s.Reading.Name))
		})),
	)
}

// watch has a folder watched, or no longer; chosen: the person tapped for it.
func (p *Live) watch(ctx app.Context, chosen bool) {
	if chosen && p.folder != "" {
		p.folder = ""
		app.Window().Call("ferruleFolderClose")
		return
	}
	var then app.Func
	then = app.FuncOf(func(_ app.Value, args []app.Value) any {
		name := args[0].String()
		ctx.Dispatch(func(app.Context) { p.folder = name })
		then.Release()
		return nil
	})
	app.Window().Call("ferruleFolderOpen", chosen).Call("then", then)
}

// arrived offers the other settings for the balls that came in last: one tap moves
// them.
func (p *Live) arrived(s act.State) app.UI {
	n := len(s.Arrived)
	if n == 0 || len(s.Session.Shots) == 0 || s.Session.Shots[len(s.Session.Shots)-1].ID != s.Arrived[n-1] {
		return app.Div().ID("arrived")
	}
	is := s.Session.Shots[len(s.Session.Shots)-1].Setting
	others := slices.DeleteFunc(near(s), func(c club.Setting) bool { return c.Equal(is) })
	return app.Div().ID("arrived").Class("arrived").Attr("role", "group").Attr("aria-label", p.w("bay.move", p.wording().balls1(n))).Body(
		ui.P("hint", p.w("bay.move", p.wording().balls1(n))),
		app.Div().Class("set-buttons").Body(app.Range(others).Slice(func(i int) app.UI {
			c := others[i]
			return app.Button().Type("button").ID("move-"+strconv.Itoa(i)).Class("set").
				OnClick(func(app.Context, app.Event) { p.m.Bay.MoveArrived(c) }, app.EventScope("move", c.Key())).Text(p.wording().setting(c))
		})))
}

// OnMount keeps the screen lit, takes up the folder of last time where that asks
// nothing, and lets the minutes run down.
func (p *Live) OnMount(ctx app.Context) {
	p.base.OnMount(ctx)
	awake(true)
	if app.IsServer {
		return
	}
	p.here = true
	app.Window().Set("ferruleFollow", app.FuncOf(func(app.Value, []app.Value) any { // drawn anew, it tells
		ctx.Dispatch(func(app.Context) {})
		return nil
	}))
	p.watches = app.Window().Get("showDirectoryPicker").Truthy()
	p.watch(ctx, false)
	ctx.Async(func() {
		for p.here {
			time.Sleep(10 * time.Second)
			if _, runs := p.m.Bay.MinutesLeft(); runs {
				ctx.Dispatch(func(app.Context) {})
			}
		}
	})
}

// OnDismount ends what OnMount began.
func (p *Live) OnDismount() {
	p.here = false
	awake(false)
	if !app.IsServer {
		app.Window().Call("ferruleTell", "{}") // the next player's window shows nothing of this one
		app.Window().Call("ferruleFolderClose")
	}
}
