package page

import (
	"cmp"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/shot"
)

// A ball may be spoken where the browser recognises speech on the device
// (pwa/loader.js asks it). What is heard is shown large, and counts after a tap.

// ear is what a key pad knows of speech.
type ear struct {
	can  string   // the browser's word: "available", "downloadable", "downloading"; empty = it is off
	what string   // is shown: "listening", "ball", or the end of a key; empty = nothing
	said string   // as it was heard, or what went wrong
	ball []string // carry and side, as the fields take them
}

// askEar asks the browser what it can do; get has it fetch what it lacks.
func (p *ballPad) askEar(ctx app.Context, get bool) {
	if app.IsServer {
		return
	}
	app.Window().Call("ferruleVoice", string(p.reader().Language), get, app.FuncOf(func(_ app.Value, args []app.Value) any {
		what, said := args[0].String(), args[1].String()
		ctx.Dispatch(func(ctx app.Context) {
			if what == "can" && said == p.ear.can {
				ctx.PreventUpdate() // as at every start of a browser that can't
			}
			p.told(what, said)
		})
		return nil
	}))
}

// told takes what the browser says.
func (p *ballPad) told(what, said string) {
	e := &p.ear
	if what == "can" {
		e.can = said
		return
	}
	e.what, e.said = what, said
	if what == "heard" {
		p.m.Voice.Hear(said, func(ball []string) {
			if e.what = "unclear"; len(ball) > 1 {
				e.what, e.ball = "ball", ball
				ball[1] = cmp.Or(ball[1], p.st().Drafts[entryID(shot.Offline)].Text) // typed before: it belongs to the ball
			}
		})
	}
}

// hush ends the listening.
func (p *ballPad) hush(app.Context) {
	p.ear.what = ""
	if !app.IsServer {
		app.Window().Call("ferruleHush")
	}
}

// speak is the key for it; none where nothing can be promised.
func (p *ballPad) speak(qs []shot.Quantity) app.UI {
	ready := p.ear.can == "available"
	if p.ear.can == "" || len(qs) < 2 || qs[1] != shot.Offline { // the first is the carry, by act's order
		return nil
	}
	key := "voice.fetch"
	if ready {
		key = "voice.speak"
	}
	return ui.ButtonOff("speak", "", p.w(key), p.ear.can == "downloading", "", func(ctx app.Context) {
		if p.ear.can != "available" {
			p.askEar(ctx, true)
			return
		}
		p.hear(ctx)
	})
}

func (p *ballPad) hear(ctx app.Context) {
	app.Window().Call("ferruleHear")
	focusOn(ctx, "slip-title")
}

// heard shows what is heard, and what it is understood as.
func (p *ballPad) heard() app.UI {
	e := p.ear
	large, small := "", e.said
	switch {
	case e.what == "ball":
		large = p.echo(shot.Carry, e.ball[0]) + "  " + p.echo(shot.Offline, e.ball[1])
	case e.what != "listening" && e.what != "heard" || small == "":
		small = p.w("voice."+e.what, small)
	}
	return ui.Slip(p.w("voice.speak"), p.w("app.close"), p.hush,
		ui.Status("voice-ball", "last-number", large),
		ui.Status("voice-said", "", small),
		ui.ButtonOff("voice-keep", "main big", p.w("voice.keep"), large == "", "", func(app.Context) {
			for i, q := range []shot.Quantity{shot.Carry, shot.Offline} {
				p.write(q, p.ear.ball[i])
			}
			p.ear.what = ""
			p.finish(false)
		}),
		ui.Button("voice-again", "", p.w("voice.again"), p.hear))
}

// echo is a number as it would count, or as it was heard where it would not.
func (p *ballPad) echo(q shot.Quantity, text string) string {
	if x, err := parseTyped(p.m, q, text); err == nil && typistOf(p.m).Sided(q, text) {
		return p.wording().value(q, x)
	}
	return text
}
