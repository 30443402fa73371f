package page

import (
	"slices"
	"strconv"
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

// parseTyped reads one typed number of a ball: a bare number counts in the
// player's units, L and R say the side.
func parseTyped(model *act.Model, q shot.Quantity, text string) (float64, error) {
	return typistOf(model).Parse(q, text)
}

// typistOf is who types: units, hand and language.
func typistOf(model *act.Model) typed.Reader {
	hand := frame.Right
	if s := model.State().Session; s != nil && s.Player.Hand != "" {
		hand = s.Player.Hand
	}
	return typed.Reader{System: model.State().Prefs.System, Hand: hand, Language: model.State().Prefs.Language}
}

// ballPad is where a ball is typed: its fields and the big keys under them.
type ballPad struct {
	*base  // of the page that it stands on
	bay    between
	field  int    // the one being typed
	moved  bool   // the pad went there by itself, and nothing was typed there yet
	fields bool   // what is typed is being chosen
	unsure string // the ball that is asked about: what stands in its fields
	ear    ear
}

// on puts the pad on a page.
func (p *ballPad) on(b *base) *ballPad {
	p.base, p.bay.base = b, b
	return p
}

// pad draws the fields and the keys.
func (p *ballPad) pad(s act.State) app.UI {
	qs := s.Prefs.Fields
	if p.field >= len(qs) {
		p.field = 0
	}
	fields := app.Range(qs).Slice(func(i int) app.UI {
		q := qs[i]
		k, _ := shot.KindOf(q)
		d := s.Drafts[entryID(q)]
		return &ui.Field{ID: entryID(q), Label: p.wording().quantity(q), Unit: p.reader().Symbol(k.Dim), Value: d.Text, Error: d.Error, Mode: "none", Active: i == p.field,
			Typed: func(_ app.Context, text string) { p.write(q, text) },
			Enter: func(ctx app.Context) { p.enter(ctx) },
			Here: func(app.Context) {
				if p.field != i {
					p.field, p.moved = i, false
				}
			},
		}
	})
	return ui.Card("entry", p.w("entry.title"),
		app.Div().Class("entry-fields").Attr("data-many", strconv.FormatBool(len(qs) > 2)).Body(fields),
		app.Div().Class("state").Body(p.doubt(s)),
		p.keys(qs),
		ui.Row("entry-foot", ui.Status("entry-said", "hint", p.w("entry.said", p.wording().balls1(len(s.Session.Shots)))), p.speak(qs)),
		p.choice(qs),
	)
}

// choice is what is typed: the two that are enough, those that most devices
// show, or any.
func (p *ballPad) choice(qs []shot.Quantity) app.UI {
	label, to := p.w("entry.more"), act.MoreFields
	if len(qs) > len(act.DefaultFields) {
		label, to = p.w("entry.less"), act.DefaultFields
	}
	return app.Div().Class("entry-choice").Body(
		ui.Row("",
			ui.Button("more-fields", "quiet", label, func(app.Context) { p.m.Preferences.Set(func(x *act.Prefs) { x.Fields = slices.Clone(to) }) }),
			ui.Button("choose-fields", "quiet", p.w("entry.fields"), func(app.Context) { p.fields = !p.fields })),
		app.If(p.fields, func() app.UI {
			boxes := app.Range(shot.Kinds).Slice(func(i int) app.UI {
				q := shot.Kinds[i].Quantity
				return &ui.Check{ID: "field-" + string(q), Label: p.wording().quantity(q), On: slices.Contains(qs, q),
					Turned: func(app.Context, bool) { p.m.Preferences.ToggleField(q) }}
			})
			return app.Div().Class("inset checks").Body(ui.P("hint", p.w("entry.fields-hint")), boxes)
		}),
	)
}

// write keeps what is typed; only a finished text is judged.
func (p *ballPad) write(q shot.Quantity, text string) {
	p.moved = false
	p.m.Drafts.Put(entryID(q), text, "")
}

// key draws one key.
func (p *ballPad) key(id, class, label, name string, off bool, do func()) app.UI {
	return app.Button().Type("button").ID("key-"+id).Class("key "+class).Attr("aria-label", name).TabIndex(-1).Disabled(off).
		OnClick(func(app.Context, app.Event) { do() }, app.EventScope(id, p.field)).Text(label)
}

// keys are the big keys under the fields. Their places never change; left and
// right are off where no side is meant.
func (p *ballPad) keys(qs []shot.Quantity) app.UI {
	q := qs[p.field]
	k, _ := shot.KindOf(q)
	digit := func(d string) app.UI { return p.key(d, "", d, d, false, func() { p.digit(d) }) }
	side := func(id, letter string) app.UI {
		label, name := p.w("key."+id), p.w("side."+id)
		if !strings.HasPrefix(strings.ToLower(name), strings.ToLower(label)) { // who speaks to the key says what stands on it
			name = label + " " + name
		}
		return p.key(id, "side", label, name, !k.Compass, func() { p.side(letter) })
	}
	left := side("left", p.w("side.l"))
	if lo, _ := typed.Limits(q); lo < 0 && !k.Compass {
		left = p.key("minus", "", "−", p.w("key.minus"), false, func() { p.press(turned) })
	}
	mark := p.reader().DecimalMark()
	rows := []app.UI{
		digit("1"), digit("2"), digit("3"), p.key("back", "", "⌫", p.w("key.back"), false, p.back),
		digit("4"), digit("5"), digit("6"), left,
		digit("7"), digit("8"), digit("9"), side("right", p.w("side.r")),
		p.key("mark", "", mark, p.w("key.mark"), false, func() { p.mark(mark) }), digit("0"), p.key("next", "", p.w("key.next"), p.w("key.next"), false, p.next),
		app.Button().Type("button").ID("add-shot").Class("key main").OnClick(func(ctx app.Context, _ app.Event) { p.add(ctx) }, app.EventScope("add-shot")).Text(p.w("entry.add")),
	}
	return app.Div().Class("pad").Attr("role", "group").Attr("aria-label", p.w("key.pad")).Body(
		app.P().Class("unseen").Attr("aria-hidden", "true").Text(p.w("key.for", p.wording().quantity(q))),
		app.Div().Class("pad-digits").Body(rows...))
}

func turned(old string) string {
	if strings.HasPrefix(old, "-") {
		return old[1:]
	}
	return "-" + old
}

// typing is the field that is typed, and its text.
func (p *ballPad) typing() (q shot.Quantity, text string) {
	s := p.st()
	q = s.Prefs.Fields[min(p.field, len(s.Prefs.Fields)-1)]
	return q, s.Drafts[entryID(q)].Text
}

// press changes the text of the field that is being typed.
func (p *ballPad) press(f func(old string) string) {
	q, text := p.typing()
	p.write(q, f(text))
}

// digit adds a digit, and goes on once the number can take no other.
func (p *ballPad) digit(d string) {
	p.press(func(old string) string { return old + d })
	if q, text := p.typing(); p.full(q, text) {
		p.goOn()
	}
}

// full reports that no digit can follow: it would pass the limit of its
// quantity, or the number has its one decimal. A side is still to be said.
func (p *ballPad) full(q shot.Quantity, text string) bool {
	if _, err := parseTyped(p.m, q, text); err != nil || !typistOf(p.m).Sided(q, text) {
		return false
	}
	if k, _ := shot.KindOf(q); strings.ContainsAny(text, ".,") {
		return k.Dim != units.None && k.Dim != units.Small
	}
	_, err := parseTyped(p.m, q, text+"0")
	return err != nil
}

// goOn goes to the next field, if there is one.
func (p *ballPad) goOn() {
	if qs := p.st().Prefs.Fields; p.field+1 < len(qs) {
		p.field, p.moved = p.field+1, true
		focus(entryID(qs[p.field]))
	}
}

// next is the key for it. Where the pad has just gone on by itself, the tap
// came too late and means the same.
func (p *ballPad) next() {
	if p.moved {
		p.moved = false
		return
	}
	qs := p.st().Prefs.Fields
	p.field = (p.field + 1) % len(qs)
	focus(entryID(qs[p.field]))
}

// behind goes back to the field that the pad has left by itself.
func (p *ballPad) behind() {
	if _, text := p.typing(); p.moved && text == "" && p.field > 0 {
		p.field--
		focus(entryID(p.st().Prefs.Fields[p.field]))
	}
	p.moved = false
}

func (p *ballPad) mark(mark string) {
	p.behind()
	p.press(func(old string) string { return old + mark })
}

func (p *ballPad) back() {
	p.behind()
	p.press(func(old string) string {
		r := []rune(strings.TrimRight(old, " "))
		return strings.TrimRight(string(r[:max(0, len(r)-1)]), " ")
	})
}

// side says on which side a number is, and with that the number is done: where
// nothing else is left to type, it makes the ball.
func (p *ballPad) side(letter string) {
	p.press(func(old string) string {
		for _, word := range []string{"L", "R", "-", p.w("side.l"), p.w("side.r")} {
			old = strings.TrimSpace(strings.TrimSuffix(strings.TrimPrefix(old, word), word))
		}
		return old + " " + letter
	})
	q, text := p.typing()
	if _, err := parseTyped(p.m, q, text); err != nil { // the number comes after it
		return
	}
	qs := p.st().Prefs.Fields
	for i, q := range qs {
		if p.st().Drafts[entryID(q)].Text == "" {
			p.field, p.moved = i, true
			focus(entryID(q))
			return
		}
	}
	p.finish(false)
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
func (p *ballPad) add(app.Context) { p.finish(false) }

func (p *ballPad) finish(kept bool) {
	wrong := p.record(kept)
	p.field, p.moved = max(wrong, 0), false
	focus(entryID(p.st().Prefs.Fields[p.field]))
}

// record puts the typed ball into the session and returns -1, or returns the
// first field that is wrong: what is wrong is said beside it, and all that was
// typed is kept. A number that is most likely a slip is asked about, unless it is
// kept as it is.
func (p *ballPad) record(kept bool) (wrong int) {
	s := p.st()
	v, all := shot.Values{}, ""
	wrong = -1
	for i, q := range s.Prefs.Fields {
		text := s.Drafts[entryID(q)].Text
		all += text + "\n"
		if strings.TrimSpace(text) == "" {
			continue
		}
		x, err := parseTyped(p.m, q, text)
		why := ""
		switch {
		case err != nil:
			why = p.wording().misread(q, text)
		case !typistOf(p.m).Sided(q, text):
			why = p.w("entry.which-side")
		default:
			v[q] = x
			continue
		}
		p.m.Drafts.Put(entryID(q), text, why)
		if wrong < 0 {
			wrong = i
		}
	}
	if wrong < 0 && len(v) == 0 {
		p.m.Drafts.Put(entryID(s.Prefs.Fields[0]), "", p.w("entry.nothing"))
		return 0
	}
	if wrong >= 0 {
		return wrong
	}
	for i, q := range s.Prefs.Fields {
		if x, ok := v[q]; ok && !kept {
			if _, _, odd := typed.Odd(q, x, s.Session.Shots); odd {
				p.unsure = all
				return i
			}
		}
	}
	fields := make([]string, len(s.Prefs.Fields))
	for i, q := range s.Prefs.Fields {
		fields[i] = entryID(q)
	}
	p.unsure, p.bay.turning = "", nil
	p.m.Balls.AddTyped(v, act.Now(s), fields)
	confirmed(s.Prefs)
	return -1
}

// doubt asks about the first number of the ball that is most likely a slip, as
// long as its fields stand as they were.
func (p *ballPad) doubt(s act.State) app.UI {
	all := ""
	for _, q := range s.Prefs.Fields {
		all += s.Drafts[entryID(q)].Text + "\n"
	}
	if p.unsure == "" || p.unsure != all {
		return nil
	}
	for _, q := range s.Prefs.Fields {
		x, err := parseTyped(p.m, q, s.Drafts[entryID(q)].Text)
		lo, hi, odd := typed.Odd(q, x, s.Session.Shots)
		if err != nil || !odd {
			continue
		}
		return app.Div().ID("entry-odd").Class("alert").Attr("role", "alert").Body(
			ui.P("", p.w("entry.odd", p.wording().quantity(q), p.wording().value(q, x), p.wording().value(q, lo), p.wording().value(q, hi))),
			ui.Row("",
				ui.Button("odd-keep", "main", p.w("entry.odd-keep"), func(app.Context) { p.finish(true) }),
				ui.Button("odd-correct", "", p.w("entry.odd-correct"), func(app.Context) {
					p.unsure = ""
					focus(entryID(q))
				})))
	}
	return nil
}

// misread says what was read and what is expected, in the player's language.
func (say wording) misread(q shot.Quantity, text string) string {
	k, _ := shot.KindOf(q)
	lo, hi := typed.Limits(q)
	r := say.r
	key := "error.value"
	if k.Compass && k.Dim != units.Spin {
		key = "error.side"
	}
	return say.w(key, text, r.Plain(lo, k.Dim, 0), r.Number(hi, k.Dim, 0))
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
	return &ui.Field{ID: field, Label: p.wording().quantity(k.Quantity), Unit: p.reader().Symbol(k.Dim), Value: value, Error: d.Error,
		Typed: func(_ app.Context, text string) {
			if strings.TrimSpace(text) == "" {
				p.m.Drafts.Put(field, text, "")
				p.m.Balls.SetValue(id, k.Quantity, nil)
				return
			}
			x, err := parseTyped(p.m, k.Quantity, text)
			if err != nil {
				p.m.Drafts.Refuse(field, text, p.wording().misread(k.Quantity, text))
				return
			}
			p.m.Drafts.Put(field, text, "")
			p.m.Balls.SetValue(id, k.Quantity, &x)
		},
		Left: func(app.Context) {
			if d, ok := p.st().Drafts[field]; ok && d.Error == "" {
				p.m.Drafts.Drop(field)
			}
		}}
}
