package page

import (
	"strings"

	"github.com/maxence-charriere/go-app/v10/pkg/app"

	"ferrule/app/ui"
	"ferrule/core/chart"
	"ferrule/core/club"
	"ferrule/core/frame"
)

// looked is the setting that is drawn: the one picked, while the club has it,
// else today's.
func (c *Club) looked(h club.Head) club.Setting {
	if c.look != nil {
		t := withWeights(h, *c.look)
		if _, err := h.Change(t); err == nil {
			return t
		}
	}
	return asToday(h)
}

// lookPart shows one setting as it is described: the head at address, and in
// words what it does in both readings of an angled sleeve. It follows every
// key.
func (c *Club) lookPart(h club.Head) app.UI {
	if h.Validate() != nil {
		return nil
	}
	ref := asToday(h)
	set := c.looked(h)
	change, err := h.Change(set)
	was, err2 := h.Change(ref)
	if err != nil || err2 != nil {
		return nil
	}
	hand := frame.Right
	if c.st().Session.Player.Hand == frame.Left {
		hand = frame.Left
	}
	return app.Div().ID("look").Class("part").Body(
		c.drawn("head-drawing", chart.Head(chart.Address{Head: h, Setting: set, Change: change, Reference: was, Hand: hand}, c.style("head")), nil),
		c.pickSetting("look", h, set, func(_ app.Context, t club.Setting) { c.look = &t }),
		app.Div().ID("look-words").Attr("role", "status").Body(
			ui.P("look-name", c.lookName(set, ref)),
			ui.List("plain", c.lookWords(h, set, change, was, set.Equal(ref))),
		),
	)
}

func (c *Club) lookName(set, ref club.Setting) string {
	if set.Equal(ref) {
		return c.w("club.look-today", c.setting(set))
	}
	return c.w("club.look-against", c.setting(set), c.setting(ref))
}

// lookWords says what a setting does: against today's, or for today's own
// against the head without its sleeve's tilt.
func (c *Club) lookWords(h club.Head, set club.Setting, change, was club.Change, today bool) []string {
	against := change.Against(was)
	if today {
		against = change
	}
	r := c.reader()
	lines := []string{}
	if len(h.Places()) > 1 {
		squared, soled := r.BothWays(against)
		lines = append(lines, squared)
		if soled != squared {
			lines = append(lines, soled)
		}
	}
	if len(h.Weights) > 0 {
		lines = append(lines, capital(r.Moved(against)))
	}
	if points, ok := h.SwingWeight(change); ok {
		lines = append(lines, capital(c.w("whole.swing", club.SwingWeightText(points))))
	}
	if same := h.Canonical(set); !same.Equal(set) {
		lines = append(lines, c.w("club.look-same", c.setting(same)))
	}
	return lines
}

// capital begins a sentence.
func capital(s string) string {
	for i, r := range s {
		if i == 0 {
			return strings.ToUpper(string(r)) + s[len(string(r)):]
		}
	}
	return s
}
