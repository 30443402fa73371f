package page

import (
	"cmp"
	"math"
	"strconv"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/report"
	"ferrule/core/shot"
)

// averages are the plain averages of the balls that were hit, with intervals
// that say what they hold for: what a player would work out by hand, but with
// all that few balls leave open.
func (c *Compare) averages(r report.Report) app.UI {
	q := cmp.Or(c.measure, shot.Carry)
	t := ui.Table{Caption: c.w("compare.averages-of", c.wording().quantity(q)), Class: "quantities",
		Head: []string{c.w("compare.setting"), c.w("compare.balls"), c.w("compare.average"), c.w("compare.plain-difference"), c.w("compare.scatter")}}
	k, _ := shot.KindOf(q)
	for i, s := range r.Settings {
		a, ok := report.AmountOf(s.Raw, q)
		if !ok {
			continue
		}
		mean, diff, scatter := c.wording().value(q, a.Value.Mean), "–", "–"
		if a.Value.Hi80 > a.Value.Lo80 {
			mean = c.wording().estimate(q, a.Value)
		}
		if i != r.Reference && a.Difference.Hi80 > a.Difference.Lo80 {
			diff = c.wording().against(q, a.Difference)
		}
		if a.Spread > 0 && s.Balls >= 3 {
			scatter = "±" + c.reader().Number(a.Spread, k.Dim, -1)
		}
		t.Rows = append(t.Rows, []string{c.wording().setting(s.Setting), strconv.Itoa(s.Balls), mean, diff, scatter})
	}
	if len(t.Rows) == 0 {
		return nil
	}
	return moreLater("averages", c.w("compare.averages"), func() []app.UI {
		return []app.UI{
			t.Render(),
			ui.P("hint", c.w("compare.averages-what")), ui.P("hint", c.w("compare.ellipse-what")),
		}
	})
}

// need lets the person pick a question and says how many balls it takes.
func (c *Compare) need(r report.Report) app.UI {
	list := []report.Need{}
	options := []ui.Option{}
	for _, n := range r.Needs {
		k, ok := shot.KindOf(n.Quantity)
		label := ""
		switch {
		case !ok:
			label = c.w("need.miss", c.wording().percent(n.Share), c.wording().percent(n.Share-n.Size))
		case !whole(c.reader().System.Unit(k.Dim).From(n.Size)): // a size of the other system of units
			continue
		default:
			label = c.w("need."+string(n.Quantity), c.reader().Number(n.Size, k.Dim, 0))
		}
		options = append(options, ui.Option{Value: strconv.Itoa(len(list)), Label: label})
		list = append(list, n)
	}
	if len(list) == 0 {
		return nil
	}
	at := min(c.question, len(list)-1)
	n := list[at]
	said := c.w("need.see", c.many(n.See[0]), c.many(n.See[1]))
	pick := c.w("need.pick", c.many(n.Pick[0]), c.many(n.Pick[1]))
	return ui.Card("need", c.w("need.title"),
		&ui.Pick{ID: "question", Label: c.w("need.question"), Value: strconv.Itoa(at), Options: options, Wide: true,
			Picked: func(_ app.Context, v string) {
				if i, err := strconv.Atoi(v); err == nil {
					c.question = i
				}
			}},
		app.P().ID("need-said").Attr("role", "status").Text(said),
		ui.P("", pick),
		ui.P("hint", c.w("need.hint")))
}

// whole reports whether a number is a whole one, rounding errors aside.
func whole(v float64) bool { return math.Abs(v-math.Round(v)) < 1e-6 }

// many writes a number of balls; far more than anybody hits is said so.
func (c *Compare) many(n int) string {
	if n > 400 {
		return c.w("need.hundreds", strconv.Itoa(int(math.Floor(float64(n)/100))*100))
	}
	return c.wording().balls1(n)
}
