package page

import (
	"math"
	"sort"
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/act"
	"ferrule/app/ui"
	"ferrule/core/club"
	"ferrule/core/frame"
	"ferrule/core/shot"
)

// printed takes the maker's table as it is printed, in one paste. What cannot
// be read stays in the field with the reason, and nothing of it is used.
func (c *Club) printed(h club.Head) app.UI {
	d := c.st().Drafts[act.PrintedField]
	return app.Div().Class("field wide").Body(
		app.Label().For(act.PrintedField).Text(c.w("printed.paste")),
		app.Textarea().ID(act.PrintedField).Rows(4).Attr("spellcheck", "false").Placeholder(c.w("printed.hold")).Text(d.Text).
			OnInput(func(ctx app.Context, _ app.Event) {
				c.asked = false
				c.m.Drafts.Put(act.PrintedField, ctx.JSSrc().Get("value").String(), "")
			}),
		app.If(d.Error != "", func() app.UI { return ui.Alert("printed-error", d.Error) }),
		app.If(c.asked, func() app.UI {
			return ui.Row("",
				ui.P("", c.w("printed.ask")),
				ui.Button("printed-whole", "", c.w("printed.whole"), func(app.Context) { c.usePrinted(club.LoftsWhole) }),
				ui.Button("printed-changes", "", c.w("printed.changes"), func(app.Context) { c.usePrinted(club.LoftsChanges) }))
		}),
		ui.Button("printed-use", "main", c.w("printed.use"), func(app.Context) { c.usePrinted(club.LoftsGuess) }),
	)
}

// usePrinted reads the table and describes the sleeve by it, or asks.
func (c *Club) usePrinted(how club.Lofts) {
	s := c.st().Session
	text := c.st().Drafts[act.PrintedField].Text
	if s == nil {
		return
	}
	got, err := club.ReadPrinted(text, s.Head, how)
	if err != nil {
		c.m.Drafts.Put(act.PrintedField, text, c.w("printed.wrong", c.wording().err(err)))
		return
	}
	if c.asked = got.Both; c.asked {
		return
	}
	c.m.Editor.Edit(act.Change{Key: "edit.head"}, func(s *shot.Session) {
		relabel(s, func() { s.Head.Sleeve = club.Sleeve{Table: got.Rows} })
	})
	c.m.Drafts.Drop(act.PrintedField)
	askTable(c.m, c.wording(), toCheck(got.Rows))
	c.look = nil
	c.m.Notices.Tell("notice.printed", true)
}

// checkField is the draft of what is still to be asked about a table: which of
// its columns may be printed with the other sign.
const checkField = "printed-check"

// printedColumn is a column of a table whose sign makers print either way.
func printedColumn(name string, p *club.Position) *float64 {
	if name == "lie" {
		return &p.Lie
	}
	return &p.Face
}

// farthest are the rows of a table between which a column differs most.
func farthest(t []club.Position, name string) (least, most int) {
	for i := range t {
		if v := *printedColumn(name, &t[i]); v < *printedColumn(name, &t[least]) {
			least = i
		} else if v > *printedColumn(name, &t[most]) {
			most = i
		}
	}
	return least, most
}

// toCheck names the columns of a table that are asked about: those that differ.
func toCheck(t []club.Position) string {
	out := []string{}
	for _, name := range []string{"face", "lie"} {
		if a, b := farthest(t, name); a != b {
			out = append(out, name)
		}
	}
	return strings.Join(out, " ")
}

// tableChecked ends the question that is open; the next is asked. turn has the column
// meant the other way.
func tableChecked(model *act.Model, say wording, turn bool) {
	name, rest, _ := strings.Cut(model.State().Drafts[checkField].Text, " ")
	if turn && name != "" {
		model.Editor.Edit(act.Change{Key: "edit.head"}, func(s *shot.Session) {
			relabel(s, func() {
				for i := range s.Head.Sleeve.Table {
					if v := printedColumn(name, &s.Head.Sleeve.Table[i]); *v != 0 {
						*v = -*v
					}
				}
			})
		})
	}
	askTable(model, say, rest)
}

// askTable keeps the columns that are to be asked about, over a reload too.
func askTable(model *act.Model, say wording, columns string) {
	if columns == "" {
		model.Drafts.Drop(checkField)
		return
	}
	model.Drafts.Put(checkField, columns, say.w("missing.check"))
}

// checkTable asks in plain words whether the signs of a table were understood.
func checkTable(model *act.Model, say wording, h club.Head) app.UI {
	name, _, _ := strings.Cut(model.State().Drafts[checkField].Text, " ")
	t := h.Sleeve.Table
	from, to := 0, 0
	if name != "" {
		from, to = farthest(t, name)
	}
	if from == to {
		return app.Div().ID("check").Hidden(true)
	}
	words := [2]string{"check.right", "check.left"}
	switch {
	case name == "lie":
		words = [2]string{"check.up", "check.down"}
	case model.State().Session.Player.Hand == frame.Left: // open is to the right of a right-hander alone
		words = [2]string{"check.left", "check.right"}
	}
	said := words[0]
	if math.Abs(*printedColumn(name, &t[from])) > math.Abs(*printedColumn(name, &t[to])) {
		from, to, said = to, from, words[1]
	}
	return app.Div().ID("check").Class("inset").Attr("role", "group").Body(
		app.P().ID("check-asks").Attr("role", "status").Text(say.w(said, t[to].Label, t[from].Label)),
		ui.Row("",
			ui.Button("check-yes", "main", say.w("check.yes"), func(app.Context) { tableChecked(model, wordingOf(model), false) }),
			ui.Button("check-no", "", say.w("check.no"), func(app.Context) { tableChecked(model, wordingOf(model), true) })))
}

// missingOf says before the next step what the club still lacks, and what was
// typed and is not used.
func missingOf(say wording, s act.State) app.UI {
	list := []app.UI{}
	miss := func(text, field string) {
		list = append(list, app.Li().Body(app.Span().Text(text),
			ui.Button("missing-"+field, "quiet", say.w("missing.go"), func(ctx app.Context) { reachField(ctx, field) })))
	}
	if h := s.Session.Head; !turns(h) {
		miss(say.w("missing.nothing"), "sleeve-how-tilt")
	}
	fields := []string{}
	for field := range s.Drafts {
		fields = append(fields, field)
	}
	sort.Strings(fields)
	for _, field := range fields {
		switch d := s.Drafts[field]; {
		case field == checkField:
			miss(say.w("missing.check"), "check-yes")
		case field == act.PrintedField && strings.TrimSpace(d.Text) != "":
			miss(say.w("missing.printed"), act.PrintedField)
		case d.Error != "" && !strings.HasPrefix(field, "entry-") && !strings.HasPrefix(field, "value-") && field != "file":
			miss(say.w("missing.refused", d.Error), field)
		}
	}
	if len(list) == 0 || s.ReadOnly {
		return app.Div().ID("missing").Hidden(true)
	}
	return app.Div().ID("missing").Class("part").Attr("role", "status").Body(app.H3().Text(say.w("missing.title")), app.Ul().Class("limits").Body(list...))
}

// reachField unfolds the page and moves the focus to a field.
func reachField(ctx app.Context, field string) {
	folded := app.Window().Get("document").Call("querySelectorAll", ".club details:not([open])")
	for i := range folded.Length() {
		folded.Index(i).Set("open", true)
	}
	focusOn(ctx, field)
}
