package page

import (
	"strconv"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/shot"
	"ferrule/core/units"
)

// numeric ties a field to one number of the session.
type numeric struct {
	id, label, hint string
	hold            string // shown while empty: the default, in words
	word            string // the key of the drawing that explains the label
	edit            string // text key of the edit
	dim             units.Dimension
	unit            *units.Unit // in place of the one in which dim is shown, nil = that one
	digits          int
	lo, hi          float64 // [unit shown] limits, both zero = none
	need            bool    // may not be emptied
	get             func(s shot.Session) *float64
	set             func(s *shot.Session, v *float64)
}

// numberField draws a field for n. What is typed and cannot be used stays in the
// field with the reason beside it, and the session keeps its last good number.
func numberField(model *act.Model, say wording, n numeric) app.UI {
	s := model.State()
	r := say.r
	unit := r.System.Unit(n.dim)
	if n.unit != nil {
		unit = *n.unit
	}
	show := func(si float64, digits int) string {
		if n.unit != nil {
			return r.Plain(unit.From(si), units.None, digits)
		}
		return r.Plain(si, n.dim, digits)
	}
	f := &ui.Field{ID: n.id, Label: n.label, Hint: n.hint, Hold: n.hold, Unit: unit.Symbol}
	if n.word != "" {
		f.Word, f.Ask = n.word, say.w("word.ask", n.label)
	}
	if n.lo < 0 && n.hi > 0 {
		f.Sign = say.w("field.sign", n.label)
	}
	if s.Session != nil {
		if v := n.get(*s.Session); v != nil {
			f.Value = show(*v, n.digits)
		}
	}
	if d, ok := s.Drafts[n.id]; ok {
		f.Value, f.Error = d.Text, d.Error
	}
	f.Typed = func(ctx app.Context, text string) {
		change := act.Change{Key: n.edit, Field: n.id}
		if strings.TrimSpace(text) == "" {
			if n.need {
				model.Drafts.Refuse(n.id, text, say.w("error.needed"))
				return
			}
			model.Drafts.Put(n.id, text, "")
			model.Editor.Edit(change, func(s *shot.Session) { n.set(s, nil) })
			return
		}
		v, err := units.ParseNumber(text)
		if err != nil {
			model.Drafts.Refuse(n.id, text, say.w("error.number", text))
			return
		}
		if n.lo != n.hi && (v < n.lo-1e-9 || v > n.hi+1e-9) {
			model.Drafts.Refuse(n.id, text, say.w("error.range", text, show(unit.SI(n.lo), -1), show(unit.SI(n.hi), -1), unit.Symbol))
			return
		}
		model.Drafts.Put(n.id, text, "")
		si := unit.SI(v)
		model.Editor.Edit(change, func(s *shot.Session) { n.set(s, &si) })
	}
	f.Left = func(ctx app.Context) {
		if d, ok := model.State().Drafts[n.id]; ok && d.Error == "" {
			model.Drafts.Drop(n.id)
		}
	}
	return f
}

// textField ties a field to a text of the session.
func textField(model *act.Model, id, label, hint, value string, edit act.Change, set func(s *shot.Session, v string)) app.UI {
	edit.Field = id
	return &ui.Field{ID: id, Label: label, Hint: hint, Value: value, Mode: "text",
		Typed: func(ctx app.Context, text string) {
			model.Editor.Edit(edit, func(s *shot.Session) { set(s, text) })
		}}
}

// optional makes a pointer of a number for which zero means "not said".
func optional(v float64) *float64 {
	if v == 0 {
		return nil
	}
	return &v
}

// orZero is the other way round.
func orZero(v *float64) float64 {
	if v == nil {
		return 0
	}
	return *v
}

// chip is a button that is pressed or not; what names all that do captured beside
// its id.
func chip(id, label string, on bool, what string, do func()) app.UI {
	return app.Button().Type("button").ID(id).Class("set").Attr("aria-pressed", strconv.FormatBool(on)).
		OnClick(func(app.Context, app.Event) { do() }, app.EventScope(id, what, strconv.FormatBool(on))).Text(label)
}
