package page

import (
	"math"
	"slices"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
)

// dial is the sleeve drawn from the golfer's eye, turned by a finger, by the
// arrow keys or by two buttons a ring. From is drawn hollow beside Now.
type dial struct {
	app.Compo

	ID     string
	Move   chart.Move // From and To are all that it says of the setting
	Style  chart.Style
	Picked func(ctx app.Context, label string)

	dragged int // the ring under the finger, from 1; 0 = none
}

// of lists the labels of the rings, and where each of them stands.
func (d *dial) of() (rings [][]string, at []int, places []club.Place) {
	places = d.Move.Head.Places()
	rings = d.Move.Head.Sleeve.RingLabels()
	k, all := 0, make([]string, len(places))
	for i, p := range places {
		if all[i] = p.Label; p.Label == d.Move.To.Sleeve {
			k = i
		}
	}
	if rings == nil || len(rings[0])*len(rings[1]) != len(places) {
		return [][]string{all}, []int{k}, places
	}
	n := len(rings[1])
	return rings, []int{k / n, k % n}, places
}

// turn sets a ring to a place, round and round.
func (d *dial) turn(ctx app.Context, ring, place int) {
	rings, at, places := d.of()
	if ring >= len(rings) {
		return
	}
	n := len(rings[ring])
	if place = (place%n + n) % n; at[ring] == place {
		return
	}
	at[ring] = place
	k := at[0]
	if len(at) > 1 {
		k = at[0]*len(rings[1]) + at[1]
	}
	d.Picked(ctx, places[k].Label)
}

// step turns a ring by places from where it stands.
func (d *dial) step(ctx app.Context, ring, by int) {
	if _, at, _ := d.of(); ring < len(at) {
		d.turn(ctx, ring, at[ring]+by)
	}
}

// Render draws the rings and their keys.
func (d *dial) Render() app.UI {
	rings, at, _ := d.of()
	w := func(key string, args ...string) string { return d.Style.Reader.Fill(key, args...) }
	keys := app.Range(rings).Slice(func(k int) app.UI {
		one, name := d.ID+"-ring"+strconv.Itoa(k+1), w("club.sleeve")
		if len(rings) > 1 {
			name = w("dial.ring", strconv.Itoa(k+1))
		}
		return ui.Row("dial-keys",
			ui.Icon(one+"-back", "", "‹", w("dial.back", name), false, func(ctx app.Context) { d.step(ctx, k, -1) }),
			app.Div().ID(one).Class("dial-place").TabIndex(0).Attr("role", "slider").Attr("aria-label", name).
				Attr("aria-valuemin", 0).Attr("aria-valuemax", len(rings[k])-1).Attr("aria-valuenow", at[k]).Attr("aria-valuetext", rings[k][at[k]]).
				OnKeyDown(func(ctx app.Context, e app.Event) {
					if by := map[string]int{"ArrowRight": 1, "ArrowUp": 1, "ArrowLeft": -1, "ArrowDown": -1}[e.Get("key").String()]; by != 0 {
						e.PreventDefault()
						d.step(ctx, k, by)
					}
				}, app.EventScope(one)).Text(rings[k][at[k]]),
			ui.Icon(one+"-on", "", "›", w("dial.on", name), false, func(ctx app.Context) { d.step(ctx, k, 1) }))
	})
	return app.Div().ID(d.ID+"-sleeve").Class("dial").Attr("role", "group").Attr("aria-label", w("club.sleeve")).Body(
		app.Div().Class("drawing").On("pointerdown", d.begin).On("pointermove", d.drag).On("pointerup", d.end).On("pointercancel", d.end).
			Body(app.Raw(chart.Turn(d.Move, d.Style).SVG)),
		app.Div().Class("dial-rings").Body(keys))
}

func (d *dial) begin(ctx app.Context, e app.Event) {
	if ring, place := nearest(ctx.JSSrc(), e, -1); ring >= 0 {
		d.dragged = ring + 1
		ctx.JSSrc().Call("setPointerCapture", e.Get("pointerId"))
		d.turn(ctx, ring, place)
	}
}

func (d *dial) drag(ctx app.Context, e app.Event) {
	if d.dragged == 0 {
		return
	}
	if _, place := nearest(ctx.JSSrc(), e, d.dragged-1); place >= 0 {
		d.turn(ctx, d.dragged-1, place)
	}
}

func (d *dial) end(app.Context, app.Event) { d.dragged = 0 }

// nearest is the place of a ring, of any where ring is negative, that lies
// nearest to the finger; -1, -1 where none is drawn.
func nearest(el app.Value, e app.Event, ring int) (ofRing, place int) {
	x, y := e.Get("clientX").Float(), e.Get("clientY").Float()
	spots := el.Call("querySelectorAll", "[data-place]")
	ofRing, place = -1, -1
	least := math.Inf(1)
	for i := range spots.Length() {
		spot := spots.Index(i)
		k, _ := strconv.Atoi(spot.Get("dataset").Get("ring").String())
		if ring >= 0 && k != ring {
			continue
		}
		r := spot.Call("getBoundingClientRect")
		far := math.Hypot(r.Get("left").Float()+r.Get("width").Float()/2-x, r.Get("top").Float()+r.Get("height").Float()/2-y)
		if far < least {
			least, ofRing = far, k
			place, _ = strconv.Atoi(spot.Get("dataset").Get("place").String())
		}
	}
	return ofRing, place
}

// dialOf is the dial of a club that stands at now, beside where it stood.
func dialOf(model *act.Model, say wording, id string, h club.Head, from, now club.Setting, picked func(ctx app.Context, label string)) app.UI {
	h.Weights = nil
	m := chart.Move{Head: h, From: club.Setting{Sleeve: from.Sleeve}, To: club.Setting{Sleeve: now.Sleeve}, Hand: model.State().Session.Player.Hand, All: true}
	return &dial{ID: id, Move: m, Style: styleOf(say, id+"-dial"), Picked: picked}
}

// mostAround is how many places of a ring a finger can tell apart.
const mostAround = 12

// dials reports whether a sleeve that stands at now can be drawn and turned.
func dials(h club.Head, now club.Setting) bool {
	places := h.Places()
	if h.Validate() != nil || len(places) < 2 || len(h.Sleeve.Rings) < 2 && len(places) > mostAround {
		return false
	}
	for _, r := range h.Sleeve.Rings {
		if r.Positions > mostAround {
			return false
		}
	}
	return slices.ContainsFunc(places, func(p club.Place) bool { return p.Label == now.Sleeve })
}
