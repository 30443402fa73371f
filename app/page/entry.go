package page

import (
	"slices"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/frame"
	"ferrule/core/shot"
	"ferrule/core/typed"
	"ferrule/core/units"
)

// Typed text of the key pad lives in the state's drafts under these names, so
// that a call coming in, another page or a page loaded again loses none of it.
func entryID(q shot.Quantity) string { return act.EntryField(q) }

// parse reads one typed number of a ball: a bare number counts in the
// player's units, L and R say the side.
func (b *base) parse(q shot.Quantity, text string) (float64, error) {
	hand := frame.Right
	if s := b.st().Session; s != nil && s.Player.Hand != "" {
		hand = s.Player.Hand
	}
	return typed.Reader{System: b.st().Prefs.System, Hand: hand, Language: b.st().Prefs.Language}.Parse(q, text)
}

// ballPad is where a ball is typed: its fields and the big keys under them.
type ballPad struct {
	*base      // of the page that it stands on
	field  int // the one being typed
	fields bool
}

// card is one ball in a few taps. above stands over the fields.
func (p *ballPad) card(s act.State, above ...app.UI) app.UI {
	qs := s.Prefs.Fields
	if p.field >= len(qs) {
		p.field = 0
	}
	fields := app.Range(qs).Slice(func(i int) app.UI {
		q := qs[i]
		k, _ := shot.KindOf(q)
		d := s.Drafts[entryID(q)]
		return &ui.Field{ID: entryID(q), Label: p.quantity(q), Unit: p.reader().Symbol(k.Dim), Value: d.Text, Error: d.Error, Mode: "none", Active: i == p.field,
			Typed: func(_ app.Context, text string) { p.type1(q, text) },
			Enter: func(ctx app.Context) { p.enter(ctx) },
			Here:  func(app.Context) { p.field = i },
		}
	})
	body := append(above,
		app.Div().Class("entry-fields").Body(fields),
		p.keys(qs),
		ui.Row("entry-do",
			ui.Button("add-shot", "main big", p.w("entry.add"), func(ctx app.Context) { p.add(ctx) }),
		),
		ui.Status("entry-said", "hint", p.w("entry.said", p.balls1(len(s.Session.Shots)))),
		ui.Button("choose-fields", "quiet", p.w("entry.fields"), func(app.Context) { p.fields = !p.fields }),
		app.If(p.fields, func() app.UI {
			boxes := app.Range(shot.Kinds).Slice(func(i int) app.UI {
				q := shot.Kinds[i].Quantity
				return &ui.Check{ID: "field-" + string(q), Label: p.quantity(q), On: slices.Contains(qs, q),
					Turned: func(app.Context, bool) { p.m.ToggleField(q) }}
			})
			return app.Div().Class("inset checks").Body(ui.P("hint", p.w("entry.fields-hint")), boxes)
		}),
	)
	return ui.Card("entry", p.w("entry.title"), body...)
}

// type1 keeps what is typed; only a finished text is judged.
func (p *ballPad) type1(q shot.Quantity, text string) { p.m.Draft(entryID(q), text, "") }

// keys are the big keys under the fields; L and R only where a side is meant.
func (p *ballPad) keys(qs []shot.Quantity) app.UI {
	q := qs[p.field]
	k, _ := shot.KindOf(q)
	mark := p.reader().DecimalMark()
	key := func(id, label, name string, do func()) app.UI {
		return app.Button().Type("button").ID("key-"+id).Class("key").Attr("aria-label", name).TabIndex(-1).
			OnClick(func(app.Context, app.Event) { do() }, app.EventScope(id, p.field)).Text(label)
	}
	add := func(t string) func() {
		return func() { p.press(func(old string) string { return old + t }) }
	}
	rows := []app.UI{}
	for _, d := range []string{"1", "2", "3", "4", "5", "6", "7", "8", "9"} {
		rows = append(rows, key(d, d, d, add(d)))
	}
	rows = append(rows, key("mark", mark, p.w("key.mark"), add(mark)), key("0", "0", "0", add("0")),
		key("back", "⌫", p.w("key.back"), func() {
			p.press(func(old string) string {
				r := []rune(strings.TrimRight(old, " "))
				if len(r) == 0 {
					return ""
				}
				return strings.TrimRight(string(r[:len(r)-1]), " ")
			})
		}))
	side := func(letter string) func() {
		return func() {
			p.press(func(old string) string {
				for _, word := range []string{"L", "R", "-", p.w("side.l"), p.w("side.r")} {
					old = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(old, word), word))
				}
				return old + " " + letter
			})
		}
	}
	extra := []app.UI{}
	if k.Compass {
		extra = append(extra, key("left", p.w("key.left"), p.w("side.left"), side(p.w("side.l"))), key("right", p.w("key.right"), p.w("side.right"), side(p.w("side.r"))))
	} else if lo, _ := typed.Limits(q); lo < 0 {
		extra = append(extra, key("minus", "−", p.w("key.minus"), func() {
			p.press(func(old string) string {
				if strings.HasPrefix(old, "-") {
					return old[1:]
				}
				return "-" + old
			})
		}))
	}
	extra = append(extra, key("next", p.w("key.next"), p.w("key.next"), func() {
		p.field = (p.field + 1) % len(p.st().Prefs.Fields)
	}))
	return app.Div().Class("pad").Attr("role", "group").Attr("aria-label", p.w("key.pad")).Body(
		app.P().Class("pad-for").Attr("aria-hidden", "true").Text(p.w("key.for", p.quantity(q))),
		app.Div().Class("pad-digits").Body(rows...),
		app.Div().Class("pad-extra").Body(extra...),
	)
}

// press changes the text of the field that is being typed.
func (p *ballPad) press(f func(old string) string) {
	q := p.st().Prefs.Fields[p.field]
	p.m.Draft(entryID(q), f(p.st().Drafts[entryID(q)].Text), "")
}

// enter goes to the next field, and from the last one adds the ball.
func (p *ballPad) enter(ctx app.Context) {
	qs := p.st().Prefs.Fields
	if p.field+1 < len(qs) {
		p.field++
		focus(entryID(qs[p.field])) // at once: the next key may be there before the next frame
		return
	}
	p.add(ctx)
}

func focus(id string) {
	if el := app.Window().GetElementByID(id); el.Truthy() {
		el.Call("focus")
	}
}

// add puts the typed ball into the session and goes on with the next one, or
// goes to the field that is wrong.
func (p *ballPad) add(app.Context) {
	wrong := p.record()
	p.field = max(wrong, 0)
	focus(entryID(p.st().Prefs.Fields[p.field]))
}

// record puts the typed ball into the session and returns -1, or returns the
// first field that is wrong: what is wrong is said beside it, and all that was
// typed is kept.
func (p *ballPad) record() (wrong int) {
	s := p.st()
	v := shot.Values{}
	wrong = -1
	for i, q := range s.Prefs.Fields {
		d := s.Drafts[entryID(q)]
		if strings.TrimSpace(d.Text) == "" {
			continue
		}
		x, err := p.parse(q, d.Text)
		if err != nil {
			p.m.Draft(entryID(q), d.Text, p.misread(q, d.Text))
			if wrong < 0 {
				wrong = i
			}
			continue
		}
		v[q] = x
	}
	if wrong < 0 && len(v) == 0 {
		p.m.Draft(entryID(s.Prefs.Fields[0]), "", p.w("entry.nothing"))
		return 0
	}
	if wrong >= 0 {
		return wrong
	}
	fields := make([]string, len(s.Prefs.Fields))
	for i, q := range s.Prefs.Fields {
		fields[i] = entryID(q)
	}
	p.m.AddTyped(v, act.Now(s), fields)
	return -1
}

// misread says what was read and what is expected, in the player's language.
func (b *base) misread(q shot.Quantity, text string) string {
	k, _ := shot.KindOf(q)
	lo, hi := typed.Limits(q)
	r := b.reader()
	key := "error.value"
	if k.Compass && k.Dim != units.Spin {
		key = "error.side"
	}
	return b.w(key, text, r.Plain(lo, k.Dim, 0), r.Number(hi, k.Dim, 0))
}

// correct is a field for one number of a ball that is already there.
func (p *Shots) correct(id string, k shot.Kind, v float64) app.UI {
	field := "value-" + id + string(k.Quantity)
	value := p.reader().Plain(v, k.Dim, -1)
	if k.Compass {
		if v < 0 {
			value = strings.TrimLeft(value, "−-") + " " + p.w("side.l")
		} else if v > 0 {
			value += " " + p.w("side.r")
		}
	}
	d, has := p.st().Drafts[field]
	if has {
		value = d.Text
	}
	return &ui.Field{ID: field, Label: p.quantity(k.Quantity), Unit: p.reader().Symbol(k.Dim), Value: value, Error: d.Error,
		Typed: func(_ app.Context, text string) {
			if strings.TrimSpace(text) == "" {
				p.m.Draft(field, text, "")
				p.m.ValueShot(id, k.Quantity, nil)
				return
			}
			x, err := p.parse(k.Quantity, text)
			if err != nil {
				p.m.Draft(field, text, p.misread(k.Quantity, text))
				return
			}
			p.m.Draft(field, text, "")
			p.m.ValueShot(id, k.Quantity, &x)
		},
		Left: func(app.Context) {
			if d, ok := p.st().Drafts[field]; ok && d.Error == "" {
				p.m.DropDraft(field)
			}
		}}
}
