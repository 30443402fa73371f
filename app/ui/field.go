package ui

import (
	"cmp"
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"
)

// Field is a line of typed text with its label, unit and error.
type Field struct {
	app.Compo

	ID     string
	Label  string
	Value  string // as shown; what the person typed, where that could not be used
	Unit   string
	Hint   string
	Error  string
	Mode   string // "decimal" (default), "text", "none" (the key pad of the page types)
	Hold   string // shown in an empty field
	Wide   bool
	Active bool   // the key pad types here
	Sign   string // what the key is called that changes the sign, empty = the number has none
	Word   string // the key of the drawing that explains the label, empty = none
	Ask    string // what the button is called that shows it

	Typed func(ctx app.Context, text string) // at every key
	Left  func(ctx app.Context)              // the field was left
	Enter func(ctx app.Context)              // the enter key
	Here  func(ctx app.Context)              // the field was entered
}

// OnUpdate brings the typed text in line when the field was emptied or reset
// by something else than typing (undo, another shot).
func (f *Field) OnUpdate(ctx app.Context) { syncValue(ctx, f.ID, f.Value) }

func syncValue(ctx app.Context, id, value string) {
	ctx.Defer(func(app.Context) {
		el := app.Window().GetElementByID(id)
		if el.Truthy() && el.Get("value").String() != value {
			el.Set("value", value)
		}
	})
}

// Render draws the field.
func (f *Field) Render() app.UI {
	mode := cmp.Or(f.Mode, "decimal")
	in := app.Input().ID(f.ID).Name(f.ID).Type("text").AutoComplete(false).
		Attr("inputmode", mode).Attr("enterkeyhint", "next").Attr("spellcheck", "false").
		Class(classes("number", mode != "text")).
		Value(f.Value).Placeholder(f.Hold).
		OnInput(f.input).OnKeyDown(f.key).OnBlur(f.blur).OnFocus(f.focus)
	switch {
	case f.Error != "":
		in = in.Attr("aria-invalid", "true").Attr("aria-describedby", f.ID+"-e")
	case f.Hint != "":
		in = in.Attr("aria-describedby", f.ID+"-t")
	}
	return app.Div().Class(classes("field", true, "wide", f.Wide, "wrong", f.Error != "", "active", f.Active)).Body(
		app.Label().For(f.ID).Text(f.Label),
		app.If(f.Word != "", func() app.UI {
			return app.Button().Type("button").ID(f.ID+"-ask").Class("ask").DataSet("word", f.Word).Attr("aria-label", f.Ask).Attr("aria-haspopup", "dialog")
		}),
		app.Span().Class("input").Body(
			in,
			app.If(f.Unit != "", func() app.UI { return app.Span().Class("unit").Text(f.Unit) }),
			app.If(f.Sign != "", func() app.UI {
				// Number keys of many phones have no minus.
				return app.Button().Type("button").ID(f.ID+"-sign").Class("sign").Attr("aria-label", f.Sign).Text("±").OnClick(f.turn, app.EventScope(f.ID))
			}),
		),
		app.If(f.Hint != "" && f.Error == "", func() app.UI { return app.P().ID(f.ID + "-t").Class("hint").Text(f.Hint) }),
		app.If(f.Error != "", func() app.UI {
			return app.P().ID(f.ID+"-e").Class("error").Attr("role", "alert").Text(f.Error)
		}),
	)
}

func (f *Field) input(ctx app.Context, e app.Event) {
	if f.Typed != nil {
		f.Typed(ctx, ctx.JSSrc().Get("value").String())
	}
}

func (f *Field) key(ctx app.Context, e app.Event) {
	if e.Get("key").String() == "Enter" && f.Enter != nil {
		e.PreventDefault()
		f.Enter(ctx)
	}
}

// turn changes the sign of what stands in the field.
func (f *Field) turn(ctx app.Context, e app.Event) {
	el := app.Window().GetElementByID(f.ID)
	if !el.Truthy() || f.Typed == nil {
		return
	}
	text := strings.TrimSpace(el.Get("value").String())
	if bare := strings.TrimLeft(text, "-−+"); bare != text && text[0] != '+' {
		text = bare
	} else {
		text = "-" + bare
	}
	f.Typed(ctx, text)
	el.Call("focus")
}

func (f *Field) blur(ctx app.Context, e app.Event) {
	if f.Left != nil {
		f.Left(ctx)
	}
}

func (f *Field) focus(ctx app.Context, e app.Event) {
	if f.Here != nil {
		f.Here(ctx)
	}
}

// Option is one thing to choose: its value and what it is called.
type Option struct{ Value, Label string }

// Pick is a drop-down list.
type Pick struct {
	app.Compo

	ID      string
	Label   string
	Value   string
	Hint    string
	Options []Option
	Wide    bool
	Bare    bool

	Picked func(ctx app.Context, value string)
}

// OnUpdate brings the shown choice in line when something else changed it.
func (p *Pick) OnUpdate(ctx app.Context) { syncValue(ctx, p.ID, p.Value) }

// Render draws the list.
func (p *Pick) Render() app.UI {
	chosen := ""
	for _, o := range p.Options {
		if o.Value == p.Value {
			chosen = o.Label
		}
	}
	return app.Div().Class(classes("field", true, "wide", p.Wide)).Body(
		app.Label().For(p.ID).Class(classes("unseen", p.Bare)).Text(p.Label),
		app.Div().Class("list").Body(
			app.Select().ID(p.ID).Name(p.ID).OnChange(p.change).Body(
				app.Range(p.Options).Slice(func(i int) app.UI {
					o := p.Options[i]
					return app.Option().Attr("value", o.Value).Selected(o.Value == p.Value).Text(o.Label)
				}),
			),
			app.Span().Class("chosen").Attr("aria-hidden", "true").Text(chosen), // where letters are large a list would cut it
		),
		app.If(p.Hint != "", func() app.UI { return app.P().Class("hint").Text(p.Hint) }),
	)
}

func (p *Pick) change(ctx app.Context, e app.Event) {
	if p.Picked != nil {
		p.Picked(ctx, ctx.JSSrc().Get("value").String())
	}
}

// Choice is a small set of which one holds, all of them seen at once.
type Choice struct {
	app.Compo

	ID      string
	Label   string
	Value   string
	Hint    string
	Options []Option
	Stack   bool // one under the other
	Said    bool // the heading above says the label already

	Picked func(ctx app.Context, value string)
}

// Render draws the set.
func (c *Choice) Render() app.UI {
	return app.FieldSet().ID(c.ID).Class(classes("choice", true, "stack", c.Stack)).Body(
		app.Legend().Class(classes("unseen", c.Said)).Text(c.Label),
		app.Div().Class("choices").Body(app.Range(c.Options).Slice(func(i int) app.UI {
			o := c.Options[i]
			id := c.ID + "-" + o.Value
			if o.Value == "" {
				id = c.ID + "-none"
			}
			return app.Label().Class("pick").For(id).Body(
				app.Input().ID(id).Type("radio").Name(c.ID).Attr("value", strconv.Quote(o.Value)).
					Checked(o.Value == c.Value).
					OnChange(c.pick(o.Value), app.EventScope(c.ID, o.Value)),
				app.Span().Text(o.Label),
			)
		})),
		app.If(c.Hint != "", func() app.UI { return app.P().Class("hint").Text(c.Hint) }),
	)
}

func (c *Choice) pick(value string) app.EventHandler {
	return func(ctx app.Context, e app.Event) {
		if c.Picked != nil {
			c.Picked(ctx, value)
		}
	}
}

// Check is one thing that holds or not.
type Check struct {
	app.Compo

	ID    string
	Label string
	On    bool

	Turned func(ctx app.Context, on bool)
}

// Render draws the box.
func (c *Check) Render() app.UI {
	return app.Label().Class("check").For(c.ID).Body(
		app.Input().ID(c.ID).Type("checkbox").Checked(c.On).OnChange(c.change),
		app.Span().Text(c.Label),
	)
}

func (c *Check) change(ctx app.Context, e app.Event) {
	if c.Turned != nil {
		c.Turned(ctx, ctx.JSSrc().Get("checked").Bool())
	}
}

// Slider is a number moved by a finger; it says its value in words.
type Slider struct {
	app.Compo

	ID    string
	Label string
	Value float64 // in steps of Step
	Min   float64
	Max   float64
	Step  float64
	Words string // the value with its unit

	Moved func(ctx app.Context, value float64)
}

// OnUpdate brings the handle in line when something else moved it.
func (s *Slider) OnUpdate(ctx app.Context) { syncValue(ctx, s.ID, plain(s.Value)) }

func plain(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// Render draws the slider. The limits come before the value: a browser holds
// a value to the limits it knows when the value is set.
func (s *Slider) Render() app.UI {
	return app.Div().Class("slider").Body(
		app.Label().For(s.ID).Body(app.Span().Text(s.Label), app.Output().For(s.ID).Text(s.Words)),
		app.Input().ID(s.ID).Type("range").
			Attr("min", plain(s.Min)).Attr("max", plain(s.Max)).Attr("step", plain(s.Step)).
			Attr("aria-valuetext", s.Words).
			Value(plain(s.Value)).OnInput(s.move),
	)
}

// OnMount sets the handle once the limits are there: attributes are set in no
// fixed order.
func (s *Slider) OnMount(ctx app.Context) { syncValue(ctx, s.ID, plain(s.Value)) }

func (s *Slider) move(ctx app.Context, e app.Event) {
	v, err := strconv.ParseFloat(ctx.JSSrc().Get("value").String(), 64)
	if err == nil && s.Moved != nil {
		s.Moved(ctx, v)
	}
}

// File is a button that opens a file of the person's device.
type File struct {
	app.Compo

	ID     string // of the button; the hidden input is Input
	Input  string
	Class  string
	Label  string
	Accept string
	Many   bool // more than one at once; each is handed over on its own

	Opened func(ctx app.Context, name string, data []byte)
	Failed func(ctx app.Context, reason string)
}

// Render draws the button and the input behind it.
func (f *File) Render() app.UI {
	return app.Span().Class("file").Body(
		app.Button().ID(f.ID).Type("button").Class("button "+f.Class).Text(f.Label).OnClick(f.click),
		app.Input().ID(f.Input).Type("file").Class("unseen").TabIndex(-1).
			Attr("aria-label", f.Label).Accept(f.Accept).Multiple(f.Many).OnChange(f.change),
	)
}

func (f *File) click(ctx app.Context, e app.Event) {
	if el := app.Window().GetElementByID(f.Input); el.Truthy() {
		el.Call("click")
	}
}

func (f *File) change(ctx app.Context, e app.Event) {
	el := ctx.JSSrc()
	files := el.Get("files")
	if !files.Truthy() || files.Length() == 0 {
		return
	}
	n := files.Length()
	done, left := make([]func(app.Context), n), n
	for i := range n {
		f.read(files.Index(i), func(tell func(app.Context)) {
			done[i] = tell
			if left--; left > 0 {
				return
			}
			// All at once and in their order: the first that is handed over may
			// take this button off the screen, and its words with it.
			ctx.Dispatch(func(ctx app.Context) {
				for _, tell := range done {
					tell(ctx)
				}
			})
		})
	}
	el.Set("value", "") // so that the same file can be opened again
}

// read reads one file of the browser; done gets what is to be told of it.
func (f *File) read(file app.Value, done func(tell func(app.Context))) {
	name := file.Get("name").String()
	opened := func(data []byte) {
		done(func(ctx app.Context) {
			if f.Opened != nil {
				f.Opened(ctx, name, data)
			}
		})
	}
	// Nothing is read of a file that is too large to be a session: the page
	// would stand still. The handler says so in words.
	if size := file.Get("size").Int(); size > maxRead {
		opened(make([]byte, maxRead+1))
		return
	}
	var then, fail app.Func
	release := func() { then.Release(); fail.Release() }
	then = app.FuncOf(func(_ app.Value, args []app.Value) any {
		array := app.Window().Get("Uint8Array").New(args[0])
		data := make([]byte, array.Get("length").Int())
		app.CopyBytesToGo(data, array)
		opened(data)
		release()
		return nil
	})
	fail = app.FuncOf(func(_ app.Value, args []app.Value) any {
		reason := ""
		if len(args) > 0 {
			reason = args[0].Call("toString").String()
		}
		done(func(ctx app.Context) {
			if f.Failed != nil {
				f.Failed(ctx, reason)
			}
		})
		release()
		return nil
	})
	file.Call("arrayBuffer").Call("then", then, fail)
}

const maxRead = 24 << 20 // [1] bytes
